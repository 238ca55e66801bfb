"""Trade words for a texture as sides of numbers: words of the map, of firmness and of flow."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from setwell.engine.names import names_nearest
from setwell.errors import UnknownNameError
from setwell.tables.rules import (
    TextureRegion,
    WordBand,
    firmness_bands,
    flow_words,
    texture_regions,
)

_OFFERED = 5


class Side(NamedTuple):
    """From where to where a quantity may lie; None is open."""

    low: float | None
    high: float | None

    @property
    def is_open(self) -> bool:
        """True where it may lie anywhere."""
        return self.low is None and self.high is None


Sides = Mapping[str, Side]


class WordKind(StrEnum):
    """What a trade word tells of."""

    BREAK = "break"
    FIRMNESS = "firmness"
    FLOW = "flow"


@dataclass(frozen=True, slots=True)
class TradeWord:
    """A word, what it tells of, and the sides of its numbers in the units of a brief.

    `sets` is True for words of a gel, False for those of a liquid, None for "pours or slumps".
    """

    name: str
    kind: WordKind
    sides: Sides
    sets: bool | None


def trade_words() -> tuple[TradeWord, ...]:
    """Return every word: of the map, of firmness, of flow."""
    return tuple({word.name: word for word in _known().values()}.values())


def trade_word(text: str) -> TradeWord:
    """Return what a word stands for. Raises UnknownNameError at the field `texture.word`."""
    found = _known().get(_normal(text))
    if found is not None:
        return found
    names = {word.name: word for word in trade_words()}
    nearest = names_nearest(text, names)[:_OFFERED]
    offered = nearest or tuple(names)
    raise UnknownNameError(
        f"“{text.strip()}” is no trade word for a texture.",
        field="texture.word",
        hint=f"{'Nearest' if nearest else 'Known'}: {', '.join(offered)}.",
        nearest=nearest,
    )


@cache
def _known() -> Mapping[str, TradeWord]:
    found: dict[str, TradeWord] = {}
    words = (
        *((row.key, _of_break(row)) for row in texture_regions()),
        *((row.key, _of_firmness(row)) for row in firmness_bands()),
        *((row.key, _of_flow(row)) for row in flow_words()),
    )
    for key, word in words:
        found.setdefault(_normal(key), word)
        found.setdefault(_normal(word.name), word)
    return MappingProxyType(found)


def _normal(text: str) -> str:
    return " ".join(text.casefold().replace("_", " ").replace("-", " ").split())


def _of_break(row: TextureRegion) -> TradeWord:
    sides = {
        "stress": _side(row.stress_low, row.stress_high),
        "strain": _side(row.strain_low, row.strain_high),
    }
    return TradeWord(row.name, WordKind.BREAK, _closed(sides), sets=True)


def _of_firmness(row: WordBand) -> TradeWord:
    sides = {"modulus": _side(row.low, row.high)}
    return TradeWord(
        row.name, WordKind.FIRMNESS, _closed(sides), sets=True if row.low > 0 else None
    )


def _of_flow(row: WordBand) -> TradeWord:
    sides = {"thickness": _side(row.low, row.high)}
    return TradeWord(row.name, WordKind.FLOW, _closed(sides), sets=False)


def _side(low: float, high: float | None) -> Side:
    """Return a side; a lower end of nothing is open."""
    return Side(low if low > 0 else None, high)


def _closed(sides: dict[str, Side]) -> Sides:
    return MappingProxyType({name: side for name, side in sides.items() if not side.is_open})
