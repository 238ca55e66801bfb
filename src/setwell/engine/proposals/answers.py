"""What a fully computed proposal comes to, wish by wish, by the whole range of every number."""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from setwell.engine.proposals.afloat import AFLOAT, STANDS_KPA
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.results import WishAnswer
from setwell.engine.proposals.wish_windows import FARTHEST, Wish, Within, distances
from setwell.engine.texture_results import Texture
from setwell.engine.texture_summary import FREEZING
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate
from setwell.units import temperature_print

_CODES = {Verdict.YES: 1, Verdict.CANNOT_TELL: 0, Verdict.NO: -1}
_FROZEN = {words: _CODES[found] for found, words in FREEZING.items()}
_SETS = {Verdict.YES: "sets", Verdict.CANNOT_TELL: "may or may not set",
         Verdict.NO: "does not set"}  # fmt: skip

_CODED = frozenset({"sets", "frozen"})


class Range(NamedTuple):
    """The middle of a quantity and the ends of its range; NaN where there is no such thing."""

    value: float
    low: float
    high: float


_NONE = Range(np.nan, np.nan, np.nan)
_ZERO = Range(0.0, 0.0, 0.0)


def answers(
    wishes: tuple[Wish, ...],
    texture: Texture,
    *,
    cost: Estimate | None = None,
    middle: Predicted | None = None,
    afloat: str = "",
) -> tuple[WishAnswer, ...]:
    """Return what a texture comes to against each wish.

    `cost` is the price of agents and helpers per kg of batch. `middle` is the same batch as one
    row of Predicted, where it is known; without it the distances are taken from the texture.
    `afloat` tells why particles stay up: a texture alone does not know.
    """
    ranges = texture_ranges(texture, cost)
    if middle is not None:
        ranges |= _only_in(middle, ranges)
    row = middle if middle is not None else _row(ranges)
    far = distances(wishes, row).reshape(len(wishes), -1)[:, 0]
    return tuple(
        WishAnswer(
            wish.key, wish.asked,
            (wish.key == "afloat" and afloat) or _FOUND[wish.key](wish, texture, ranges),
            _holds(wish, ranges), float(off),
        )
        for wish, off in zip(wishes, far, strict=True)
    )  # fmt: skip


def texture_ranges(texture: Texture, cost: Estimate | None) -> dict[str, Range]:
    """Return every quantity of Predicted with its range."""
    gel = _range(texture.modulus_kpa, lacking=_ZERO)
    code, frozen = _CODES[texture.sets], _FROZEN.get(texture.freezing, 0)
    return {
        "sets": Range(code, code, code),
        "modulus": gel,
        "stress": _range(texture.fracture_stress_kpa, lacking=_ZERO),
        "strain": _range(texture.fracture_strain) if gel.value > 0 else _NONE,
        "thickness": _range(texture.viscosity_mpa_s),
        "set_c": _range(texture.half_set_c),
        "melt_c": _melting(texture, texture.melt_c),
        "stands_c": _melting(texture, texture.stands_c),
        "haze": _range(texture.haze),
        "weeps": _range(texture.weeps_pct, lacking=_ZERO),
        "frozen": Range(frozen, frozen, frozen),
        "cost": _range(cost),
        "afloat": _afloat_set(texture, gel),
    }


def _afloat_set(texture: Texture, gel: Range) -> Range:
    """Return whether particles stay up as far as setting tells it."""
    code = max(_CODES[texture.sets], 0) if gel.value > STANDS_KPA else 0
    return Range(code, code, code)


def _only_in(middle: Predicted, ranges: dict[str, Range]) -> dict[str, Range]:
    """Return what a row tells and a texture leaves out: the price, and freezing of a liquid."""
    price, code = float(middle.cost.flat[0]), int(middle.frozen.flat[0])
    afloat = float(middle.afloat.flat[0])
    found = {"frozen": Range(code, code, code), "afloat": Range(afloat, afloat, afloat)}
    return found | ({"cost": Range(price, price, price)} if np.isnan(ranges["cost"].value) else {})


def _range(found: Estimate | None, *, lacking: Range = _NONE) -> Range:
    if found is None:
        return lacking
    low = -np.inf if found.low is None else found.low
    return Range(found.value, low, np.inf if found.high is None else found.high)


def _melting(texture: Texture, found: Estimate | None) -> Range:
    """Return where a gel, or half of it, melts; endless where never, or where heat set it."""
    stands = texture.modulus_kpa is not None and texture.modulus_kpa.value > 0
    if found is None and texture.melt_c is None and (texture.melts or stands):
        return Range(np.inf, np.inf, np.inf)
    return _range(found)


def _row(ranges: dict[str, Range]) -> Predicted:
    return Predicted._make(
        np.array([ranges[name].value], dtype=np.int8 if name in _CODED else np.float64)
        for name in Predicted._fields
    )


def _holds(wish: Wish, ranges: dict[str, Range]) -> Verdict:
    """Return whether all windows hold over the whole range; no where one holds nowhere in it."""
    found = [_inside(window, ranges[window.quantity]) for window in wish.windows]
    if Verdict.NO in found:
        return Verdict.NO
    return Verdict.CANNOT_TELL if Verdict.CANNOT_TELL in found else Verdict.YES


def _inside(window: Within, found: Range) -> Verdict:
    if window.quantity in _CODED:
        # The code is an answer by itself: cannot tell stays cannot tell.
        return {1: Verdict.YES, 0: Verdict.CANNOT_TELL}.get(int(found.value), Verdict.NO)
    if window.quantity == "afloat" and found.value == 0.0:
        # Nothing is listed for it, or against it.
        return Verdict.CANNOT_TELL
    if np.isnan(found.value):
        if window.if_nan >= FARTHEST:
            return Verdict.NO
        has_none = window.if_nan == 0.0 and window.quantity != "cost"
        return Verdict.YES if has_none else Verdict.CANNOT_TELL
    low = -np.inf if window.low is None else window.low
    high = np.inf if window.high is None else window.high
    if found.low >= low and found.high <= high:
        return Verdict.YES
    return Verdict.NO if found.high < low or found.low > high else Verdict.CANNOT_TELL


def _sets(wish: Wish, texture: Texture, ranges: dict[str, Range]) -> str:
    del wish
    gel, told = ranges["modulus"], _SETS[texture.sets]
    if texture.sets is Verdict.NO:
        return told
    if gel.value <= 0 and texture.sets is Verdict.YES:
        return f"{told}, and has melted when served"
    return f"{told}: {_figures(gel)} kPa when served"


def _break(wish: Wish, texture: Texture, ranges: dict[str, Range]) -> str:
    del wish
    if not ranges["stress"].value > 0:
        return "has no gel to break"
    word = f", {texture.regions[0]}" if texture.regions else ""
    stress, strain = ranges["stress"], ranges["strain"]
    return f"breaks at {_figures(stress)} kPa and a strain of {_figures(strain)}{word}"


def _firmness(wish: Wish, texture: Texture, ranges: dict[str, Range]) -> str:
    if any(window.quantity == "thickness" for window in wish.windows):
        return _thickness(wish, texture, ranges)
    if not ranges["modulus"].value > 0:
        return "has no stiffness when served"
    word = f", {texture.firmness}" if texture.firmness else ""
    return f"stiffness {_figures(ranges['modulus'])} kPa{word}"


def _thickness(wish: Wish, texture: Texture, ranges: dict[str, Range]) -> str:
    del wish
    if np.isnan(ranges["thickness"].value):
        return "how thick it is cannot be computed"
    word = f", {texture.flow_word}" if texture.flow_word else ""
    return f"{_figures(ranges['thickness'])} mPa·s when stirred{word}"


def _clarity(wish: Wish, texture: Texture, ranges: dict[str, Range]) -> str:
    del wish
    if np.isnan(ranges["haze"].value):
        return "how clear it looks is not known"
    return f"looks {texture.clarity} (haze {_figures(ranges['haze'])}, 0 clear to 1 opaque)"


def _melts(wish: Wish, texture: Texture, ranges: dict[str, Range]) -> str:
    found = ranges[wish.windows[0].quantity]
    if np.isinf(found.value):
        return texture.melts or "sets on heating, and stands while it is hot"
    return "has no gel to melt" if np.isnan(found.value) else f"melts at {_degrees(found)}"


def _freezing(wish: Wish, texture: Texture, ranges: dict[str, Range]) -> str:
    del wish
    words = {code: told for told, code in _FROZEN.items()}
    return texture.freezing or words[int(ranges["frozen"].value)]


def _afloat(wish: Wish, texture: Texture, ranges: dict[str, Range]) -> str:
    del wish, texture
    if ranges["afloat"].value >= AFLOAT:
        return "it sets, or a listed dose is in it"
    return "no law tells whether particles stay up"


def _setting(wish: Wish, texture: Texture, ranges: dict[str, Range]) -> str:
    found, least = ranges["set_c"], wish.windows[0].low
    if texture.sets is Verdict.NO:
        return "does not set"
    if np.isnan(found.value):
        return "sets without being cooled"
    needed = (
        ""
        if least is None
        else f"; in that time it takes {temperature_print(round(least))} or more"
    )
    return f"sets at {_degrees(found)} on cooling{needed}"


def _cost(wish: Wish, texture: Texture, ranges: dict[str, Range]) -> str:
    del texture
    found, most = ranges["cost"], wish.windows[0].high
    if np.isnan(found.value):
        return "cannot tell: not all agents have a price in the pantry"
    left = "" if most is None else f", of {most:.2f} that the base leaves"
    least = "at least " if np.isinf(found.high) else ""
    return f"agents come to {least}{found.value:.2f} per kg{left}"


def _figures(found: Range) -> str:
    return f"{_figure(found.value)} ({_figure(found.low)} to {_figure(found.high)})"


def _figure(value: float) -> str:
    """Return two digits that count, never with an exponent."""
    if not np.isfinite(value):
        return "any" if value > 0 else "0"
    return f"{float(f'{value:.2g}'):,.10g}"


def _degrees(found: Range) -> str:
    high = "no end" if np.isinf(found.high) else f"{found.high:.0f} °C"
    return f"{temperature_print(round(found.value))}, {found.low:.0f} to {high}"


_FOUND: dict[str, Callable[[Wish, Texture, dict[str, Range]], str]] = {
    "sets": _sets, "texture": _break, "firmness": _firmness, "thickness": _thickness,
    "clarity": _clarity, "mouth": _melts, "holds": _melts, "freezing": _freezing,
    "plating": _firmness, "afloat": _afloat, "setting": _setting, "cost": _cost,
}  # fmt: skip
