"""Does the agent dissolve with these steps? Kinetics in three zones of the pot."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.hydration_rate import (
    Kinetics,
    Slowed,
    Window,
    kinetics,
    slowed,
)
from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import CANNOT_TELL, KELVIN, NO, YES, AgentInput, Codes
from setwell.engine.history import PACE_FACTOR, History
from setwell.engine.pot_zones import ROOM_C, zone_temperatures
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


class Hydration(NamedTuple):
    """What dissolves of an agent in n batches.

    `dispersed` is the share that does not clump, `fraction` the dissolved share of the batch.
    `zones` (3, n) is the middle value at bottom, core and top of the pot, `coldest` (n,) that of
    the zone that dissolves least.
    """

    dispersed: Spans
    fraction: Spans
    zones: Array
    coldest: Array
    evidence: Evidence


def hydration(agent: AgentInput) -> Hydration:
    """Return the dissolved share of an agent after the steps.

    The low bound is a quick kitchen, an uneven pot, a slow powder and many lumps; the high bound
    is the opposite. Steps that do not say how hot it gets leave everything open.
    """
    rates = kinetics(agent.key)
    count = len(agent.dose_pct)
    lumps = _clumped(agent)
    shares = _zone_shares(agent, rates, lumps)
    known = np.isfinite(np.broadcast_to(agent.path.peak_c, count))
    if rates.window is None or rates.window.is_cooling:
        known = np.ones(count, dtype=np.bool_)
    zones = np.where(known, shares[0], np.nan)
    value, low, high = shares.mean(axis=1)
    return Hydration(
        dispersed=Spans(*(np.full(count, 1.0 - lumps[n]) for n in range(3))),
        fraction=Spans(
            np.where(known, value, np.nan),
            np.where(known, np.minimum(low, value), 0.0),
            np.where(known, np.maximum(high, value), 1.0),
        ),
        zones=zones,
        coldest=zones.min(axis=0),
        evidence=(*rates.evidence, *evidence_of(_wetting(agent))),
    )


def _zone_shares(agent: AgentInput, rates: Kinetics, lumps: Array) -> Array:
    """Return the dissolved share at middle, worst and best, (3 cases, 3 zones, n)."""
    times, celsius = _courses(agent)
    delays = slowed(agent)
    window_steps = _steps(delays.shift, _SHIFT_STEP_K)
    log_steps = _steps(delays.log_time, _LOG_STEP)
    seconds = 60.0 * rates.minutes.value * np.exp(_LOG_STEP * log_steps) * _pace_doubt(rates)
    read = parameter(agent.key, "clump_rate_share")
    crumbling = np.array([read.value, read.low, read.high])[:, None, None, None]

    def share(exposure: Array) -> Array:
        return hydrated_fraction(
            exposure,
            rate=1.0 / seconds[:, None, None, :],
            clumped_share=lumps[:, None, None, None],
            clump_rate_share=crumbling,
        )

    cold_share = np.array(_cases(rates.cold_share))[:, None, None, None]
    table = np.zeros((3, 3, window_steps.shape[1], log_steps.shape[1]))
    if cold_share.any():
        cold = _exposure(times, celsius, np.full((3, 1), _FREEZING_C), rates)
        table = table + cold_share * share(cold[:, :, None, None, :])
    if rates.window is not None:
        limits = _thresholds(rates.window)[:, None, :] + _SHIFT_STEP_K * window_steps[..., None]
        hot = _exposure(times, celsius, limits.reshape(3, -1), rates)
        hot = hot.reshape(3, 3, window_steps.shape[1], 1, -1)
        table = table + (1.0 - cold_share) * share(hot)
    return _read_off(table, delays, window_steps, log_steps)


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


def _steps(values: Array, step: float) -> Array:
    """Return whole numbers of steps that cover the values (3, n) of each case, (3, steps)."""
    if values.shape[1] == 0:
        return np.zeros((3, 1))
    start = np.floor(values.min(axis=1) / step)
    most = int((np.ceil(values.max(axis=1) / step) - start).max())
    return np.asarray(start[:, None] + np.arange(most + 1))


def _read_off(table: Array, delays: Slowed, window_steps: Array, log_steps: Array) -> Array:
    """Interpolate a table (3 cases, 3 zones, windows, logs) for every batch: (3, 3, n)."""
    if table.shape[2:] == (1, 1):
        return np.broadcast_to(table[..., 0], (3, 3, delays.shift.shape[1]))
    lefts, rights, downs = _place(delays.shift / _SHIFT_STEP_K, window_steps)
    nears, fars, alongs = _place(delays.log_time / _LOG_STEP, log_steps)
    cases = []
    for case, left, right, down, near, far, along in zip(
        table, lefts, rights, downs, nears, fars, alongs, strict=True
    ):
        first = case[:, left, near] + along * (case[:, left, far] - case[:, left, near])
        second = case[:, right, near] + along * (case[:, right, far] - case[:, right, near])
        cases.append(first + down * (second - first))
    return np.stack(cases)


def _place(values: Array, steps: Array) -> tuple[NDArray[np.intp], NDArray[np.intp], Array]:
    """Return the steps on both sides of each value, and how far it is from one to the other."""
    place = values - steps[:, :1]
    left = place.astype(np.intp)
    return left, np.minimum(left + 1, steps.shape[1] - 1), place - left


def _courses(agent: AgentInput) -> tuple[Array, Array]:
    """Return times in minutes (3, p) and zone temperatures in °C (3, 3, p) of the three cases."""
    heat, lags = agent.heat, agent.lags
    ends = (heat.middle, heat.quick, heat.slow)
    cases = [
        _to_table(_halfway(heat.middle, end), end.celsius, pace)
        for end, pace in zip(ends, _PACES, strict=True)
    ]
    points = max(len(times) for times, _ in cases)
    # A course with fewer points stays at its last one for no time.
    padded = np.array(
        [_padded(times, points) + _padded(degrees, points) for times, degrees in cases]
    )
    # A pot of which nothing is told may be as uneven as pots get: a known fault, not a chance.
    most = lags.value + (_JOINT if lags.is_told else 1.0) * (lags.high_c - lags.value)
    least = lags.value + _JOINT * (lags.low_c - lags.value)
    zones = zone_temperatures(padded[:, points:], np.array([lags.value, most, least]))
    return padded[:, :points], zones


def _halfway(middle: History, end: History) -> Array:
    """Return the times of a kitchen between the middling one and one end, on the log axis."""
    if middle is end or middle.celsius.tolist() != end.celsius.tolist():
        return end.minutes
    usual, other = middle.minutes, end.minutes
    lengths = np.sqrt((usual[1:] - usual[:-1]) * (other[1:] - other[:-1]))
    return np.concatenate([[0.0], lengths.cumsum()])


def _to_table(minutes: Array, celsius: Array, pace: float) -> tuple[list[float], list[float]]:
    """Return the course of the steps in minutes and °C, and what follows until it is eaten."""
    times, course = minutes.tolist(), celsius.tolist()
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


def _wetting(agent: AgentInput) -> Parameter:
    """Return the share that clumps, by the way the powder meets the liquid."""
    if agent.path.bloom_steps and "unbloomed_slowing" in kinetics(agent.key).slowing:
        return parameter(agent.key, "clumped_share", "bloomed")
    if agent.path.is_dispersed:
        return parameter(agent.key, "clumped_share", "kept apart")
    heat = "hot" if agent.heat.middle.celsius[0] >= _HOT_C else "cold"
    return parameter(agent.key, "clumped_share", f"poured dry, {heat}")


def _clumped(agent: AgentInput) -> Array:
    """Return the share in lumps at its middle, at its worst and at its best."""
    share = _wetting(agent)
    return np.array([share.value, share.high, share.low])


def hydrates(hydrated: Spans) -> Codes:
    """Return whether enough of it dissolves to count on the written dose."""
    yes = hydrated.low >= 0.75
    no = (hydrated.high <= 0.75) | (np.nan_to_num(hydrated.value, nan=1.0) <= 0.45)
    return np.where(yes, YES, np.where(no, NO, CANNOT_TELL)).astype(np.int8)
