"""The side tables of the foods: density, portions, pH, buffering, minerals, labels."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from setwell.errors import TableError
from setwell.tables.foods.rows import (
    MINERALS,
    SUGARS,
    AllergenTag,
    Buffering,
    Density,
    Enzyme,
    Fraction,
    PhRange,
    Portion,
)
from setwell.tables.foods.sheet import Row, sheet_rows

K = TypeVar("K")
T = TypeVar("T")
Scope = tuple[str, str]
CERTAINTIES = ("contains", "check")
SCOPES = ("key", "group", "default")
VERDICTS = ("yes", "no", "check")


@dataclass(frozen=True, slots=True)
class Diet:
    """Whether a food fits a vegan or a vegetarian diet, and why not."""

    vegan: str
    vegetarian: str
    reason: str


@dataclass(frozen=True, slots=True)
class SideTables:
    """Every side table by key, or by scope and name."""

    density: dict[str, Density]
    portions: dict[str, list[Portion]]
    ph: dict[str, PhRange]
    buffering: dict[Scope, Buffering]
    dissolved: dict[tuple[str, str, str], Fraction]
    allergens: dict[str, list[AllergenTag]]
    diets: dict[str, Diet]
    enzymes: dict[str, Enzyme]
    sugars: dict[str, dict[str, float | None]]

    def subjects(self) -> Iterator[tuple[str, Scope]]:
        """Yield each file name with the foods, groups or default it speaks of."""
        for table in ("density", "portions", "ph", "allergens", "diets", "enzymes", "sugars"):
            for key in getattr(self, table):
                yield table, ("key", key)
        for scope in self.buffering:
            yield "buffering", scope
        for kind, name, _ in self.dissolved:
            yield "dissolved", (kind, name)


def side_tables_read(folder: Path) -> SideTables:
    """Read all side tables of one folder."""
    return SideTables(
        density=_single("density", folder, _key, _density),
        portions=_several("portions", folder, _portion),
        ph=_single("ph", folder, _key, _ph),
        buffering=_single("buffering", folder, _scope, _buffering),
        dissolved=_single("dissolved", folder, _mineral_scope, _fraction),
        allergens=_several("allergens", folder, _allergen),
        diets=_single("diets", folder, _key, _diet),
        enzymes=_single("enzymes", folder, _key, _enzyme),
        sugars=_single("sugars", folder, _key, _sugars),
    )


def _single(
    name: str, folder: Path, index: Callable[[Row], K], read: Callable[[Row], T]
) -> dict[K, T]:
    found: dict[K, T] = {}
    for row in sheet_rows(name, folder):
        key = index(row)
        if key in found:
            raise TableError(f"{row.place}: {key} is there twice.")
        found[key] = read(row)
    return found


def _several(name: str, folder: Path, read: Callable[[Row], T]) -> dict[str, list[T]]:
    found: dict[str, list[T]] = {}
    for row in sheet_rows(name, folder):
        found.setdefault(row.required("key"), []).append(read(row))
    return found


def _key(row: Row) -> str:
    return row.required("key")


def _scope(row: Row) -> Scope:
    scope = row.choice("scope", SCOPES)
    return scope, "" if scope == "default" else row.required("name")


def _mineral_scope(row: Row) -> tuple[str, str, str]:
    return *_scope(row), row.choice("mineral", MINERALS)


def _density(row: Row) -> Density:
    value, low, high = row.range()
    return Density(
        value,
        low,
        high,
        kind=row.choice("kind", ("liquid", "bulk")),
        temperature_c=row.optional_number("temperature_c"),
        citation=row.citation(),
        note=row.text("note"),
    )


def _portion(row: Row) -> Portion:
    return Portion(
        row.required("measure"), row.number("grams"), row.text("description"), row.citation()
    )


def _ph(row: Row) -> PhRange:
    return PhRange(*row.range(), citation=row.citation(), note=row.text("note"))


def _buffering(row: Row) -> Buffering:
    return Buffering(
        *row.range(),
        conditions=row.text("conditions"),
        citation=row.citation(),
        note=row.text("note"),
    )


def _fraction(row: Row) -> Fraction:
    return Fraction(*row.range(), citation=row.citation(), note=row.text("note"))


def _allergen(row: Row) -> AllergenTag:
    return AllergenTag(
        row.required("allergen"),
        row.text("kind"),
        row.choice("certainty", CERTAINTIES),
        row.text("note"),
    )


def _diet(row: Row) -> Diet:
    vegan = row.choice("vegan", VERDICTS)
    return Diet(vegan, row.choice("vegetarian", VERDICTS), row.text("reason"))


def _enzyme(row: Row) -> Enzyme:
    return Enzyme(
        row.required("enzyme"),
        row.choice("strength", ("strong", "some")),
        row.choice("certainty", CERTAINTIES),
        citation=row.citation(),
        note=row.text("note"),
    )


def _sugars(row: Row) -> dict[str, float | None]:
    row.citation()
    return {name: row.optional_number(f"{name}_g") for name in SUGARS}
