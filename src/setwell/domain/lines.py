"""One ingredient line: read it, never lose what was typed."""

import re
from dataclasses import replace

from setwell.domain.amount_reading import AmountReading, amount_lead, amount_tail, amount_whole
from setwell.domain.amounts import (
    UNSTATED,
    Amount,
    AmountKind,
    amount_measured,
    amount_print,
)
from setwell.domain.hints import hints_find
from setwell.domain.line import Line
from setwell.domain.line_checks import line_check
from setwell.domain.line_opening import line_opened, line_refused
from setwell.domain.line_parts import LineParts, line_parts, weight_whole
from setwell.domain.problems import LineProblem, ProblemCode
from setwell.units import UNITS, text_quote

__all__ = ["Line", "LineProblem", "ProblemCode", "line_parse"]

_TARGET = re.compile(
    r"(?:^|[ ,])(?:(?:made?|topp?(?:ed)?|filled?) up to|up to|to make|q\.? ?s\.?(?: to)?|to) ?$",
    re.IGNORECASE,
)
_TARGET_LEAD = re.compile(r"(?:q\.? ?s\.?(?: to)?|up to|to make|to) ", re.IGNORECASE)
_TO_TASTE = re.compile(r"to taste|as needed|as required|q\.? ?s\.?", re.IGNORECASE)
_GELATIN = re.compile(r"(.*\bgelatine?) (?:sheets?|leaf|leaves)$", re.IGNORECASE)
_METRIC = {"mg", "g", "kg"}


def line_parse(text: str) -> Line:
    """Return the reading of one line; a bad line keeps its text and gets a problem."""
    refused = line_refused(text)
    if refused:
        return Line(text, None, "", problem=refused)
    written = line_opened(text)
    if not written:
        problem = LineProblem(
            ProblemCode.EMPTY, "This line is empty.", 'Write, for example, "350 g whole milk".'
        )
        return Line(text, None, "", problem=problem)
    parts = line_parts(written)
    reading = _reading(parts)
    line = _line(text, parts, reading) if reading else _without_amount(text, parts)
    return line_check(_hinted(line), parts)


def _reading(parts: LineParts) -> AmountReading | None:
    """Return the amount and name from the first segment, else from a segment of its own."""
    first = parts.segments[0] if parts.segments else ""
    lead = amount_lead(first)
    tail = amount_tail(first)
    if tail and not tail.rest.strip():
        tail = None
    if lead:
        return tail if tail and _is_of_name(lead) else lead
    return _targeted(tail) if tail else _apart(parts)


def _is_of_name(lead: AmountReading) -> bool:
    """Return whether the first number names the product: "2% milk 350 g", "00 flour 100 g"."""
    amount = lead.amount
    if amount is None or not lead.rest:
        return False
    is_zero = amount.kind == AmountKind.COUNT and amount.value == 0
    return amount.kind == AmountKind.PERCENT or is_zero


def _targeted(tail: AmountReading) -> AmountReading:
    """Turn "salt to 0.8%" and "water to 1 kg" into targets."""
    target = _TARGET.search(tail.rest)
    if not target or tail.amount is None:
        return tail
    rest, amount = tail.rest[: target.start()], tail.amount
    if amount.kind == AmountKind.PERCENT:
        return replace(tail, rest=rest, amount=replace(amount, kind=AmountKind.PERCENT_TARGET))
    if amount.kind == AmountKind.MASS:
        return replace(tail, rest=rest, amount=replace(amount, kind=AmountKind.MASS_TARGET))
    problem = LineProblem(
        ProblemCode.UNKNOWN_UNIT,
        f'A batch is made up by weight, not to "{amount_print(amount)}".',
        f'Write, for example, "{rest.strip() or "water"} to 1 kg".',
    )
    return AmountReading(None, rest, problem)


def _apart(parts: LineParts) -> AmountReading | None:
    """Read "kappa carrageenan, 0.35%" and "whole milk: 350 g"."""
    for position, segment in enumerate(parts.segments[1:], start=1):
        target = _TARGET_LEAD.match(segment)
        whole = amount_whole(segment[target.end() :] if target else segment)
        if whole:
            note = ", ".join([*parts.segments[1:position], *parts.segments[position + 1 :]])
            rest = parts.segments[0] + (" to" if target else "")
            found = replace(whole, rest=rest, note=note, is_apart=True)
            return _targeted(found) if target else found
    return None


def _line(text: str, parts: LineParts, reading: AmountReading) -> Line:
    name = parts.name_clean(reading.rest)
    rest = [] if reading.is_apart else list(parts.segments[1:])
    if not name and rest:
        name = parts.name_clean(rest.pop(0))
    notes = [f"{parts.part_of_fruit} of"] if parts.part_of_fruit else []
    if reading.note:
        notes.append(reading.note)
    amount = reading.amount
    if amount is None:
        note = ", ".join([*notes, *rest, *parts.notes])
        return Line(text, None, name, note, ratio_with_agent=parts.ratio, problem=reading.problem)
    stated, more = _stated(parts, amount)
    if stated is None and amount.kind != AmountKind.MASS:
        name, stated, rest = _weight_behind(name, rest)
    name, amount = _by_food(name, amount)
    note = ", ".join([*notes, *rest, *parts.notes, *more])
    return Line(text, amount, name, note, stated, parts.ratio)


def _stated(parts: LineParts, amount: Amount) -> tuple[float | None, list[str]]:
    """Return the weight that wins, and a weight that is only a note."""
    if parts.each_grams is not None and amount.kind == AmountKind.COUNT:
        return parts.each_grams * amount.value, []
    if parts.stated is None:
        return None, []
    is_rounded = amount.unit in _METRIC and parts.stated.unit not in _METRIC
    if is_rounded and amount.kind == AmountKind.MASS:
        # "350 g (12 oz)": the grams were weighed, the ounces are rounded.
        return None, [parts.stated_text]
    return parts.stated.grams, []


def _without_amount(text: str, parts: LineParts) -> Line:
    name = parts.name_clean(parts.segments[0]) if parts.segments else ""
    note = ", ".join([*parts.segments[1:], *parts.notes])
    line = Line(text, UNSTATED, name, note, None, parts.ratio)
    if parts.stated is not None and parts.stated.grams is not None:
        return replace(line, amount=amount_measured(parts.stated.grams, UNITS["g"]))
    if parts.ratio is not None:
        return line
    taste = _TO_TASTE.search(note)
    reason = f': "{taste[0]}" is not an amount others can repeat' if taste else ""
    is_plain = len(name) <= 40 and not any(char.isdigit() for char in name)
    example = name if is_plain else "salt"
    problem = LineProblem(
        ProblemCode.NO_AMOUNT,
        f"{text_quote(name)} has no amount{reason}.",
        f'Weigh it and write, for example, "2 g {example}" or "{example} to 0.8%".',
    )
    return replace(line, problem=problem)


def _weight_behind(name: str, rest: list[str]) -> tuple[str, float | None, list[str]]:
    """Take the weight in "3 egg yolks, 52 g" or "3 egg yolks 52 g"."""
    for position, segment in enumerate(rest):
        weight = weight_whole(segment)
        if weight:
            return name, weight.grams, [*rest[:position], *rest[position + 1 :]]
    tail = amount_tail(name)
    if tail and tail.rest.strip() and tail.amount and tail.amount.kind == AmountKind.MASS:
        return tail.rest.strip(" ,:;=-"), tail.amount.grams, rest
    return name, None, rest


def _by_food(name: str, amount: Amount) -> tuple[str, Amount]:
    """Settle units that depend on the food: gelatin, butter, cloves that are the spice."""
    if not name and amount.kind == AmountKind.COUNT and amount.unit != "each":
        unit = UNITS[amount.unit]
        return unit.plural if amount.value > 1 else unit.name, replace(amount, unit="each")
    low = name.lower()
    if amount.unit == "stick" and "butter" not in low and "margarine" not in low:
        # A stick of cinnamon has no fixed weight.
        return f"{name} stick", Amount(AmountKind.COUNT, amount.value, "each")
    if amount.unit == "leaf" and "gelatin" in low:
        return name, replace(amount, unit="sheet")
    gelatin = _GELATIN.match(name)
    if gelatin and amount.kind == AmountKind.COUNT and amount.unit == "each":
        return gelatin[1], replace(amount, unit="sheet")
    return name, amount


def _hinted(line: Line) -> Line:
    hints = hints_find(f"{line.name}, {line.note}")
    if line.ratio_with_agent is not None:
        hints |= {"disperse"}
    if line.amount is not None and line.amount.unit == "can":
        hints |= {"canned"}
    return replace(line, hints=hints)
