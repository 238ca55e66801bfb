"""The texture that a brief asks for: its word, its numbers and its reference as sides."""

from typing import NamedTuple

from setwell.domain.brief import Brief, Plating, TextureWish
from setwell.engine.proposals.trade_words import Side, Sides, TradeWord, trade_word
from setwell.engine.robustness.window import ALIKE
from setwell.engine.texture_results import Texture
from setwell.engine.verdict import Verdict
from setwell.errors import InputError, OutOfRangeError
from setwell.provenance import Estimate

# The shares of a strain that tasters tell apart (our judgment).
STRAIN_ALIKE = 1.25
QUANTITIES = ("modulus", "stress", "strain", "thickness")
OF_GELS = ("modulus", "stress", "strain")
NAMES = {"modulus": "stiffness", "stress": "stress at break", "strain": "strain at break",
         "thickness": "thickness"}  # fmt: skip
UNITS = {"modulus": " kPa", "stress": " kPa", "strain": "", "thickness": " mPa·s"}

# What a way of plating says about setting; a spoon takes both.
_PLATED = {Plating.POURS: False, Plating.UNMOLDS: True}


class TextureAsk(NamedTuple):
    """Sides of the quantities of a texture, and whether it has to set.

    `sets` True asks for a gel, False for a liquid, None leaves it open. `is_like` marks sides
    read from a reference.
    """

    sides: Sides
    sets: bool | None
    word: TradeWord | None
    is_like: bool


def texture_ask(brief: Brief, like: Texture | None) -> TextureAsk:
    """Return what a brief asks of the texture. Raises InputError at a field of it."""
    wish = brief.texture
    word = trade_word(wish.word) if wish.word.strip() else None
    numbers = _numbers(wish)
    if wish.like.strip() and like is None:
        raise InputError(
            f"There is no texture of “{wish.like.strip()}” to read.",
            field="texture.like",
            hint="Choose a saved formula, or ask in words or numbers.",
        )
    sets = _sets(brief, word, numbers, like)
    sides = _like_sides(like, sets=sets) if like is not None else {}
    told = set(sides)
    for name, side in (word.sides if word is not None else {}).items():
        sides[name] = side
    for name, side in numbers.items():
        asked = word.sides.get(name) if word is not None else None
        sides[name] = side if asked is None or word is None else _both(name, word, asked, side)
    told -= {*numbers, *(word.sides if word is not None else ())}
    return TextureAsk(sides, sets, word, bool(told))


def asks_for_liquid(brief: Brief) -> bool:
    """Return whether words, numbers or plating ask for a liquid; a reference is not asked."""
    word = trade_word(brief.texture.word) if brief.texture.word.strip() else None
    return _sets(brief, word, _numbers(brief.texture), None) is False


def _numbers(wish: TextureWish) -> dict[str, Side]:
    """Return the sides given as numbers."""
    found = {}
    for name in QUANTITIES:
        side = Side(getattr(wish, f"{name}_low"), getattr(wish, f"{name}_high"))
        if side.low is not None and side.high is not None and side.low > side.high:
            raise OutOfRangeError(
                f"The {NAMES[name]} is to be at least {side.low:g}{UNITS[name]} and at most "
                f"{side.high:g}{UNITS[name]}: nothing can be both.",
                field=f"texture.{name}_low",
                hint="Swap the two, or leave one empty.",
            )
        if not side.is_open:
            found[name] = side
    return found


def _both(name: str, word: TradeWord, asked: Side, side: Side) -> Side:
    """Return what a word and numbers leave together."""
    low = max((end for end in (asked.low, side.low) if end is not None), default=None)
    high = min((end for end in (asked.high, side.high) if end is not None), default=None)
    if low is not None and high is not None and low > high:
        is_low = side.low is not None and asked.high is not None and side.low > asked.high
        raise InputError(
            f"“{word.name}” means a {NAMES[name]} {side_text(name, asked)}, and one "
            f"{side_text(name, side)} is asked for.",
            field=f"texture.{name}_{'low' if is_low else 'high'}",
            hint="Leave the number empty, or choose another word.",
        )
    return Side(low, high)


def _sets(
    brief: Brief, word: TradeWord | None, numbers: dict[str, Side], like: Texture | None
) -> bool | None:
    """Return whether it has to set: as said, else as word, numbers, plating and reference mean."""
    if brief.texture.sets is not None:
        return brief.texture.sets
    if word is not None and word.sets is not None:
        return word.sets
    if brief.plating in _PLATED:
        return _PLATED[brief.plating]
    if any(name in numbers and (name != "modulus" or numbers[name].low) for name in OF_GELS):
        return True
    if "thickness" in numbers:
        return False
    return _is_gel(like) if like is not None and like.sets is not Verdict.CANNOT_TELL else None


def _like_sides(like: Texture, *, sets: bool | None) -> dict[str, Side]:
    """Return sides around a reference: of a gel its firmness and break, of a liquid its flow."""
    gel: dict[str, Estimate | None] = {
        "modulus": like.modulus_kpa,
        "stress": like.fracture_stress_kpa,
        "strain": like.fracture_strain,
    }
    wanted = gel if _is_gel(like) else {"thickness": like.viscosity_mpa_s}
    if sets is not None and sets is not _is_gel(like):
        return {}
    return {
        name: _around(one.value, STRAIN_ALIKE if name == "strain" else ALIKE)
        for name, one in wanted.items()
        if one is not None and one.value > 0
    }


def _is_gel(like: Texture) -> bool:
    stands = like.modulus_kpa is not None and like.modulus_kpa.value > 0
    return like.sets is not Verdict.NO and stands


def _around(value: float, factor: float) -> Side:
    return Side(float(f"{value / factor:.3g}"), float(f"{value * factor:.3g}"))


def side_text(name: str, side: Side) -> str:
    """Return from where to where, with the unit: "of 2 to 20 kPa", "of at least 0.9"."""
    unit = UNITS[name]
    if side.low is None:
        return f"of at most {side.high:.3g}{unit}"
    if side.high is None:
        return f"of at least {side.low:.3g}{unit}"
    return f"of {side.low:.3g} to {side.high:.3g}{unit}"
