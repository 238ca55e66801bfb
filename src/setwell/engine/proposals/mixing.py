"""Agents that no pair law joins: what each does is added, for all their doses at once."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import YES
from setwell.engine.proposals.afloat import beside, set_fast
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.tables import Columns
from setwell.engine.texture import CARRIES, stands_to

Array = NDArray[np.float64]
Indices = NDArray[np.intp]


def mixed(parts: list[Columns], light: Array) -> tuple[Predicted, Array]:
    """Return what sets of agents come to together, and their burden in the order.

    Each part is one agent, or a pair whose law was applied, of m sets; all have the shape
    (m, levels, ...) with an axis of its own for each agent's doses. The same sums as in the
    texture of a batch, on the middle of each number. `light` (levels,) passes the base.
    """
    modulus = _sum([part.modulus for part in parts])
    total = np.where(modulus > 0, modulus, 1.0)
    shares = [part.modulus / total for part in parts]
    log_strain = _sum([s * part.log_strain for s, part in zip(shares, parts, strict=True)])
    price, burden = _sum([part.price for part in parts]), _sum([part.burden for part in parts])
    sets = np.maximum.reduce(_even([part.sets for part in parts]))
    found = Predicted(
        sets=sets.astype(np.int8),
        modulus=modulus,
        stress=_sum([part.stress for part in parts]),
        strain=np.where(modulus > 0, np.exp(log_strain), np.nan),
        thickness=_thickness(parts),
        set_c=_known(_half([part.set_c for part in parts], parts, modulus)),
        melt_c=_melts(parts, shares),
        stands_c=_stands(parts, modulus),
        haze=_haze(parts, light),
        weeps=_sum([s * part.weeps for s, part in zip(shares, parts, strict=True)]),
        frozen=_frozen(parts, shares),
        cost=price,
        afloat=set_fast(_afloat(parts), sets, modulus),
    )
    return found, burden


def slot(stack: Columns, agents: Indices, doses: Indices, at: int, width: int) -> Columns:
    """Return agent number `at` of each of m sets, its doses along an axis of its own."""
    shape = (len(agents), stack.modulus.shape[1], *(1,) * at, len(doses), *(1,) * (width - at - 1))
    return Columns(*(part[agents][:, :, doses].reshape(shape) for part in stack))


def _sum(parts: list[Array]) -> Array:
    total = parts[0]
    for part in parts[1:]:
        total = total + part
    return total


def _even(parts: list[Array]) -> list[Array]:
    return list(np.broadcast_arrays(*parts))


def _known(value: Array) -> Array:
    """Return temperatures with NaN where there is none."""
    return np.where(np.isneginf(value), np.nan, value)


def _thickness(parts: list[Columns]) -> Array:
    """Return what the agents add to the thickest liquid among them."""
    liquid = parts[0].liquid
    for part in parts[1:]:
        liquid = np.fmax(liquid, part.liquid)
    return liquid + _sum([part.added for part in parts])


def _melts(parts: list[Columns], shares: list[Array]) -> Array:
    """Return where the most heat-proof agent that carries the gel melts."""
    melt = np.full(shares[0].shape, -np.inf)
    stands = np.zeros(melt.shape, dtype=np.bool_)
    for share, part in zip(shares, parts, strict=True):
        melt = np.maximum(melt, np.where(share >= CARRIES, part.melt_c, -np.inf))
        stands |= share > 0
    # What set by heat and stands as served does not melt when hotter.
    return np.where(stands & np.isneginf(melt), np.inf, _known(melt))


def _half(celsius: list[Array], parts: list[Columns], modulus: Array) -> Array:
    """Return up to which of their temperatures parts of half of the stiffness reach."""
    even = [_even([at, part.modulus, modulus]) for at, part in zip(celsius, parts, strict=True)]
    return stands_to([one[0] for one in even], [one[1] for one in even], modulus)


def _stands(parts: list[Columns], modulus: Array) -> Array:
    """Return up to where half of the stiffness stands; endless for what set by heat alone."""
    best = _half([part.stands_c for part in parts], parts, modulus)
    by_heat = modulus > 0
    for part in parts:
        by_heat = by_heat & ~((part.modulus >= CARRIES * modulus) & (part.melt_c > -np.inf))
    return np.where(np.isneginf(best) & by_heat, np.inf, _known(best))


def _afloat(parts: list[Columns]) -> Array:
    return beside([part.afloat for part in parts], [part.is_always for part in parts])


def _haze(parts: list[Columns], light: Array) -> Array:
    through = light.reshape(1, -1, *(1,) * (parts[0].clear.ndim - 2))
    for part in parts:
        through = through * part.clear
    return 1.0 - through


def _frozen(parts: list[Columns], shares: list[Array]) -> NDArray[np.int8]:
    weakest = np.full(shares[0].shape, float(YES))
    is_gel = _sum(shares) > 0
    thick = np.maximum(_sum([part.added for part in parts]), 1e-9)
    for share, part in zip(shares, parts, strict=True):
        by_flow = np.where(part.has_flow > 0, part.added / thick, 1.0)
        by_gel = np.where(part.is_always > 0, 1.0, share)
        counts = np.where(is_gel, by_gel, by_flow) >= CARRIES
        weakest = np.minimum(weakest, np.where(counts, part.frozen, float(YES)))
    return weakest.astype(np.int8)
