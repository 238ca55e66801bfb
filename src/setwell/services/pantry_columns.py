"""The columns of the pantry's CSV files: one for each field, nutrients after the others."""

import datetime as dt
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum, auto

from setwell.domain.document import Document
from setwell.domain.equipment import WallMaterial
from setwell.engine.material import NUTRIENT_KEYS
from setwell.errors import InputError
from setwell.store.entities import Entity

# "None of them" must differ from "not said".
EMPTY_LIST = "none"
_POINT_NUMBER = re.compile(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d{1,3})?", re.ASCII)
_WORDS_YES = frozenset({"yes", "y", "true", "1", "x"})
_WORDS_NO = frozenset({"no", "n", "false", "0"})


class Kind(Enum):
    """How a cell is written."""

    TEXT = auto()
    WORD = auto()
    NUMBER = auto()
    WHOLE = auto()
    DAY = auto()
    YES_NO = auto()
    LIST = auto()


@dataclass(frozen=True, slots=True)
class Column:
    """One column; `needed` ones must be in every file.

    In a list that `says_none`, an empty cell means not said and "none" means none of them.
    `words` are the words a cell may hold, in any case.
    """

    name: str
    kind: Kind = Kind.TEXT
    needed: bool = False
    says_none: bool = False
    words: tuple[str, ...] = ()


def _needed(name: str) -> Column:
    return Column(name, needed=True)


def _number(name: str) -> Column:
    return Column(name, Kind.NUMBER)


_NOTE = Column("note")
_BOUGHT = (
    _number("price_per_kg"),
    _number("pack_g"),
    _number("pack_price"),
    _number("waste_pct"),
    _number("stock_g"),
)
_ALIASES = Column("aliases", Kind.LIST)
_WALL = Column("wall", Kind.WORD, words=tuple(WallMaterial))
_LID = Column("lid", Kind.YES_NO)

COLUMNS: Mapping[Entity, tuple[Column, ...]] = {
    Entity.FOOD: (
        _needed("name"),
        Column("based_on"),
        _ALIASES,
        _number("density_g_ml"),
        _number("each_g"),
        _number("ph_low"),
        _number("ph"),
        _number("ph_high"),
        Column("allergens", Kind.LIST, says_none=True),
        Column("vegan", Kind.WORD),
        Column("vegetarian", Kind.WORD),
        *_BOUGHT,
        Column("supplier"),
        _NOTE,
        *(_number(key) for key in NUTRIENT_KEYS),
    ),
    Entity.AGENT: (
        _needed("name"),
        _needed("based_on"),
        _ALIASES,
        _number("strength_factor"),
        _number("bloom"),
        _number("dose_low_pct"),
        _number("dose_high_pct"),
        *_BOUGHT,
        Column("supplier"),
        _NOTE,
    ),
    Entity.LOT: (
        _needed("agent"),
        _needed("lot_code"),
        Column("supplier"),
        _number("strength_factor"),
        _number("bloom"),
        _number("molar_mass_kda"),
        *_BOUGHT,
        Column("best_before", Kind.DAY),
        Column("in_use", Kind.YES_NO),
        _NOTE,
    ),
    Entity.PRICE: (_needed("material"), *_BOUGHT, Column("supplier")),
    Entity.MOLD: (
        _needed("name"),
        Column("shape"),
        _number("volume_ml"),
        Column("count", Kind.WHOLE),
        _number("length_mm"),
        _number("width_mm"),
        _number("height_mm"),
        _number("diameter_mm"),
        _WALL,
        _number("wall_mm"),
        _number("headspace_mm"),
        _LID,
        _NOTE,
    ),
    Entity.VESSEL: (
        _needed("name"),
        Column("volume_ml", Kind.NUMBER, needed=True),
        _number("diameter_mm"),
        _number("height_mm"),
        _WALL,
        _LID,
        _NOTE,
    ),
    Entity.HOB: (
        _needed("name"),
        Column("kind", Kind.WORD),
        _number("power_w"),
        _number("efficiency"),
        _number("efficiency_low"),
        _number("efficiency_high"),
        Column("measured"),
        _NOTE,
    ),
    Entity.COOLER: (
        _needed("name"),
        Column("kind", Kind.WORD),
        _number("air_c"),
        _number("coefficient_w_m2k"),
        _number("coefficient_low"),
        _number("coefficient_high"),
        _number("inside_l"),
        _number("cooling_w"),
        Column("measured"),
        _NOTE,
    ),
    Entity.READING: (
        _needed("material"),
        Column("ph", Kind.NUMBER, needed=True),
        _number("plus_minus"),
        Column("lot_code"),
        Column("taken_on", Kind.DAY),
        _number("temperature_c"),
        Column("in_use", Kind.YES_NO),
        _NOTE,
    ),
}


def cells_write(entity: Entity, document: Document) -> list[str]:
    """Return a document as one row of cells."""
    nutrients = getattr(document, "nutrients", {})
    return [
        _write(
            nutrients.get(column.name)
            if is_nutrient(entity, column)
            else getattr(document, column.name),
            column,
        )
        for column in COLUMNS[entity]
    ]


def is_nutrient(entity: Entity, column: Column) -> bool:
    """Say whether a column belongs into the nutrients of a food."""
    return entity is Entity.FOOD and column.name in NUTRIENT_KEYS


def cell_read(column: Column, cell: str, *, has_decimal_comma: bool) -> object:
    """Return what a cell says; None when it is empty. Raises InputError with what to write."""
    text = cell.strip()
    if not text:
        return None
    if column.kind is Kind.TEXT:
        return cell
    if column.kind is Kind.NUMBER:
        return _read_number(text, has_decimal_comma=has_decimal_comma)
    if column.words:
        return next((word for word in column.words if word.casefold() == text.casefold()), text)
    return _READERS[column.kind](text)


def _write(value: object, column: Column) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else repr(value)
    if isinstance(value, tuple):
        return _write_list(value) if value or column.says_none else ""
    return str(value)


def _write_list(values: tuple[str, ...]) -> str:
    if not values:
        return EMPTY_LIST
    text = "; ".join(value.replace("\\", "\\\\").replace(";", "\\;") for value in values)
    return f"\\{text}" if text.casefold() == EMPTY_LIST else text


def _read_list(text: str) -> tuple[str, ...]:
    if text.casefold() == EMPTY_LIST:
        return ()
    parts: list[str] = [""]
    characters = iter(text)
    for character in characters:
        if character == "\\":
            parts[-1] += next(characters, "\\")
        elif character == ";":
            parts.append("")
        else:
            parts[-1] += character
    return tuple(part.strip() for part in parts if part.strip())


def _read_day(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise InputError(
            f"“{text[:30]}” is not a day. Write it as year-month-day, such as 2027-03-31."
        ) from None


def _read_yes_no(text: str) -> bool:
    word = text.casefold()
    if word in _WORDS_YES | _WORDS_NO:
        return word in _WORDS_YES
    raise InputError(f"“{text[:30]}” is neither yes nor no.")


def _read_number(text: str, *, has_decimal_comma: bool) -> float:
    written = text.replace(",", ".", 1) if has_decimal_comma and "." not in text else text
    if _POINT_NUMBER.fullmatch(written):
        return float(written)
    if "," in text and not has_decimal_comma:
        raise InputError(
            f"“{text[:30]}” is not a number here. Write a decimal point, not a comma: this file "
            "separates its columns with commas."
        )
    raise InputError(f"“{text[:30]}” is not a number. Write digits only, without a unit.")


def _read_whole(text: str) -> int:
    number = _read_number(text, has_decimal_comma=False)
    if not number.is_integer():
        raise InputError(f"“{text[:30]}” is not a whole number.")
    return int(number)


_READERS: Mapping[Kind, Callable[[str], object]] = {
    Kind.WORD: str.casefold,
    Kind.WHOLE: _read_whole,
    Kind.DAY: _read_day,
    Kind.YES_NO: _read_yes_no,
    Kind.LIST: _read_list,
}
