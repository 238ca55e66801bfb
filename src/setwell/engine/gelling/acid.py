"""Strength left after acid: a first prior, where the rate law will take over."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import AgentInput
from setwell.engine.spans import Spans

Array = NDArray[np.float64]

# Strength left at these pH values when the sol is hot while it is acid, and when the acid comes
# late. A prior without a source, drawn around the kitchen rule "below pH 4 it gels badly".
_PH = (2.5, 3.0, 3.5, 4.0, 4.5, 5.0)
_HOT = (0.05, 0.15, 0.35, 0.65, 0.90, 1.0)
_LATE = (0.20, 0.45, 0.70, 0.85, 0.97, 1.0)
# Acid above this temperature counts as hot (common practice: add it at or below 60 °C).
_HOT_C = 70.0


def strength_kept(agent: AgentInput, *, sensitivity: float) -> Spans:
    """Return the share of the strength left; `sensitivity` 1 is kappa, 0 is untouched."""
    ph = agent.water.ph
    acid_c = agent.process.acid_c
    late = ~np.isnan(acid_c) & (acid_c <= _HOT_C)
    value = np.where(late, _curve(ph.value, _LATE), _curve(ph.value, _HOT))
    low = np.where(late, _curve(ph.low, _LATE), _curve(ph.low, _HOT))
    high = np.where(late | np.isnan(acid_c), _curve(ph.high, _LATE), _curve(ph.high, _HOT))
    return Spans(*(1.0 - sensitivity * (1.0 - part) for part in (value, low, high)))


def _curve(ph: Array, kept: tuple[float, ...]) -> Array:
    return np.asarray(np.interp(ph, _PH, kept))
