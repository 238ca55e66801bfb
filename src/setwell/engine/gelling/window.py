"""Does something in the batch lie where an agent gels?"""

import numpy as np

from setwell.engine.gelling.parameters import parameter
from setwell.engine.gelling.state import CANNOT_TELL, NO, YES, AgentInput, Codes, Condition
from setwell.engine.spans import Spans

_EVERYTHING = (-np.inf, np.inf)
# A table window ends softly: this far outside nobody expects a gel any more (our judgment).
_PH_EDGE = 1.0


def inside(
    found: Spans, window: tuple[float, float], surely_out: tuple[float, float] = _EVERYTHING
) -> Codes:
    """Return yes inside the window, no beyond both of the outer bounds, else cannot tell."""
    yes = (found.low >= window[0]) & (found.high <= window[1])
    no = (found.high < surely_out[0]) | (found.low > surely_out[1])
    return np.where(yes, YES, np.where(no, NO, CANNOT_TELL)).astype(np.int8)


def ph_condition(agent: AgentInput) -> Condition:
    """Return the condition that the pH lies in the window of the table."""
    known = parameter(agent.key, "ph_window")
    ph = agent.water.ph
    holds = inside(ph, (known.low, known.high), (known.low - _PH_EDGE, known.high + _PH_EDGE))
    need = f"pH {known.low:g} to {known.high:g}"
    return Condition("acidity", holds, ph, "pH", need)
