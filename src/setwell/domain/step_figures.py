"""Temperatures and times inside a step."""

import re
from dataclasses import dataclass

from setwell.domain.problems import LineProblem, ProblemCode
from setwell.units import (
    NumberFault,
    celsius_from_fahrenheit,
    number_read,
    temperature_print,
    text_quote,
)
from setwell.units.duration import DURATION_UNIT, LONGEST
from setwell.units.temperature import COLDEST, HOTTEST, TEMPERATURE_LIMITS

_NUMBER = r"[0-9]{1,9}(?:[.,][0-9]{1,9})?(?: [0-9]/[0-9]| ?/ ?[0-9]{1,2})?"
_TO = r" ?(?:[-–—~]|to|or|and) ?"
_TEMPERATURE = re.compile(
    rf"(?<![\w.,/])(?P<low>-?{_NUMBER}(?: ?°? ?[CF]?){_TO})?(?P<value>-?{_NUMBER})"
    r"(?:(?: ?(?:°|degrees?|deg\.?) ?(?P<scale>celsius|centigrade|fahrenheit|[CcFf]))"
    r"|(?P<capital> ?[CF])|(?P<stuck>[cf])|(?P<spaced> [cf]))(?![\w])"
)
_FROM = re.compile(r"\bfrom $", re.IGNORECASE)
_BEFORE = re.compile(r"\b(?:to|at|reach(?:es)?|below|above|under|over|of|about|least|is) $", re.I)
_BARE = re.compile(
    r"\b(?:to|at|reach(?:es)?|below|above) (?:about |at least )?"
    r"(?P<value>-?[0-9]{1,4}(?:\.[0-9]+)?) ?(?:°|degrees?|deg\.?)?"
    r"(?= ?(?:[,.;)]|$)| (?:and|then|for|while|over)\b)",
    re.IGNORECASE,
)
_DEGREE = re.compile(
    r"(?<![\w.,])(?P<value>-?[0-9]{1,4}(?:\.[0-9]+)?) ?(?:°|degrees?\b)(?! ?[CF])", re.I
)
_TIME = re.compile(
    rf"(?<![\w.,/])(?P<low>{_NUMBER}(?: ?{DURATION_UNIT})?{_TO})?(?P<value>{_NUMBER})"
    rf"(?: ?|-)(?P<unit>{DURATION_UNIT})(?![\w])",
    re.IGNORECASE,
)
_WORDS = {"half an": "1/2", "half a": "1/2", "an": "1", "a": "1", "one": "1", "two": "2",
          "three": "3", "four": "4", "five": "5", "six": "6", "ten": "10"}  # fmt: skip
_WORD_TIME = re.compile(
    rf"\b({'|'.join(_WORDS)}) (?=(?:seconds?|minutes?|hours?|days?)\b)", re.IGNORECASE
)
_OVERNIGHT = re.compile(r"\bovernight\b", re.IGNORECASE)
_MINUTES = {"s": 1 / 60, "m": 1.0, "h": 60.0, "d": 1440.0}
_JOIN = re.compile(r",? ?(?:and )?\Z")
# °C; "85 °C (184 °F)" is one temperature, rounded.
_ROUNDING = 1.5


@dataclass(frozen=True, slots=True)
class Figure:
    """A value found in a step, where it stands, or why it cannot be used."""

    value: float | None = None
    span: tuple[int, int] | None = None
    problem: LineProblem | None = None


def temperatures_find(written: str, *, is_thermal: bool) -> Figure:
    """Return the temperature of a step in °C."""
    found: list[Figure] = []
    for match in _TEMPERATURE.finditer(written):
        if match["spaced"] and not _BEFORE.search(written[: match.start()]):
            # "2 c milk" is cups.
            continue
        figure = _temperature(match, written)
        if figure.problem:
            return figure
        found.append(figure)
    if not found:
        return _bare(written) if is_thermal else Figure()
    return _single(found, written)


def durations_find(written: str) -> Figure:
    """Return the time of a step in minutes; "1 h 30 min" is one time."""
    text = _WORD_TIME.sub(lambda match: f"{_WORDS[match[1].lower()]} ", written)
    totals: list[float] = []
    last_end = -1
    for match in _TIME.finditer(text):
        if match["low"]:
            return Figure(problem=_range_problem(match[0]))
        value = number_read(match["value"])
        if isinstance(value, NumberFault):
            return Figure(problem=LineProblem(ProblemCode(value.code), value.message, value.hint))
        minutes = value * _MINUTES[match["unit"][0].lower()]
        if totals and _JOIN.match(text[last_end : match.start()]):
            totals[-1] += minutes
        else:
            totals.append(minutes)
        last_end = match.end()
    return _time(totals, text)


def _time(totals: list[float], text: str) -> Figure:
    if not totals:
        return Figure(problem=_no_time() if _OVERNIGHT.search(text) else None)
    if totals[0] > LONGEST:
        problem = LineProblem(
            ProblemCode.ABSURD, "The time is more than a year.", "Check the number and the unit."
        )
        return Figure(problem=problem)
    return Figure(totals[0])


def _temperature(match: re.Match[str], written: str) -> Figure:
    low, value_text = match["low"], match["value"]
    if low and not _FROM.search(written[: match.start()]):
        return Figure(problem=_range_problem(match[0]))
    value = number_read(value_text.removeprefix("-"))
    if isinstance(value, NumberFault):
        return Figure(problem=LineProblem(ProblemCode(value.code), value.message, value.hint))
    value = -value if value_text.startswith("-") else value
    scale = (match["scale"] or match["capital"] or match["stuck"] or match["spaced"]).strip()
    celsius = celsius_from_fahrenheit(value) if scale[0] in "fF" else value
    if not COLDEST <= celsius <= HOTTEST:
        problem = LineProblem(
            ProblemCode.BAD_TEMPERATURE,
            f"{temperature_print(celsius)} is outside {TEMPERATURE_LIMITS}.",
            "Check the number and whether it is °C or °F.",
        )
        return Figure(problem=problem)
    return Figure(celsius, (match.start("value"), match.end()))


def _single(found: list[Figure], written: str) -> Figure:
    """Return the one temperature; "85 °C (185 °F)" and "185 °F (85 °C)" are one."""
    first = found[0]
    values = [figure.value for figure in found if figure.value is not None]
    if max(values) - min(values) <= _ROUNDING:
        return Figure(_celsius_first(found, written), _spanned(found, written))
    problem = LineProblem(
        ProblemCode.TWO_TEMPERATURES,
        f"This step names {len(found)} temperatures; {temperature_print(values[0])} is used.",
        "Give each temperature a step of its own.",
    )
    return Figure(first.value, first.span, problem)


def _celsius_first(found: list[Figure], written: str) -> float | None:
    """Prefer the value typed in °C over its rounded °F."""
    for figure in found:
        start, end = figure.span or (0, 0)
        if "c" in written[start:end].lower():
            return figure.value
    return found[0].value


def _spanned(found: list[Figure], written: str) -> tuple[int, int] | None:
    first, last = found[0].span, found[-1].span
    if len(found) == 2 and first and last and written[first[1] : last[0]].strip() in {"(", "/"}:
        closes = written[last[1] : last[1] + 1] == ")"
        return first[0], last[1] + int(closes)
    return first


def _bare(written: str) -> Figure:
    for match in (_BARE.search(written), _DEGREE.search(written)):
        if match:
            bare = match["value"]
            problem = LineProblem(
                ProblemCode.NO_TEMPERATURE_UNIT,
                f"{text_quote(bare)} does not say °C or °F.",
                f"Write {bare} °C or {bare} °F.",
            )
            return Figure(problem=problem)
    return Figure()


def _range_problem(written: str) -> LineProblem:
    return LineProblem(
        ProblemCode.RANGE,
        f"{text_quote(written)} is a range; a step needs one number.",
        "Write the number you aim at, and put the range in the notes.",
    )


def _no_time() -> LineProblem:
    return LineProblem(
        ProblemCode.NO_TIME, '"Overnight" is not a number of hours.', "Write 8 h or 12 h."
    )
