"""Which foods need time and temperature control: the pH and water-activity tables."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.provenance import Citation
from setwell.tables.reading import Line, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "id", "table", "aw_low", "aw_low_edge", "aw_high", "aw_high_edge",
    "ph_low", "ph_low_edge", "ph_high", "ph_high_edge", "verdict",
    "grade", "source", "locator", "note",
)  # fmt: skip
_EDGES = frozenset({"incl", "excl", "open"})
_VERDICTS = frozenset({"no control needed", "assessment needed"})


@dataclass(frozen=True, slots=True)
class Band:
    """A stretch of a scale; None = open on that side."""

    low: float | None
    is_low_included: bool
    high: float | None
    is_high_included: bool

    def contains(self, value: float) -> bool:
        """True when the value lies in the stretch."""
        if self.low is not None and (
            value < self.low or (value == self.low and not self.is_low_included)
        ):
            return False
        return self.high is None or (
            value < self.high or (value == self.high and self.is_high_included)
        )


@dataclass(frozen=True, slots=True)
class TcsCell:
    """One cell: table A is heat-treated and packed, table B everything else."""

    key: str
    table: str
    water_activity: Band
    ph: Band
    needs_assessment: bool
    citation: Citation
    note: str

    def contains(self, water_activity: float, ph: float) -> bool:
        """True when a food of this water activity and pH falls into the cell."""
        return self.water_activity.contains(water_activity) and self.ph.contains(ph)


@cache
def tcs_cells(folder: Path = FOLDER) -> tuple[TcsCell, ...]:
    """Return the cells of both tables."""
    return tuple(_cell(line) for line in table_lines(folder / "tcs.csv", _COLUMNS))


def _cell(line: Line) -> TcsCell:
    return TcsCell(
        key=line.required("id"),
        table=line.choice("table", frozenset({"A", "B"})),
        water_activity=_band(line, "aw"),
        ph=_band(line, "ph"),
        needs_assessment=line.choice("verdict", _VERDICTS) == "assessment needed",
        citation=line.citation(),
        note=line.text("note"),
    )


def _band(line: Line, name: str) -> Band:
    return Band(
        low=line.number_or_none(f"{name}_low"),
        is_low_included=line.choice(f"{name}_low_edge", _EDGES) == "incl",
        high=line.number_or_none(f"{name}_high"),
        is_high_included=line.choice(f"{name}_high_edge", _EDGES) == "incl",
    )
