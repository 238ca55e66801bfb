"""The ingredient statement of a label in words, and the rules that speak about it."""

from collections.abc import Iterator
from dataclasses import dataclass

from setwell.documents.additive_share import in_mg, in_percent
from setwell.documents.amounts import number_text
from setwell.domain.brief import Market
from setwell.engine.assessment import DietResult, Finding
from setwell.engine.labels.statement_results import (
    AdditiveFinding,
    DeclaredAllergen,
    ListedIngredient,
    Question,
    Run,
    Statement,
    ThresholdSum,
)
from setwell.engine.verdict import Verdict
from setwell.provenance import Evidence
from setwell.units import mass_print, percent_print

_CHECK = "check"
_ANSWERS = {Verdict.YES: "allowed", Verdict.NO: "not allowed", Verdict.CANNOT_TELL: "cannot tell"}
_EMPTY = "Nothing is listed yet."
_MAY_CONTAIN = "may contain"


@dataclass(frozen=True, slots=True)
class StatementText:
    """The list as printed, with the lines that stand below it."""

    runs: tuple[Run, ...]
    lines: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def plain(self) -> str:
        """The list as one plain line."""
        return "".join(run.text for run in self.runs)


@dataclass(frozen=True, slots=True)
class LabelPoint:
    """One thing that a rule says: how much it matters, what, what to do, and which rule.

    `key` is that of a question the kitchen can settle, empty for anything else.
    """

    severity: str
    title: str
    text: str
    action: str
    answer: str = ""
    rule: str = ""
    grade: str = ""
    lines: tuple[int, ...] = ()
    evidence: Evidence = ()
    key: str = ""


@dataclass(frozen=True, slots=True)
class LabelQuantity:
    """An ingredient whose share may have to be told, and whether the list tells it."""

    name: str
    text: str
    is_shown: bool


@dataclass(frozen=True, slots=True)
class LabelItem:
    """One name of the list with its weight; `depth` counts the brackets around it.

    `key` is what the kitchen's own wording for it goes by.
    """

    key: str
    name: str
    depth: int
    weight: str
    percent: str
    additive: str
    lines: tuple[int, ...]
    check: str
    evidence: Evidence


def statement_text(said: Statement) -> StatementText:
    """Return the list, the allergen line and the kitchen's own note in words."""
    may = said.may_contain.strip()
    lines = tuple(line for line in (said.contains.strip(), may_contain_line(may)) if line)
    return StatementText(
        runs=said.runs or (Run(_EMPTY),),
        lines=lines,
        notes=tuple(_notes(said)),
    )


def may_contain_line(note: str) -> str:
    """Return the note of the kitchen as a sentence of its own."""
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
    names, is_eu = ", ".join(one.names), one.market is Market.EU
    numbers = f" ({', '.join(one.e_numbers)})" if one.e_numbers and is_eu else ""
    said = one.text.removeprefix(f"{names}: ").removeprefix(f"{names}, ")
    return LabelPoint(
        severity=one.severity.value,
        title=f"{names}{numbers}",
        text=in_percent(said),
        action=one.action,
        answer=_ANSWERS[one.allowed],
        rule="; ".join(part for part in (in_mg(said), one.rule) if part),
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


def quantities(said: Statement) -> tuple[LabelQuantity, ...]:
    """Return the ingredients whose share may have to be told, and why."""
    listed = "".join(run.text for run in said.runs)
    return tuple(
        LabelQuantity(one.name, f"{one.wording}: {one.reason}", one.wording in listed)
        for one in said.quid
    )


def question_point(one: Question) -> LabelPoint:
    """Return a question that only a supplier's label settles."""
    return LabelPoint("stop", one.text, "", "", lines=one.lines, evidence=one.evidence, key=one.key)


def blocks(said: Statement) -> tuple[LabelPoint, ...]:
    """Return what keeps the list from being final; questions first, with their keys."""
    asked = {one.text: question_point(one) for one in said.questions}
    told = [asked.get(text) or LabelPoint("stop", text, "", "") for text in said.blocks]
    return tuple(sorted(told, key=lambda point: not point.key))


def items(said: Statement) -> tuple[LabelItem, ...]:
    """Return every name of the list with its weight, in the order of the list."""
    return tuple(_items((*said.ingredients, *said.minor), 0))


def _items(listed: tuple[ListedIngredient, ...], depth: int) -> Iterator[LabelItem]:
    for one in listed:
        yield LabelItem(
            key=one.key,
            name=one.name,
            depth=depth,
            weight=mass_print(one.grams),
            percent=percent_print(one.percent),
            additive=" ".join(part for part in (one.additive_class, *one.e_numbers) if part),
            lines=one.lines,
            check=one.check,
            evidence=one.evidence,
        )
        yield from _items(one.parts, depth + 1)


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
