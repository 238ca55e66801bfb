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
# No, cannot tell and yes, in the order of their codes.
_CODES = np.array([-1.0, 0.0, 1.0])
# So many candidates at a time stay in the cache of a processor.
_BLOCK = 16_384


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
    kind = np.result_type(found.modulus, np.float32)
    flat = Predicted._make(np.asarray(part).reshape(-1) for part in found)
    out = np.zeros((len(wishes), flat.sets.size), dtype=kind)
    spare = np.empty(min(_BLOCK, flat.sets.size), dtype=kind)
    for start in range(0, flat.sets.size, _BLOCK):
        block = slice(start, start + _BLOCK)
        _distances(wishes, Predicted._make(part[block] for part in flat), out[:, block], spare)
    return out.reshape(len(wishes), *np.shape(found.sets))


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


def _distances(wishes: tuple[Wish, ...], found: Predicted, out: Array, spare: Array) -> None:
    """Write the distances of one block into `out`, which holds zeros."""
    logs: dict[str, Array] = {}
    off = spare[: found.sets.size]
    for row, wish in zip(out, wishes, strict=True):
        for window in wish.windows:
            value = getattr(found, window.quantity)
            if value.dtype.kind == "i":
                _beyond(window, _CODES, by_code := np.empty(3))
                np.take(by_code.astype(off.dtype), value + 1, out=off)
            else:
                _beyond(window, _logs(logs, window, value) if window.is_log else value, off)
            # A row starts at 0, so that what lies inside, below 0, is 0.
            np.maximum(row, off, out=row)


def _logs(known: dict[str, Array], window: Within, value: Array) -> Array:
    """Return the logs of a quantity, once for all windows on it."""
    if window.quantity not in known:
        floor = np.maximum(value, _LEAST)
        known[window.quantity] = np.log(floor, out=floor)
    return known[window.quantity]


def _beyond(window: Within, middle: Array, off: Array) -> None:
    """Write how far outside its window a quantity lies, up to FARTHEST; at most 0 inside."""
    low, high = _end(window, window.low), _end(window, window.high)
    if low is not None:
        np.subtract(low, middle, out=off)
        if high is not None:
            np.maximum(off, middle - high, out=off)
    elif high is not None:
        np.subtract(middle, high, out=off)
    else:
        off.fill(0.0)
    off *= 1.0 / window.scale
    if window.if_nan != FARTHEST:
        np.copyto(off, window.if_nan, where=np.isnan(off))
    # Of a number and what is none, fmin takes the number.
    np.fmin(off, FARTHEST, out=off)


def _end(window: Within, value: float | None) -> float | None:
    return float(np.log(value)) if window.is_log and value is not None else value
