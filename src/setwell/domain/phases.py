"""The ingredient list: headings and the lines under them."""

import re
from dataclasses import dataclass
from enum import StrEnum

from setwell.domain.lines import Line, line_parse
from setwell.domain.problems import ProblemCode
from setwell.errors import InputError
from setwell.units import text_clean

LINES_MOST = 500
BYTES_MOST = 100_000
# A stray control character is reported on its line; more than this is not text.
_CONTROL_MOST = 10

_CONTROL = re.compile("[\x00-\x08\x0e-\x1b\x7f]")
_KIND_WORDS = re.compile(
    r"\b(?:(?P<base>bases?|liquids?|milks?|stock|water)|"
    r"(?P<agents>agents?|textur\w*|gell?ing|thicken\w*|powders?|gums?|dry)|"
    r"(?P<acid>acids?|acidic|juices?|fruits?|citrus)|"
    r"(?P<finish>finish\w*|garnish\w*|flavou?r\w*|serving|topping))\b",
    re.IGNORECASE,
)


class PhaseKind(StrEnum):
    """What the lines under a heading are there for."""

    BASE = "base"
    AGENTS = "agents"
    ACID = "acid"
    FINISH = "finish"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Phase:
    """A heading with its lines; `numbers` are the line numbers in the text, from 1."""

    heading: str
    kind: PhaseKind
    lines: tuple[Line, ...]
    numbers: tuple[int, ...]


def lines_parse(text: str) -> tuple[Phase, ...]:
    """Return the phases of an ingredient list; raise InputError only for what is no such list."""
    _check_text(text)
    phases: list[Phase] = []
    heading = ""
    lines: list[Line] = []
    numbers: list[int] = []

    def close() -> None:
        if lines or heading:
            kind = phase_kind(heading)
            phases.append(Phase(heading, kind, tuple(lines), tuple(numbers)))

    for number, typed in enumerate(text.splitlines(), start=1):
        if not text_clean(typed):
            continue
        line = line_parse(typed)
        found = _heading(typed, line)
        if found:
            close()
            heading, lines, numbers = found, [], []
        else:
            lines.append(line)
            numbers.append(number)
    close()
    _check_count(sum(len(phase.lines) for phase in phases))
    return tuple(phases)


def phase_kind(heading: str) -> PhaseKind:
    """Return the kind a heading suggests; the last telling word counts, no heading means base."""
    words = re.sub(r"(?<=\S) (?:for|with) .*", "", heading)
    found = [match.lastgroup for match in _KIND_WORDS.finditer(words)]
    if found and found[-1]:
        return PhaseKind(found[-1])
    return PhaseKind.OTHER if heading else PhaseKind.BASE


def _heading(typed: str, line: Line) -> str:
    """Return the heading a line states, or an empty text for an ingredient."""
    written = text_clean(typed)
    if written.startswith("#"):
        return written.lstrip("# ").rstrip(": ")
    has_no_amount = line.problem is not None and line.problem.code == ProblemCode.NO_AMOUNT
    if written.endswith(":") and has_no_amount:
        return written.strip("*_ ").rstrip(": ")
    return ""


def _check_text(text: str) -> None:
    size = len(text.encode("utf-8", errors="replace"))
    if size > BYTES_MOST:
        raise InputError(
            f"The ingredient list is {size / 1000:.0f} kB; at most {BYTES_MOST / 1000:.0f} kB fit.",
            field="ingredients",
            hint="Split it into several formulas.",
        )
    if "\x00" in text or len(_CONTROL.findall(text)) > _CONTROL_MOST:
        raise InputError(
            "This is not text: it holds control characters, as a picture or a damaged file does.",
            field="ingredients",
            hint="Copy the ingredient list again as plain text.",
        )


def _check_count(count: int) -> None:
    if count > LINES_MOST:
        raise InputError(
            f"The list has {count} ingredient lines; at most {LINES_MOST} fit.",
            field="ingredients",
            hint="Split it into several formulas and use one inside the other.",
        )
