"""Wishes as windows on computed numbers, and how far millions of candidates are from them."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.proposals.predicted import Predicted

Array = NDArray[np.float64]
Bits = NDArray[np.uint32]

# No candidate is farther off than this in one wish: beyond it all are equally hopeless.
FARTHEST = 6.0
# Less than this is no miss: half of what a taster notices, and finer than doses are tried.
OPEN = 0.5
# What is not there at all still has a logarithm.
_LEAST = 1e-12
# The codes of yes, cannot tell and no, at the place that each has as an index.
_BY_INDEX = np.array([0.0, 1.0, -1.0])


class Within(NamedTuple):
    """From where to where one quantity of Predicted may lie; None is an open side.

    `scale` is how far off counts as 1: on the natural log axis where `is_log`, in the unit of the
    quantity else. `if_nan` is the distance where the quantity does not exist.
    """

    quantity: str
    low: float | None
    high: float | None
    scale: float
    is_log: bool = False
    if_nan: float = FARTHEST


@dataclass(frozen=True, slots=True)
class Wish:
    """One wish: its key, its words, the windows that all have to hold, and its weight.

    `asked` follows on "it": "holds up to 62 °C", "looks clear".
    """

    key: str
    asked: str
    windows: tuple[Within, ...]
    weight: float = 1.0


def distances(wishes: tuple[Wish, ...], found: Predicted) -> Array:
    """Return how far all candidates are from each wish, shape (wishes, ...); 0 where it holds."""
    shape = np.shape(found.sets)
    out = np.zeros((len(wishes), *shape), dtype=np.result_type(found.modulus, np.float32))
    logs: dict[str, Array] = {}
    for row, wish in zip(out, wishes, strict=True):
        for window in wish.windows:
            # Every miss is 0 or more, so that the worst window can be kept in place.
            np.maximum(row, _off(window, found, logs), out=row)
    return out


def mask_of(found: Array) -> Bits:
    """Return one bit per wish that is not met, from distances (wishes, ...); wish 0 is bit 0.

    A wish counts as met within OPEN of its window: doses are tried in steps, and a law is not
    finer than that.
    """
    out = np.zeros(found.shape[1:], dtype=np.uint32)
    for bit, row in enumerate(found):
        out |= (row > OPEN).astype(np.uint32) << np.uint32(bit)
    return out


def unmet(wishes: tuple[Wish, ...], mask: int) -> tuple[Wish, ...]:
    """Return the wishes whose bit is set."""
    return tuple(wish for bit, wish in enumerate(wishes) if mask >> bit & 1)


def kept_text(wishes: tuple[Wish, ...], mask: int) -> str:
    """Return in words how many wishes are kept, and which are not."""
    missed = unmet(wishes, mask)
    if not missed:
        return "every wish" if len(wishes) > 1 else "the wish"
    told = "; ".join(wish.asked for wish in missed)
    return f"{len(wishes) - len(missed)} of {len(wishes)} wishes, not: {told}"


def _off(window: Within, found: Predicted, logs: dict[str, Array]) -> Array:
    """Return the distance from one window; a fresh array or a single number per code."""
    value = getattr(found, window.quantity)
    if np.issubdtype(np.asarray(value).dtype, np.integer):
        return np.asarray(_from(window, _BY_INDEX)[value])
    if not window.is_log:
        return _from(window, value)
    if window.quantity not in logs:
        floor = np.maximum(value, _LEAST)
        logs[window.quantity] = np.log(floor)
    return _from(window, logs[window.quantity])


def _from(window: Within, middle: Array) -> Array:
    low, high = _end(window, window.low), _end(window, window.high)
    if low is None and high is None:
        return np.where(np.isnan(middle), window.if_nan, 0.0)
    off = _beyond(middle, low, high)
    off /= window.scale
    # What is endless is as far as anything; what is not there comes out as not a number.
    np.clip(off, 0.0, FARTHEST, out=off)
    np.copyto(off, window.if_nan, where=np.isnan(off))
    return off


def _beyond(middle: Array, low: float | None, high: float | None) -> Array:
    """Return by how much a value lies outside, in its own unit; below zero inside."""
    if low is None:
        return np.asarray(middle - high)
    below = np.asarray(low - middle)
    return below if high is None else np.maximum(below, middle - high, out=below)


def _end(window: Within, value: float | None) -> float | None:
    return float(np.log(value)) if window.is_log and value is not None else value
