"""Briefs from loose fields and from JSON: problems are told at the field they belong to."""

import json
from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from typing import Any

from pydantic import BaseModel, ValidationError

from setwell.domain.brief import DOCUMENT_LIMIT, FORMAT, Brief, Composition, Limits, TextureWish
from setwell.errors import DocumentError, InputError

_INNER: dict[str, type[BaseModel]] = {
    "composition": Composition,
    "texture": TextureWish,
    "limits": Limits,
}
_LISTS = ("diets", "without_allergens", "shelf", "without", "helpers")
_ENDS = {"ge": "at least", "gt": "more than", "le": "at most", "lt": "less than"}
_NUMBERS = ("float_parsing", "float_type", "int_parsing", "int_type", "int_from_float")
_WRONG = dict.fromkeys(_NUMBERS, "no number") | dict.fromkeys(
    ("bool_parsing", "bool_type"), "neither true nor false"
)
_HINT = "Export it again from the kitchen it came from, or write it anew."


def brief_from_form(fields: Mapping[str, object]) -> Brief:
    """Return the brief of flat fields; inner ones are dotted, such as `texture.modulus_low`.

    Raises DocumentError whose `field` is the dotted name.
    """
    nested: dict[str, Any] = {}
    for name, value in fields.items():
        outer, _, inner = name.partition(".")
        if inner:
            nested.setdefault(outer, {})[inner] = value
        else:
            nested[outer] = value
    return _validated(nested)


def brief_changed(*, brief: Brief, changes: Iterable[tuple[str, str]]) -> Brief:
    """Return a brief with some fields set from text, such as a relaxation tells them.

    An empty text opens a wish again; lists are parted by commas. Raises DocumentError.
    """
    nested = brief.model_dump(mode="json")
    fresh = Brief(title=brief.title).model_dump(mode="json")
    for name, text in changes:
        outer, _, inner = name.partition(".")
        if inner and outer in _INNER:
            first = _INNER[outer]().model_dump(mode="json").get(inner)
            kept = nested[outer] or {}
            nested[outer] = {**kept, inner: text if text.strip() else first}
        elif outer in _LISTS:
            nested[outer] = [one.strip() for one in text.split(",") if one.strip()]
        else:
            nested[outer] = text if text.strip() else fresh.get(outer)
    return _validated(nested)


def brief_import_json(*, text: str) -> Brief:
    """Return the brief of a JSON text; nothing is saved. Raises DocumentError."""
    if len(text) > DOCUMENT_LIMIT:
        raise DocumentError(
            f"This has {len(text):,} characters; a brief has at most {DOCUMENT_LIMIT:,}.",
            hint="Is this the right file?",
        )
    body = text.removeprefix("\ufeff").strip()
    if not body:
        raise DocumentError("There is nothing in it.", hint=_HINT)
    try:
        data = json.loads(body)
    except (ValueError, RecursionError) as error:
        raise DocumentError(f"This is not valid JSON: {error}.", hint=_HINT) from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise DocumentError(
            f'This JSON is not a Setwell brief: "format" should be "{FORMAT}".', hint=_HINT
        )
    return _validated(data)


def brief_export_json(*, brief: Brief) -> str:
    """Return a brief as JSON that any kitchen can import; it keeps its content hash."""
    fields = brief.model_dump(mode="json")
    return json.dumps(fields, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _validated(fields: Mapping[str, Any]) -> Brief:
    title = fields.get("title")
    tidy = {**fields, "title": " ".join(title.split()) if isinstance(title, str) else title}
    if not tidy["title"]:
        raise DocumentError("Give the brief a name.", field="title")
    try:
        return Brief.model_validate(tidy)
    except ValidationError as error:
        raise _told(error) from None
    except RecursionError:
        raise InputError("This is nested too deeply to be a brief.") from None


def _told(error: ValidationError) -> DocumentError:
    """Return the first problem at its dotted field."""
    first: Any = error.errors()[0]
    # Positions in a list belong to the list's own field.
    place = [str(part) for part in first["loc"] if not isinstance(part, int)]
    field = ".".join(place[:2]) or "base"
    said = _said(first)
    more = f" (and {error.error_count() - 1} more)" if error.error_count() > 1 else ""
    return DocumentError(f"{said[:1].upper()}{said[1:]}{more}.", field=field)


def _said(problem: Any) -> str:  # noqa: ANN401 - a problem of the validator
    """Return what is wrong in plain words."""
    limits = problem.get("ctx", {})
    if problem["type"] == "extra_forbidden":
        return _unknown([str(part) for part in problem["loc"]])
    for key, words in _ENDS.items():
        if key in limits:
            return f"{problem['input']} is not possible; {words} {limits[key]:g} is"
    if problem["type"] in _WRONG:
        return f"“{problem['input']}” is {_WRONG[problem['type']]}"
    most = limits.get("max_length")
    if most is None:
        return str(problem["msg"]).removeprefix("Value error, ")
    if isinstance(problem["input"], (list, tuple)):
        return f"at most {most} names fit here, not {len(problem['input'])}"
    return f"this has {len(problem['input']):,} characters; at most {most:,} fit"


def _unknown(place: list[str]) -> str:
    """Return that a brief has no such field, and what it may have been meant for."""
    known: type[BaseModel] = _INNER.get(place[0], Brief) if len(place) > 1 else Brief
    near = get_close_matches(place[-1], known.model_fields, n=1)
    offer = (
        f"; did you mean “{near[0]}”?" if near else f"; known are {', '.join(known.model_fields)}"
    )
    return f"“{'.'.join(place)}” is no field of a brief{offer}"
