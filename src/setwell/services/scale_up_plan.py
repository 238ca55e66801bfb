"""What is asked of a large batch, and the process in its vessel and its cold place."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from setwell.domain.equipment import Cooler, Hob, MoldForm
from setwell.domain.formula import Formula
from setwell.domain.pantry import Pantry
from setwell.domain.process_plan import CoolPlan, PotPlan, ProcessPlan
from setwell.engine.rules.bench import Bench
from setwell.engine.scale_up.results import BatchSplit
from setwell.engine.scaling import ScaledFormula
from setwell.errors import InputError
from setwell.services.process import ProcessAnswer, ProcessAsk, process_of
from setwell.services.process_plans import mold_near, mold_volume, pot_of

_MOLDS_MOST = 10_000
# A mold this near a volume is meant by it.
MOLD_DIFFERS = 0.25

T = TypeVar("T", Hob, Cooler)


@dataclass(frozen=True, slots=True)
class ScaleUpAsk:
    """How large, and with what. One of the first three is given.

    What is left empty is chosen: the vessel that takes the fewest batches, hob and cold place as
    planned, and how full a vessel may be by whether it boils.
    """

    to_grams: float | None = None
    portions_of: tuple[int, float] | None = None
    molds: tuple[int, float] | None = None
    readability_g: float | None = None
    vessel: str = ""
    hob: str = ""
    cooler: str = ""
    fill_pct: float | None = None
    batches: int | None = None


def molds_total(
    cooling: CoolPlan | None, ask: ScaleUpAsk, whole: ScaledFormula, bench: Bench
) -> int | None:
    """Return how many molds all of it fills; None where nothing is molded.

    A portion about as large as the mold of the plan is one mold; others are cut from larger
    molds, or made of several small ones.
    """
    if cooling is None:
        return None
    if ask.molds is not None:
        return ask.molds[0]
    volume, each = mold_volume(cooling.mold), portion_ml(ask, bench)
    if not volume:
        return None
    if ask.portions_of is not None and each and abs(each / volume - 1.0) <= MOLD_DIFFERS:
        return ask.portions_of[0]
    return max(1, math.ceil(whole.usable_g / density_of(bench) / volume - 1e-9))


def portion_ml(ask: ScaleUpAsk, bench: Bench) -> float | None:
    """Return what one portion or mold takes, where that was asked for."""
    if ask.molds is not None:
        return ask.molds[1]
    return None if ask.portions_of is None else ask.portions_of[1] / density_of(bench)


def density_of(bench: Bench) -> float:
    """Return how dense the batch is [g/mL]."""
    return float(bench.state.water.density.value[0]) / 1000.0


def process_at(
    formula: Formula,
    before: ProcessAnswer,
    split: BatchSplit,
    total: int | None,
    ask: ScaleUpAsk,
    pantry: Pantry,
    formula_id: int | None,
    number: int | None,
) -> tuple[ProcessAnswer, int]:
    """Return the process of one batch, with as many molds as the cold place takes at once."""

    def computed(count: int | None) -> ProcessAnswer:
        plan = _plan(before.plan.plan, split, count, ask, pantry)
        return process_of(
            formula=formula, ask=ProcessAsk(plan=plan), formula_id=formula_id, number=number,
            has_charts=False,
        )  # fmt: skip

    after = computed(total)
    most = after.cooling.most_molds if after.cooling is not None else None
    if most is None or total is None:
        return after, 1
    at_once = max(1, math.floor(most.value if most.low is None else most.low))
    if total <= at_once:
        return after, 1
    rounds = math.ceil(total / at_once)
    return computed(math.ceil(total / rounds)), rounds


def _plan(
    plan: ProcessPlan, split: BatchSplit, count: int | None, ask: ScaleUpAsk, pantry: Pantry
) -> ProcessPlan:
    pot, cooling = plan.pot, plan.cooling
    hob = _named(pantry.hobs, ask.hob, "hob")
    cooler = _named(pantry.coolers, ask.cooler, "cooler")
    if pot is not None:
        pot = _pot(pot, split, hob)
    if cooling is not None:
        cooling = _cooling(cooling, count, ask, pantry, cooler)
    return ProcessPlan(pot=pot, cooling=cooling)


def _cooling(
    cooling: CoolPlan, count: int | None, ask: ScaleUpAsk, pantry: Pantry, cooler: Cooler | None
) -> CoolPlan:
    changes: dict[str, object] = {"count": min(count, _MOLDS_MOST)} if count else {}
    if cooler is not None:
        changes["cooler"] = cooler
    own = mold_volume(cooling.mold)
    if ask.molds is not None and (not own or abs(ask.molds[1] / own - 1.0) > MOLD_DIFFERS):
        near = mold_near(pantry, ask.molds[1])
        changes["mold"] = near.form() if near else MoldForm(volume_ml=ask.molds[1])
    return cooling.model_copy(update=changes)


def _pot(pot: PotPlan, split: BatchSplit, hob: Hob | None) -> PotPlan | None:
    """Return the pot of one batch; nothing is heated where no vessel is known."""
    vessel = split.vessel
    if vessel is None or vessel.diameter_mm is None:
        return None
    placed = pot_of(pot, vessel).model_copy(update={"batch_g": split.each_g})
    return placed if hob is None else placed.model_copy(update={"hob": hob})


def _named(things: Sequence[T], name: str, field: str) -> T | None:
    if not name:
        return None
    wanted = name.strip().casefold()
    found = next((one for one in things if one.name.casefold() == wanted), None)
    if found is None:
        known = ", ".join(one.name for one in things) or "none"
        raise InputError(
            f"“{name[:60]}” is not in the pantry.", field=field, hint=f"Known are: {known}."
        )
    return found
