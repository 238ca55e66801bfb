"""The method: what each step does, how hot, how long, how it is stirred."""

import re
from dataclasses import dataclass
from enum import StrEnum

from setwell.domain.problems import LineProblem, ProblemCode
from setwell.domain.step_figures import Figure, durations_find, temperatures_find
from setwell.domain.step_words import StepKind, kind_find
from setwell.errors import InputError
from setwell.units import text_clean, text_has_control, text_quote

__all__ = ["Step", "StepKind", "Stirring", "step_parse", "steps_parse"]

STEPS_MOST = 100
BYTES_MOST = 20_000
STEP_LENGTH_MOST = 1000
# °C of boiling water at sea level.
BOILING = 100.0

_NUMBERING = re.compile(r"\A(?:(?:step )?[0-9]{1,3}[.):]|[•*·▪☐▢]|[-–—]) *(?=\D)", re.IGNORECASE)
_CUT = re.compile(r"(?<=[A-Za-z)°][.!]) +(?=[A-Z])|(?<=[,;]) +(?=(?:and )?then )")
_ADDS_VERB = r"add|(?:stir|whisk|fold|mix|pour|blend) in(?!to)"
_JOINED = re.compile(
    rf",? +(?=and (?:{_ADDS_VERB}|(?:re)?heat|warm|bring|boil|simmer|cool|chill)\b)", re.IGNORECASE
)
_THERMAL = frozenset({
    StepKind.HEAT, StepKind.BOIL, StepKind.COOL, StepKind.CHILL, StepKind.FREEZE, StepKind.HOLD
})  # fmt: skip
_CONSTANT = re.compile(
    r"constant|continuous|non-?stop|(?:keep|while|under) (?:stirring|whisking)"
    r"|without stopping|all the time",
    re.IGNORECASE,
)
_OCCASIONAL = re.compile(
    r"occasional|now and then|from time to time|every (?:few|[0-9]+|minute)|once or twice"
    r"|(?:stir|whisk)(?:ring|ing)? (?:often|once|twice|again)",
    re.IGNORECASE,
)
_NONE = re.compile(
    r"without (?:stirring|moving|touching)|do not (?:stir|move)|don't (?:stir|move)|undisturbed",
    re.I,
)
_BLENDER = re.compile(r"\bblend(?!s\b)|\bblitz|immersion|high[- ]shear", re.IGNORECASE)
_STIRRING = re.compile(r"\b(?:stirring|whisking)\b", re.IGNORECASE)
_ADDS = re.compile(
    r"\b(?:add(?:ing)?|(?:stir|whisk|fold|mix|pour|blend)(?:ing)? in(?!to)|season with)\s+"
    r"(?:in )?(?:(?:the|all|remaining|rest of the) )*([^,.;(]{1,80})",
    re.IGNORECASE,
)
_ADDS_END = re.compile(
    r" (?:here|now|at|to|into|in|when|once|after|before|while|off|until|with|slowly|gradually|last|"
    r"and (?:stir|whisk|mix|blend|heat|bring|cool|hold|cook|boil))\b.*",
    re.IGNORECASE,
)
_ACID = re.compile(
    r"\b(?:acid|acids|acidif\w*|citric|malic|tartaric|lactic|ascorbic|lemon|lime|yuzu|verjus|"
    r"vinegar|juice|juices|passion ?fruit|rhubarb)\b",
    re.IGNORECASE,
)
_MOLD = re.compile(
    r"\binto (?:the |a |an )?([^,.;]*\b(?:molds?|moulds?|cups?|ramekins?|glasses|glass|trays?|dish|"
    r"dishes|pans?|forms?|containers?|jars?|bowls?|tins?)\b)",
    re.IGNORECASE,
)


class Stirring(StrEnum):
    """How a step is stirred."""

    NONE = "none"
    OCCASIONAL = "occasional"
    CONSTANT = "constant"
    BLENDER = "blender"


@dataclass(frozen=True, slots=True)
class Step:
    """A step as read; `text` is what was typed, to the letter.

    `hold_min` is the time the step states, in minutes, whatever the step does.
    """

    text: str
    kind: StepKind
    temperature_c: float | None = None
    hold_min: float | None = None
    stirring: Stirring | None = None
    adds: str = ""
    is_acid_addition: bool = False
    mold: str = ""
    problem: LineProblem | None = None


def steps_parse(text: str) -> tuple[Step, ...]:
    """Return the steps: one per line, sentence or "then"; raise InputError only for size."""
    size = len(text.encode("utf-8", errors="replace"))
    if size > BYTES_MOST:
        raise InputError(
            f"The method is {size / 1000:.0f} kB; at most {BYTES_MOST / 1000:.0f} kB fit.",
            field="steps",
            hint="Shorten it, or move text to the notes.",
        )
    pieces = [piece for line in text.splitlines() for piece in _pieces(line)]
    if len(pieces) > STEPS_MOST:
        raise InputError(
            f"The method has {len(pieces)} steps; at most {STEPS_MOST} fit.",
            field="steps",
            hint="Join small steps or split the formula.",
        )
    return tuple(map(step_parse, pieces))


def step_parse(text: str) -> Step:
    """Return the reading of one step; what cannot be read gives a problem, never an error."""
    if len(text) > STEP_LENGTH_MOST or text_has_control(text.replace("\n", " ")):
        return Step(text, StepKind.OTHER, problem=_unreadable(text))
    written = _NUMBERING.sub("", text_clean(text), count=1)
    if not any(char.isalpha() for char in written):
        problem = LineProblem(
            ProblemCode.EMPTY, "This step says nothing.", 'Write, for example, "Heat to 85 °C".'
        )
        return Step(text, StepKind.OTHER, problem=problem)
    kind = kind_find(written)
    temperature = temperatures_find(written, is_thermal=kind != StepKind.OTHER)
    time = durations_find(written)
    degrees = temperature.value
    if degrees is None and kind == StepKind.BOIL and temperature.problem is None:
        degrees = BOILING
    start, end = temperature.span or (0, 0)
    adds = _added(written[:start] + written[end:]) if kind == StepKind.ADD else ""
    return Step(
        text,
        kind,
        degrees,
        time.value,
        _stirring(written, kind),
        adds,
        kind == StepKind.ADD and _ACID.search(adds or written) is not None,
        _mold(written, kind),
        _first_problem(temperature, time),
    )


def _pieces(line: str) -> list[str]:
    pieces = [part for piece in _CUT.split(line) for part in _parted(piece)]
    return [piece for piece in pieces if text_clean(piece)]


def _parted(piece: str) -> list[str]:
    """Return a step in two where it warms or cools and then adds, or the other way round.

    What goes in at which temperature is the question; in one step it would have no answer.
    """
    for match in _JOINED.finditer(piece):
        head, tail = piece[: match.start()], piece[match.end() :]
        kinds = {kind_find(head), kind_find(tail)}
        if StepKind.ADD in kinds and kinds & _THERMAL:
            return [head, *_parted(tail)]
    return [piece]


def _unreadable(text: str) -> LineProblem:
    if len(text) > STEP_LENGTH_MOST:
        return LineProblem(
            ProblemCode.TOO_LONG,
            f"This step has {len(text)} characters; a step can have {STEP_LENGTH_MOST}.",
            "Split it into several steps.",
        )
    return LineProblem(
        ProblemCode.CONTROL_CHARACTERS,
        f"{text_quote(text_clean(text))} has control characters, which come from a damaged file.",
        "Type the step again.",
    )


def _first_problem(*figures: Figure) -> LineProblem | None:
    return next((figure.problem for figure in figures if figure.problem), None)


def _stirring(written: str, kind: StepKind) -> Stirring | None:
    if _NONE.search(written):
        return Stirring.NONE
    if kind == StepKind.BLEND or _BLENDER.search(written):
        return Stirring.BLENDER
    if _CONSTANT.search(written):
        return Stirring.CONSTANT
    if _OCCASIONAL.search(written):
        return Stirring.OCCASIONAL
    return Stirring.CONSTANT if _STIRRING.search(written) else None


def _added(written: str) -> str:
    match = _ADDS.search(written)
    if not match:
        return "acid" if re.search(r"\bacidif", written, re.IGNORECASE) else ""
    return " ".join(_ADDS_END.sub("", match[1]).split()).strip(" :-–—")


def _mold(written: str, kind: StepKind) -> str:
    match = _MOLD.search(written) if kind == StepKind.POUR else None
    return match[1].strip() if match else ""
