"""Does the agent dissolve with these steps?"""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import Parameter
from setwell.engine.gelling.state import CANNOT_TELL, KELVIN, NO, YES, AgentInput, Codes
from setwell.engine.spans import Spans
from setwell.science.gels.hydration import hydrated_fraction_ramp

Array = NDArray[np.float64]

# Below the table's range a little dissolves and above it the last grains do: the width of the
# ramp's own uncertainty in °C (our judgment, no source).
_RAMP_DOUBT_C = 10.0
# The lag of the coldest part was read at this temperature; it shrinks with the heating.
_LAG_READ_AT_C, _ROOM_C = 85.0, 20.0


def hydration_hot(agent: AgentInput, *, onset_c: float, full_c: float) -> Spans:
    """Return the dissolved share of an agent that needs heat.

    The low bound is for the coldest part of the pot, which can lag the thermometer, and for a
    late ramp; the high bound for an early one. Unknown steps leave everything open.
    """
    peak = np.broadcast_to(agent.path.peak_c, agent.dose_pct.shape)
    # In a narrow window a late start must still come before the end.
    late_c = onset_c + min(_RAMP_DOUBT_C, (full_c - onset_c) / 2.0)
    best = _ramp(peak, onset_c, full_c)
    lag = agent.uneven_c * np.clip((peak - _ROOM_C) / (_LAG_READ_AT_C - _ROOM_C), 0.0, 1.0)
    low = _ramp(peak - lag, late_c, full_c)
    high = _ramp(peak, onset_c - _RAMP_DOUBT_C / 2, full_c - _RAMP_DOUBT_C / 2)
    return Spans(best, np.nan_to_num(low, nan=0.0), np.nan_to_num(high, nan=1.0))


def _ramp(peak_c: Array, onset_c: float, full_c: float) -> Array:
    return hydrated_fraction_ramp(
        peak_c + KELVIN, onset_temperature=onset_c + KELVIN, full_temperature=full_c + KELVIN
    )


def hydration_cold(agent: AgentInput) -> Spans:
    """Return the dissolved share of a cold-soluble agent: slow when cold, complete when hot."""
    peak = np.broadcast_to(agent.path.peak_c, agent.dose_pct.shape)
    hot = np.nan_to_num(peak, nan=0.0) >= 60.0
    return Spans(np.where(hot, 1.0, 0.9), np.where(hot, 0.95, 0.75), np.ones_like(hot, dtype=float))


def hydrates(hydrated: Spans) -> Codes:
    """Return whether enough of it dissolves to count on the written dose."""
    yes = hydrated.low >= 0.75
    no = (hydrated.high <= 0.75) | (np.nan_to_num(hydrated.value, nan=1.0) <= 0.45)
    return np.where(yes, YES, np.where(no, NO, CANNOT_TELL)).astype(np.int8)


def table_window(figure: Parameter) -> tuple[float, float]:
    """Return onset and full temperature of a hydration row."""
    return figure.low, max(figure.high, figure.low + 5.0)
