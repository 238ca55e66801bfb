"""How far the rules for the conductivity of a mixture are off what was measured."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "rule", "label", "bias_pct", "mean_error_pct", "largest_error_pct", "half_width_pct",
    "values", "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class MixingRule:
    """One rule with its errors [%] over a number of measured conductivities."""

    key: str
    label: str
    bias: float
    mean_error: float
    largest_error: float
    half_width: float
    values: int
    citation: Citation


@cache
def mixing_rules(folder: Path = FOLDER) -> Mapping[str, MixingRule]:
    """Return the rules by key."""
    lines = table_lines(folder / "mixing_rules.csv", _COLUMNS)
    return rows_keyed(lines, _rule, key=lambda row: row.key)


def _rule(line: Line) -> MixingRule:
    bias, mean, largest, half = (
        line.number(f"{name}_pct") for name in ("bias", "mean_error", "largest_error", "half_width")
    )
    if not (abs(bias) <= mean <= largest and half > mean):
        raise TableError(f"{line.place}: the errors do not fit together.")
    return MixingRule(
        line.required("rule"), line.required("label"), bias, mean, largest, half,
        int(line.number("values")), line.citation(),
    )  # fmt: skip
