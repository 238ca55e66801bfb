"""How a wish can ask for less: what to change in the brief so that one candidate meets it."""

from collections.abc import Callable, Sequence
from math import ceil, floor, isfinite, log10
from typing import NamedTuple

import numpy as np

from setwell.domain.brief import Brief, Clarity, Plating, brief_make
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.setting_time import hours_to_stand
from setwell.engine.proposals.texture_ask import (
    NAMES,
    QUANTITIES,
    UNITS,
    TextureAsk,
    texture_ask,
)
from setwell.engine.proposals.trade_words import Side
from setwell.engine.proposals.wish_windows import Wish
from setwell.engine.proposals.wishes import MARGIN_K
from setwell.engine.robustness.window import SPOON_KPA
from setwell.engine.texture_results import Texture
from setwell.engine.texture_summary import CLARITY
from setwell.units import temperature_print

Changes = tuple[tuple[str, str], ...]
# The longest that a brief may give a gel to set [h].
_LONGEST_H = 240.0
_OPEN_SIDE = Side(None, None)
_UNNAMED = (("texture.word", ""), ("texture.like", ""), ("texture.like_number", ""))


class Loosened(NamedTuple):
    """One way to ask for less, in words and as fields of the brief with their new values.

    An empty value sets a field back to what it is when nothing is asked. `before` comes first,
    where a word or a reference is to be written out as numbers.
    """

    text: str
    changes: Changes
    before: Changes = ()


class _Case(NamedTuple):
    """A wish, the brief it is of, and the candidate that is to meet it."""

    wish: Wish
    brief: Brief
    ask: TextureAsk
    row: Predicted

    def value(self, quantity: str) -> float:
        """Return a quantity of the candidate."""
        return float(getattr(self.row, quantity)[0])


def brief_changed(brief: Brief, changes: Changes) -> Brief:
    """Return the brief with other values in some fields, dotted for inner ones.

    An empty value sets a field back; several names are parted by commas. Raises DocumentError.
    """
    fields = brief.model_dump(mode="json")
    for path, value in changes:
        *outer, last = path.split(".")
        inner = fields
        for name in outer:
            inner = inner[name]
        if isinstance(inner.get(last), list):
            inner[last] = [one.strip() for one in value.split(",") if one.strip()]
        elif not value:
            inner.pop(last, None)
        else:
            inner[last] = value
    return brief_make(**fields)


def ways_to_loosen(
    wish: Wish, brief: Brief, row: Predicted, like: Texture | None
) -> tuple[Loosened, ...]:
    """Return the ways in which a wish can ask for less of one candidate, the mildest first."""
    return tuple(_WAYS[wish.key](_Case(wish, brief, texture_ask(brief, like), row)))


def loosened_together(steps: Sequence[Loosened]) -> Changes:
    """Return the changes of several ways at once, one for each field."""
    told = [change for step in steps for change in step.before]
    told += [change for step in steps for change in step.changes]
    return tuple(dict(told).items())


def _sides(case: _Case) -> list[Loosened]:
    """Move the ends that are missed as far as needed; else leave the quantity open."""
    names, before = _names(case), _written_out(case)
    sides = {name: case.ask.sides[name] for name in names}
    moved = {name: _moved(side, case.value(name)) for name, side in sides.items()}
    words = " and ".join(NAMES[name] for name in names)
    opened = dict.fromkeys(names, _OPEN_SIDE)
    dropped = Loosened(f"leave {words} open", _numbers(opened), before)
    if not all(case.value(name) > 0 for name in names):
        return [dropped]
    told = [text for name in names for text in _moves(name, sides[name], moved[name])]
    return [Loosened(", ".join(told), _numbers(moved), before), dropped]


def _moved(side: Side, value: float) -> Side:
    low, high = side
    if low is not None and value < low:
        low = _rounded(value, floor)
    if high is not None and value > high:
        high = _rounded(value, ceil)
    return Side(low, high)


def _rounded(value: float, to: Callable[[float], int]) -> float:
    """Return a number with two digits, rounded outward so that the candidate lies inside."""
    if not value > 0 or not isfinite(value):
        return value
    step = 10.0 ** (floor(log10(value)) - 1)
    return float(f"{to(value / step) * step:.12g}")


def _moves(name: str, before: Side, after: Side) -> list[str]:
    told = []
    for word, old, new in (("from", before.low, after.low), ("up to", before.high, after.high)):
        if old is not None and new is not None and old != new:
            unit = UNITS[name]
            told.append(f"{NAMES[name]} {word} {new:g}{unit} instead of {old:.3g}{unit}")
    return told


def _written_out(case: _Case) -> Changes:
    """Return the texture of a brief as numbers, where its word or reference no longer holds."""
    word = case.ask.word
    if not case.ask.is_like and (word is None or not set(word.sides) & set(_names(case))):
        return ()
    sets = "" if case.ask.sets is None else str(case.ask.sets).lower()
    every = {name: case.ask.sides.get(name, _OPEN_SIDE) for name in QUANTITIES}
    return (*_UNNAMED, ("texture.sets", sets), *_numbers(every))


def _numbers(sides: dict[str, Side]) -> Changes:
    return tuple(
        (f"texture.{name}_{end}", "" if value is None else f"{value:.12g}")
        for name, side in sides.items()
        for end, value in zip(("low", "high"), side, strict=True)
    )


def _names(case: _Case) -> list[str]:
    return [window.quantity for window in case.wish.windows]


def _setting_at_all(case: _Case) -> list[Loosened]:
    """Give up the gel, or let a liquid set, with all that asks for it."""
    gone = (*_UNNAMED, *_numbers(dict.fromkeys(QUANTITIES, _OPEN_SIDE)))
    if case.wish.windows[0].quantity != "sets":
        return [Loosened("let it set", (*gone, ("texture.sets", "true"), ("plating", "")))]
    gone += (("texture.sets", "false"), ("mouth", ""), ("holds_c", ""), ("limits.set_within_h", ""))
    told = "give up the gel, and take a liquid"
    spooned = [Loosened(told, gone)] if case.brief.plating is Plating.SPOONS else []
    return [*spooned, Loosened(told, (*gone, ("plating", "")))]


def _clarity(case: _Case) -> list[Loosened]:
    haze, levels = case.value("haze"), list(Clarity)
    looser = levels[levels.index(case.brief.clarity) + 1 :]
    edges = {word: edge for edge, word in CLARITY}
    found = [
        Loosened(f"allow {level.value}", (("clarity", level.value),))
        for level in looser
        if haze <= edges[level.value]
    ]
    return [*found[:1], Loosened("let it be opaque", (("clarity", ""),))]


def _mouth(case: _Case) -> list[Loosened]:
    melts = case.brief.mouth.value == "melts"
    text = "it need not melt in the mouth" if melts else "it need not hold in a warm mouth"
    return [Loosened(text, (("mouth", ""),))]


def _holds(case: _Case) -> list[Loosened]:
    wanted, melts = case.brief.holds_c, case.value("stands_c")
    dropped = Loosened("it need not stand hot", (("holds_c", ""),))
    if wanted is None or not isfinite(melts) or melts - MARGIN_K < case.brief.serving_c:
        return [dropped]
    hot = floor(melts - MARGIN_K)
    text = f"hold at {temperature_print(hot)} instead of {temperature_print(wanted)}"
    return [Loosened(text, (("holds_c", f"{hot:g}"),)), dropped]


def _freezing(case: _Case) -> list[Loosened]:
    del case
    return [Loosened("do not freeze it", (("is_frozen", ""),))]


def _afloat(case: _Case) -> list[Loosened]:
    del case
    return [Loosened("stir it up before serving, as particles may sink", (("keeps_afloat", ""),))]


def _plating(case: _Case) -> list[Loosened]:
    dropped = Loosened("leave open how it is plated", (("plating", ""),))
    stiff = case.value("modulus")
    if case.brief.plating is Plating.UNMOLDS and SPOON_KPA[0] <= stiff <= SPOON_KPA[1]:
        spooned = (("plating", Plating.SPOONS.value),)
        return [Loosened("spoon it instead of unmolding it", spooned), dropped]
    return [dropped]


def _setting(case: _Case) -> list[Loosened]:
    dropped = Loosened("leave open how long it sets", (("limits.set_within_h", ""),))
    asked, limits = case.brief.limits.set_within_h, case.brief.limits
    set_c = case.value("set_c")
    if asked is None or np.isnan(set_c):
        return [dropped]
    hours = hours_to_stand(set_c, case.brief.portion_g, hottest_c=limits.max_temperature_c)
    if hours > _LONGEST_H:
        return [dropped]
    text = f"let it set for {hours:g} h instead of {asked:g} h"
    return [Loosened(text, (("limits.set_within_h", f"{hours:g}"),)), dropped]


def _cost(case: _Case) -> list[Loosened]:
    asked, most = case.brief.cost_most, case.wish.windows[0].high
    dropped = Loosened("leave the cost open", (("cost_most", ""),))
    if asked is None or most is None:
        return [dropped]
    more = (case.value("cost") - most) * case.brief.portion_g / 1000.0
    needed = ceil(100.0 * (asked + more) + 1e-6) / 100.0
    text = f"pay up to {needed:.2f} a portion instead of {asked:.2f}"
    return [Loosened(text, (("cost_most", f"{needed:.2f}"),)), dropped]


_WAYS: dict[str, Callable[[_Case], list[Loosened]]] = {
    "sets": _setting_at_all, "texture": _sides, "firmness": _sides, "thickness": _sides,
    "clarity": _clarity, "mouth": _mouth, "holds": _holds, "freezing": _freezing,
    "plating": _plating, "afloat": _afloat, "setting": _setting, "cost": _cost,
}  # fmt: skip
