"""Does the agent dissolve with these steps? Kinetics in three zones of the pot."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.dispersal import Way
from setwell.engine.gelling.acid import Kept
from setwell.engine.gelling.hydration_rate import (
    Kinetics,
    Slowed,
    Window,
    kinetics,
    slowed,
)
from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import CANNOT_TELL, KELVIN, NO, YES, AgentInput, Codes, Working
from setwell.engine.history import PACE_FACTOR, History
from setwell.engine.pot_course import PotCourse, zones_joined
from setwell.engine.pot_zones import ROOM_C, ZONES, PotLags, zone_temperatures
from setwell.engine.spans import Spans
from setwell.provenance import Evidence
from setwell.science.gels.hydration import class_thresholds, exposure_above, hydrated_fraction

Array = NDArray[np.float64]

# Pace of the kitchen, evenness of the pot, time constant and window are four independent doubts:
# together at their worst each is taken at half its own width on its own axis.
_JOINT = 0.5
# After the last step the batch cools in the room, and it comes to the table half an hour after
# the powder went in, or two hours after that when it ends in the fridge; later if the steps take
# longer (our judgment).
_COOLS_C_MIN, _TO_TABLE_MIN, _CHILLED_MIN, _CHILLED_C = 1.0, 30.0, 120.0, 10.0
# Pace of the middling, the quick and the slow kitchen, in the order of the three cases below.
_PACES = (1.0, PACE_FACTOR**-_JOINT, PACE_FACTOR**_JOINT)
# Powder that falls into liquid this hot gets skins (our judgment).
_HOT_C = 50.0
_FREEZING_C = 0.0
# Enough for a straight answer every degree and a half of the usual window.
_CLASSES = 16
# Slowed batches are read off a table with these steps in the window and in the log of the time.
_SHIFT_STEP_K, _LOG_STEP = 1.0, 0.1
_CASES = np.arange(3)[:, None]


class Hydration(NamedTuple):
    """What dissolves of an agent in n batches.

    `dispersed` is the share that does not clump, `fraction` the dissolved share of the batch.
    `zones` (3, n) is the middle value at bottom, core and top of the pot, `coldest` (n,) that of
    the zone that dissolves least, `coldest_range` the same with its range.
    """

    dispersed: Spans
    fraction: Spans
    zones: Array
    coldest: Array
    evidence: Evidence
    coldest_range: Spans


class _Pot(NamedTuple):
    """What all batches of one call share: the agent, how it is wetted, and its way.

    `minutes` and `celsius` are those of the middling, the quick and the slow kitchen, `course`
    the pot where it is computed.
    """

    agent: str
    wetting: str
    lags: PotLags
    minutes: tuple[tuple[float, ...], ...]
    celsius: tuple[tuple[float, ...], ...]
    course: PotCourse | None = None


class _Grid(NamedTuple):
    """Whole numbers of steps from one start for each case."""

    starts: tuple[float, ...]
    length: int

    @property
    def steps(self) -> Array:
        """The numbers, (3, steps)."""
        return np.array(self.starts)[:, None] + np.arange(self.length)


def hydration(agent: AgentInput) -> Hydration:
    """Return the dissolved share of an agent after the steps.

    The low bound is a quick kitchen, an uneven pot, a slow powder and many lumps; the high bound
    is the opposite. Steps that do not say how hot it gets leave everything open.
    """
    rates, wetting = kinetics(agent.key), _wetting(agent)
    count = len(agent.dose_pct)
    share = parameter(agent.key, "clumped_share", wetting)
    zones = _zone_shares(agent, wetting)
    value, low, high = np.add.reduce(zones, axis=1) / len(ZONES)
    least, worst, best = np.minimum.reduce(zones, axis=1)
    middle, low, high = zones[0], np.minimum(low, value), np.maximum(high, value)
    is_open = ~np.isfinite(np.broadcast_to(agent.path.peak_c, count)) & (agent.pot is None)
    if rates.needs_heat and is_open.any():
        middle, value = np.where(is_open, np.nan, middle), np.where(is_open, np.nan, value)
        low, high = np.where(is_open, 0.0, low), np.where(is_open, 1.0, high)
    return Hydration(
        dispersed=Spans(*(np.full(count, 1.0 - part) for part in _lumps(share))),
        fraction=Spans(value, low, high),
        zones=middle,
        coldest=np.minimum.reduce(middle),
        evidence=(*rates.evidence, *evidence_of(share)),
        coldest_range=Spans(least, np.minimum(worst, least), np.maximum(best, least)),
    )


def _zone_shares(agent: AgentInput, wetting: str) -> Array:
    """Return the dissolved share at middle, worst and best, (3 cases, 3 zones, n)."""
    heat, delays = agent.heat, slowed(agent)
    ends = (heat.middle, heat.quick, heat.slow)
    pot = _Pot(
        agent.key,
        wetting,
        agent.lags,
        tuple(tuple(end.minutes.tolist()) for end in ends),
        tuple(tuple(end.celsius.tolist()) for end in ends),
        agent.pot,
    )
    windows, logs = _grid(delays.shift, _SHIFT_STEP_K), _grid(delays.log_time, _LOG_STEP)
    return _read_off(_table(pot, windows, logs), delays, windows, logs)


@lru_cache(maxsize=64)
def _table(pot: _Pot, windows: _Grid, logs: _Grid) -> Array:
    """Return the dissolved share wherever the window and the time may be moved to.

    Of shape (3 cases, windows, logs, 3 zones). Typing moves weights, which seldom leaves it.
    """
    rates = kinetics(pot.agent)
    times, celsius = _courses(pot)
    lumps = np.array(_lumps(parameter(pot.agent, "clumped_share", pot.wetting)))
    seconds = 60.0 * rates.minutes.value * np.exp(_LOG_STEP * logs.steps) * _pace_doubt(rates)
    crumbling = np.array(_cases(parameter(pot.agent, "clump_rate_share")))

    def share(exposure: Array) -> Array:
        return hydrated_fraction(
            exposure,
            rate=1.0 / seconds[:, None, None, :],
            clumped_share=lumps[:, None, None, None],
            clump_rate_share=crumbling[:, None, None, None],
        )

    cold_share = np.array(_cases(rates.cold_share))[:, None, None, None]
    table = np.zeros((3, len(ZONES), windows.length, logs.length))
    if cold_share.any():
        cold = _exposure(times, celsius, np.full((3, 1), _FREEZING_C), rates)
        table = table + cold_share * share(cold[:, :, None, None, :])
    if rates.window is not None:
        limits = _thresholds(rates.window)[:, None, :] + _SHIFT_STEP_K * windows.steps[..., None]
        hot = _exposure(times, celsius, limits.reshape(3, -1), rates)
        hot = hot.reshape(3, len(ZONES), windows.length, 1, -1)
        table = table + (1.0 - cold_share) * share(hot)
    table = np.ascontiguousarray(np.moveaxis(table, 1, -1))
    table.setflags(write=False)
    return table


def _cases(figure: Parameter) -> tuple[float, float, float]:
    """Return a share at its middle, at its low and at its high end."""
    return figure.value, figure.low, figure.high


def _pace_doubt(rates: Kinetics) -> Array:
    """Return the factor on the time constant of the middle, a slow and a quick powder, (3, 1)."""
    minutes = rates.minutes
    slow, quick = minutes.high / minutes.value, minutes.low / minutes.value
    return np.array([[1.0], [slow**_JOINT], [quick**_JOINT]])


def _thresholds(window: Window) -> Array:
    """Return the temperatures of the classes in °C, (3, j), where they come late and early."""
    ends = []
    for end in window:
        hard, easy = (end.low, end.high) if window.is_cooling else (end.high, end.low)
        doubt = np.array([0.0, hard - end.value, easy - end.value])
        ends.append(end.value + _JOINT * doubt)
    return class_thresholds(*ends, classes=_CLASSES)


def _exposure(times: Array, celsius: Array, thresholds: Array, rates: Kinetics) -> Array:
    """Return the seconds beyond each threshold, (3 cases, 3 zones, j), from (3, j) in °C."""
    # Powders that dissolve on cooling have their scale turned over.
    sign = -1.0 if rates.window is not None and rates.window.is_cooling else 1.0
    return exposure_above(
        60.0 * times[:, None],
        sign * (celsius + KELVIN),
        sign * (thresholds[:, None] + KELVIN),
        q10=rates.q10,
        reference_temperature=sign * (rates.at_c + KELVIN),
    )


def _grid(values: Array, step: float) -> _Grid:
    """Return the steps that cover the values (3, n) of each case."""
    if values.shape[1] == 0:
        return _Grid((0.0, 0.0, 0.0), 1)
    starts = np.floor(np.minimum.reduce(values, axis=1) / step)
    ends = np.ceil(np.maximum.reduce(values, axis=1) / step)
    return _Grid(tuple(starts.tolist()), int((ends - starts).max()) + 1)


def _read_off(table: Array, delays: Slowed, windows: _Grid, logs: _Grid) -> Array:
    """Interpolate a table (3 cases, windows, logs, 3 zones) for every batch: (3, 3, n)."""
    if windows.length == logs.length == 1:
        return np.broadcast_to(table[:, 0, 0, :, None], (3, len(ZONES), delays.shift.shape[1]))
    left, right, down = _place(delays.shift / _SHIFT_STEP_K, windows)
    near, far, along = _place(delays.log_time / _LOG_STEP, logs)
    first = table[_CASES, left, near]
    if logs.length > 1:
        first = first + along * (table[_CASES, left, far] - first)
    if windows.length > 1:
        second = table[_CASES, right, near]
        if logs.length > 1:
            second = second + along * (table[_CASES, right, far] - second)
        first = first + down * (second - first)
    return first.transpose(0, 2, 1)


def _place(values: Array, grid: _Grid) -> tuple[NDArray[np.intp], NDArray[np.intp], Array]:
    """Return the steps on both sides of each value, and how far it is from one to the other."""
    place = values - np.array(grid.starts)[:, None]
    left = place.astype(np.intp)
    return left, np.minimum(left + 1, grid.length - 1), (place - left)[..., None]


def _courses(pot: _Pot) -> tuple[Array, Array]:
    """Return times in minutes (3, p) and zone temperatures in °C (3, 3, p) of the three cases."""
    if pot.course is not None:
        return _computed_courses(pot, pot.course)
    cases = [
        _to_table(_halfway(pot, case), pot.celsius[case], pace) for case, pace in enumerate(_PACES)
    ]
    points = max(len(times) for times, _ in cases)
    # A course with fewer points stays at its last one for no time.
    padded = np.array(
        [_padded(times, points) + _padded(degrees, points) for times, degrees in cases]
    )
    lags = pot.lags
    # A pot of which nothing is told may be as uneven as pots get: a known fault, not a chance.
    most = lags.value + (_JOINT if lags.is_told else 1.0) * (lags.high_c - lags.value)
    least = lags.value + _JOINT * (lags.low_c - lags.value)
    zones = zone_temperatures(padded[:, points:], np.array([lags.value, most, least]))
    return padded[:, :points], zones


def _computed_courses(pot: _Pot, course: PotCourse) -> tuple[Array, Array]:
    """Return the same from a computed pot, with the steps after it."""
    found = []
    for case, zones in enumerate(course.cases):
        steps = History(
            np.array(_halfway(pot, case)), np.array(pot.celsius[case]), (), is_told=True
        )
        minutes, celsius = zones_joined(zones, steps)
        tables = [_to_table(tuple(minutes), tuple(zone), _PACES[case]) for zone in celsius]
        times = np.unique(np.concatenate([table[0] for table in tables]))
        found.append((times, np.array([np.interp(times, *table) for table in tables])))
    points = max(len(times) for times, _ in found)
    return (
        np.array([np.pad(times, (0, points - len(times)), mode="edge") for times, _ in found]),
        np.array([
            np.pad(zones, ((0, 0), (0, points - zones.shape[1])), mode="edge")
            for _, zones in found
        ]),
    )  # fmt: skip


def _halfway(pot: _Pot, case: int) -> tuple[float, ...]:
    """Return the times of a kitchen between the middling one and one end, on the log axis."""
    if case == 0 or pot.celsius[case] != pot.celsius[0]:
        return pot.minutes[case]
    lengths = np.sqrt(np.diff(pot.minutes[0]) * np.diff(pot.minutes[case]))
    return (0.0, *lengths.cumsum().tolist())


def _to_table(
    minutes: tuple[float, ...], celsius: tuple[float, ...], pace: float
) -> tuple[list[float], list[float]]:
    """Return the course of the steps in minutes and °C, and what follows until it is eaten."""
    times, course = list(minutes), list(celsius)
    end, degrees = times[-1], course[-1]
    if degrees > ROOM_C:
        end += pace * (degrees - ROOM_C) / _COOLS_C_MIN
        times.append(end)
        course.append(ROOM_C)
    stays = _CHILLED_MIN if degrees <= _CHILLED_C else 0.0
    times.append(max(end, pace * _TO_TABLE_MIN) + pace * stays)
    course.append(course[-1])
    return times, course


def _padded(values: list[float], points: int) -> list[float]:
    return values + values[-1:] * (points - len(values))


def _wetting(agent: AgentInput) -> str:
    """Return the way the powder meets the liquid, as the table of lumps names it."""
    if agent.path.bloom_steps and "unbloomed_slowing" in kinetics(agent.key).slowing:
        return "bloomed"
    if agent.path.way is not Way.POURED:
        return agent.path.way.value
    heat = "hot" if agent.heat.middle.celsius[0] >= _HOT_C else "cold"
    return f"{Way.POURED.value}, {heat}"


def _lumps(share: Parameter) -> tuple[float, float, float]:
    """Return the share in lumps at its middle, at its worst and at its best."""
    return share.value, share.high, share.low


def hydrates(hydrated: Spans) -> Codes:
    """Return whether enough of it dissolves to count on the written dose."""
    yes = hydrated.low >= 0.75
    no = (hydrated.high <= 0.75) | (np.nan_to_num(hydrated.value, nan=1.0) <= 0.45)
    return np.where(yes, YES, np.where(no, NO, CANNOT_TELL)).astype(np.int8)


def working(agent: AgentInput, kept: Kept) -> Working:
    """Return how much of an agent works: what has dissolved and is still whole."""
    found = hydration(agent)
    return Working(
        hydrated=found.fraction,
        zones=found.zones,
        hydrates=hydrates(found.fraction),
        kept=kept,
        effective_pct=_effective_dose(agent.active_pct, found.fraction, kept),
        evidence=found.evidence,
    )


def _effective_dose(active_pct: Array, hydrated: Spans, kept: Kept) -> Spans:
    """Return the dose that is dissolved and still whole."""
    share = kept.share
    return Spans(
        active_pct * np.nan_to_num(hydrated.value, nan=0.5) * share.value,
        active_pct * hydrated.low * share.low,
        active_pct * hydrated.high * share.high,
    )
