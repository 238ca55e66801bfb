"""What n candidates come to, as the wishes of a brief need it: the middle of each number."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import Codes

Array = NDArray[np.float64]


class Predicted(NamedTuple):
    """Arrays of one shape for all candidates.

    `sets` is yes 1, cannot tell 0, no -1. Stiffness and stress in kPa at serving temperature
    (0 without a gel), `strain` at break, `thickness` in mPa·s at slow stirring (NaN where nothing
    flows by a law), `set_c` where the first gel sets on cooling (NaN where none does, or where it
    sets otherwise), `melt_c` where the gel melts (infinite where it never does, NaN without a
    gel), `haze` 0 to 1, `weeps` percent in a week, `frozen` a code as `sets`. `cost` is the price
    of agents and helpers per kg of batch (NaN without prices).
    """

    sets: Codes
    modulus: Array
    stress: Array
    strain: Array
    thickness: Array
    set_c: Array
    melt_c: Array
    haze: Array
    weeps: Array
    frozen: Codes
    cost: Array
