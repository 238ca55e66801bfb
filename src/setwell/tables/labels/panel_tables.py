"""Lines, rounding, daily amounts and energy factors of nutrition panels."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, table_lines

FOLDER = Path(__file__).parent
MARKETS = frozenset({"us", "eu"})
_CITED = ("grade", "source", "locator", "note")


@dataclass(frozen=True, slots=True)
class RoundingBand:
    """How amounts from `low` on are shown: as zero, as a text, or rounded to a step."""

    low: float
    includes_low: bool
    action: str
    step: float | None
    text: str
    also_allowed: str
    citation: Citation


@dataclass(frozen=True, slots=True)
class Rounding:
    """The bands of one line of a panel, smallest amounts first."""

    unit: str
    bands: tuple[RoundingBand, ...]


@dataclass(frozen=True, slots=True)
class DailyAmount:
    """What 100 % are."""

    amount: float
    unit: str
    citation: Citation


@dataclass(frozen=True, slots=True)
class EnergyFactor:
    """Energy of one gram; `kj_per_g` is None where the market labels calories only."""

    kj_per_g: float | None
    kcal_per_g: float
    citation: Citation


@dataclass(frozen=True, slots=True)
class PanelLine:
    """One line of a panel as the rule lists it; `share` is none, plain or stepped."""

    row: str
    label: str
    indent: int
    unit: str
    is_mandatory: bool
    share: str
    insignificant_below: float | None
    is_kept: bool
    citation: Citation


@cache
def roundings(market: str, folder: Path = FOLDER) -> Mapping[str, Rounding]:
    """Return the rounding of every line of a market's panel."""
    columns = (
        "market", "row", "position", "unit", "low", "low_included", "action", "step", "text",
        "also_allowed", *_CITED,
    )  # fmt: skip
    found: dict[str, Rounding] = {}
    for line in _of(market, folder / "rounding.csv", columns):
        row, band = line.required("row"), _band(line)
        before = found.get(row)
        if before is None:
            found[row] = Rounding(line.text("unit"), (band,))
            continue
        if band.low <= before.bands[-1].low:
            raise TableError(f"{line.place}: the bands of {row} do not rise.")
        found[row] = Rounding(before.unit, (*before.bands, band))
    return MappingProxyType(found)


def _band(line: Line) -> RoundingBand:
    action = line.choice("action", frozenset({"zero", "text", "nearest"}))
    step = line.number_or_none("step")
    if (step is not None and step > 0) != (action == "nearest"):
        raise TableError(f"{line.place}: a step belongs to “nearest” and has to be above 0.")
    if (action == "text") != bool(line.text("text")):
        raise TableError(f"{line.place}: a text belongs to “text”, and only there.")
    return RoundingBand(
        line.number("low"), line.is_yes("low_included"), action, step,
        line.text("text"), line.text("also_allowed"), line.citation(),
    )  # fmt: skip


@cache
def daily_amounts(market: str, folder: Path = FOLDER) -> Mapping[str, DailyAmount]:
    """Return the daily values (us) or reference intakes (eu) by line of the panel."""
    columns = ("market", "row", "amount", "unit", *_CITED)
    return MappingProxyType(
        {
            line.required("row"): DailyAmount(
                line.number("amount"), line.required("unit"), line.citation()
            )
            for line in _of(market, folder / "daily_amounts.csv", columns)
        }
    )


@cache
def energy_factors(market: str, folder: Path = FOLDER) -> Mapping[str, EnergyFactor]:
    """Return the energy factors of a market by component."""
    columns = ("market", "component", "kj_per_g", "kcal_per_g", *_CITED)
    return MappingProxyType(
        {
            line.required("component"): EnergyFactor(
                line.number_or_none("kj_per_g"), line.number("kcal_per_g"), line.citation()
            )
            for line in _of(market, folder / "energy_factors.csv", columns)
        }
    )


@cache
def panel_lines(market: str, folder: Path = FOLDER) -> tuple[PanelLine, ...]:
    """Return the lines of a market's panel in their order."""
    columns = (
        "market", "order", "row", "label", "indent", "unit", "is_mandatory", "share",
        "insignificant_below", "is_kept", *_CITED,
    )  # fmt: skip
    return tuple(
        PanelLine(
            row=line.required("row"),
            label=line.required("label"),
            indent=int(line.number("indent")),
            unit=line.required("unit"),
            is_mandatory=line.is_yes("is_mandatory"),
            share=line.choice("share", frozenset({"none", "plain", "stepped"})),
            insignificant_below=line.number_or_none("insignificant_below"),
            is_kept=line.is_yes("is_kept"),
            citation=line.citation(),
        )
        for line in _of(market, folder / "panel_rows.csv", columns)
    )


def _of(market: str, path: Path, columns: tuple[str, ...]) -> list[Line]:
    """Return the lines of one market; a market that no table knows is refused."""
    if market not in MARKETS:
        raise TableError(f"There are no panels for the market “{market}”, only for us and eu.")
    lines = table_lines(path, columns)
    return [line for line in lines if line.choice("market", MARKETS) == market]
