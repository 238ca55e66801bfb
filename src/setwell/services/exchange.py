"""Formulas in and out: our JSON, plain text, and recipes from web pages."""

import json
import re
from pathlib import PurePath
from typing import Any

from setwell.domain.formula import (
    FORMAT,
    Formula,
    formula_from_json,
    formula_schema,
)
from setwell.errors import DocumentError
from setwell.services.formula_texts import formula_text_read, formula_text_write
from setwell.services.web_recipes import recipe_find, recipe_find_in_page, recipe_formula

# A web page with everything in it; far above any recipe.
SIZE_LIMIT = 3_000_000
_EXPECTED = (
    "Expected one of: a Setwell formula (JSON), a schema.org Recipe (JSON-LD, or a saved web "
    "page that contains one), or plain text with one ingredient per line."
)
_PAGE = re.compile(r"<(?:!doctype\s+html|html|head|body|script|meta)\b", re.IGNORECASE)


def formula_import(*, text: str, filename: str = "") -> Formula:
    """Return the formula in a file or in pasted text; nothing is saved or fetched."""
    if len(text) > SIZE_LIMIT:
        raise DocumentError(
            f"The file has {len(text):,} characters; at most {SIZE_LIMIT:,} can be read.",
            hint="Is this the right file?",
        )
    body = text.removeprefix("\ufeff").strip()
    if not body:
        raise DocumentError("There is nothing in it.", hint=_EXPECTED)
    title = _title_of(filename)
    if body[0] in "{[":
        return _from_json(body, fallback_title=title)
    if _PAGE.search(body[:20_000]):
        return _from_page(body, fallback_title=title)
    if filename.lower().endswith((".json", ".jsonld")):
        raise DocumentError("This file is called JSON but does not start as JSON.", hint=_EXPECTED)
    return formula_text_read(body)


def formula_export_json(*, formula: Formula) -> str:
    """Return a formula as JSON that any kitchen can import; it keeps its content hash."""
    pretty = json.dumps(
        formula.model_dump(mode="json"), indent=2, ensure_ascii=False, allow_nan=False
    )
    return pretty + "\n"


def formula_export_text(*, formula: Formula) -> str:
    """Return a formula as plain text that can be read, mailed and imported."""
    return formula_text_write(formula)


def formula_schema_json() -> str:
    """Return the JSON Schema of the formula format."""
    return json.dumps(formula_schema(), indent=2, ensure_ascii=False) + "\n"


def _from_json(body: str, *, fallback_title: str) -> Formula:
    try:
        data: Any = json.loads(body)
    except (ValueError, RecursionError) as error:
        raise DocumentError(f"This is not valid JSON: {error}.", hint=_EXPECTED) from None
    if isinstance(data, dict) and data.get("format") == FORMAT:
        return formula_from_json(body)
    recipe = recipe_find(data)
    if recipe is None:
        raise DocumentError(
            f'This JSON holds neither a Setwell formula ("format": "{FORMAT}") nor a schema.org '
            'Recipe ("@type": "Recipe").',
            hint=_EXPECTED,
        )
    return recipe_formula(recipe, fallback_title=fallback_title)


def _from_page(body: str, *, fallback_title: str) -> Formula:
    recipe = recipe_find_in_page(body)
    if recipe is None:
        raise DocumentError(
            "This web page holds no schema.org Recipe that could be read.",
            hint="Copy the ingredient lines from the page and paste them as plain text.",
        )
    return recipe_formula(recipe, fallback_title=fallback_title)


def _title_of(filename: str) -> str:
    stem = PurePath(filename.replace("\\", "/")).stem.replace("_", " ").strip()
    return stem[:120] or "Imported recipe"
