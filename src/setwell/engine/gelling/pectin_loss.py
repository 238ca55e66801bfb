"""What heat takes from pectin, which is most stable a little sour."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import Kept
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import KELVIN, AgentInput
from setwell.engine.history import History
from setwell.engine.spans import Spans
from setwell.provenance import Evidence
from setwell.science.gels.hydration import exposure_above

Array = NDArray[np.float64]

# The times of the table are for boiling; beyond this distance in pH nothing is known.
_TABLE_C, _FURTHEST = 100.0, 1.0
# A quarter is lost within the table's time; a set gel loses at this share of the rate (our
# judgment).
_LOG_QUARTER, _SET_SHARE = float(np.log(4.0 / 3.0)), 0.3


def pectin_kept(agent: AgentInput) -> Kept:
    """Return the share of its strength that pectin keeps in the pot."""
    key, path, ph = agent.key, agent.acid, agent.water.ph
    best, minutes = parameter(key, "loss_ph_best"), parameter(key, "loss_minutes")
    boiled = _boiled_minutes(key, (path.middle, path.slow, path.quick))
    per_half = parameter(key, "loss_per_half_ph").value
    near = np.maximum(np.maximum(best.low - ph.high, ph.low - best.high), 0.0)
    middle = np.maximum(np.maximum(best.low - ph.value, ph.value - best.high), 0.0)
    far = np.maximum(best.low - ph.low, ph.high - best.high)
    value, low, high = (
        np.exp(
            -_LOG_QUARTER
            * (spent / bound)
            * per_half ** (np.minimum(np.maximum(distance, 0.0), _FURTHEST) / 0.5)
        )
        for spent, bound, distance in zip(
            boiled,
            (minutes.value, minutes.low, minutes.high),
            (middle, far, near),
            strict=True,
        )
    )
    share = Spans(value, np.minimum(low, value), np.maximum(high, value))
    return Kept(share, share, np.asarray(middle <= _FURTHEST))


def pectin_loss_evidence(key: str) -> Evidence:
    """Return the citations behind the loss of a pectin."""
    names = ("loss_minutes", "loss_ph_best", "loss_per_ten_degrees", "loss_per_half_ph")
    return evidence_of(*(parameter(key, name) for name in names))


def _boiled_minutes(key: str, histories: tuple[History, ...]) -> list[float]:
    """Return the minutes at the boil that do as much as each history."""
    points = max(len(history.minutes) for history in histories)
    times, celsius = np.empty((3, points)), np.empty((3, points))
    for row, history in enumerate(histories):
        last = len(history.minutes)
        times[row, :last], celsius[row, :last] = history.minutes, history.celsius
        times[row, last:], celsius[row, last:] = history.minutes[-1], history.celsius[-1]
    sets = parameter(key, "setting_temperature").value
    spent = exposure_above(
        times,
        celsius + KELVIN,
        np.array([0.0, sets + KELVIN]),
        q10=parameter(key, "loss_per_ten_degrees").value,
        reference_temperature=_TABLE_C + KELVIN,
    )
    return [float(x) for x in _SET_SHARE * spent[:, 0] + (1.0 - _SET_SHARE) * spent[:, 1]]
