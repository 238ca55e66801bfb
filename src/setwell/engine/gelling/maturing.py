"""How far gelatin has matured in the cold hours that the steps tell of."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import Parameter, parameter
from setwell.engine.gelling.state import KELVIN, AgentInput
from setwell.engine.history import History
from setwell.engine.spans import Spans
from setwell.science.gels.gelatin import full_strength_time, maturing_share

Array = NDArray[np.float64]

_ME = "gelatin"
# Each leg of the history is read in this many pieces.
_PIECES = 6
# A stay this long is told by a step; handling takes less [min].
_TOLD_MIN = 10.0
_COLD_C = 15.0


def matured(agent: AgentInput, set_c: Spans) -> Spans:
    """Return the share of full strength reached by serving.

    When no step says how long the cold lasts, the middle is a gel left until it is full and the
    low side the shortest stay of a kitchen.
    """
    gain = parameter(_ME, "maturing_gain", "per tenfold time")
    count = len(agent.dose_pct)
    if not _is_told(agent.heat.quick):
        full = np.ones(count)
        at = np.broadcast_to(agent.process.coldest_c, (count,))
        hours = parameter(_ME, "maturing_least").value / _full_hours(at)
        return Spans(full, maturing_share(hours, gain_per_decade=gain.high), full)
    middle = _exposure(agent.heat.middle, set_c.value)
    short = np.minimum(_exposure(agent.heat.quick, set_c.low), middle)
    long = np.maximum(_exposure(agent.heat.slow, set_c.high), middle)
    return Spans(
        maturing_share(middle, gain_per_decade=gain.value),
        maturing_share(short, gain_per_decade=gain.high),
        maturing_share(long, gain_per_decade=gain.low),
    )


def maturing_figures() -> tuple[Parameter, ...]:
    """Return the figures behind maturing."""
    return (*_times(), parameter(_ME, "maturing_gain", "per tenfold time"))


def _is_told(history: History) -> bool:
    """Return whether a step says how long the batch stays in the cold, once it was hot."""
    after = _after_peak(history)
    cold, minutes = history.celsius[after:].tolist(), history.minutes[after:].tolist()
    pairs = zip(cold[:-1], cold[1:], minutes[:-1], minutes[1:], strict=True)
    return any(a == b <= _COLD_C and end - begin >= _TOLD_MIN for a, b, begin, end in pairs)


def _after_peak(history: History) -> int:
    """Return the last point at the highest temperature."""
    celsius: list[float] = history.celsius.tolist()
    return len(celsius) - 1 - celsius[::-1].index(max(celsius))


def _exposure(history: History, below_c: Array) -> Array:
    """Return the time below each temperature, as a share of the time to full strength."""
    after = _after_peak(history)
    celsius, minutes = history.celsius[after:], history.minutes[after:]
    if len(celsius) < 2:
        return np.zeros_like(below_c)
    at, reached = _ripening(tuple(celsius.tolist()), tuple(minutes.tolist()))
    return np.asarray(reached[np.searchsorted(at, below_c, side="right")])


@lru_cache(maxsize=64)
def _ripening(celsius: tuple[float, ...], minutes: tuple[float, ...]) -> tuple[Array, Array]:
    """Return temperatures in order and the ripening that happens below each of them."""
    part = (np.arange(_PIECES) + 0.5) / _PIECES
    at = (np.array(celsius[:-1])[:, None] + np.diff(celsius)[:, None] * part).ravel()
    hours = np.repeat(np.diff(minutes) / 60.0 / _PIECES, _PIECES)
    order = np.argsort(at, kind="stable")
    share = (hours / _full_hours(at))[order]
    return at[order], np.concatenate([[0.0], np.cumsum(share)])


def _full_hours(celsius: Array) -> Array:
    cold, cool = _times()
    return full_strength_time(
        celsius + KELVIN, cold=(5.0 + KELVIN, cold.value), cool=(10.0 + KELVIN, cool.value)
    )


def _times() -> tuple[Parameter, Parameter]:
    return (
        parameter(_ME, "time_to_full_strength", "5 °C"),
        parameter(_ME, "time_to_full_strength", "10 °C"),
    )
