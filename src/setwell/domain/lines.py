"""One ingredient line: read it, print it, never lose what was typed."""

import re
from dataclasses import dataclass, replace

from setwell.domain.amount_reading import AmountReading, amount_lead, amount_tail, amount_whole
from setwell.domain.amounts import (
    UNSTATED,
    Amount,
    AmountKind,
    amount_measured,
    amount_print,
    amount_problem,
)
from setwell.domain.hints import hints_find
from setwell.domain.line_parts import LineParts, line_parts
from setwell.domain.problems import LineProblem, ProblemCode
from setwell.units import UNITS, number_print, text_clean, text_has_control, text_quote

__all__ = ["Line", "LineProblem", "line_parse", "line_print"]

LENGTH_MOST = 300
# Two weights on one line may differ this much by rounding ounces; more is a mistake.
_WEIGHT_SPREAD = 0.1

_BULLET = re.compile(r"(?:[•*·▪◦‣☐▢] ?|[-–—+] +|\[[ xX]?\] ?|[0-9]{1,3}\) +)+")
_ENDING = re.compile(r"[\s•*·]+$")
_ABOUT = re.compile(r"(?:about|approx(?:imately|\.)?|around|roughly|ca\.|~|≈) ?(?=[0-9.])", re.I)
_WORD_NUMBERS = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
]
_WORD_NUMBER = re.compile(rf"({'|'.join(_WORD_NUMBERS)}) (?=[a-z])", re.IGNORECASE)
_ARTICLE = re.compile(
    r"(half an?|half|an?|(?=(?:pinch|dash|stick) of)) ?"
    r"(?=(?:(?:heaping|heaped|level|scant|small|large) )?"
    r"(?:pinch|dash|cup|pint|quart|gallon|liter|litre|teaspoon|tablespoon|tsp|tbsp|pound|lb|oz|"
    r"ounce|kilo|stick|sheet|leaf|clove|stalk|sprig|piece|slice|can|tin|packet|envelope|bunch|"
    r"drop|lemon|lime|egg|orange|vanilla)\b)",
    re.IGNORECASE,
)
_TARGET = re.compile(
    r"(?:^|[ ,])(?:(?:made?|topp?(?:ed)?|filled?) up to|up to|to make|q\.? ?s\.?(?: to)?|to) ?$",
    re.IGNORECASE,
)
_TO_TASTE = re.compile(r"to taste|as needed|as required|q\.? ?s\.?", re.IGNORECASE)
_GELATIN = re.compile(r"(.*\bgelatine?) (?:sheets?|leaf|leaves)$", re.IGNORECASE)
_FAT_GRADE = re.compile(
    r"(?:.* )?(?:milk|cream|yogh?urt|kefir|quark|vinegar|vodka|rum|brandy|chocolate)$", re.I
)


@dataclass(frozen=True, slots=True)
class Line:
    """An ingredient line as read; `text` is what was typed, to the letter.

    A line with a `problem` has no usable amount: show the problem and leave it out.
    `ratio_with_agent` is grams of this ingredient per gram of agent.
    """

    text: str
    amount: Amount | None
    name: str
    note: str = ""
    stated_grams: float | None = None
    ratio_with_agent: float | None = None
    hints: frozenset[str] = frozenset()
    problem: LineProblem | None = None


def line_parse(text: str) -> Line:
    """Return the reading of one line; a bad line keeps its text and gets a problem."""
    refused = _refused(text)
    if refused:
        return Line(text, None, "", problem=refused)
    written = _written(text)
    if not written:
        problem = LineProblem(
            ProblemCode.EMPTY, "This line is empty.", 'Write, for example, "350 g whole milk".'
        )
        return Line(text, None, "", problem=problem)
    parts = line_parts(written)
    return _checked(_line(text, parts, _reading(parts)))


def line_print(line: Line) -> str:
    """Return the line in one form, or as typed where that form would read differently."""
    if line.problem is not None or line.amount is None:
        return line.text
    printed = _form(line, line.amount)
    again = line_parse(printed)
    return printed if replace(again, text=line.text) == line else line.text


def _refused(text: str) -> LineProblem | None:
    if len(text) > LENGTH_MOST:
        return LineProblem(
            ProblemCode.TOO_LONG,
            f"This line has {len(text)} characters; a line can have {LENGTH_MOST}.",
            "Shorten it, and move the rest to the notes.",
        )
    if text_has_control(text):
        return LineProblem(
            ProblemCode.CONTROL_CHARACTERS,
            "This line has control characters in it, which come from a damaged file.",
            "Type the line again.",
        )
    return None


def _written(text: str) -> str:
    written = _ENDING.sub("", text_clean(text))
    bullet = _BULLET.match(written)
    if bullet:
        written = written[bullet.end() :]
    word = _WORD_NUMBER.match(written)
    if word:
        number = _WORD_NUMBERS.index(word[1].lower()) + 1
        return f"{number} {written[word.end() :]}"
    article = _ARTICLE.match(written)
    if article:
        number_text = "1/2" if article[1].lower().startswith("half") else "1"
        return f"{number_text} {written[article.end() :]}"
    about = _ABOUT.match(written)
    return f"{written[about.end() :]}, about" if about else written


def _reading(parts: LineParts) -> AmountReading | None:
    """Return the amount and name from the first segment, else from a segment of its own."""
    first = parts.segments[0] if parts.segments else ""
    lead = amount_lead(first)
    tail = amount_tail(first)
    if lead and tail and _is_share(lead) and tail.rest.strip():
        # "2% milk 350 g": the percent belongs to the name.
        return tail
    if lead:
        return lead
    if tail and not tail.rest.strip():
        tail = None
    return _targeted(tail) if tail else _apart(parts)


def _is_share(lead: AmountReading) -> bool:
    return lead.amount is not None and lead.amount.kind == AmountKind.PERCENT and bool(lead.rest)


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
        target = re.match(r"(?:up )?to ", segment, re.IGNORECASE)
        whole = amount_whole(segment[target.end() :] if target else segment)
        if whole:
            note = ", ".join([*parts.segments[1:position], *parts.segments[position + 1 :]])
            found = replace(whole, rest=parts.segments[0] + (" to" if target else ""), note=note)
            return _targeted(found) if target else found
    return None


def _line(text: str, parts: LineParts, reading: AmountReading | None) -> Line:
    stated = parts.stated_grams
    if reading is None:
        return _without_amount(text, parts)
    is_apart = bool(parts.segments) and reading.rest.startswith(parts.segments[0])
    name = parts.name_clean(reading.rest)
    notes = [reading.note] if reading.note else []
    rest = [] if is_apart else list(parts.segments[1:])
    if not name and rest:
        name = parts.name_clean(rest.pop(0))
    amount = reading.amount
    if stated is None and amount is not None and amount.kind != AmountKind.MASS:
        name, stated, rest = _weight_behind(name, rest)
    if amount is not None and parts.each_grams is not None:
        stated = parts.each_grams * amount.value if amount.kind == AmountKind.COUNT else stated
    if not name and amount is not None and amount.kind == AmountKind.COUNT:
        name, amount = _unit_as_name(amount)
    if amount is not None:
        name, amount = _by_food(name, amount)
    note = ", ".join([*notes, *rest, *parts.notes])
    problem = reading.problem
    return _finished(Line(text, amount, name, note, stated, parts.ratio, problem=problem))


def _without_amount(text: str, parts: LineParts) -> Line:
    name = parts.name_clean(parts.segments[0]) if parts.segments else ""
    note = ", ".join([*parts.segments[1:], *parts.notes])
    line = _finished(Line(text, UNSTATED, name, note, None, parts.ratio))
    if parts.stated_grams is not None:
        return replace(line, amount=amount_measured(parts.stated_grams, UNITS["g"]))
    if parts.ratio is not None:
        return line
    taste = _TO_TASTE.search(note)
    reason = f': "{taste[0]}" is not an amount others can repeat' if taste else ""
    problem = LineProblem(
        ProblemCode.NO_AMOUNT,
        f"{text_quote(name)} has no amount{reason}.",
        f'Weigh it and write, for example, "2 g {name}" or "{name} to 0.8%".',
    )
    return replace(line, problem=problem)


def _weight_behind(name: str, rest: list[str]) -> tuple[str, float | None, list[str]]:
    """Take the weight in "3 egg yolks, 52 g" or "3 egg yolks 52 g"."""
    for position, segment in enumerate(rest):
        whole = amount_whole(segment)
        if whole and whole.amount and whole.amount.kind == AmountKind.MASS:
            return name, whole.amount.grams, [*rest[:position], *rest[position + 1 :]]
    tail = amount_tail(name)
    if tail and tail.rest.strip() and tail.amount and tail.amount.kind == AmountKind.MASS:
        return tail.rest.strip(" ,:;=-"), tail.amount.grams, rest
    return name, None, rest


def _unit_as_name(amount: Amount) -> tuple[str, Amount]:
    """Read "2 cloves" as two cloves, the spice, not as two cloves of nothing."""
    unit = UNITS[amount.unit]
    if unit.name == "each":
        return "", amount
    name = unit.plural if amount.value > 1 else unit.name
    return name, replace(amount, unit="each")


def _by_food(name: str, amount: Amount) -> tuple[str, Amount]:
    """Settle units that depend on the food: sheets of gelatin, sticks of butter."""
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


def _finished(line: Line) -> Line:
    hints = hints_find(f"{line.name}, {line.note}")
    if line.ratio_with_agent is not None:
        hints |= {"disperse"}
    if line.amount is not None and line.amount.unit == "can":
        hints |= {"canned"}
    return replace(line, hints=hints)


def _checked(line: Line) -> Line:
    """Attach the problem that only the whole line shows, and drop an unusable amount."""
    problem = line.problem or _name_problem(line) or _amount_problem(line)
    if problem is None:
        return line
    amount = line.amount if problem.code == ProblemCode.NO_AMOUNT else None
    return replace(line, problem=problem, amount=amount)


def _name_problem(line: Line) -> LineProblem | None:
    if any(char.isalpha() for char in line.name):
        return None
    return LineProblem(
        ProblemCode.NO_NAME,
        "This line names no ingredient.",
        'Write the amount and the name, like "350 g whole milk".',
    )


def _amount_problem(line: Line) -> LineProblem | None:
    amount = line.amount
    if amount is None:
        return None
    stated = line.stated_grams
    problem = amount_problem(amount)
    if problem is None and stated is not None:
        problem = amount_problem(amount_measured(stated, UNITS["g"]))
    if problem is not None:
        return problem
    if stated is not None and amount.kind == AmountKind.MASS and amount.grams is not None:
        if abs(stated - amount.grams) > _WEIGHT_SPREAD * max(stated, amount.grams):
            return LineProblem(
                ProblemCode.TWO_WEIGHTS,
                f"This line gives two weights: {amount_print(amount)} and "
                f"{number_print(stated)} g.",
                "Keep the one you weighed.",
            )
    return _grade_problem(line, amount)


def _grade_problem(line: Line, amount: Amount) -> LineProblem | None:
    """Ask about "2% milk": a share of the batch, or milk with that fat?"""
    leads = re.match(r"\W*[0-9.,/ ]+ ?(?:%|per|pct)", text_clean(line.text))
    if amount.kind != AmountKind.PERCENT or not leads or not _FAT_GRADE.match(line.name):
        return None
    if line.stated_grams is not None:
        return None
    grade = f"{amount_print(amount)} {line.name}"
    return LineProblem(
        ProblemCode.TWO_READINGS,
        f"{text_quote(grade)} can be a share of the batch or the name of a product.",
        f'Write "350 g {grade}", or "{line.name}, {amount_print(amount)}" for a share.',
    )


def _form(line: Line, amount: Amount) -> str:
    written = amount_print(amount)
    if amount.kind in (AmountKind.PERCENT_TARGET, AmountKind.MASS_TARGET):
        head = f"{line.name} to {written}"
    elif amount.kind == AmountKind.PERCENT and _FAT_GRADE.match(line.name):
        head = f"{line.name}, {written}"
    elif line.note == "juice of" and line.name.endswith(" juice"):
        return f"juice of {written} {line.name.removesuffix(' juice')}"
    else:
        head = f"{written} {line.name}".strip()
    if line.stated_grams is not None:
        head += f" ({number_print(line.stated_grams)} g)"
    return f"{head}, {line.note}" if line.note else head
