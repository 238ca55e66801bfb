"""Reference amounts of servings, tolerances of declared amounts, gums as dietary fiber."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.labels.panel_tables import FOLDER, MARKETS
from setwell.tables.reading import table_lines

_CITED = ("grade", "source", "locator", "note")


@dataclass(frozen=True, slots=True)
class ReferenceAmount:
    """What people are taken to eat of a food at one time, `amount` in g or mL.

    `household` is blank where the measure of a weight has to be found by weighing.
    """

    key: str
    food: str
    amount: float
    unit: str
    household: str
    label_unit: str
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class ToleranceBand:
    """How far an analysis may be off a declared amount from `low` on; None = no limit there."""

    low: float
    below: float | None
    above: float | None
    below_pct: float | None
    above_pct: float | None
    citation: Citation


@dataclass(frozen=True, slots=True)
class FiberRule:
    """Whether a market counts what a powder brings; `basis` says what is taken for fiber."""

    ingredient: str
    is_counted: bool
    is_all_but_sugars: bool
    statement: str
    citation: Citation


@cache
def reference_amounts(folder: Path = FOLDER) -> Mapping[str, ReferenceAmount]:
    """Return the US reference amounts by key."""
    columns = ("reference", "food", "amount", "unit", "household", "label_unit", *_CITED)
    units = frozenset({"g", "mL"})
    found: dict[str, ReferenceAmount] = {}
    for line in table_lines(folder / "reference_amounts.csv", columns):
        key, unit, household = (
            line.required("reference"), line.choice("unit", units), line.text("household"),
        )  # fmt: skip
        if (unit == "mL") != bool(household):
            raise TableError(f"{line.place}: a measure belongs to a volume, and only there.")
        found[key] = ReferenceAmount(
            key, line.required("food"), line.number("amount"), unit, household,
            line.choice("label_unit", units), line.citation(), line.text("note"),
        )  # fmt: skip
    return MappingProxyType(found)


@cache
def tolerances(market: str, folder: Path = FOLDER) -> Mapping[str, tuple[ToleranceBand, ...]]:
    """Return the tolerance bands of a market by line of the panel, smallest amounts first."""
    columns = (
        "market", "row", "position", "low", "below", "above", "below_pct", "above_pct", *_CITED,
    )  # fmt: skip
    found: dict[str, tuple[ToleranceBand, ...]] = {}
    for line in table_lines(folder / "tolerances.csv", columns):
        if line.choice("market", MARKETS) != market:
            continue
        band = ToleranceBand(
            line.number("low"), line.number_or_none("below"), line.number_or_none("above"),
            line.number_or_none("below_pct"), line.number_or_none("above_pct"), line.citation(),
        )  # fmt: skip
        row = line.required("row")
        found[row] = (*found.get(row, ()), band)
    return MappingProxyType(found)


@cache
def fiber_rules(market: str, folder: Path = FOLDER) -> Mapping[str, FiberRule]:
    """Return what a market says of each powder as dietary fiber, by ingredient."""
    columns = ("market", "ingredient", "is_counted", "basis", "statement", *_CITED)
    whole = "all but sugars and starch"
    return MappingProxyType(
        {
            line.required("ingredient"): FiberRule(
                line.required("ingredient"),
                line.is_yes("is_counted"),
                line.choice("basis", frozenset({"analyzed", whole})) == whole,
                line.required("statement"),
                line.citation(),
            )
            for line in table_lines(folder / "fiber_rules.csv", columns)
            if line.choice("market", MARKETS) == market
        }
    )
