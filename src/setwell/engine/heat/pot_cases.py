"""The cases a pot is computed for: everything in doubt at its middle, its worst and its best."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.domain.process_plan import PotStirring
from setwell.engine.heat.pot_liquid import FIRST_C, FIRST_LOG, STEP_C, STEP_LOG
from setwell.engine.heat.pot_setup import PotTask
from setwell.provenance import Citation, Evidence, Grade
from setwell.science.heat.buoyancy import critical_rayleigh
from setwell.science.heat.evaporation import evaporation_still_air, latent_heat
from setwell.science.heat.pot_parts import PotBody, PotHeat, PotLoss, PotMotion
from setwell.science.heat.radiation import coefficient_radiation
from setwell.science.heat.scraping import scraped_coefficient
from setwell.science.heat.surface_coefficient import coefficient_still_air

Array = NDArray[np.float64]

PRACTICE: Evidence = (Citation("common_practice", "common practice, no source", Grade.ESTIMATED),)
LOSS_EVIDENCE: Evidence = (
    Citation("shah_2002", "correlation for still air, constants recalled", Grade.UNVERIFIED),
)
MOTION_EVIDENCE: Evidence = (
    Citation("mcadams_1954", "Nu = 0.15 Ra^(1/3), warm plate facing up, recalled",
             Grade.UNVERIFIED),
    Citation("common_practice", "common practice, no source", Grade.ESTIMATED),
)  # fmt: skip
SCRAPED_EVIDENCE: Evidence = (
    Citation("harriott_1959", "penetration theory, recalled", Grade.UNVERIFIED),
)

# Middle alone; each doubt at its ends, the others at the middle; then both together at half of
# their width on their own axes. Mixing runs from -1 (worst) to 1 (best), pace from -1 (slow:
# little power, large losses) to 1 (quick).
MIXING: Array = np.array([0.0, -1.0, 1.0, 0.0, 0.0, -0.5, -0.5, 0.5, 0.5])
PACE: Array = np.array([0.0, 0.0, 0.0, -1.0, 1.0, -0.5, 0.5, -0.5, 0.5])
CASES = len(MIXING)
JOINT = slice(5, 9)

# The tip of a thermometer held to the bottom stands this far above it [m] (our judgment).
_PROBE_M, _PROBE_EACH_WAY = 0.005, 0.003
# Nobody holds it closer where a spoon scrapes the base.
_SCRAPED_PROBE_M = _PROBE_M
_AWAY_M = 1.0
# The hob is throttled within half of this of the target [K].
_BAND_K = 0.6
# Seconds until a spot of the base is scraped again: middle, worst and best (our judgment).
_SCRAPED_S = {
    PotStirring.CONSTANT: (5.0, 15.0, 2.0),
    PotStirring.BLENDER: (2.0, 5.0, 1.0),
    PotStirring.CIRCULATOR: (3.0, 8.0, 1.0),
    PotStirring.STEAM: (5.0, 15.0, 2.0),
}
# Minutes between two stirs "now and then" (our judgment); multiples of the shortest one.
_NOW_AND_THEN_MIN = {0.0: 5.0, -1.0: 10.0, 1.0: 2.5, -0.5: 7.5, 0.5: 2.5}
_DIRECT = frozenset({PotStirring.CIRCULATOR, PotStirring.STEAM})
# What a lid leaves of the evaporation (recalled) and of the dry loss (our judgment): middle,
# low and high; and what an open pot's evaporation may be off (of the correlation, widened).
_LID_VAPOR, _LID_DRY = (0.075, 0.05, 0.10), (0.7, 0.5, 1.0)
_OPEN_VAPOR, _OPEN_DRY = (1.0, 0.75, 1.25), (1.0, 0.8, 1.25)
_SIDE = (1.0, 0.7, 1.5)
_HUMIDITY, _EMISSIVITY = 0.5, 0.95
# A base is at least this thick, and the film of liquid that clings to it [m].
_LEAST_BASE_M, _FILM_M = 0.003, 0.002
_SKIN_M, _SKIN_SHARE = 0.004, 0.15
_GRID_C: Array = np.arange(0.0, 121.0, 2.5)


class PotCases(NamedTuple):
    """What the solver is given for n cases."""

    body: PotBody
    heat: PotHeat
    loss: PotLoss
    motion: PotMotion


def pot_cases(
    task: PotTask, stirring: tuple[PotStirring, ...], mixing: Array = MIXING, pace: Array = PACE
) -> PotCases:
    """Return the cases of one pot, stirred in one or more ways one after the other."""
    ways = np.repeat(np.arange(len(stirring)), len(mixing))
    mixing, pace = np.tile(mixing, len(stirring)), np.tile(pace, len(stirring))
    how = [stirring[way] for way in ways]
    body = _body(task, len(how))
    return PotCases(
        body, _heat(task, how, mixing, pace), _loss(task, pace), _motion(task, how, mixing)
    )


def _spread(figure: tuple[float, float, float], place: Array) -> Array:
    """Return a positive figure (middle, end at -1, end at 1) on its logarithmic axis."""
    middle, below, above = np.log(figure)
    by = np.where(place < 0, middle - below, above - middle)
    return np.asarray(np.exp(middle + place * by))


def _body(task: PotTask, count: int) -> PotBody:
    one = np.ones(count)
    side = np.pi * task.plan.diameter_mm / 1000.0 * task.depth
    wall, food = task.wall, task.food
    base = max(wall.thickness_m, _LEAST_BASE_M) * wall.density * wall.heat_capacity * task.area
    film = min(_FILM_M, 0.1 * task.depth) * food.density * food.heat_capacity * task.area
    held = base + wall.heat_per_area * side + film
    skin = min(_SKIN_M, _SKIN_SHARE * task.depth)
    figures = (
        task.area, side, task.depth, skin, task.mass_kg, held, food.heat_capacity,
        food.conductivity,
    )  # fmt: skip
    return PotBody(*(figure * one for figure in figures))


def _heat(task: PotTask, how: list[PotStirring], mixing: Array, pace: Array) -> PotHeat:
    share = task.efficiency
    low, high = share.low or share.value, share.high or share.value
    power = task.plan.hob.power_w * _spread((share.value, low, high), pace)
    one = np.ones(len(how))
    probe = _PROBE_M + _PROBE_EACH_WAY * mixing
    is_scraped = np.array([way in _SCRAPED_S for way in how])
    probe = np.where(is_scraped, np.maximum(probe, _SCRAPED_PROBE_M), probe)
    return PotHeat(
        power=power,
        target_c=task.target_c * one,
        band=_BAND_K * one,
        # A boil is told by the bubbles of the whole, not by the face of the base.
        probe=_AWAY_M * one if task.is_boil else probe,
        is_direct=np.array([way in _DIRECT for way in how]),
        is_steam=np.array([way is PotStirring.STEAM for way in how]),
    )


def _loss(task: PotTask, pace: Array) -> PotLoss:
    plan, across = task.plan, task.plan.diameter_mm / 1000.0
    one = np.ones(len(pace))
    # A slow pot is one that loses much.
    slow = -pace
    vapor = evaporation_still_air(
        _GRID_C, air_c=plan.room_c, humidity=_HUMIDITY, water_activity=task.water_activity
    )
    top = coefficient_still_air(
        _GRID_C, surroundings_c=plan.room_c, length=across / 4.0, face="top"
    ) + coefficient_radiation(_GRID_C, surroundings_c=plan.room_c, emissivity=_EMISSIVITY)
    dry = top * (_GRID_C - plan.room_c)
    wet = _spread(_LID_VAPOR if plan.lid else _OPEN_VAPOR, slow)[:, None] * vapor
    passed = _spread(_LID_DRY if plan.lid else _OPEN_DRY, slow)[:, None] * dry
    wall_c = max(task.target_c, plan.room_c + 1.0)
    side = coefficient_still_air(wall_c, surroundings_c=plan.room_c, length=max(task.depth, 0.01))
    side = side + coefficient_radiation(
        wall_c, surroundings_c=plan.room_c, emissivity=task.wall.emissivity
    )
    return PotLoss(
        first_c=float(_GRID_C[0]),
        step_c=float(_GRID_C[1] - _GRID_C[0]),
        flux=passed + wet * latent_heat(_GRID_C),
        vapor=wet,
        side=float(side) * _spread(_SIDE, slow),
        room_c=plan.room_c * one,
        boiling_c=task.boiling_c * one,
        latent=float(latent_heat(task.boiling_c)) * one,
    )


def _motion(task: PotTask, how: list[PotStirring], mixing: Array) -> PotMotion:
    food, one = task.food, np.ones(len(how))
    stirred, interval = np.zeros(len(how)), np.full(len(how), np.inf)
    for number, (way, place) in enumerate(zip(how, mixing, strict=True)):
        if way is PotStirring.OCCASIONAL:
            interval[number] = 60.0 * _NOW_AND_THEN_MIN.get(float(place), 5.0)
        elif way in _SCRAPED_S:
            stirred[number] = scraped_coefficient(
                _spread(_SCRAPED_S[way], np.array(place)),
                conductivity=food.conductivity,
                heat_capacity=food.heat_capacity,
                density=food.density,
            )
    aspect = 1000.0 * task.depth / task.plan.diameter_mm
    critical = float(critical_rayleigh(aspect, has_free_top=True))
    return PotMotion(
        first_c=FIRST_C,
        step_c=STEP_C,
        first_log=FIRST_LOG,
        step_log=STEP_LOG,
        log_layer=task.liquid.layers(mixing),
        critical=critical * one,
        stirred=stirred,
        interval=interval,
    )
