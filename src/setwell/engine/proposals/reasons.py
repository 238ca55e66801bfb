"""Why an agent that was judged is no answer, in one plain line."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.blend_formula import BlendAgent
from setwell.engine.gelling.no_gel import why_no_gel
from setwell.engine.gelling.state import CANNOT_TELL, NO, YES, AgentState
from setwell.engine.proposals.misses import (
    SETS_INSTEAD,
    STANDS_NOT,
    Miss,
    figure,
    miss_text,
    missed,
)
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.results import FellOut
from setwell.engine.proposals.wish_windows import OPEN, Wish

Array = NDArray[np.float64]

# Only a gel has these.
_OF_A_GEL = frozenset({"sets", "modulus", "stress", "strain", "melt_c", "stands_c"})
_FITS = "fits, but no better than those shown"
_LEADS = {int(YES): "sets, but ", int(CANNOT_TELL): "may set, but "}
# What nothing flows by a law: a gel, perhaps a gel, or neither.
_WITHOUT_FLOW = {
    int(YES): "sets to a gel instead",
    int(CANNOT_TELL): "may set to a gel instead",
    int(NO): "does not thicken here",
}
_OF_BREAK = frozenset({"modulus", "stress", "strain"})
# Less than this share of the thickness asked is hardly any (our judgment).
_HARDLY = 0.01


def why_out(
    agent: BlendAgent,
    wishes: tuple[Wish, ...],
    found: Predicted,
    distances: Array,
    best: int,
    *,
    served_c: float,
    state: AgentState | None = None,
) -> FellOut:
    """Return why one agent by itself is no answer.

    `found` is what its doses with and without helpers come to, `distances` (wishes, ...) how far
    each is from the wishes, `best` the place of the nearest in them, raveled; `state` is the
    agent at these doses.
    """
    off = np.asarray(distances, dtype=np.float64).reshape(len(wishes), -1)
    why = _no_gel(wishes, found, state, served_c) or _why(wishes, found, off, best)
    return FellOut((agent.key,), agent.name, why)


def _wants_gel(wishes: tuple[Wish, ...]) -> bool:
    return any(
        window.quantity in _OF_A_GEL and window.low is not None and window.low > 0.0
        for wish in wishes
        for window in wish.windows
    )


def _no_gel(
    wishes: tuple[Wish, ...], found: Predicted, state: AgentState | None, served_c: float
) -> str:
    """Return why no dose sets where a gel is asked for; empty where one does or might."""
    if not _wants_gel(wishes) or (np.asarray(found.sets) > NO).any():
        return ""
    return "will not set here" if state is None else why_no_gel(state, served_c)


def _why(wishes: tuple[Wish, ...], found: Predicted, off: Array, best: int) -> str:
    weights = np.array([wish.weight for wish in wishes])
    never = off.min(axis=1) > OPEN
    if never.any():
        worst = int(np.argmax(np.where(never, weights * off.min(axis=1), -1.0)))
        row = _nearest(off, weights, off[worst] <= off[worst].min())
        return _told(wishes[worst], found, row)
    misses = weights * np.where(off[:, best] > OPEN, off[:, best], 0.0)
    if not misses.any():
        return _FITS
    worst = int(np.argmax(misses))
    return _told(wishes[worst], found, best) + _or_else(wishes, found, off, worst)


def _or_else(wishes: tuple[Wish, ...], found: Predicted, off: Array, worst: int) -> str:
    """Return what is missed where the worst miss is mended."""
    weights = np.array([wish.weight for wish in wishes])
    row = _nearest(off, weights, off[worst] <= OPEN)
    misses = weights * np.where(off[:, row] > OPEN, off[:, row], 0.0)
    if not misses.any():
        return ""
    other = wishes[int(np.argmax(misses))]
    miss = missed(other, found, row)
    return "" if miss is None else f"; where that is mended, {miss_text(miss, other)}"


def _nearest(off: Array, weights: Array, among: NDArray[np.bool_]) -> int:
    """Return the candidate with the least weighted distance among some."""
    return int(np.argmin(np.where(among, weights @ off, np.inf)))


def _told(wish: Wish, found: Predicted, row: int) -> str:
    """Return one missed wish of one candidate, with what it does instead."""
    miss = missed(wish, found, row)
    if miss is None:
        return f"not one that {wish.asked}"
    sets = np.ravel(found.sets)
    if miss.quantity == "thickness" and np.isnan(miss.value):
        return _WITHOUT_FLOW[int(np.sign(np.max(sets)))]
    if miss.quantity == "thickness" and miss.is_low and miss.is_limit:
        return _at_most(miss)
    text = miss_text(miss, wish)
    if miss.quantity == "sets" or np.isnan(miss.value):
        return text
    if miss.quantity not in _OF_BREAK or text in {STANDS_NOT, SETS_INSTEAD}:
        return text
    return f"{_LEADS.get(int(sets[row]), '')}{text}"


def _at_most(miss: Miss) -> str:
    most, asked = f"{figure(miss.value)} mPa·s at most", f"{figure(miss.asked)} mPa·s is asked"
    if miss.value < _HARDLY * miss.asked:
        return f"hardly thickens here ({most}; {asked})"
    return f"thickens, but to {most}; {asked}"
