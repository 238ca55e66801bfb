"""What n candidates come to, as the wishes of a brief need it: the middle of each number."""

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import STIRRING_RATE, YES, Codes
from setwell.engine.pipeline import BatchState
from setwell.engine.proposals.afloat import afloat_of, set_fast
from setwell.engine.texture import TextureState

Array = NDArray[np.float64]


class Predicted(NamedTuple):
    """Arrays of one shape for all candidates.

    `sets` is yes 1, cannot tell 0, no -1. Stiffness and stress in kPa at serving temperature
    (0 without a gel), `strain` at break, `thickness` in mPa·s at slow stirring (NaN where nothing
    flows by a law), `set_c` where half of the stiffness has set on cooling (NaN where none does, or
    where it sets otherwise), `melt_c` where the gel melts and `stands_c` up to where half of its
    stiffness stands (infinite where it never does, NaN without a gel), `haze` 0 to 1, `weeps`
    percent in a week, `frozen` a code as `sets`. `cost` is the price of agents and helpers per kg
    of batch (NaN without prices). `afloat` is how well doses lie in what is listed for keeping
    fine particles afloat: from 0.5 on they do, 0 is cannot tell, -1 too little.
    """

    sets: Codes
    modulus: Array
    stress: Array
    strain: Array
    thickness: Array
    set_c: Array
    melt_c: Array
    stands_c: Array
    haze: Array
    weeps: Array
    frozen: Codes
    cost: Array
    afloat: Array

    def shaped(self, shape: tuple[int, ...]) -> "Predicted":
        """Return the same candidates along other axes."""
        parts = {name: part.reshape(shape) for name, part in self._asdict().items()}
        return Predicted(**parts)

    def taken(self, rows: NDArray[np.intp]) -> "Predicted":
        """Return some of the candidates."""
        parts = {name: part[rows] for name, part in self._asdict().items()}
        return Predicted(**parts)

    @classmethod
    def joined(cls, found: Sequence["Predicted"]) -> "Predicted":
        """Return several rows of candidates as one, in their order."""
        parts: dict[str, Any] = {
            name: np.concatenate([getattr(one, name) for one in found])
            if found
            else np.zeros(0, dtype=np.int8 if name in {"sets", "frozen"} else np.float64)
            for name in cls._fields
        }
        return cls(**parts)


def predicted_of(state: BatchState, cost: Array | None = None) -> Predicted:
    """Return what n computed batches come to; `cost` (n,) as the prices of a draft give it."""
    unknown = np.full(len(state.masses), np.nan)
    return predicted_of_texture(state.texture, unknown if cost is None else cost, afloat_of(state))


def predicted_of_texture(
    texture: TextureState, cost: Array, afloat: Array | None = None
) -> Predicted:
    """Return what n batches come to; `cost` (n,) is the price of agents and helpers per kg.

    `afloat` (n,) is the rating of the doses alone, unknown without.
    """
    count, gel = len(texture.sets), texture.gel
    zero, none = np.zeros(count), np.full(count, np.nan)
    stands = np.zeros(count, dtype=np.bool_) if gel is None else gel.modulus.value > 0
    melt = none if texture.melt_c is None else texture.melt_c.value
    half = none if texture.stands_c is None else texture.stands_c.value
    modulus = zero if gel is None else gel.modulus.value / 1000.0
    return Predicted(
        sets=texture.sets,
        modulus=modulus,
        stress=zero if gel is None else gel.fracture_stress.value / 1000.0,
        strain=none if gel is None else np.where(stands, gel.fracture_strain.value, np.nan),
        thickness=none if texture.flow is None else 1000.0 * texture.flow.at(STIRRING_RATE).value,
        set_c=none if texture.half_set_c is None else texture.half_set_c.value,
        # What set by heat and stands as served, as methylcellulose, does not melt when hotter.
        melt_c=np.where(stands & np.isnan(melt), np.inf, melt),
        stands_c=np.where(stands & np.isnan(half) & np.isnan(melt), np.inf, half),
        haze=zero if texture.haze is None else texture.haze.value,
        weeps=zero if texture.weeps_pct is None else np.nan_to_num(texture.weeps_pct.value),
        frozen=np.full(count, YES) if texture.frozen is None else texture.frozen,
        cost=cost,
        afloat=set_fast(zero if afloat is None else afloat, texture.sets, modulus),
    )
