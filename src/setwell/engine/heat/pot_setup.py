"""A batch in a pot: what the plan and the steps ask for, and the middle figures of the pot."""

from dataclasses import dataclass

import numpy as np

from setwell.domain.equipment import LONGEST_MM
from setwell.domain.process_plan import PotPlan
from setwell.domain.step_surroundings import is_out_of_pot
from setwell.domain.steps import Step, StepKind
from setwell.engine.heat.added_later import pot_bench
from setwell.engine.heat.equipment import Wall, hob_efficiency, wall_of
from setwell.engine.heat.foodstuff import foodstuff_of
from setwell.engine.heat.pot_liquid import PotLiquid, pot_liquid
from setwell.engine.heat.results import Foodstuff
from setwell.engine.process import batch_temperature
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.provenance import Estimate, Evidence, evidence_join
from setwell.units import temperature_print

_WARMING = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD, StepKind.BLEND})
# A step this near the hottest one is part of the hold [K].
_SAME_K = 2.0
# Held this close to the boiling point a fifth of the power is left: a lively simmer.
_SIMMER_K = 0.2
_SEA_LEVEL_C = 100.0
_LEAST_KG = 0.001
# Below this it is no liquid that boils and steams like water [kg/kg].
_LEAST_WATER = 0.1


@dataclass(frozen=True, slots=True)
class PotTask:
    """One pot to compute: SI units, temperatures in °C.

    `target_c` is what the thermometer near the base is to read, `asked_c` what was asked for
    (more than the boiling point cannot be had), `hold_min` None when nobody says how long.
    `mass_kg` stands in the pot and is row `row` of `bench`, `whole_kg` with what goes in later.
    """

    plan: PotPlan
    bench: Bench
    row: int
    asked_c: float
    target_c: float
    hold_min: float | None
    mass_kg: float
    whole_kg: float
    is_scaled: bool
    area: float
    depth: float
    boiling_c: float
    water_activity: float
    efficiency: Estimate
    wall: Wall
    food: Foodstuff
    liquid: PotLiquid

    @property
    def is_boil(self) -> bool:
        """Whether the pot is brought to a boil."""
        return self.target_c >= self.boiling_c - _SIMMER_K - 0.05

    @property
    def evidence(self) -> Evidence:
        """Where pot, hob and batch come from."""
        parts = (self.efficiency.evidence, self.wall.evidence, self.food.evidence)
        return evidence_join(parts)


def pot_task(bench: Bench, plan: PotPlan, row: int = 0) -> PotTask:
    """Return what is to be computed; raise InputError where the pot cannot be told."""
    weighed = float(bench.state.composition.ingredients_g[row])
    bench, row = pot_bench(bench, row)
    boiling = _boiling_c(bench, row)
    asked = _asked_c(bench, plan, boiling)
    target = min(asked, boiling - _SIMMER_K)
    middle = float(np.clip((plan.start_c + target) / 2.0, 0.0, 100.0))
    food = foodstuff_of(bench, at_c=middle, row=row)
    in_pot = float(bench.state.composition.ingredients_g[row])
    whole = (plan.batch_g or weighed) / 1000.0
    mass = whole * in_pot / weighed if weighed > 0 else 0.0
    if mass < _LEAST_KG:
        raise InputError(
            f"{1000.0 * mass:g} g are too little to heat in a pot.",
            field="batch_g",
            hint="Give the weight of the batch, 1 g or more.",
        )
    _check_liquid(bench, plan, food, row)
    area = np.pi / 4.0 * (plan.diameter_mm / 1000.0) ** 2
    depth = mass / (food.density * area)
    _check_depth(plan, depth, mass)
    activity = float(bench.state.water.solids.water_activity.value[row])
    return PotTask(
        plan=plan,
        bench=bench,
        row=row,
        asked_c=asked,
        target_c=target,
        hold_min=_hold_min(bench.steps) if plan.hold_min is None else plan.hold_min,
        mass_kg=mass,
        whole_kg=whole,
        is_scaled=abs(1000.0 * whole - weighed) > 0.005 * weighed,
        area=float(area),
        depth=float(depth),
        boiling_c=boiling,
        water_activity=activity if np.isfinite(activity) else 1.0,
        efficiency=hob_efficiency(plan.hob),
        wall=wall_of(plan.wall),
        food=food,
        liquid=pot_liquid(bench, food, depth=float(depth), row=row),
    )


def _asked_c(bench: Bench, plan: PotPlan, boiling_c: float) -> float:
    """Return the temperature of the plan, or the highest that a step tells."""
    told = [_told_c(step, boiling_c) for step in bench.steps if _heats_pot(step)]
    highest = max((degrees for degrees in told if degrees is not None), default=None)
    asked = highest if plan.target_c is None else plan.target_c
    if asked is None:
        raise InputError(
            "No step says how hot the pot gets.",
            field="target_c",
            hint="Give the temperature to heat to, such as 85 °C (185 °F).",
        )
    if asked <= plan.start_c:
        raise InputError(
            f"The pot starts at {temperature_print(plan.start_c)} and is to be heated to "
            f"{temperature_print(asked)}: there is nothing to heat.",
            field="target_c",
            hint="Give a temperature above that of the start.",
        )
    return asked


def _heats_pot(step: Step) -> bool:
    """Say whether a step heats the pot; an oven, a steamer or a bath does not."""
    return step.kind in _WARMING and not is_out_of_pot(step)


def _told_c(step: Step, boiling_c: float) -> float | None:
    """Return what a step tells; a boil is the boil of this batch, sugar and all."""
    degrees = batch_temperature(step)
    is_boil = step.kind is StepKind.BOIL and degrees == _SEA_LEVEL_C
    return max(boiling_c, _SEA_LEVEL_C) if is_boil else degrees


def _hold_min(steps: tuple[Step, ...]) -> float | None:
    """Return how long the hottest steps hold; None when none says."""
    now: float | None = None
    warm = []
    for step in steps:
        told = batch_temperature(step)
        now = now if told is None else told
        if now is not None and _heats_pot(step):
            warm.append((step, now))
    peak = max((at for _, at in warm), default=0.0)
    held = [step.hold_min for step, at in warm if at >= peak - _SAME_K and step.hold_min]
    return sum(held) if held else None


def _boiling_c(bench: Bench, row: int) -> float:
    found = float(bench.state.water.solids.boiling_c.value[row])
    return found if np.isfinite(found) and found > 0 else _SEA_LEVEL_C


def _check_liquid(bench: Bench, plan: PotPlan, food: Foodstuff, row: int) -> None:
    water = float(bench.state.composition.share("water_g")[row])
    if water < _LEAST_WATER:
        raise InputError(
            f"The batch has {100.0 * water:.0f} % water; a pot is computed for watery liquids.",
            field="ingredients",
            hint="Sugar alone, oil and dry mixes heat in other ways; go by a thermometer.",
        )
    freezing = 0.0 if food.freezing_c is None else food.freezing_c
    if plan.start_c < freezing:
        raise InputError(
            f"The pot starts at {temperature_print(plan.start_c)}, below freezing; melting is not "
            "computed.",
            field="start_c",
            hint="Thaw it first and start from there.",
        )


def _check_depth(plan: PotPlan, depth: float, mass: float) -> None:
    if depth > LONGEST_MM / 1000.0:
        raise InputError(
            f"{mass:.3g} kg stand {depth:.1f} m high in a pot {plan.diameter_mm:g} mm wide.",
            field="diameter_mm",
            hint="Give a wider pot or a smaller batch.",
        )
