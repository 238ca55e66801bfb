"""How heat kills pathogens in foods that are set, and what a heat treatment is measured by."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, table_lines

FOLDER = Path(__file__).parent
_SOURCE = ("grade", "source", "locator", "note")
_RESISTANCE = (
    "id", "organism", "strain", "medium", "food", "reference_c", "d_min", "d_low_min",
    "d_high_min", "z_c", "z_low_c", "z_high_c", "tested_low_c", "tested_high_c", "bound",
    "is_counted", *_SOURCE,
)  # fmt: skip
_TARGETS = (
    "id", "name", "organism", "aim", "reference_c", "z_c", "z_above_c", "target_min", "target_log",
    "lowest_c", "status", *_SOURCE,
)  # fmt: skip
_BOUNDS = frozenset({"", "at most", "at least"})
_STATUS = frozenset({"industry target", "benchmark"})


@dataclass(frozen=True, slots=True)
class ResistanceRow:
    """A decimal reduction time [min] at a temperature [°C], its z [°C] and where it was tested.

    `z_c` None: none was printed, so above the reference the rate is taken to stay as it is.
    """

    key: str
    organism: str
    strain: str
    medium: str
    food: str
    reference_c: float
    d_min: float
    d_low_min: float
    d_high_min: float
    z_c: float | None
    z_low_c: float | None
    z_high_c: float | None
    tested_low_c: float
    tested_high_c: float
    bound: str
    is_counted: bool
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class LethalityTarget:
    """An equivalent time [min] at a temperature [°C], or a number of decimal reductions."""

    key: str
    name: str
    organism: str
    aim: str
    reference_c: float | None
    z_c: float | None
    z_above_c: float | None
    target_min: float | None
    target_log: float
    lowest_c: float | None
    status: str
    citation: Citation
    note: str


@cache
def resistance_rows(folder: Path = FOLDER) -> tuple[ResistanceRow, ...]:
    """Return every decimal reduction time."""
    return tuple(_row(line) for line in table_lines(folder / "resistance.csv", _RESISTANCE))


def _row(line: Line) -> ResistanceRow:
    d, z = line.number("d_min"), line.number_or_none("z_c")
    row = ResistanceRow(
        key=line.required("id"),
        organism=line.required("organism"),
        strain=line.required("strain"),
        medium=line.required("medium"),
        food=line.required("food"),
        reference_c=line.number("reference_c"),
        d_min=d,
        d_low_min=line.number_or_none("d_low_min") or d,
        d_high_min=line.number_or_none("d_high_min") or d,
        z_c=z,
        z_low_c=line.number_or_none("z_low_c") or z,
        z_high_c=line.number_or_none("z_high_c") or z,
        tested_low_c=line.number("tested_low_c"),
        tested_high_c=line.number("tested_high_c"),
        bound=line.choice("bound", _BOUNDS),
        is_counted=line.is_yes("is_counted"),
        citation=line.citation(),
        note=line.text("note"),
    )
    if not 0.0 < row.d_low_min <= row.d_min <= row.d_high_min:
        raise TableError(f"{line.place}: the reduction time lies outside its range.")
    if not row.tested_low_c <= row.reference_c <= row.tested_high_c:
        raise TableError(f"{line.place}: the reference lies outside the tested range.")
    return row


@cache
def lethality_targets(folder: Path = FOLDER) -> Mapping[str, LethalityTarget]:
    """Return the targets by key."""
    found = {}
    for line in table_lines(folder / "lethality_targets.csv", _TARGETS):
        found[line.required("id")] = LethalityTarget(
            key=line.required("id"),
            name=line.required("name"),
            organism=line.required("organism"),
            aim=line.required("aim"),
            reference_c=line.number_or_none("reference_c"),
            z_c=line.number_or_none("z_c"),
            z_above_c=line.number_or_none("z_above_c"),
            target_min=line.number_or_none("target_min"),
            target_log=line.number("target_log"),
            lowest_c=line.number_or_none("lowest_c"),
            status=line.choice("status", _STATUS),
            citation=line.citation(),
            note=line.text("note"),
        )
    return MappingProxyType(found)
