"""Many molds at once: what they do to the air of their cold place, or to the ice of a bath."""

from dataclasses import dataclass, replace

import numpy as np

from setwell.domain.equipment import CoolerKind
from setwell.domain.process_plan import CoolPlan
from setwell.engine.heat.cold_room import (
    WarmLoad,
    air_advice,
    air_course,
    ice_melted,
    most_molds,
)
from setwell.engine.heat.cooling_cases import food_of
from setwell.engine.heat.cooling_setup import CoolingSetup
from setwell.engine.heat.mold_body import COARSE
from setwell.engine.heat.results import Advice
from setwell.engine.rules.bench import PRACTICE
from setwell.provenance import Estimate

# A mold has given its heat when this share of the way is left.
_LEFT = 0.05
# Warm food that warms a usual fridge noticeably [kg].
_HEAVY_KG = 2.0


@dataclass(frozen=True, slots=True)
class CoolingLoad:
    """The setup with its warmed air, how many molds fit, and what to say."""

    setup: CoolingSetup
    most: Estimate | None = None
    advice: tuple[Advice, ...] = ()
    # Why the air may get warmer than it is computed.
    left_out: str = ""


def cooling_load(setup: CoolingSetup, plan: CoolPlan) -> CoolingLoad:
    """Return a setup whose air is warmed by all molds of the plan."""
    if setup.air is not None:
        return CoolingLoad(setup)
    load = _warm_load(setup)
    if load is None:
        return CoolingLoad(setup)
    if plan.cooler.kind is CoolerKind.ICE_BATH:
        return CoolingLoad(setup, advice=(_ice(plan, load),))
    most = most_molds(
        plan.cooler,
        heat_per_mold_j=load.heat_per_mold_j,
        seconds=load.seconds,
        start_c=load.start_c,
        room_c=plan.room_c,
    )
    air = air_course(
        plan.cooler,
        count=plan.count,
        heat_per_mold_j=load.heat_per_mold_j,
        seconds=load.seconds,
        start_c=load.start_c,
        room_c=plan.room_c,
        until_s=6.0 * load.seconds,
    )
    if air is None:
        told = _unknown(setup, plan)
        if told is None:
            return CoolingLoad(setup, most)
        return CoolingLoad(setup, most, (told,), f"{told.text} {told.action}")
    noun = "mold" if plan.count == 1 else "molds"
    full = air_advice(plan.cooler, air, count=plan.count, noun=noun, most=most)
    warms = float(air.celsius.max()) > plan.cooler.air_c + 0.05
    return CoolingLoad(
        replace(setup, air=air) if warms else setup, most, () if full is None else (full,)
    )


def _warm_load(setup: CoolingSetup) -> WarmLoad | None:
    """Return what one mold brings into the cold place; None for one that is not warm."""
    seconds = setup.seconds()
    run = setup.march(seconds, body=setup.body(cells=COARSE))
    moved, air = setup.begins[-1], setup.cold.cooler.air_c
    start = float(np.interp(moved, seconds, run.mean))
    if start <= air:
        return None
    given = np.flatnonzero(run.mean <= air + _LEFT * (start - air))
    until = float(seconds[given[0]]) if len(given) else float(seconds[-1])
    heat = food_of(setup.stuff).capacity * setup.mold.volume * (1.0 - _LEFT) * (start - air)
    return WarmLoad(heat, max(until - moved, 60.0), start)


def _ice(plan: CoolPlan, load: WarmLoad) -> Advice:
    ice = ice_melted(count=plan.count, heat_per_mold_j=load.heat_per_mold_j)
    molds = "This mold" if plan.count == 1 else f"{plan.count} molds"
    verb = "melts" if plan.count == 1 else "melt"
    text = f"{molds} {verb} about {_kilograms(ice.value)} of ice on the way down."
    action = "Keep ice in the bath to the end, and stir it: still water at the wall warms."
    return Advice("ice_needed", text, action, evidence=ice.evidence)


def _kilograms(value: float) -> str:
    return f"{max(round(value * 1000.0, -1), 10.0):.0f} g" if value < 1.0 else f"{value:.1f} kg"


def _unknown(setup: CoolingSetup, plan: CoolPlan) -> Advice | None:
    """Say that many molds warm a place whose size and machine nobody gave."""
    mass = plan.count * setup.mold.volume * setup.stuff.density
    if mass < _HEAVY_KG:
        return None
    molds = "One mold is" if plan.count == 1 else f"{plan.count} molds are"
    text = (
        f"{molds} {mass:.0f} kg of warm food. That warms the place, which is not counted while "
        "its size and cooling power are not known."
    )
    action = "Give the inside volume or the cooling power, or chill in turns."
    return Advice("many_molds", text, action, evidence=PRACTICE)
