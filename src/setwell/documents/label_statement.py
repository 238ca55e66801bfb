"""The ingredient statement of a label in words, and the rules that speak about it."""

from collections.abc import Iterator
from dataclasses import dataclass

from setwell.documents.amounts import number_text
from setwell.domain.brief import Market
from setwell.engine.assessment import DietResult, Finding
from setwell.engine.labels.statement_results import (
    AdditiveFinding,
    DeclaredAllergen,
    QuidCandidate,
    Run,
    Statement,
    ThresholdSum,
)
from setwell.engine.verdict import Verdict
from setwell.provenance import Evidence

_CHECK = "check"
_ANSWERS = {Verdict.YES: "allowed", Verdict.NO: "not allowed", Verdict.CANNOT_TELL: "cannot tell"}
_EMPTY = "Nothing is listed yet."
_MAY_CONTAIN = "may contain"


@dataclass(frozen=True, slots=True)
class StatementText:
    """The list as printed, with the lines that stand below it."""

    title: str
    runs: tuple[Run, ...]
    lines: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def plain(self) -> str:
        """The list as one plain line."""
        return "".join(run.text for run in self.runs)


@dataclass(frozen=True, slots=True)
class LabelPoint:
    """One thing that a rule says: how much it matters, what, what to do, and which rule."""

    severity: str
    title: str
    text: str
    action: str
    answer: str = ""
    rule: str = ""
    grade: str = ""
    lines: tuple[int, ...] = ()
    evidence: Evidence = ()


def statement_text(said: Statement) -> StatementText:
    """Return the list, the allergen line and the kitchen's own note in words."""
    may = said.may_contain.strip()
    lines = tuple(line for line in (said.contains.strip(), _may_contain(may)) if line)
    return StatementText(
        title=said.title,
        runs=said.runs or (Run(_EMPTY),),
        lines=lines,
        notes=tuple(_notes(said)),
    )


def _may_contain(note: str) -> str:
    # The kitchen's own words; only what they open with is added where they do not.
    if not note:
        return ""
    own = note if note.casefold().startswith(_MAY_CONTAIN) else f"May contain: {note}"
    return own if own[-1] in ".!" else f"{own}."


def _notes(said: Statement) -> Iterator[str]:
    if said.market is Market.EU and any(run.is_emphasized for run in said.runs):
        yield "Emphasized: allergens, Regulation (EU) 1169/2011, Article 21."
    if said.added_water is not None:
        yield said.added_water.text
    for threshold in (said.sulfites, said.gluten):
        if threshold.reaches is not Verdict.NO:
            yield threshold.text


def additive_points(said: Statement) -> tuple[LabelPoint, ...]:
    """Return what the rules say of each additive, the gravest first."""
    points = [_additive(one) for one in said.additives]
    return (*sorted(points, key=_gravity),)


def statement_points(said: Statement) -> tuple[LabelPoint, ...]:
    """Return the other findings of the list, the gravest first."""
    found = [said.alcohol] if said.alcohol is not None else []
    return tuple(sorted((_finding(one) for one in (*found, *said.findings)), key=_gravity))


def _gravity(point: LabelPoint) -> int:
    order = ("stop", "warn", "note")
    return order.index(point.severity) if point.severity in order else len(order)


def _additive(one: AdditiveFinding) -> LabelPoint:
    numbers = f" ({', '.join(one.e_numbers)})" if one.e_numbers else ""
    return LabelPoint(
        severity=one.severity.value,
        title=f"{', '.join(one.names)}{numbers}",
        text=one.text,
        action=one.action,
        answer=_ANSWERS[one.allowed],
        rule=one.rule,
        grade=one.grade.value,
        lines=one.lines,
        evidence=one.evidence,
    )


def _finding(one: Finding) -> LabelPoint:
    return LabelPoint(
        severity=one.severity.value,
        title=one.title,
        text=one.text,
        action=one.action,
        lines=one.lines,
        evidence=one.evidence,
    )


def quantity_line(one: QuidCandidate) -> str:
    """Return an ingredient whose share may have to be told."""
    return f"{one.name}, {one.wording}: {one.reason}"


def allergen_line(one: DeclaredAllergen) -> str:
    """Return an allergen with where it is, and whether that is certain."""
    where = f" ({'; '.join(one.materials)})" if one.materials else ""
    sure = ": check with the supplier" if one.certainty == _CHECK else ""
    species = ": name the species" if one.species_missing else ""
    return f"{one.name}{where}{sure}{species}"


def threshold_line(one: ThresholdSum) -> str:
    """Return a sum against its limit."""
    least = "at least " if one.amount.high is None else ""
    amount = number_text(one.amount.value)
    declared = "declared" if one.is_declared else "not declared"
    return (
        f"{one.substance.capitalize()}: {least}{amount} mg/kg, "
        f"limit {number_text(one.limit_mg_kg)} mg/kg, {declared}. {one.text}"
    )


def diet_line(one: DietResult) -> str:
    """Return whether a diet fits, and which lines break it."""
    lines = ", ".join(str(number) for number in one.lines)
    where = f" (line {lines})" if one.lines else ""
    reason = f": {one.reason}" if one.reason else ""
    return f"{one.diet}: {one.verdict.value}{reason}{where}"
