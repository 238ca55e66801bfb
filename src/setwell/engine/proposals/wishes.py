"""The wishes of a brief, each as windows on computed numbers.

Everything is computed at the temperature of serving. What gels on heating, such as
methylcellulose, has a gel only where it is served hot, and counts there as never melting; served
cold it has none, and holds nothing. That it softens again as it cools is not judged.
"""

from math import log

from setwell.domain.brief import Brief, Clarity, Mouth, Plating
from setwell.domain.formula import formula_make
from setwell.engine.cost import cost
from setwell.engine.plan import plan_build
from setwell.engine.proposals.afloat import AFLOAT, STANDS_KPA
from setwell.engine.proposals.base import BriefBase
from setwell.engine.proposals.setting_time import least_setting_c
from setwell.engine.proposals.texture_ask import (
    NAMES,
    STRAIN_ALIKE,
    TextureAsk,
    side_text,
    texture_ask,
)
from setwell.engine.proposals.trade_words import WordKind
from setwell.engine.proposals.wish_checks import wishes_check
from setwell.engine.proposals.wish_windows import (
    FARTHEST,
    OPEN,
    Wish,
    Within,
    distances,
    kept_text,
    mask_of,
    unmet,
)
from setwell.engine.robustness.window import ALIKE, POURS_MPA_S, SLICE_KPA, SPOON_KPA
from setwell.engine.texture import MOUTH_C
from setwell.engine.texture_results import Texture
from setwell.engine.texture_summary import CLARITY
from setwell.errors import InputError
from setwell.units import temperature_print

__all__ = ["FARTHEST", "OPEN", "Wish", "Within", "distances", "kept_text", "mask_of", "unmet",
           "wishes_of"]  # fmt: skip

# What is to hold in a warm mouth and a warm room stands up to here (our judgment) [°C].
HOLDS_C = 45.0
# A gel melts this far above the heat it has to stand: laws of melting are no finer [K].
MARGIN_K = 5.0
# How far off counts as 1 (our judgment): kelvin, shares of light, parts of a price.
_SCALE_K, _SCALE_HAZE, _SCALE_PRICE = 5.0, 0.1, 0.05
_ALIKE, _STRAIN_ALIKE = log(ALIKE), log(STRAIN_ALIKE)
# A code of cannot tell is half off, of no four.
_SURE_SCALE, _CODE_SCALE = 2.0, 0.25
_WORDS = {WordKind.BREAK: "texture", WordKind.FIRMNESS: "firmness", WordKind.FLOW: "thickness"}
_TEXTURES = frozenset({"sets", "texture", "firmness", "thickness", "plating", "afloat"})


def wishes_of(brief: Brief, base: BriefBase, *, like: Texture | None = None) -> tuple[Wish, ...]:
    """Return the wishes of a brief; `like` is the texture that `texture.like` names.

    Around a reference stiffness, stress and thickness may be off by a factor of 1.5, the strain
    by one of 1.25. Raises InputError at the field of a wish that cannot be, or that contradicts
    another.
    """
    ask = texture_ask(brief, like)
    wishes_check(brief, ask)
    found = (
        _sets(brief, ask), *_sides(ask), _clarity(brief), _mouth(brief), _holds(brief),
        _freezing(brief), _plating(brief, ask), _afloat(brief), _setting(brief),
        _cost(brief, base),
    )  # fmt: skip
    wishes = tuple(wish for wish in found if wish is not None)
    if not any(wish.key in _TEXTURES for wish in wishes):
        raise InputError(
            "The brief does not say what texture is wanted.",
            field="texture",
            hint="Choose a word, give a number, name a reference, or say how it is plated.",
        )
    return wishes


def must_set(brief: Brief, ask: TextureAsk) -> bool | None:
    """Return whether a brief asks for a gel, by its texture or by what only a gel can do."""
    if ask.sets is not None:
        return ask.sets
    hot = brief.mouth is not Mouth.ANY or brief.holds_c is not None
    plated = brief.plating in {Plating.UNMOLDS, Plating.SPOONS}
    return True if hot or plated or brief.limits.set_within_h is not None else None


def _sets(brief: Brief, ask: TextureAsk) -> Wish | None:
    sets, served = must_set(brief, ask), temperature_print(brief.serving_c)
    if sets is None:
        return None
    if not sets:
        liquid = Within("modulus", None, STANDS_KPA, _ALIKE, is_log=True)
        return Wish("sets", f"is liquid when served at {served}", (liquid,))
    stands = Within("modulus", STANDS_KPA, None, _ALIKE, is_log=True)
    return Wish("sets", f"sets, and stands when served at {served}", (*_yes("sets"), stands))


def _yes(quantity: str) -> tuple[Within, Within]:
    """Return windows on a code: cannot tell is as far off as still counts, no is hopeless."""
    return Within(quantity, 1.0, None, _SURE_SCALE), Within(quantity, 0.0, None, _CODE_SCALE)


def _sides(ask: TextureAsk) -> list[Wish | None]:
    return [
        _side_wish("texture", ("stress", "strain"), "breaks at a", ask),
        _side_wish("firmness", ("modulus",), "has a", ask),
        _side_wish("thickness", ("thickness",), "has a", ask),
    ]


def _side_wish(key: str, names: tuple[str, ...], verb: str, ask: TextureAsk) -> Wish | None:
    windows, told = [], []
    for name in names:
        side = ask.sides.get(name)
        if side is None:
            continue
        scale = _STRAIN_ALIKE if name == "strain" else _ALIKE
        windows.append(Within(name, side.low, side.high, scale, is_log=True))
        noun = NAMES[name].removesuffix(" at break") if key == "texture" else NAMES[name]
        told.append(f"{noun} {side_text(name, side)}")
    if not windows:
        return None
    text = f"{verb} {' and a '.join(told)}"
    if ask.word is not None and _WORDS[ask.word.kind] == key:
        text = f"is {ask.word.name}: {text}"
    elif ask.is_like:
        text = f"is like the reference: {text}"
    return Wish(key, text, tuple(windows))


def _clarity(brief: Brief) -> Wish | None:
    if brief.clarity is Clarity.ANY:
        return None
    edge = next(edge for edge, word in CLARITY if word == brief.clarity.value)
    least = "" if brief.clarity is Clarity.CLEAR else " or clearer"
    window = Within("haze", None, edge, _SCALE_HAZE, if_nan=OPEN)
    return Wish("clarity", f"looks {brief.clarity.value}{least}", (window,))


def _mouth(brief: Brief) -> Wish | None:
    if brief.mouth is Mouth.ANY:
        return None
    if brief.mouth is Mouth.MELTS:
        middle, width = sum(MOUTH_C) / 2.0, MOUTH_C[1] - MOUTH_C[0]
        return Wish("mouth", "melts in the mouth", (Within("melt_c", None, middle, width),))
    window = Within("stands_c", HOLDS_C, None, _SCALE_K)
    return Wish("mouth", "holds in a warm mouth", (window,))


def _holds(brief: Brief) -> Wish | None:
    if brief.holds_c is None:
        return None
    least = brief.holds_c + MARGIN_K
    window = Within("stands_c", least, None, _SCALE_K)
    return Wish("holds", f"stands up to {temperature_print(brief.holds_c)}", (window,))


def _freezing(brief: Brief) -> Wish | None:
    if not brief.is_frozen:
        return None
    return Wish("freezing", "comes through freezing", _yes("frozen"))


def _plating(brief: Brief, ask: TextureAsk) -> Wish | None:
    if brief.plating is Plating.UNMOLDS:
        window = Within("modulus", SLICE_KPA, None, _ALIKE, is_log=True)
        return Wish("plating", "is firm enough to unmold", (window,))
    if brief.plating is Plating.SPOONS and must_set(brief, ask):
        window = Within("modulus", *SPOON_KPA, _ALIKE, is_log=True)
        return Wish("plating", "can be spooned", (window,))
    if brief.plating is Plating.SPOONS:
        window = Within("thickness", POURS_MPA_S, None, _ALIKE, is_log=True)
        return Wish("plating", "is thick enough to be spooned", (window,))
    if brief.plating is Plating.POURS:
        thin = Within("thickness", None, POURS_MPA_S, _ALIKE, is_log=True, if_nan=OPEN)
        return Wish("plating", "pours", (thin,))
    return None


def _afloat(brief: Brief) -> Wish | None:
    if not brief.keeps_afloat:
        return None
    # What no list tells of is no answer here: it is off by 1, and too little by 3.
    window = Within("afloat", AFLOAT, None, AFLOAT)
    return Wish("afloat", "keeps fine particles afloat", (window,))


def _setting(brief: Brief) -> Wish | None:
    hours = brief.limits.set_within_h
    if hours is None:
        return None
    least = least_setting_c(hours, brief.portion_g, hottest_c=brief.limits.max_temperature_c)
    # What sets by ions or heat has no setting temperature, and waits for no fridge.
    window = Within("set_c", least, None, _SCALE_K, if_nan=0.0)
    return Wish("setting", f"stands {hours:g} h after pouring", (window,))


def _cost(brief: Brief, base: BriefBase) -> Wish | None:
    if brief.cost_most is None:
        return None
    currency, most = base.catalog.kitchen.currency, 1000.0 * brief.cost_most / brief.portion_g
    left = most - base_cost(base)
    if left <= 0:
        raise InputError(
            f"The base alone costs {base_cost(base) * brief.portion_g / 1000.0:.2f} {currency} a "
            f"portion, and all of it is to cost {brief.cost_most:.2f} {currency} at most.",
            field="cost_most",
            hint="Raise the ceiling, or take a cheaper base or a smaller portion.",
        )
    window = Within("cost", None, left, _SCALE_PRICE, is_log=True, if_nan=0.0)
    text = f"costs at most {brief.cost_most:.2f} {currency} a portion"
    return Wish("cost", text, (window,))


def base_cost(base: BriefBase) -> float:
    """Return what a kilogram of the finished base costs; a lower bound while prices lack."""
    formula = formula_make(title="base", ingredients="\n".join(base.lines))
    plan = plan_build(formula, catalog=base.catalog, parts=base.parts)
    finished = base.grams * (1.0 - base.evaporation)
    found = cost(
        plan, (plan.line_masses() @ plan.expansion)[0], kitchen=base.catalog.kitchen,
        usable_g=finished, portions=None,
    ).per_100g  # fmt: skip
    return 0.0 if found is None else 10.0 * found.value
