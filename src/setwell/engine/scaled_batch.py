"""An assessment told for a batch of another weight: shares stay, weights and yield follow."""

import math
from dataclasses import dataclass, replace

from setwell.domain.formula import Formula, MoldPlan
from setwell.engine.assessment import Assessment, BatchSize, LineReading
from setwell.engine.scaling import ScaledFormula, ScaledLine
from setwell.provenance import Estimate

# A yield that was asked for counts while the batch still makes it [share].
_STILL_MAKES = 0.02
# 11.99 molds are 12.
_NEARLY = 0.02
_MOST = 10_000


@dataclass(frozen=True, slots=True)
class BatchYield:
    """What a batch was scaled to: portions (count, grams each) or molds (count, mL each)."""

    portions_of: tuple[int, float] | None = None
    molds: tuple[int, float] | None = None


def grams_to_weigh(line: ScaledLine) -> float:
    """Return what to weigh; nothing at all is never what a scale too coarse for it means."""
    return line.rounded_g if line.rounded_g > 0 else line.exact_g


def assessment_at(
    assessment: Assessment, scaled: ScaledFormula, asked: BatchYield | None = None
) -> Assessment:
    """Return an assessment with the weights of a scaled batch, and what that batch yields."""
    weighed = {line.number: line for line in scaled.lines}
    batch = assessment.batch
    volume = _times(batch.volume_ml, scaled.factor)
    formula, portions, each = _yields(assessment.formula, batch, scaled, volume, asked)
    return replace(
        assessment,
        formula=formula,
        lines=tuple(_line(line, weighed.get(line.number)) for line in assessment.lines),
        batch=BatchSize(
            ingredients_g=scaled.weighed_g, finished_g=scaled.batch_g, usable_g=scaled.usable_g,
            volume_ml=volume, portions=portions, portion_g=each,
        ),
    )  # fmt: skip


def _line(line: LineReading, scaled: ScaledLine | None) -> LineReading:
    if scaled is None or line.grams is None:
        return line
    return replace(line, grams=grams_to_weigh(scaled), percent=scaled.percent_rounded)


def _times(estimate: Estimate | None, factor: float) -> Estimate | None:
    if estimate is None:
        return None
    low, high = (None if one is None else one * factor for one in (estimate.low, estimate.high))
    return replace(estimate, value=estimate.value * factor, low=low, high=high)


def _yields(
    formula: Formula,
    batch: BatchSize,
    scaled: ScaledFormula,
    volume: Estimate | None,
    asked: BatchYield | None,
) -> tuple[Formula, int | None, float | None]:
    """Return the formula with the molds of the batch, its portions, and what one weighs."""
    asked = asked or BatchYield()
    if asked.portions_of is not None:
        count, each = asked.portions_of
        if _is_near(count * each, scaled.usable_g):
            return formula.model_copy(update={"molds": None}), count, each
    if asked.molds is not None and volume is not None:
        count, each = asked.molds
        if _is_near(count * each, volume.value):
            plan = MoldPlan(count=count, volume_ml=each)
            return formula.model_copy(update={"molds": plan}), count, scaled.usable_g / count
    return _own_yield(formula, batch, scaled.factor)


def _own_yield(
    formula: Formula, batch: BatchSize, factor: float
) -> tuple[Formula, int | None, float | None]:
    """Return the portions of the formula's own size that the batch makes, and its full molds."""
    molds = formula.molds
    if molds is not None:
        filled = round(molds.count * factor)
        is_told = 1 <= filled <= _MOST and abs(filled - molds.count * factor) <= _NEARLY * filled
        # Half a mold is none: what the batch yields is then told by its weight.
        plan = molds.model_copy(update={"count": filled}) if is_told else None
        formula = formula.model_copy(update={"molds": plan})
    portions = _whole(batch.portions * factor) if batch.portions else 0
    return formula, portions or None, batch.portion_g if portions else None


def _whole(count: float) -> int:
    return math.floor(count + _NEARLY)


def _is_near(asked: float, made: float) -> bool:
    return abs(asked - made) <= _STILL_MAKES * made
