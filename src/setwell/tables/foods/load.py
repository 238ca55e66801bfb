"""Read the foods with all their side tables."""

from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.tables.foods.nutrients import NUTRIENTS
from setwell.tables.foods.rows import MINERALS, Buffering, FoodRow, Fraction
from setwell.tables.foods.sheet import FOLDER, Row, sheet_rows
from setwell.tables.foods.side_tables import SideTables, side_tables_read


@cache
def food_rows() -> Mapping[str, FoodRow]:
    """Return every food by key, in order of the keys."""
    return food_rows_read(FOLDER)


def food_rows_read(folder: Path) -> Mapping[str, FoodRow]:
    """Return the foods of one folder of tables."""
    side = side_tables_read(folder)
    found: dict[str, FoodRow] = {}
    for row in sheet_rows("composition", folder):
        food = _food(row, side)
        if food.key in found:
            raise TableError(f"{row.place}: the food “{food.key}” is there twice.")
        found[food.key] = food
    _refuse_strangers(side, found.values())
    return MappingProxyType(found)


def _food(row: Row, side: SideTables) -> FoodRow:
    key, group = row.required("key"), row.required("group")
    citation = row.citation()
    diet = side.diets.get(key)
    if diet is None:
        raise TableError(f"{row.place}: “{key}” has no line in diets.csv.")
    return FoodRow(
        key=key,
        name=row.required("name"),
        group=group,
        nutrients=MappingProxyType({n.key: row.optional_number(n.key) for n in NUTRIENTS}),
        grade=citation.grade,
        source=citation.source,
        locator=citation.locator,
        note=row.text("note"),
        density=side.density.get(key),
        portions=tuple(side.portions.get(key, ())),
        ph=side.ph.get(key),
        buffering=_buffering(row, side, key, group),
        dissolved=MappingProxyType({m: _dissolved(row, side, key, group, m) for m in MINERALS}),
        allergens=tuple(side.allergens.get(key, ())),
        vegan=diet.vegan,
        vegetarian=diet.vegetarian,
        diet_reason=diet.reason,
        enzyme=side.enzymes.get(key),
        sugars=MappingProxyType(side.sugars.get(key, {})),
    )


def _scopes(key: str, group: str) -> tuple[tuple[str, str], ...]:
    return ("key", key), ("group", group), ("default", "")


def _buffering(row: Row, side: SideTables, key: str, group: str) -> Buffering:
    for scope in _scopes(key, group):
        if scope in side.buffering:
            return side.buffering[scope]
    raise TableError(f"{row.place}: buffering.csv has no line for “{key}” or “{group}”.")


def _dissolved(row: Row, side: SideTables, key: str, group: str, mineral: str) -> Fraction:
    for scope in _scopes(key, group):
        if (*scope, mineral) in side.dissolved:
            return side.dissolved[(*scope, mineral)]
    raise TableError(f"{row.place}: dissolved.csv has no line for {mineral} in “{key}”.")


def _refuse_strangers(side: SideTables, foods: Iterable[FoodRow]) -> None:
    """A side table must not speak of a food that composition.csv does not have."""
    known = {("group", food.group) for food in foods} | {("default", "")}
    known |= {("key", food.key) for food in foods}
    for name, scope in side.subjects():
        if scope not in known:
            raise TableError(f"{name}.csv speaks of “{scope[1]}”, which composition.csv has not.")
