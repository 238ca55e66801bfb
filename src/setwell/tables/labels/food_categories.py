"""Kinds of food by which additives are limited."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
OTHER = "other"
_COLUMNS = (
    "key", "name", "us_food", "eu_category", "group_i", "is_confectionery", "is_closed",
    "lists_all_water", "is_fruit_named", "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FoodCategory:
    """One kind of food with its names in the rules of both markets."""

    key: str
    name: str
    us_food: str
    eu_category: str
    group_i: str
    is_confectionery: bool
    is_closed: bool
    lists_all_water: bool
    is_fruit_named: bool
    citation: Citation

    @property
    def is_for_infants(self) -> bool:
        """True for food that title 21 treats apart."""
        return self.us_food.startswith("infant")


@cache
def food_categories(folder: Path = FOLDER) -> Mapping[str, FoodCategory]:
    """Return the categories by key, `other` last."""
    lines = table_lines(folder / "food_categories.csv", _COLUMNS)
    found = rows_keyed(lines, _category, key=lambda row: row.key)
    if OTHER not in found:
        raise TableError(f"food_categories.csv: the category {OTHER} is missing.")
    ordered = sorted(found.values(), key=lambda one: (one.key == OTHER, one.name))
    return MappingProxyType({one.key: one for one in ordered})


def _category(line: Line) -> FoodCategory:
    return FoodCategory(
        key=line.required("key"),
        name=line.required("name"),
        us_food=line.required("us_food"),
        eu_category=line.required("eu_category"),
        group_i=line.choice("group_i", frozenset({"yes", "no", "check"})),
        is_confectionery=line.is_yes("is_confectionery"),
        is_closed=line.is_yes("is_closed"),
        lists_all_water=line.is_yes("lists_all_water"),
        is_fruit_named=line.is_yes("is_fruit_named"),
        citation=line.citation(),
    )
