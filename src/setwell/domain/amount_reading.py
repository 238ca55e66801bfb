"""Find the amount at the start or the end of a line."""

import re
from dataclasses import dataclass

from setwell.domain.amounts import Amount, amount_measured, amount_percent
from setwell.domain.problems import LineProblem, ProblemCode
from setwell.units import EACH, Dimension, NumberFault, Unit, number_print, number_read, text_quote
from setwell.units.spelling import UNIT_PATTERN, UnitFault, unit_lead, unit_read

_NUMBER = (
    r"[.,]?[0-9]+(?:[.,][0-9]+)*(?:e[+-]?[0-9]+(?![A-Za-z0-9]))?"
    r"(?: ?/ ?[0-9]+)*(?: [0-9]+ ?/ ?[0-9]+)?"
)
# A number, or a range that is then refused as such.
_NUMBERISH = rf"{_NUMBER}(?: ?(?:[-–—~]|to|or) ?{_NUMBER})?"
_PERCENT = r"(?:%|percent\b|per cent\b|pct\b)"
_LEAD = re.compile(rf"(-?{_NUMBERISH})", re.IGNORECASE)
_PERCENT_LEAD = re.compile(
    rf" ?{_PERCENT}(?: (?:w/w|by weight)(?![a-z]))?(?: of)? ?", re.IGNORECASE
)
_TAIL = re.compile(
    rf"(?:(?<=[\s,:;=])|^)(-?{_NUMBERISH}) ?-?({UNIT_PATTERN}|{_PERCENT})\.? ?$", re.IGNORECASE
)
_WHOLE = re.compile(rf"(-?{_NUMBERISH})(?: (large|medium|small|extra[- ]large|jumbo))?$", re.I)
_TIMES = re.compile(rf" ?[x×*] ?({_NUMBER})", re.IGNORECASE)
_BY_VOLUME = re.compile(r"(?:v/v|by vol(?:ume)?|abv|vol\.?)(?![a-z])", re.IGNORECASE)
_STRENGTH = re.compile(r" ?(level|heaping|heaped|rounded|scant|generous|packed) ", re.IGNORECASE)
_SIZE = re.compile(r" ?(extra[- ]large|xl|large|medium|small|jumbo)(?:-sized?)?(?![\w-]) ?", re.I)
_OF = re.compile(r" ?(?:of )?(?:(?:the|an?) )?", re.IGNORECASE)
_SHORT_WORD = re.compile(r" (?!(?:of|an?)\b)([A-Za-zµ]{1,2})\.? +\S")
_STUCK_WORD = re.compile(r"-?([A-Za-zµ‰]+)")
_INSIDE = re.compile(rf"(?<![\w.,/]){_NUMBER} ?-?({UNIT_PATTERN})(?![A-Za-z0-9])", re.IGNORECASE)
_JOINED = re.compile(rf"(?:^| )(?:plus|and|or|\+|&) ({_NUMBER} ?[A-Za-z]+)", re.IGNORECASE)
_SECOND = re.compile(
    rf" ?(plus|and|&|\+|minus|less|or|/|to|[-–—])? ?(?={_NUMBER})({_NUMBERISH}) ?-?"
    rf"({UNIT_PATTERN})(?![A-Za-z0-9])",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class AmountReading:
    """What was found: the amount or the problem, and the words left over."""

    amount: Amount | None
    rest: str
    problem: LineProblem | None = None
    note: str = ""
    is_apart: bool = False


def amount_lead(text: str) -> AmountReading | None:
    """Read an amount at the start; None when the text does not start with a number."""
    match = _LEAD.match(text)
    if not match:
        return None
    written, rest = match[1], text[match.end() :]
    if rest.startswith(":") or _TIMES.match(rest):
        return AmountReading(None, rest, _arithmetic_problem(written, rest))
    percent = _PERCENT_LEAD.match(rest)
    if percent:
        return _percent(written, rest[percent.end() :])
    strength = _STRENGTH.match(rest)
    found = unit_lead(rest[strength.end() :] if strength else rest)
    if found:
        note = strength[1].lower() if strength else ""
        return _measured(written, found[0], found[1], note=note)
    return _counted(written, rest)


def amount_tail(text: str) -> AmountReading | None:
    """Read an amount at the end; None when there is none with a unit."""
    match = _TAIL.search(text)
    if not match:
        return None
    rest = text[: match.start()]
    if match[2].lower().startswith(("%", "per", "pct")):
        return _percent(match[1], rest)
    return _measured(match[1], match[2], rest)


def amount_whole(text: str) -> AmountReading | None:
    """Read a text that is nothing but an amount: "350 g", "3 large", "3"."""
    tail = amount_tail(text)
    if tail and not tail.rest.strip():
        return tail
    match = _WHOLE.match(text)
    if not match:
        return None
    return _with_value(match[1], EACH, "", size=(match[2] or "").lower())


def amount_inside(text: str) -> str:
    """Return the second amount that stands inside a name, where none belongs."""
    for match in _INSIDE.finditer(text):
        unit = unit_read(match[1])
        if isinstance(unit, Unit) and unit.dimension != Dimension.COUNT:
            return match[0]
    joined = _JOINED.search(text)
    return joined[1] if joined else ""


def _percent(written: str, rest: str) -> AmountReading:
    if _BY_VOLUME.match(rest):
        problem = LineProblem(
            ProblemCode.UNKNOWN_UNIT,
            f"{text_quote(written + '% by volume')} is not a share of the weight.",
            "Write the weight in g, or percent of the batch by weight.",
        )
        return AmountReading(None, rest, problem)
    value = number_read(written, unit="%")
    if isinstance(value, NumberFault):
        return AmountReading(None, rest, fault_problem(value))
    return AmountReading(amount_percent(value), rest)


def _measured(written: str, unit_text: str, rest: str, *, note: str = "") -> AmountReading:
    unit = unit_read(unit_text)
    if isinstance(unit, UnitFault):
        return AmountReading(None, rest, _unit_problem(unit))
    second = _SECOND.match(rest)
    if second:
        return AmountReading(None, rest, _second_problem(written, unit, second))
    size = ""
    if unit.dimension == Dimension.COUNT:
        rest, size = _size_lead(rest)
    return _with_value(written, unit, rest, size=size, note=note)


def _counted(written: str, rest: str) -> AmountReading:
    stuck = _STUCK_WORD.match(rest)
    sized, size = _size_lead(rest)
    short = None if size else _SHORT_WORD.match(rest)
    unknown = stuck or short
    if unknown:
        unit = unit_read(unknown[1])
        if not isinstance(unit, UnitFault):
            unit = UnitFault(
                f"{text_quote(rest.strip())} is unclear.", "Put a space after the unit."
            )
        return AmountReading(None, rest, _unit_problem(unit))
    if re.match(r" ?[0-9]", rest):
        problem = LineProblem(
            ProblemCode.BAD_NUMBER,
            f"There are two numbers in a row: {text_quote((written + rest)[:30])}.",
            "Write one amount, and put a pack size in parentheses.",
        )
        return AmountReading(None, rest, problem)
    found = unit_lead(" " + sized) if size else None
    if found:
        unit = unit_read(found[0])
        if isinstance(unit, Unit) and unit.dimension == Dimension.COUNT:
            return _with_value(written, unit, found[1], size=size)
    return _with_value(written, EACH, sized, size=size)


def _size_lead(rest: str) -> tuple[str, str]:
    match = _SIZE.match(rest)
    if not match:
        return rest, ""
    size = match[1].lower().replace("-", " ")
    return rest[match.end() :], "extra large" if size == "xl" else size


def _with_value(
    written: str, unit: Unit, rest: str, *, size: str = "", note: str = ""
) -> AmountReading:
    value = number_read(written, unit="" if unit is EACH else unit.name)
    if isinstance(value, NumberFault):
        return AmountReading(None, rest, fault_problem(value), note)
    rest = rest[match.end() :] if (match := _OF.match(rest)) else rest
    return AmountReading(amount_measured(value, unit, size=size), rest, note=note)


def _unit_problem(fault: UnitFault) -> LineProblem:
    return LineProblem(ProblemCode.UNKNOWN_UNIT, fault.message, fault.hint)


def fault_problem(fault: NumberFault) -> LineProblem:
    """Return the problem of a line whose number cannot be used."""
    return LineProblem(ProblemCode(fault.code), fault.message, fault.hint)


def _arithmetic_problem(written: str, rest: str) -> LineProblem:
    times = _TIMES.match(rest)
    if not times:
        return LineProblem(
            ProblemCode.BAD_NUMBER,
            f"{text_quote((written + rest)[:30])} starts with a ratio.",
            'Write the name first, like "sugar, 2:1 with the agent".',
        )
    first, second = number_read(written), number_read(times[1])
    product = ""
    if isinstance(first, float) and isinstance(second, float):
        product = f" {number_print(first * second)}"
    return LineProblem(
        ProblemCode.BAD_NUMBER,
        f"{text_quote((written + times[0]).strip())} is a multiplication.",
        f"Multiply it out and write{product or ' the result'} with the unit.",
    )


def _second_problem(written: str, unit: Unit, second: re.Match[str]) -> LineProblem:
    both = f"{written} {unit.name}{second[0]}"
    if (second[1] or "").lower() in {"to", "-", "–", "—"}:
        return LineProblem(
            ProblemCode.RANGE,
            f"{text_quote(both)} is a range; a formula needs one number.",
            "Write one amount, and put the range in a note.",
        )
    return LineProblem(
        ProblemCode.TWO_AMOUNTS,
        f"This line gives two amounts: {text_quote(both)}.",
        _sum_hint(written, unit, second),
    )


def _sum_hint(written: str, unit: Unit, second: re.Match[str]) -> str:
    other = unit_read(second[3])
    first_value, second_value = number_read(written), number_read(second[2])
    adds = (second[1] or "+").lower() in {"plus", "and", "&", "+"}
    if (
        adds
        and isinstance(other, Unit)
        and isinstance(first_value, float)
        and isinstance(second_value, float)
        and other.dimension == unit.dimension != Dimension.COUNT
    ):
        total = first_value * unit.factor + second_value * other.factor
        base = "g" if unit.dimension == Dimension.MASS else "mL"
        return f"Write one: {number_print(round(total, 1))} {base} if the two add up."
    return "Write one, and put a weight in parentheses after it."
