"""A missed wish in a chef's words: by how much, and what was asked."""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.wish_windows import OPEN, Wish, Within
from setwell.engine.texture_summary import CLARITY
from setwell.units import temperature_print

Array = NDArray[np.float64]

# A stiffness that only asks for a gel or for none [kPa].
_STANDS_KPA = 0.01
STANDS_NOT, SETS_INSTEAD = "does not stand as a gel", "sets to a gel"


class Miss(NamedTuple):
    """One window of a wish that one candidate misses.

    `value` is what it comes to, `asked` the end of the window that it misses; `is_low` where the
    value is below it. `is_limit` where no candidate compared with comes nearer.
    """

    quantity: str
    value: float
    asked: float
    is_low: bool
    is_limit: bool = False


class _Words(NamedTuple):
    low: Callable[[Miss], str]
    high: Callable[[Miss], str]
    missing: str
    # Whether the wish itself says better than a number what is asked.
    is_asked: bool = False


def missed(wish: Wish, found: Predicted, row: int) -> Miss | None:
    """Return the window of a wish that candidate `row` misses most; None where all are met."""
    told = [(_size(window, value), window, value)
            for window in wish.windows
            if (value := _value(window, found, row)) is not None]  # fmt: skip
    worst = max(told, key=lambda one: one[0], default=None)
    if worst is None or worst[0] <= OPEN:
        return None
    _, window, value = worst
    is_low = window.low is not None and value < window.low
    asked = window.low if is_low else window.high
    if asked is None or np.isnan(value):
        return Miss(window.quantity, value, float("nan"), is_low)
    limit = _limit(window, found, is_low=is_low)
    return Miss(
        window.quantity, value if limit is None else limit, asked, is_low, limit is not None
    )


def miss_text(miss: Miss, wish: Wish) -> str:
    """Return one missed window in plain words."""
    words = _WORDS.get(miss.quantity)
    if words is None:
        return f"not one that {wish.asked}"
    if np.isnan(miss.value):
        return words.missing
    told = words.low(miss) if miss.is_low else words.high(miss)
    if miss.quantity in {"melt_c", "stands_c"} and miss.is_low:
        return f"{told}, below the {temperature_print(miss.asked)} of one that {wish.asked}"
    return f"{told}, asked is one that {wish.asked}" if words.is_asked else told


def _value(window: Within, found: Predicted, row: int) -> float | None:
    value = getattr(found, window.quantity, None)
    return None if value is None else float(np.ravel(np.asarray(value, dtype=np.float64))[row])


def _size(window: Within, value: float) -> float:
    """Return how far off a value is, in the units of the window's scale."""
    if np.isnan(value):
        return window.if_nan
    low, high = window.low, window.high
    if window.is_log:
        value = float(np.log(max(value, 1e-12)))
        low = None if low is None else float(np.log(low))
        high = None if high is None else float(np.log(high))
    below = 0.0 if low is None else (low - value) / window.scale
    above = 0.0 if high is None else (value - high) / window.scale
    return max(0.0, below, above)


def _limit(window: Within, found: Predicted, *, is_low: bool) -> float | None:
    """Return the nearest that any candidate comes to an end that all of them miss."""
    values = np.ravel(np.asarray(getattr(found, window.quantity), dtype=np.float64))
    nearest = float(np.nanmax(values) if is_low else np.nanmin(values))
    end = window.low if is_low else window.high
    if end is None or (nearest >= end if is_low else nearest <= end):
        return None
    return nearest


def figure(value: float) -> str:
    """Return a number with two digits, never with an exponent."""
    return f"{float(f'{value:.2g}'):,.10g}"


def _asked(miss: Miss, unit: str = "") -> str:
    """Return what it comes to and what is asked, such as "1.2 kPa at most; 5 kPa is asked"."""
    reach = (" at most" if miss.is_low else " at least") if miss.is_limit else ""
    return f"{figure(miss.value)}{unit}{reach}; {figure(miss.asked)}{unit} is asked"


def _firmness(miss: Miss) -> str:
    if miss.asked <= _STANDS_KPA:
        return STANDS_NOT if miss.is_low else SETS_INSTEAD
    return f"too {'soft' if miss.is_low else 'firm'} ({_asked(miss, ' kPa')})"


def _strength(miss: Miss) -> str:
    lead = "too weak" if miss.is_low else "too tough"
    return f"{lead} (breaks at {_asked(miss, ' kPa')})"


def _strain(miss: Miss) -> str:
    lead = "too brittle" if miss.is_low else "too elastic"
    return f"{lead} (breaks at a strain of {_asked(miss)})"


def _thickness(miss: Miss) -> str:
    return f"too {'thin' if miss.is_low else 'thick'} ({_asked(miss, ' mPa·s')})"


def _melts(miss: Miss) -> str:
    if np.isinf(miss.value):
        return "never melts"
    return f"melts {'' if miss.is_low else 'only '}at {temperature_print(round(miss.value))}"


def _sets_at(miss: Miss) -> str:
    return f"sets {'only' if miss.is_low else 'already'} at {temperature_print(round(miss.value))}"


def _cloudy(miss: Miss) -> str:
    # An end of a clarity is the edge of its word.
    look, asked = (
        next(word for edge, word in CLARITY if haze < edge)
        for haze in (miss.value, miss.asked * (1.0 - 1e-9))
    )
    return f"{look}, and {asked} is asked"


def _sets_not(miss: Miss) -> str:
    return "will not set" if miss.value < 0 else "may not set"


def _freezes(miss: Miss) -> str:
    return "breaks and weeps after freezing" if miss.value < 0 else "may weep after freezing"


def _costs(miss: Miss) -> str:
    reach = " at least" if miss.is_limit else ""
    return f"its powders cost {miss.value:.3g} a kilogram{reach}"


def _weeps(miss: Miss) -> str:
    return f"weeps {figure(miss.value)} % in a week, and {figure(miss.asked)} % is the most"


def _sinks(miss: Miss) -> str:
    if miss.value < 0:
        return "takes less than any dose listed for keeping particles afloat"
    return "no list tells that it keeps particles afloat at such a dose"


def _both(tell: Callable[[Miss], str], missing: str, *, is_asked: bool = False) -> _Words:
    return _Words(tell, tell, missing, is_asked)


_WORDS: dict[str, _Words] = {
    "sets": _Words(_sets_not, lambda _: SETS_INSTEAD, "does not set"),
    "modulus": _both(_firmness, "has no gel to be firm"),
    "stress": _both(_strength, "has no gel to break"),
    "strain": _both(_strain, "has no gel to bend"),
    "thickness": _both(_thickness, "does not flow by a known law"),
    "set_c": _both(_sets_at, "does not set on cooling", is_asked=True),
    "melt_c": _both(_melts, "has no gel to melt", is_asked=True),
    "stands_c": _both(_melts, "has no gel to stand", is_asked=True),
    "haze": _both(_cloudy, "nobody knows how clear it is"),
    "weeps": _both(_weeps, "nobody knows how it weeps"),
    "frozen": _both(_freezes, "nobody knows how it freezes"),
    "afloat": _both(_sinks, "nobody knows whether particles stay up in it"),
    "cost": _both(_costs, "has no price", is_asked=True),
}
