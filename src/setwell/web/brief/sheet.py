"""Between a brief, what its form shows, and in which order the page asks."""

from collections.abc import Iterable
from typing import Any, NamedTuple

from django.forms.boundfield import BoundField
from django.http import QueryDict

from setwell.domain.brief import Brief
from setwell.web.brief.fields import BASES
from setwell.web.brief.forms import BriefForm
from setwell.web.inputs import number_initial


class Group(NamedTuple):
    """A group of fields under one heading; `more` is folded away until something is in it."""

    heading: str
    fields: tuple[BoundField, ...]
    more_title: str = ""
    more: tuple[BoundField, ...] = ()
    is_open: bool = False


_NUMBERS = tuple(
    f"texture__{what}_{end}"
    for what in ("modulus", "stress", "strain", "thickness")
    for end in ("low", "high")
)


def brief_initial(
    brief: Brief, *, brief_id: int | None = None, base_number: int | None = None
) -> dict[str, Any]:
    """Return what the form shows for a brief."""
    shown: dict[str, Any] = {"brief_id": brief_id, "base_number": base_number}
    for name, value in brief.model_dump(mode="json").items():
        if isinstance(value, dict):
            shown |= {f"{name}__{inner}": _shown(one) for inner, one in value.items()}
        elif value is not None and name not in {"format", "format_version"}:
            shown[name] = _shown(value)
    sets = brief.texture.sets
    shown["texture__sets"] = "" if sets is None else "yes" if sets else "no"
    shown["without"] = "\n".join(brief.without)
    shown["base_kind"] = (
        "formula" if brief.base_formula else "composition" if brief.composition else "lines"
    )
    return shown


def new_initial(asked: QueryDict) -> dict[str, Any]:
    """Return an empty form, with what the address asks for filled in."""
    start = brief_initial(Brief(title="Brief"))
    start["title"] = ""
    lists = {"diets", "without_allergens", "shelf", "helpers"}
    for name in BriefForm.base_fields:
        if name in asked:
            start[name] = asked.getlist(name) if name in lists else asked[name]
    if "base_formula" in asked and "base_kind" not in asked:
        start["base_kind"] = "formula"
    return start


def base_groups(form: BriefForm) -> dict[str, tuple[BoundField, ...]]:
    """Return the fields of each way to tell a base."""
    return {kind: _fields(form, fields) for kind, fields in BASES.items()}


def groups(form: BriefForm) -> tuple[Group, ...]:
    """Return everything after the base, in the order in which a kitchen thinks."""
    return (
        _group(form, "2 · Texture", ("texture__word", "texture__like", "texture__like_number"),
               more_title="As numbers", more=("texture__sets", *_NUMBERS)),
        _group(form, "3 · Look and serving",
               ("clarity", "plating", "mouth", "serving_c", "holds_c", "is_frozen",
                "keeps_afloat")),
        _group(form, "4 · Rules", ("diets", "market"),
               more_title="Allergens to leave out", more=("without_allergens",)),
        _group(form, "5 · What the process allows",
               ("limits__max_temperature_c", "limits__set_within_h", "limits__has_blender",
                "limits__is_acid_hot")),
        _group(form, "6 · Agents", ("agents_most", "without"),
               more_title="On the shelf", more=("shelf",)),
        _group(form, "", (), more_title="Salts, portion and cost, notes",
               more=("helpers", "portion_g", "cost_most", "note")),
    )  # fmt: skip


def _group(
    form: BriefForm,
    heading: str,
    names: Iterable[str],
    *,
    more_title: str = "",
    more: Iterable[str] = (),
) -> Group:
    inner = _fields(form, more)
    usual = {"helpers", "portion_g"}
    is_open = any(one.errors or (one.value() and one.name not in usual) for one in inner)
    return Group(heading, _fields(form, names), more_title, inner, is_open)


def _fields(form: BriefForm, names: Iterable[str]) -> tuple[BoundField, ...]:
    return tuple(form[name] for name in names)


def _shown(value: Any) -> Any:  # noqa: ANN401 - any value of the document
    if isinstance(value, float):
        return number_initial(value)
    return "" if value is None else value
