"""Loose fields of a label read: texts, numbers and lists, each problem at its field."""

import math
from collections.abc import Iterator

from setwell.engine.labels.panel_amounts import ANALYZED
from setwell.errors import InputError
from setwell.units import text_quote

_WEIGHT_MOST = 100_000.0
_LINES_MOST = 100
# Word and unit of the numbers that may be given, by field.
NUMBERS = {
    "serving_g": ("weight of a serving", "g"),
    "container_g": ("weight in one package", "g"),
    "piece_g": ("weight of a piece", "g"),
    "density": ("density", "g/mL"),
    "protein_score": ("protein score", ""),
}
# A score of 1 is protein that the body uses in full.
_MOST = {"protein_score": 1.0}


def text_read(given: object, field: str, most: int, problems: list[InputError]) -> str:
    """Return a text on one line, no longer than what fits."""
    text = " ".join(str(given or "").split())
    if len(text) <= most:
        return text
    problems.append(
        InputError(
            f"This has {len(text):,} characters; at most {most} fit on a label.",
            field=field,
            hint=f"Leave out {len(text) - most:,}.",
        )
    )
    return text[:most]


def number_read(given: object, field: str, problems: list[InputError]) -> float | None:
    """Return a number above zero, or None when it is empty or cannot be."""
    if given is None or given == "":
        return None
    word, unit = NUMBERS[field]
    try:
        value = float(str(given))
    except ValueError:
        value = math.nan
    most = _MOST.get(field, _WEIGHT_MOST)
    if math.isfinite(value) and 0.0 < value <= most:
        return value
    problems.append(
        InputError(
            f"The {word} cannot be {f'{str(given)[:20]} {unit}'.strip()}.",
            field=field,
            hint=f"Give a number above 0 and up to {most:,.0f}, or leave it empty.",
        )
    )
    return None


def analysis_read(text: str, problems: list[InputError]) -> tuple[tuple[str, float], ...]:
    """Return the amounts of an analysis, written one to a line as "iron 0.4"."""
    found: dict[str, float] = {}
    for line in _lines(text, "analyzed", problems):
        name, _, amount = line.rpartition(" ")
        key = name.strip(" :=").casefold().replace(" ", "_")
        try:
            value = float(amount.replace(",", "."))
        except ValueError:
            value = math.nan
        if key in ANALYZED and 0.0 <= value <= _WEIGHT_MOST:
            found[key] = value
        else:
            problems.append(_not_analyzed(line, key))
    return tuple(found.items())


def _not_analyzed(line: str, key: str) -> InputError:
    said = text_quote(line[:40])
    if key in ANALYZED:
        return InputError(
            f"The line {said} has no amount from 0 on.",
            field="analyzed",
            hint="Write, for example, “iron 0.4”.",
        )
    return InputError(
        f"The line {said} names nothing that a panel has.",
        field="analyzed",
        hint=f"Choose from {', '.join(one.replace('_', ' ') for one in ANALYZED)}.",
    )


def pairs_read(
    text: str, field: str, example: str, problems: list[InputError]
) -> tuple[tuple[str, str], ...]:
    """Return names with what is written for them, one to a line as "fish: cod"."""
    found: dict[str, str] = {}
    for line in _lines(text, field, problems):
        key, mark, said = (part.strip() for part in line.partition(":"))
        if mark and key and said:
            found[key] = said
        else:
            problems.append(
                InputError(
                    f"The line {text_quote(line[:40])} has no name and colon in front.",
                    field=field,
                    hint=f"Write, for example, “{example}”.",
                )
            )
    return tuple(found.items())


def names_read(text: str) -> tuple[str, ...]:
    """Return names that stand on lines or between commas, once each."""
    parts = (part.strip() for line in text.splitlines() for part in line.split(","))
    return tuple(dict.fromkeys(part for part in parts if part))[:_LINES_MOST]


def _lines(text: str, field: str, problems: list[InputError]) -> Iterator[str]:
    lines = [line.strip() for line in text.replace(";", "\n").splitlines() if line.strip()]
    if len(lines) > _LINES_MOST:
        problems.append(
            InputError(
                f"These are {len(lines):,} lines; at most {_LINES_MOST} can be read.", field=field
            )
        )
    yield from lines[:_LINES_MOST]
