"""A whole formula as plain text: title, header lines, ingredients, steps."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches

from setwell.errors import DocumentError
from setwell.units import text_quote

HEADER_KEYS = ("goal", "diets", "portions", "molds", "evaporation", "loss", "serve", "notes")
BYTES_MOST = 150_000
TITLE_LENGTH_MOST = 120

_HEADER = re.compile(r"\s*([A-Za-z]+)\s*:(?:[ \t]+(.*?))?\s*\Z")
_STEPS = re.compile(r"\s*#*\s*(?:steps|method)\s*:?\s*\Z", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class FormulaText:
    """The four parts of a formula file; `ingredients` and `steps` are as typed."""

    title: str
    header: Mapping[str, str] = field(default_factory=dict)
    ingredients: str = ""
    steps: str = ""


def formula_text_parse(text: str) -> FormulaText:
    """Return the parts of a formula file, or raise DocumentError that says what is wrong."""
    _check(text)
    lines = text.removeprefix("\ufeff").splitlines()
    start = next((n for n, line in enumerate(lines) if line.strip()), None)
    if start is None:
        raise DocumentError(
            "The formula is empty.", hint="Write the title on the first line, then the ingredients."
        )
    header, body = _header(lines, start + 1)
    cut = next((n for n in range(body, len(lines)) if _STEPS.match(lines[n])), len(lines))
    title = lines[start].strip().lstrip("#").strip()
    if not title or len(title) > TITLE_LENGTH_MOST:
        raise DocumentError(
            f"The title has {len(title)} characters; it needs 1 to {TITLE_LENGTH_MOST}.",
            hint="Write a short title on the first line.",
        )
    return FormulaText(title, header, _block(lines[body:cut]), _block(lines[cut + 1 :]))


def formula_text_print(formula: FormulaText) -> str:
    """Return the formula as a file that reads back the same."""
    blocks = [
        "\n".join([formula.title, *(f"{key}: {text}" for key, text in formula.header.items())]),
        formula.ingredients,
        f"Steps:\n{formula.steps}" if formula.steps else "",
    ]
    printed = "\n\n".join(block for block in blocks if block) + "\n"
    if formula_text_parse(printed) != formula:
        raise DocumentError(
            f"The formula {text_quote(formula.title)} cannot be written as plain text.",
            hint="Keep title and header values on one line each, leave out empty ones, and use "
            '"Steps:" only before the method.',
        )
    return printed


def _header(lines: list[str], position: int) -> tuple[dict[str, str], int]:
    """Read `key: value` lines; the first line that is none starts the ingredients."""
    header: dict[str, str] = {}
    while position < len(lines):
        match = _HEADER.match(lines[position])
        key = match[1].lower() if match else ""
        if not match or not match[2] or not _is_key(key, position + 1, match[2]):
            break
        if key in header:
            raise DocumentError(
                f'Line {position + 1}: "{key}" is given twice.', hint="Keep one of the two."
            )
        header[key] = match[2]
        position += 1
    return header, position


def _is_key(key: str, number: int, value: str) -> bool:
    if key in HEADER_KEYS:
        return True
    near = get_close_matches(key, HEADER_KEYS, n=1, cutoff=0.7)
    if near and not value[:1].isdigit():
        raise DocumentError(
            f"Line {number}: {text_quote(key)} is not a header line of a formula.",
            hint=f'Did you mean "{near[0]}"? Known are {", ".join(HEADER_KEYS)}.',
        )
    return False


def _block(lines: list[str]) -> str:
    """Return the lines without blank ones before and after."""
    filled = [n for n, line in enumerate(lines) if line.strip()]
    return "\n".join(lines[filled[0] : filled[-1] + 1]) if filled else ""


def _check(text: str) -> None:
    size = len(text.encode("utf-8", errors="replace"))
    if size > BYTES_MOST:
        raise DocumentError(
            f"The file is {size / 1000:.0f} kB; a formula has at most {BYTES_MOST / 1000:.0f} kB.",
            hint="Check that this is the right file.",
        )
    if "\x00" in text:
        raise DocumentError(
            "This is not a text file.", hint="Save the formula as plain text (UTF-8)."
        )
