"""Times and temperatures of US law for dairy and liquid egg, and for whole roasts."""

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, table_lines

FOLDER = Path(__file__).parent
_SOURCE = ("grade", "source", "locator", "note")
_HOLD = ("id", "temperature_c", "temperature_f", "time_s", "section", *_SOURCE)
_PASTEURIZATION = ("regime", "product", "food", "status", *_HOLD)
_ROAST = ("applies_to", "edition", *_HOLD)
REGIMES = frozenset(
    {"milk", "rich_dairy", "egg_dairy", "ultra", "liquid_egg", "dried_white", "guidance"}
)
_STATUS = frozenset({"in force", "state code", "benchmark", "guidance"})


@dataclass(frozen=True, slots=True)
class PasteurizationRow:
    """Hold this temperature [°C] everywhere for this time [s]; 0 = no hold.

    The rows of one regime and food are alternatives. Nothing may be read between them.
    """

    key: str
    regime: str
    product: str
    food: str
    temperature_c: float
    temperature_f: float
    time_s: float
    status: str
    section: str
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class RoastRow:
    """A row for whole meat roasts, and for nothing else: [°C], [s]."""

    key: str
    temperature_c: float
    temperature_f: float
    time_s: float
    applies_to: str
    edition: str
    section: str
    citation: Citation


@cache
def pasteurization_rows(folder: Path = FOLDER) -> tuple[PasteurizationRow, ...]:
    """Return the rows of all regimes, each regime from the coolest to the hottest."""
    path = folder / "pasteurization.csv"
    rows = [_row(line) for line in table_lines(path, _PASTEURIZATION)]
    rows.sort(key=lambda row: (row.regime, row.food, row.temperature_c))
    for below, above in pairwise(rows):
        same = (below.regime, below.food) == (above.regime, above.food)
        if same and above.time_s >= below.time_s:
            raise TableError(f"{path.name}: {above.key} is hotter than {below.key}, not shorter.")
    return tuple(rows)


def _row(line: Line) -> PasteurizationRow:
    return PasteurizationRow(
        key=line.required("id"),
        regime=line.choice("regime", REGIMES),
        product=line.required("product"),
        food=line.required("food"),
        temperature_c=line.number("temperature_c"),
        temperature_f=line.number("temperature_f"),
        time_s=line.number("time_s"),
        status=line.choice("status", _STATUS),
        section=line.required("section"),
        citation=line.citation(),
        note=line.text("note"),
    )


@cache
def roast_rows(folder: Path = FOLDER) -> tuple[RoastRow, ...]:
    """Return the rows for whole meat roasts from the coolest to the hottest."""
    rows = (
        RoastRow(
            key=line.required("id"),
            temperature_c=line.number("temperature_c"),
            temperature_f=line.number("temperature_f"),
            time_s=line.number("time_s"),
            applies_to=line.required("applies_to"),
            edition=line.required("edition"),
            section=line.required("section"),
            citation=line.citation(),
        )
        for line in table_lines(folder / "roasts.csv", _ROAST)
    )
    return tuple(sorted(rows, key=lambda row: row.temperature_c))
