"""Read recipes in the open vocabulary of schema.org, as web pages carry them."""

import html
import json
import re
from collections.abc import Iterator
from typing import Any

from setwell.domain.formula import Formula, formula_make
from setwell.errors import DocumentError

_TITLE_LIMIT = 120
_NOTES_LIMIT = 20_000
# Deeper nesting than this is no recipe.
_DEPTH_LIMIT = 30
_LIST_LIMIT = 2_000
_RECIPE = re.compile(r"(https?://schema\.org/|schema:)?Recipe", re.ASCII)
_SCRIPT_TYPE = "application/ld+json"
_BREAK = re.compile(r"<(?:br|/p|/li|/div)\b[^<>]*>", re.IGNORECASE)
_TAG = re.compile(r"</?[a-zA-Z!][^<>]*>")
_PORTIONS = re.compile(
    r"(?:serves|makes|for)?\s*(\d{1,5})\s*"
    r"(?:servings?|portions?|people|persons?|covers?|plates?|serves)?\.?",
    re.IGNORECASE | re.ASCII,
)


def recipe_find(data: Any) -> dict[str, Any] | None:  # noqa: ANN401 - any JSON value
    """Return the first schema.org Recipe within a JSON-LD value, or None."""
    level = [data]
    for _ in range(_DEPTH_LIMIT):
        for one in level:
            if isinstance(one, dict) and _is_recipe(one.get("@type")):
                return one
        level = [child for one in level for child in _children(one)]
        if not level:
            break
    return None


def recipe_find_in_page(page: str) -> dict[str, Any] | None:
    """Return the first recipe in the JSON-LD scripts of a web page, or None."""
    for script in _scripts(page):
        try:
            found = recipe_find(json.loads(script, strict=False))
        except (ValueError, RecursionError):
            continue
        if found is not None:
            return found
    return None


def recipe_formula(recipe: dict[str, Any], *, fallback_title: str) -> Formula:
    """Return a recipe as a formula; its lines are kept as they are written there."""
    lines = [_one_line(text) for text in _texts(recipe.get("recipeIngredient"))]
    steps = list(_steps(recipe.get("recipeInstructions"), 0))
    if not any(lines) and not any(steps):
        raise DocumentError(
            "This recipe has neither ingredients nor instructions to read.",
            hint="Copy the lines from the page and paste them as plain text.",
        )
    title = _one_line(" ".join(_texts(recipe.get("name")))) or fallback_title
    portions, other_yield = _portions(recipe.get("recipeYield"))
    notes = [
        title if len(title) > _TITLE_LIMIT else "",
        "\n".join(_texts(recipe.get("description"))),
        f"Yield: {other_yield}" if other_yield else "",
        _origin(recipe),
    ]
    return formula_make(
        title=title[:_TITLE_LIMIT],
        ingredients="\n".join(line for line in lines if line),
        steps="\n".join(step for step in steps if step),
        portions=portions,
        notes="\n\n".join(note for note in notes if note)[:_NOTES_LIMIT],
    )


def _is_recipe(kind: object) -> bool:
    kinds = kind if isinstance(kind, list) else [kind]
    return any(isinstance(one, str) and _RECIPE.fullmatch(one) for one in kinds)


def _children(value: object) -> Iterator[object]:
    if isinstance(value, dict):
        yield from value.values()
    elif isinstance(value, list):
        yield from value


def _scripts(page: str) -> Iterator[str]:
    """Yield the JSON-LD scripts of a page; a plain scan, so no page can make it slow."""
    lower = page.lower()
    start = lower.find("<script")
    while start >= 0:
        opened = lower.find(">", start)
        closed = lower.find("</script", opened)
        if opened < 0 or closed < 0:
            return
        if _SCRIPT_TYPE in lower[start:opened]:
            script = page[opened + 1 : closed].strip()
            yield script.removeprefix("<!--").removesuffix("-->").strip()
        start = lower.find("<script", closed)


def _texts(value: object, depth: int = 0) -> list[str]:
    """Return the texts in a property that may be one text, one thing or a list of either."""
    if depth > _DEPTH_LIMIT:
        return []
    if isinstance(value, dict):
        value = value.get("text") or value.get("name") or value.get("@value")
    if isinstance(value, list):
        return [text for one in value[:_LIST_LIMIT] for text in _texts(one, depth + 1)]
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        return []
    text = _plain(str(value))
    return [text] if text else []


def _plain(text: str) -> str:
    """Return text without markup; some pages write it once, some escape it once more."""
    for _ in range(2):
        text = html.unescape(_TAG.sub(" ", _BREAK.sub("\n", text)))
    lines = (" ".join(line.split()) for line in _TAG.sub(" ", text).splitlines())
    return "\n".join(line for line in lines if line)


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _steps(value: object, depth: int) -> Iterator[str]:
    """Yield one line for each step; a section's name stands before its steps."""
    if depth > _DEPTH_LIMIT:
        return
    if isinstance(value, list):
        for one in value:
            yield from _steps(one, depth + 1)
    elif isinstance(value, dict) and value.get("itemListElement"):
        yield from (f"{name.rstrip(':')}:" for name in _texts(value.get("name")))
        yield from _steps(value["itemListElement"], depth + 1)
    elif isinstance(value, dict) and isinstance(value.get("item"), dict):
        yield from _steps(value["item"], depth + 1)
    else:
        for text in _texts(value):
            yield from text.splitlines()


def _portions(value: object) -> tuple[int | None, str]:
    """Return the number of portions, or else the yield as it is written."""
    if isinstance(value, dict):
        value = value.get("value")
    written = _texts(value)
    for text in written:
        match = _PORTIONS.fullmatch(text.strip())
        if match and int(match[1]) >= 1:
            return int(match[1]), ""
    return None, "; ".join(written)


def _origin(recipe: dict[str, Any]) -> str:
    authors = ", ".join(_texts(recipe.get("author")))
    url = recipe.get("url")
    parts = [authors, _one_line(url) if isinstance(url, str) else ""]
    said = ", ".join(part for part in parts if part)
    return f"From: {said}" if said else ""
