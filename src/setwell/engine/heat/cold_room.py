"""How many warm molds a cold place takes, and how warm its air gets meanwhile."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.domain.equipment import Cooler, CoolerKind
from setwell.engine.heat.course import Course
from setwell.engine.heat.results import Advice
from setwell.errors import InputError
from setwell.provenance import Citation, Estimate, Evidence, Grade, evidence_join
from setwell.science.heat.air_balance import ColdPlace, air_peak, air_temperature
from setwell.tables.heat.cold_places import ColdPlaceRow, cold_place_rows
from setwell.tables.rules import food_code_rules
from setwell.units import temperature_print, time_print

Array = NDArray[np.float64]

MODEL = "balance of two lumps: molds, and the air with its shelves"
POWER_GUESSED = "cooling power estimated from the volume"
MOST_COUNTED = 10_000
# What a machine really takes out against what is entered: cold coils, ice, a hot kitchen.
POWER_SHARES = (1.0, 0.7, 1.1)
# A machine that holds its cold place has at least a quarter more than what leaks in.
LEAK_OF_POWER = 0.8
# Molds have given 95 % of their heat after three time constants.
TIME_CONSTANTS, SHARE_GIVEN = 3.0, 0.95
# Rise that frozen food, and a place set close to the limit, may see [K].
FREEZER_RISE, LEAST_RISE = 5.0, 0.5
HEAT_OF_MELTING = 333_600.0
_POINTS = 241


@dataclass(frozen=True, slots=True)
class WarmLoad:
    """Molds that go in warm: each gives `heat_per_mold_j` within `seconds` from `start_c`."""

    heat_per_mold_j: float
    seconds: float
    start_c: float


class _Cases(NamedTuple):
    """Middle, worst and best case of a cold place, each array of shape (3, 1)."""

    place: ColdPlace
    evidence: Evidence
    flags: tuple[str, ...]


def most_molds(
    cooler: Cooler,
    *,
    heat_per_mold_j: float,
    seconds: float,
    start_c: float,
    room_c: float = 20.0,
    limit_c: float | None = None,
) -> Estimate | None:
    """Return how many molds go in at once before the air passes its limit.

    `heat_per_mold_j` is what one mold gives within `seconds`. None where no machine keeps the
    place cold (ice bath, counter), and where neither volume nor cooling power is known.
    """
    load = _checked(cooler, WarmLoad(heat_per_mold_j, seconds, start_c))
    cases = _cases(cooler, room_c)
    if cases is None or load is None:
        return None
    limit = warmest_allowed(cooler) if limit_c is None else limit_c
    counts = np.arange(1.0, MOST_COUNTED + 1.0)[None, :]
    store, conductance = _molds(cooler, load)
    peak = air_peak(
        place=cases.place,
        start_c=load.start_c,
        heat_store=counts * store,
        conductance=counts * conductance,
    )
    fits = np.sum(peak <= limit + 1e-9, axis=1)
    # In a place warmer than the room the cases swap sides.
    middle, low, high = float(fits[0]), float(fits.min()), float(fits.max())
    flags = cases.flags + (("more than counted",) if middle == MOST_COUNTED else ())
    return Estimate(middle, "molds", low, high, MODEL, cases.evidence, flags)


def air_course(
    cooler: Cooler,
    *,
    count: int,
    heat_per_mold_j: float,
    seconds: float,
    start_c: float,
    room_c: float = 20.0,
    until_s: float | None = None,
) -> Course | None:
    """Return the air of a cold place after so many warm molds went in; None as above."""
    load = _checked(cooler, WarmLoad(heat_per_mold_j, seconds, start_c))
    cases = _cases(cooler, room_c)
    if cases is None or load is None:
        return None
    at = np.linspace(0.0, 2.0 * load.seconds if until_s is None else until_s, _POINTS)
    store, conductance = _molds(cooler, load)
    middle, warm, cold = air_temperature(
        at[None, :],
        place=cases.place,
        start_c=load.start_c,
        heat_store=count * store,
        conductance=count * conductance,
    )
    return Course("air", at, middle, cold, warm, model=MODEL, evidence=cases.evidence)


def warmest_allowed(cooler: Cooler) -> float:
    """Return how warm the air may get for what else stands there [°C]."""
    if cooler.kind is CoolerKind.FREEZER:
        return cooler.air_c + FREEZER_RISE
    limit = food_code_rules()["cold_holding"].temperature_c
    return max(5.0 if limit is None else limit, cooler.air_c + LEAST_RISE)


def minutes_above(course: Course, limit_c: float) -> float:
    """Return how long a course stays above a limit [min], read on its straight pieces."""
    span = np.diff(course.seconds)
    before, after = course.celsius[:-1] - limit_c, course.celsius[1:] - limit_c
    crosses = before * after < 0.0
    change = np.where(crosses, np.abs(before) + np.abs(after), 1.0)
    share = np.where(crosses, np.maximum(before, after) / change, (before + after) > 0.0)
    return float(np.sum(share * span) / 60.0)


def air_advice(
    cooler: Cooler, course: Course, *, count: int, noun: str, most: Estimate | None
) -> Advice | None:
    """Return what the molds do to the air, when it passes its limit."""
    limit = warmest_allowed(cooler)
    warmest = float(np.max(course.celsius))
    if warmest <= limit:
        return None
    minutes = minutes_above(course, limit)
    still_warm = course.celsius[-1] > limit
    duration = f"for {'more than ' if still_warm else ''}{time_print(minutes)}"
    text = (
        f"{count} {noun} warm {cooler.name} to {temperature_print(round(warmest))}; its air "
        f"stays above {temperature_print(limit)} {duration}."
    )
    few = f"at most {most.value:.0f} at a time" if most and most.value >= 1.0 else "fewer at a time"
    action = f"Put in {few}, or take the first heat off in an ice bath. Move other food away."
    return Advice("cold_place_full", text, action, evidence=course.evidence)


def ice_melted(*, count: int, heat_per_mold_j: float) -> Estimate:
    """Return the ice that an ice bath uses up for these molds; the room melts some more."""
    middle = count * heat_per_mold_j / HEAT_OF_MELTING
    evidence = (Citation("common_practice", "common practice, no source", Grade.ESTIMATED),)
    return Estimate(1.2 * middle, "kg", middle, 1.8 * middle, "heat over heat of melting", evidence)


def _checked(cooler: Cooler, load: WarmLoad) -> WarmLoad | None:
    """Return the load, None when it does not warm the place; refuse what cannot be."""
    if not (np.isfinite(load.seconds) and load.seconds > 0.0):
        raise InputError("The time a mold takes to cool must be above zero.", field="seconds")
    if not np.isfinite(load.heat_per_mold_j):
        raise InputError("The heat of a mold must be a number.", field="heat_per_mold_j")
    is_warm = load.start_c > cooler.air_c and load.heat_per_mold_j > 0.0
    return load if is_warm else None


def _molds(cooler: Cooler, load: WarmLoad) -> tuple[float, float]:
    """Return what one mold stores [J/K] and passes [W/K], as one lump that cools in time."""
    store = load.heat_per_mold_j / (SHARE_GIVEN * (load.start_c - cooler.air_c))
    return store, store * TIME_CONSTANTS / load.seconds


def _cases(cooler: Cooler, room_c: float) -> _Cases | None:
    rows = cold_place_rows()
    kind = cooler.kind.value
    if (kind, "power_per_liter") not in rows:
        return None
    power, power_evidence, flags = _power(cooler, rows[kind, "power_per_liter"])
    if power is None:
        return None
    # Without a volume the power tells the size of the place.
    liters = cooler.inside_l or float(power[0]) / rows[kind, "power_per_liter"].value
    store_row, leak_row = rows[kind, "store_per_liter"], rows[kind, "leak_per_liter"]
    store = liters * np.array([store_row.value, store_row.low, store_row.high])
    leak = liters * np.array([leak_row.value, leak_row.high, leak_row.low])
    if room_c > cooler.air_c:
        leak = np.minimum(leak, LEAK_OF_POWER * power / (room_c - cooler.air_c))
    place = ColdPlace(cooler.air_c, power[:, None], room_c, store[:, None], leak[:, None])
    evidence = evidence_join([power_evidence, (store_row.citation, leak_row.citation)])
    return _Cases(place, evidence, flags)


def _power(cooler: Cooler, row: ColdPlaceRow) -> tuple[Array | None, Evidence, tuple[str, ...]]:
    """Return middle, worst and best power [W]; guessed from the volume when not given."""
    if cooler.cooling_w is not None:
        own = Citation("this_kitchen", "cooling power entered", Grade.MEASURED)
        return cooler.cooling_w * np.array(POWER_SHARES), (own,), ()
    if cooler.inside_l is None:
        return None, (), ()
    guessed = cooler.inside_l * np.array([row.value, row.low, row.high])
    return guessed, (row.citation,), (POWER_GUESSED,)
