"""A brief in one line of plain words, and the words there are to choose from."""

from dataclasses import dataclass
from functools import cache

from setwell.domain.brief import Brief, Clarity, Market, Mouth, Plating, TextureWish
from setwell.tables.foods import food_rows
from setwell.tables.rules import firmness_bands, flow_words, texture_regions
from setwell.units import temperature_print

_PLATING = {Plating.UNMOLDS: "unmolds", Plating.SPOONS: "spooned", Plating.POURS: "poured"}
_SCALES = (
    ("modulus", "stiffness", "kPa"),
    ("stress", "break at", "kPa"),
    ("strain", "strain at break", ""),
    ("thickness", "thickness", "mPa·s"),
)


@dataclass(frozen=True, slots=True)
class TextureWord:
    """One word of the trade: the group it stands in and what it means in one line."""

    word: str
    group: str
    statement: str


@cache
def texture_words() -> tuple[TextureWord, ...]:
    """Return the words a texture can be asked for by."""
    tables = (
        ("How it breaks", texture_regions()),
        ("How firm it is", firmness_bands()),
        ("How it flows, without a gel", flow_words()),
    )
    return tuple(
        TextureWord(one.name, group, one.statement) for group, rows in tables for one in rows
    )


@cache
def allergen_names() -> tuple[str, ...]:
    """Return the allergens that the tables know, as the tables name them."""
    found = {tag.allergen for food in food_rows().values() for tag in food.allergens}
    return tuple(sorted(found))


def brief_asked(brief: Brief) -> str:
    """Return what a brief asks for, in one line."""
    return "; ".join(part for part in _parts(brief) if part)


def base_told(brief: Brief) -> str:
    """Return in few words what the agents go into."""
    if brief.base_formula:
        return f"{brief.base_formula} without its agents"
    if brief.composition is not None:
        return f"{brief.composition.name}, by what it is made of"
    lines = [line.strip() for line in brief.base.splitlines() if line.strip()]
    if not lines:
        return "no base yet"
    told = ", ".join(lines[:3])
    return told if len(lines) <= 3 else f"{told} and {len(lines) - 3} more"


def _parts(brief: Brief) -> list[str]:
    limits = brief.limits
    agents = {1: "one agent", 2: "at most two agents"}.get(brief.agents_most, "")
    return [
        _texture(brief.texture),
        "" if brief.clarity is Clarity.ANY else brief.clarity.value,
        f"served at {temperature_print(brief.serving_c)}",
        {Mouth.MELTS: "melts in the mouth", Mouth.HOLDS: "does not melt"}.get(brief.mouth, ""),
        "" if brief.holds_c is None else f"stands at {temperature_print(brief.holds_c)}",
        "may be frozen" if brief.is_frozen else "",
        _PLATING.get(brief.plating, ""),
        "keeps fine particles afloat" if brief.keeps_afloat else "",
        ", ".join(diet.value for diet in brief.diets),
        *(f"no {name.replace('_', ' ')}" for name in brief.without_allergens),
        "" if brief.market is Market.ANY else f"{brief.market.value.upper()} rules",
        ""
        if limits.max_temperature_c >= 100.0
        else f"not above {temperature_print(limits.max_temperature_c)}",
        "" if limits.has_blender else "no blender",
        "" if limits.set_within_h is None else f"set within {limits.set_within_h:g} h",
        agents,
    ]


def _texture(wish: TextureWish) -> str:
    told = [wish.word] if wish.word else []
    if wish.like:
        number = f", version {wish.like_number}" if wish.like_number else ""
        told.append(f"like {wish.like}{number}")
    if wish.sets is not None:
        told.append("sets" if wish.sets else "does not set")
    for name, words, unit in _SCALES:
        low, high = getattr(wish, f"{name}_low"), getattr(wish, f"{name}_high")
        if low is not None or high is not None:
            told.append(f"{words} {_span(low, high)} {unit}".strip())
    return ", ".join(told) or "any texture"


def _span(low: float | None, high: float | None) -> str:
    if low is None:
        return f"up to {high:g}"
    return f"from {low:g}" if high is None else f"{low:g} to {high:g}"
