"""What is known of two texture agents together."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import MissingDataError, TableError
from setwell.provenance import Citation
from setwell.tables.agents.load import FOLDER, agent_rows
from setwell.tables.reading import table_lines

_COLUMNS = (
    "first", "second", "property", "value", "low", "high", "unit", "conditions",
    "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class BlendFigure:
    """One figure of a pair; a side the source leaves open repeats the value."""

    value: float
    low: float
    high: float
    unit: str
    conditions: str
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class BlendRow:
    """A pair of agents and its figures; shares are of the first unless a figure says otherwise."""

    first: str
    second: str
    figures: Mapping[str, BlendFigure]

    def figure(self, name: str) -> BlendFigure:
        """Return one figure of the pair."""
        if name not in self.figures:
            raise MissingDataError(
                f"{self.first} with {self.second} has no {name} in the tables.",
                hint=f"Recorded: {', '.join(self.figures)}.",
            )
        return self.figures[name]


@cache
def blend_rows(folder: Path = FOLDER) -> Mapping[tuple[str, str], BlendRow]:
    """Return every known pair by its two keys."""
    known = agent_rows()
    found: dict[tuple[str, str], dict[str, BlendFigure]] = defaultdict(dict)
    for line in table_lines(folder / "blends.csv", _COLUMNS):
        first, second, name = (line.required(c) for c in ("first", "second", "property"))
        for key in (first, second):
            if key not in known:
                raise TableError(f"{line.place}: no agent is called {key}.")
        if name in found[first, second]:
            raise TableError(f"{line.place}: {name} of {first} with {second} stands there twice.")
        value = line.number("value")
        low, high = (line.number_or_none(column) for column in ("low", "high"))
        low, high = value if low is None else low, value if high is None else high
        if not low <= value <= high:
            raise TableError(f"{line.place}: the value lies outside its range.")
        found[first, second][name] = BlendFigure(
            value,
            low,
            high,
            line.required("unit"),
            line.text("conditions"),
            line.citation(),
            line.text("note"),
        )
    return MappingProxyType(
        {pair: BlendRow(*pair, MappingProxyType(rows)) for pair, rows in found.items()}
    )
