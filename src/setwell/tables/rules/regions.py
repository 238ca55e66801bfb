"""Trade words for where and how hard a gel breaks."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "id", "name", "strain_low", "strain_high", "stress_low", "stress_high", "unit", "statement",
    "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class TextureRegion:
    """A word for a part of the texture map: Hencky strain [-] and stress [kPa]; None = open."""

    key: str
    name: str
    strain_low: float
    strain_high: float | None
    stress_low: float
    stress_high: float | None
    statement: str
    citation: Citation

    def contains(self, strain: float, stress: float) -> bool:
        """True when a break at this strain and stress [kPa] falls into the region."""
        return (
            self.strain_low <= strain
            and (self.strain_high is None or strain < self.strain_high)
            and self.stress_low <= stress
            and (self.stress_high is None or stress < self.stress_high)
        )


@cache
def texture_regions(folder: Path = FOLDER) -> tuple[TextureRegion, ...]:
    """Return the regions; together they cover the map without overlap."""
    rows = []
    for line in table_lines(folder / "texture_regions.csv", _COLUMNS):
        if line.required("unit") != "kPa":
            raise TableError(f"{line.place}: stresses are in kPa.")
        row = TextureRegion(
            line.required("id"),
            line.required("name"),
            line.number("strain_low"),
            line.number_or_none("strain_high"),
            line.number("stress_low"),
            line.number_or_none("stress_high"),
            line.required("statement"),
            line.citation(),
        )
        for low, high in ((row.strain_low, row.strain_high), (row.stress_low, row.stress_high)):
            if high is not None and high <= low:
                raise TableError(f"{line.place}: the upper edge is not above the lower one.")
        rows.append(row)
    return tuple(rows)
