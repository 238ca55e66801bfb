"""Which samples of a log cannot be trusted: flagged, never deleted."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.probe.results import Array, Flag, Flags
from setwell.units.temperature import HOTTEST

# What a probe in a kitchen can read [°C]; beyond is a broken wire or an open socket.
COLDEST_C, HOTTEST_C = -60.0, HOTTEST + 50.0
# A spike stands out by this much at least [°C], and faster than food and probe can follow [°C/s]:
# a sheathed probe takes seconds, so there and back within one sample is no temperature.
_SPIKE_C, _SPIKE_C_S = 3.0, 0.2
# Hampel's filter: so many robust standard deviations from the median of the neighbors.
_DEVIATIONS, _TO_SIGMA = 5.0, 1.4826
# Samples on either side of the one in question: spikes up to three samples long are seen.
_REACH = 3
# A few lines out of order are left out; more in a row mean that the clock was set back.
_STRAY_MOST = 3
# So much may be lost where a clock was set back by a little, all times together [s].
_LOST_S = 60.0
# From this interval on, a time that comes twice may be the hour that a clock was set back [s].
_SLOW_S = 900.0


class RowFlags(NamedTuple):
    """Flags (n,) that all probes share, and how the times ran."""

    flags: Flags
    is_reversed: bool = False
    cut_from: int | None = None
    back_s: float = 0.0


def row_flags(seconds: Array) -> RowFlags:
    """Return which rows have no time of their own that follows on those before."""
    flags = np.zeros(len(seconds), dtype=np.uint8)
    known = np.flatnonzero(np.isfinite(seconds))
    flags[np.isnan(seconds)] = np.uint8(Flag.NO_TIME)
    steps = np.diff(seconds[known])
    is_reversed = len(steps) > 1 and bool((steps < 0).sum() > 0.9 * len(steps))
    rows = known[::-1] if is_reversed else known
    times = seconds[rows]
    latest = np.maximum.accumulate(np.concatenate([[-np.inf], times]))[:-1]
    behind, same = times < latest, times == latest
    flags[rows[same]] |= np.uint8(Flag.DUPLICATE)
    cut = _cut(times, latest, behind)
    if cut is not None:
        behind = behind | (np.arange(len(times)) >= cut)
    flags[rows[behind]] |= np.uint8(Flag.BACKWARD)
    back = float((latest - times)[cut]) if cut is not None else 0.0
    return RowFlags(flags, is_reversed, None if cut is None else int(rows[cut]), back)


def _cut(times: Array, latest: Array, behind: NDArray[np.bool_]) -> int | None:
    """Return where the clock was set back for good, None where only stray lines are behind.

    A stray line leaves a hole where it belongs, in time or in the order of the file. A clock that
    was set back leaves none: its next reading follows on the latest, too soon by what was lost.
    """
    steps = np.diff(times)
    steps = steps[steps > 0]
    interval = float(np.median(steps)) if len(steps) else 0.0
    stuck = behind | (times == latest) if interval >= _SLOW_S else behind
    lost = 0.0
    for first, end in _runs(stuck | (behind | (times == latest)) & _touches(stuck, times, latest)):
        lag = float((latest[first:end] - times[first:end]).max())
        if end - first > _STRAY_MOST:
            return first
        if _leaves_hole(times, latest, first, end, interval):
            continue
        lost += lag + interval
        if lost > _LOST_S:
            return first
    return None


def _touches(stuck: NDArray[np.bool_], times: Array, latest: Array) -> NDArray[np.bool_]:
    """True for a time that comes twice right after one that is behind."""
    after = np.concatenate([[False], stuck[:-1]])
    return np.asarray(after & (times == latest))


def _runs(marked: NDArray[np.bool_]) -> list[tuple[int, int]]:
    edges = np.diff(np.concatenate([[False], marked, [False]]).astype(np.int8))
    return list(zip(np.flatnonzero(edges == 1).tolist(), np.flatnonzero(edges == -1).tolist(),
                    strict=True))  # fmt: skip


def _leaves_hole(times: Array, latest: Array, first: int, end: int, interval: float) -> bool:
    """True where lines out of order are missing elsewhere: the clock itself ran on."""
    if end >= len(times):
        return True
    after = float(times[end] - latest[end - 1])
    if after >= (end - first + 0.5) * interval:
        return True
    others = np.delete(times, np.arange(first, end))
    return all(
        float(np.abs(others - one).min()) >= 0.5 * interval > 0.0 for one in times[first:end]
    )


def reading_flags(celsius: Array, seconds: Array, rows: Flags) -> Flags:
    """Return the flags of one probe, those of the rows with them."""
    flags = rows.copy()
    flags[~np.isfinite(celsius)] |= np.uint8(Flag.NO_NUMBER)
    with np.errstate(invalid="ignore"):
        flags[(celsius < COLDEST_C) | (celsius > HOTTEST_C)] |= np.uint8(Flag.OUT_OF_RANGE)
    usable = np.flatnonzero(flags == 0)
    order = usable[np.argsort(seconds[usable], kind="stable")]
    spikes = spikes_in(celsius[order], seconds[order])
    flags[order[spikes]] |= np.uint8(Flag.SPIKE)
    return flags


def spikes_in(celsius: Array, seconds: Array) -> NDArray[np.bool_]:
    """Return which readings stand out from their neighbors faster than food can follow.

    Hampel's filter: the distance from the median of seven samples, over their median distance
    from it. Only samples beside a jump are looked at, which keeps long logs quick.
    """
    count = len(celsius)
    found = np.zeros(count, dtype=bool)
    if count < _REACH + 2:
        return found
    interval = float(np.median(np.diff(seconds)))
    least = max(_SPIKE_C, _SPIKE_C_S * interval)
    near = _beside_jumps(celsius, least)
    if not len(near):
        return found
    places = np.arange(-_REACH, _REACH + 1)
    # At the ends the window is moved inward: it always holds seven samples where there are seven.
    width = min(2 * _REACH + 1, count)
    firsts = np.clip(near - _REACH, 0, count - width)
    windows = celsius[firsts[:, None] + places[:width] + _REACH]
    middle = np.median(windows, axis=1)
    spread = _TO_SIGMA * np.median(np.abs(windows - middle[:, None]), axis=1)
    away = np.abs(celsius[near] - middle)
    found[near] = (away > least) & (away > _DEVIATIONS * spread) & _returns(celsius, near, least)
    return found


def _beside_jumps(celsius: Array, least: float) -> NDArray[np.intp]:
    jumps = np.flatnonzero(np.abs(np.diff(celsius)) > 0.5 * least)
    near = jumps[:, None] + np.arange(-_REACH, _REACH + 2)
    return np.unique(np.clip(near, 0, len(celsius) - 1))


def _returns(celsius: Array, near: NDArray[np.intp], least: float) -> NDArray[np.bool_]:
    """True where the reading comes back: a probe that is moved stays at its new temperature."""
    last = len(celsius) - 1
    before = celsius[np.clip(near - _REACH, 0, last)]
    after = celsius[np.clip(near + _REACH, 0, last)]
    own = celsius[near]
    # Both sides lie away from it on the same side.
    up = (own - before > 0.5 * least) & (own - after > 0.5 * least)
    down = (before - own > 0.5 * least) & (after - own > 0.5 * least)
    return np.asarray(up | down)
