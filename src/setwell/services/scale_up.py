"""A formula made large: batches and vessels, heat and cold at that size, premixes, shopping."""

import math
from dataclasses import dataclass, replace

from setwell.domain.formula import Formula
from setwell.domain.pantry import Pantry
from setwell.engine.heat.results import Advice
from setwell.engine.rules.bench import Bench
from setwell.engine.scale_up.batches import batches_split, usual_fill
from setwell.engine.scale_up.premix import large_premixes
from setwell.engine.scale_up.results import BatchSplit, LargePremix, ShoppingList
from setwell.engine.scale_up.shopping import shopping_list
from setwell.engine.scaling import ScaledFormula, ScaledLine, scale
from setwell.services.formulas import version_get
from setwell.services.materials import kitchen_catalog, pantry_read
from setwell.services.parts import parts_for
from setwell.services.process import ProcessAnswer, process_of
from setwell.services.process_bench import kitchen_bench
from setwell.services.process_plans import mold_volume
from setwell.services.scale_up_plan import (
    MOLD_DIFFERS,
    ScaleUpAsk,
    density_of,
    molds_total,
    portion_ml,
    process_at,
)
from setwell.services.scale_up_rows import (
    SizeRow,
    minutes_words,
    new_advice,
    size_rows,
    steam_words,
)
from setwell.units import time_print, volume_print

__all__ = [
    "BatchSplit",
    "HeavyLine",
    "LargePremix",
    "ScaleUp",
    "ScaleUpAsk",
    "ShoppingList",
    "SizeRow",
    "minutes_words",
    "scale_up_of",
    "scale_up_view",
    "shopping_of",
]

# A pot that takes longer than this to get hot keeps the milk warm, not hot [min].
_SLOW_MIN = 60.0


@dataclass(frozen=True, slots=True)
class HeavyLine:
    """A line of one batch that is more than the scale carries, and in how many shares to weigh."""

    name: str
    grams: float
    shares: int


@dataclass(frozen=True, slots=True)
class ScaleUp:
    """Everything it takes to make a formula large.

    `whole` is all of it, `each` one batch as the scale shows it; `before` and `after` are the
    process at the size of the formula and of one batch.
    """

    whole: ScaledFormula
    each: ScaledFormula
    split: BatchSplit
    others: tuple[BatchSplit, ...]
    molds_total: int | None
    chill_rounds: int
    rows: tuple[SizeRow, ...]
    turns: str
    steam: str
    advice: tuple[Advice, ...]
    remarks: tuple[str, ...]
    heavy: tuple[HeavyLine, ...]
    premixes: tuple[LargePremix, ...]
    shopping: ShoppingList
    before: ProcessAnswer
    after: ProcessAnswer
    formula_id: int | None = None
    number: int | None = None


def scale_up_view(*, formula_id: int, number: int | None = None, ask: ScaleUpAsk) -> ScaleUp:
    """Return a saved version made large."""
    detail = version_get(formula_id=formula_id, number=number)
    return scale_up_of(
        formula=detail.formula, ask=ask, formula_id=formula_id, number=detail.summary.number
    )


def scale_up_of(
    *, formula: Formula, ask: ScaleUpAsk, formula_id: int | None = None, number: int | None = None
) -> ScaleUp:
    """Return a formula made large; raises InputError at the field for what cannot be."""
    pantry = pantry_read()
    whole = _scaled(formula, ask)
    bench = kitchen_bench(formula, formula_id=formula_id, number=number).bench
    weighed = float(bench.state.line_masses[0].sum()) * whole.factor
    split, *others = batches_split(
        weighed,
        density=density_of(bench),
        vessels=pantry.vessels,
        fill=usual_fill(bench.steps) if ask.fill_pct is None else ask.fill_pct / 100.0,
        vessel_name=ask.vessel,
        count=ask.batches,
    )
    each = _scaled(formula, replace_target(ask, whole.usable_g / split.count, whole.readability_g))
    before = process_of(formula=formula, formula_id=formula_id, number=number, has_charts=False)
    total = molds_total(before.plan.plan.cooling, ask, whole, bench)
    after, rounds = process_at(formula, before, split, total, ask, pantry, formula_id, number)
    heat_g = split.each_g
    return ScaleUp(
        whole=whole, each=each, split=split, others=tuple(others), molds_total=total,
        chill_rounds=rounds, rows=size_rows(before, after), turns=_turns(after, split),
        steam=steam_words(before.pot, after.pot, heat_g, split.count),
        advice=new_advice(before, after), remarks=_remarks(split, after, ask, bench),
        heavy=_heavy(each.lines, pantry),
        premixes=large_premixes(
            bench, factor=whole.factor, batches=split.count, readability_g=whole.readability_g
        ),
        shopping=shopping_list(bench, factor=whole.factor, currency=pantry.kitchen.currency),
        before=before, after=after, formula_id=formula_id, number=number,
    )  # fmt: skip


def shopping_of(
    *, formula: Formula, ask: ScaleUpAsk, formula_id: int | None = None, number: int | None = None
) -> ShoppingList:
    """Return only what to buy for a formula made large: no heat is computed."""
    bench = kitchen_bench(formula, formula_id=formula_id, number=number).bench
    whole = _scaled(formula, ask)
    return shopping_list(bench, factor=whole.factor, currency=kitchen_catalog().kitchen.currency)


def replace_target(ask: ScaleUpAsk, grams: float, readability_g: float | None) -> ScaleUpAsk:
    """Return the same asked for another weight to serve."""
    return replace(ask, to_grams=grams, portions_of=None, molds=None, readability_g=readability_g)


def _scaled(formula: Formula, ask: ScaleUpAsk) -> ScaledFormula:
    catalog = kitchen_catalog()
    own = catalog.kitchen.scale_readability_g
    return scale(
        formula, catalog=catalog, parts=parts_for(formula),
        to_grams=ask.to_grams, portions_of=ask.portions_of, molds=ask.molds,
        readability_g=own if ask.readability_g is None else ask.readability_g,
    )  # fmt: skip


def _turns(after: ProcessAnswer, split: BatchSplit) -> str:
    """Say how long the pot is busy with all batches."""
    if after.pot is None:
        return ""
    ends = [one.estimate.value for one in after.pot.moments if one.estimate is not None]
    if not ends:
        return "This hob does not get the batch hot: make more and smaller batches."
    one = max(ends)
    said = f"The pot is busy for {time_print(one)} with each batch"
    if split.count == 1:
        return f"The pot is busy for {time_print(one)}."
    return f"{said}, {time_print(one * split.count)} with all {split.count} one after another."


def _remarks(
    split: BatchSplit, after: ProcessAnswer, ask: ScaleUpAsk, bench: Bench
) -> tuple[str, ...]:
    told = [f"{one.message} {one.hint}".strip() for one in after.problems]
    if split.vessel is None:
        told.append(
            "No pot with a diameter is in the pantry, so no heating is computed. Add your pots "
            "under Pantry, Vessels."
        )
    elif split.vessel.diameter_mm is None:
        told.append(
            f"{split.vessel.name} has no diameter in the pantry, so no heating is computed in it."
        )
    told += _slow(after)
    cooling = after.plan.plan.cooling
    volume = mold_volume(cooling.mold) if cooling else None
    each = portion_ml(ask, bench)
    if volume and each and abs(each / volume - 1.0) > MOLD_DIFFERS:
        told.append(
            f"Times to chill are those of molds of {volume_print(volume)}, as planned under "
            f"Process; one portion takes {volume_print(each)} of them."
        )
    return tuple(told)


def _slow(after: ProcessAnswer) -> list[str]:
    if after.pot is None:
        return []
    reads = next((one for one in after.pot.moments if one.key == "reads"), None)
    if reads is None or reads.estimate is None or reads.estimate.value <= _SLOW_MIN:
        return []
    return [
        f"It takes {time_print(reads.estimate.value)} to get hot. Milk and eggs stand warm all "
        "that time: use a stronger hob, heat part of the liquid beside it, or make smaller batches."
    ]


def _heavy(lines: tuple[ScaledLine, ...], pantry: Pantry) -> tuple[HeavyLine, ...]:
    most = pantry.kitchen.scale_most_g
    if most is None:
        return ()
    return tuple(
        HeavyLine(line.name, line.exact_g, math.ceil(line.exact_g / most))
        for line in lines
        if line.exact_g > most
    )
