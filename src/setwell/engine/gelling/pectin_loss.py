"""What heat takes from pectin, which is most stable a little sour."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import Kept
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import KELVIN, AgentInput
from setwell.engine.spans import Spans
from setwell.provenance import Evidence
from setwell.science.gels.degradation import LossLaw, remaining_strength

Array = NDArray[np.float64]

# The law counts from pH 4 and 120 °C: the distance from pectin's best pH is put below that 4.
_LAW_PH, _FURTHEST = 4.0, 1.0
_TABLE_C, _LAW_C = 100.0, 120.0
_QUARTER = 0.25
# Share of the rate that a set gel still loses (our judgment).
_SET_SHARE = 0.3


def pectin_kept(agent: AgentInput, *, set_c: Array) -> Kept:
    """Return the share of its strength that pectin keeps in the pot; `set_c` (n,) is in °C."""
    best, path = parameter(agent.key, "loss_ph_best"), agent.acid
    near, far = _distances(agent.water.ph, best.low, best.high)
    middle = np.maximum(best.low - agent.water.ph.value, agent.water.ph.value - best.high)
    cases = (
        (path.middle, np.maximum(middle, 0.0), 0),
        (path.slow, far, 1),
        (path.quick, near, 2),
    )
    left = [
        remaining_strength(
            60.0 * history.minutes[None],
            history.celsius[None] + KELVIN,
            (_LAW_PH - np.minimum(distance, _FURTHEST))[:, None],
            law=_laws(agent.key)[which],
            setting_temperature=set_c + KELVIN,
            protected_share=_SET_SHARE,
        )
        for history, distance, which in cases
    ]
    value, low, high = (found.share for found in left)
    share = Spans(value, np.minimum(low, value), np.maximum(high, value))
    return Kept(share, share, np.asarray(middle <= _FURTHEST))


def pectin_loss_evidence(key: str) -> Evidence:
    """Return the citations behind the loss of a pectin."""
    names = ("loss_minutes", "loss_ph_best", "loss_per_ten_degrees", "loss_per_half_ph")
    return evidence_of(*(parameter(key, name) for name in names))


def _distances(ph: Spans, low: float, high: float) -> tuple[Array, Array]:
    """Return the least and the largest distance from the best pH."""
    near = np.maximum(np.maximum(low - ph.high, ph.low - high), 0.0)
    far = np.maximum(np.maximum(low - ph.low, ph.high - high), 0.0)
    return near, far


@cache
def _laws(key: str) -> tuple[LossLaw, LossLaw, LossLaw]:
    """Return the law at its middle, at its fastest and at its slowest."""
    per_ten = parameter(key, "loss_per_ten_degrees").value
    seconds = 60.0 / per_ten ** ((_LAW_C - _TABLE_C) / 10.0)
    found = [
        LossLaw(
            bound * seconds,
            parameter(key, "loss_per_half_ph").value,
            per_ten,
            _QUARTER,
            neutral_time=1e6 * bound * seconds,
        )
        for bound in parameter(key, "loss_minutes")[:3]
    ]
    return found[0], found[1], found[2]
