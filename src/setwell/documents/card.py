"""The card: one formula with its critical points, as a stranger needs it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from setwell.documents.amounts import (
    estimate_text,
    number_text,
    temperature_text,
    unweighed_text,
    us_text,
)
from setwell.documents.card_parts import (
    CardCaution,
    CardKind,
    CardLine,
    CardNote,
    CardPhase,
    CardPhoto,
    CardPoint,
    CardSource,
    CardStep,
    LotBox,
)
from setwell.documents.critical import critical_points, success_signs
from setwell.documents.key_numbers import CardNumber, key_numbers
from setwell.documents.lot_box import lot_boxes
from setwell.documents.qr_code import qr_svg
from setwell.documents.scaled_lines import batch_line, batch_points, line_scaled
from setwell.documents.step_reasons import step_reasons
from setwell.documents.steps import step_key, steps_as_typed
from setwell.documents.storage import storage_told
from setwell.documents.told import SourceNumbers
from setwell.domain.formula import Formula, Goal
from setwell.domain.pantry import Kitchen
from setwell.engine.assessment import (
    AllergenResult,
    Assessment,
    BatchSize,
    DietResult,
    LineReading,
    Severity,
    Verdict,
)
from setwell.engine.scaling import ScaledFormula
from setwell.provenance import Grade
from setwell.units import mass_print, percent_print

__all__ = [
    "DEFERRAL",
    "Card",
    "CardCaution",
    "CardKind",
    "CardLine",
    "CardNote",
    "CardPhase",
    "CardPhoto",
    "CardPoint",
    "CardStep",
    "LotBox",
    "card_build",
    "card_of_kind",
]

SHORT_HASH = 10

DEFERRAL = (
    "This card informs; it does not certify. Local food code, the competent authority and "
    "licensed practice come first."
)

_GOALS = {
    Goal.UNSPECIFIED: "",
    Goal.SLICE: "to slice",
    Goal.SPOON: "to spoon",
    Goal.SPREAD: "to spread",
    Goal.POUR: "to pour",
}


@dataclass(frozen=True, slots=True)
class Card:
    """Everything printed on one card, already in words."""

    title: str
    version_label: str
    content_hash: str
    kitchen_name: str
    yield_line: str
    goal: str
    serving_temperature: str
    phases: tuple[CardPhase, ...]
    steps: tuple[CardStep, ...]
    critical_points: tuple[str, ...]
    success_signs: tuple[str, ...]
    key_numbers: tuple[CardNumber, ...]
    allergens: tuple[str, ...]
    diets: tuple[str, ...]
    cautions: tuple[CardCaution, ...]
    deferral: str
    open_points: tuple[CardPoint, ...]
    notes: str
    grade: str
    remark: str
    kind: CardKind = CardKind.PRO
    storage: tuple[CardNote, ...] = ()
    sources: tuple[CardSource, ...] = ()
    lot_boxes: tuple[LotBox, ...] = ()
    photo: CardPhoto | None = None
    address: str = ""
    traces: str = ""
    # For which batch the weights are, where that is not the one as written.
    batch_line: str = ""

    @property
    def short_hash(self) -> str:
        """The first digits of the content hash, enough to tell versions apart."""
        return self.content_hash[:SHORT_HASH]

    @property
    def qr(self) -> str:
        """The address as a QR code in SVG; empty without an address."""
        return qr_svg(self.address) if self.address else ""

    @property
    def must_stop(self) -> bool:
        """True when an open point says: do not make it like this."""
        return any(point.severity == Severity.STOP for point in self.open_points)


def card_build(  # noqa: PLR0913 - what a card is made of, each by its name
    assessment: Assessment,
    *,
    version_label: str,
    kitchen: Kitchen,
    kind: CardKind = CardKind.PRO,
    address: str = "",
    photos: Mapping[str, CardPhoto] | None = None,
    strengths: Mapping[str, float] | None = None,
    traces: str = "",
    scaled: ScaledFormula | None = None,
) -> Card:
    """Return the card of one assessed formula.

    `address` is where the card is found and becomes its QR code; `photos` are by the key of
    their step, that of the dish by an empty one; `strengths` are lots at hand by agent;
    `traces` is what the kitchen itself says that it may contain; `scaled` is the batch that the
    assessment was told for by `assessment_at`, where that is not the one as written.
    """
    formula = assessment.formula
    worst = _worst_grade(assessment)
    numbers = SourceNumbers()
    shown = dict(photos or {})
    steps = _steps(assessment, numbers, shown)
    storage = numbers.notes(storage_told(assessment))
    full = Card(
        title=formula.title,
        version_label=version_label,
        content_hash=assessment.formula_hash,
        kitchen_name=kitchen.name,
        yield_line=_yield_line(formula, assessment.batch),
        goal=_GOALS[formula.goal],
        serving_temperature=_serving(formula.serving_temperature_c),
        phases=_phases(assessment.lines, scaled),
        steps=steps,
        critical_points=critical_points(assessment),
        success_signs=success_signs(assessment),
        key_numbers=key_numbers(assessment),
        allergens=tuple(_allergen(result) for result in assessment.allergens),
        diets=tuple(_diet(result) for result in assessment.diets if _is_shown(result)),
        cautions=tuple(
            CardCaution(item.title[:1].upper() + item.title[1:], item.text)
            for item in assessment.cautions
        ),
        deferral=DEFERRAL,
        open_points=(
            *_open_points(assessment),
            *(batch_points(scaled, (step.text for step in steps)) if scaled else ()),
        ),
        notes=formula.notes.strip(),
        grade=worst.value,
        remark=f"Computed, to be proven on the bench. Weakest figure used: {worst.value} "
        f"({worst.meaning}).",
        storage=storage,
        sources=numbers.listed(),
        lot_boxes=lot_boxes(assessment, strengths),
        photo=shown.get(""),
        address=address,
        traces=traces,
        batch_line=batch_line(scaled) if scaled else "",
    )
    return card_of_kind(full, kind)


def card_of_kind(card: Card, kind: CardKind) -> Card:
    """Return what a card of this kind shows; what keeps people safe is on every kind."""
    if kind is not CardKind.HOME:
        return replace(card, kind=kind)
    phases = tuple(
        CardPhase(phase.heading, tuple(replace(line, percent="") for line in phase.lines))
        for phase in card.phases
    )
    return replace(card, kind=kind, phases=phases, key_numbers=(), lot_boxes=())


def _steps(
    assessment: Assessment, numbers: SourceNumbers, photos: Mapping[str, CardPhoto]
) -> tuple[CardStep, ...]:
    """Return the steps with what each decides and why it is there."""
    typed = steps_as_typed(assessment.formula.steps, assessment.steps)
    reasons = step_reasons(tuple(step.text for step in typed), assessment)
    return tuple(
        replace(
            step,
            points=tuple(dict.fromkeys(told.decides for told in why if told.decides)),
            why=numbers.notes(why),
            photo=photos.get(step_key(step.text)),
        )
        for step, why in zip(typed, reasons, strict=True)
    )


def _worst_grade(assessment: Assessment) -> Grade:
    grades = [citation.grade for citation in assessment.evidence]
    return max(grades, key=lambda grade: grade.rank, default=Grade.UNVERIFIED)


def _yield_line(formula: Formula, batch: BatchSize) -> str:
    parts = []
    if batch.portions:
        each = f" of {mass_print(batch.portion_g, has_us=True)}" if batch.portion_g else ""
        parts.append(f"{batch.portions} {'portion' if batch.portions == 1 else 'portions'}{each}")
    if formula.molds is not None:
        count = formula.molds.count
        volume = number_text(formula.molds.volume_ml)
        parts.append(f"{count} {'mold' if count == 1 else 'molds'} of {volume} mL")
    parts.append(f"{mass_print(batch.finished_g, has_us=True)} finished")
    if batch.usable_g < batch.finished_g:
        parts.append(f"{mass_print(batch.usable_g, has_us=True)} usable")
    if batch.volume_ml is not None:
        parts.append(f"about {estimate_text(batch.volume_ml)}")
    return ", ".join(parts)


def _serving(celsius: float | None) -> str:
    return "" if celsius is None else temperature_text(celsius)


def _phases(lines: tuple[LineReading, ...], scaled: ScaledFormula | None) -> tuple[CardPhase, ...]:
    grouped = groupby(lines, key=lambda line: line.heading)
    return tuple(
        CardPhase(
            heading,
            tuple(line_scaled(line, scaled) if scaled else _line(line) for line in group),
        )
        for heading, group in grouped
    )


def _line(line: LineReading) -> CardLine:
    is_agent = line.material_kind == "agent"
    is_read = line.grams is not None
    shows_percent = is_agent and line.percent is not None
    return CardLine(
        number=line.number,
        text=line.text.strip(),
        name=unweighed_text(line.text, line.grams),
        weight=mass_print(line.grams) if line.grams is not None else "not read",
        us=us_text(line.text, line.grams) if line.grams is not None else "",
        percent=percent_print(line.percent or 0.0) if shows_percent else "",
        is_agent=is_agent,
        is_read=is_read,
    )


def _allergen(result: AllergenResult) -> str:
    where = f" ({'; '.join(result.materials)})" if result.materials else ""
    sure = "" if result.certainty == "contains" else ": check the label"
    return f"{result.allergen}{sure}{where}"


def _is_shown(result: DietResult) -> bool:
    # A diet that plainly fits or was claimed belongs on the card; the rest is noise there.
    return result.claimed or result.verdict is Verdict.YES


def _diet(result: DietResult) -> str:
    if result.verdict is Verdict.YES:
        return result.diet
    answer = "does not fit" if result.verdict is Verdict.NO else "cannot tell, check"
    return f"{result.diet}: claimed, but {answer}"


def _open_points(assessment: Assessment) -> tuple[CardPoint, ...]:
    order = [Severity.STOP, Severity.WARN]
    shown = [finding for finding in assessment.findings if finding.severity in order]
    shown.sort(key=lambda finding: order.index(finding.severity))
    return tuple(
        CardPoint(item.severity.value, item.title, item.text, item.action) for item in shown
    )
