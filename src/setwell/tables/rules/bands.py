"""Words for a firmness or a viscosity, and the bands of thickened drinks."""

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, table_lines

FOLDER = Path(__file__).parent
_SOURCE = ("grade", "source", "locator", "note")
_WORDS = ("id", "name", "low", "high", "unit", "statement", *_SOURCE)
_SWALLOWING = ("scale", "level", "name", "quantity", "low", "high", "unit", "conditions", *_SOURCE)
_VISCOSITY = ("id", "name", "value", "unit", "conditions", *_SOURCE)


@dataclass(frozen=True, slots=True)
class WordBand:
    """A word for a number from `low` up to `high`; None = open.

    The number is a shear modulus [kPa] for firmness, a viscosity at 50 1/s [mPa s] for flow.
    """

    key: str
    name: str
    low: float
    high: float | None
    statement: str
    citation: Citation
    note: str

    def contains(self, value: float) -> bool:
        """True when a value falls into this band."""
        return self.low <= value and (self.high is None or value < self.high)


@dataclass(frozen=True, slots=True)
class SwallowingBand:
    """One level of a scale for thickened drinks; None = open."""

    scale: str
    level: str
    name: str
    quantity: str
    low: float
    high: float | None
    unit: str
    conditions: str
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class ViscosityLandmark:
    """An everyday liquid beside a viscosity [mPa s]."""

    key: str
    name: str
    viscosity: float
    conditions: str
    citation: Citation


@cache
def firmness_bands(folder: Path = FOLDER) -> tuple[WordBand, ...]:
    """Return the firmness bands from weak to very firm; they join without a gap."""
    return _word_bands(folder / "firmness_bands.csv")


@cache
def flow_words(folder: Path = FOLDER) -> tuple[WordBand, ...]:
    """Return the words for a thickness, thinnest first; they join without a gap."""
    return _word_bands(folder / "flow_words.csv")


def _word_bands(path: Path) -> tuple[WordBand, ...]:
    bands = tuple(
        WordBand(
            key=line.required("id"),
            name=line.required("name"),
            low=line.number("low"),
            high=line.number_or_none("high"),
            statement=line.required("statement"),
            citation=line.citation(),
            note=line.text("note"),
        )
        for line in table_lines(path, _WORDS)
    )
    for below, above in pairwise(bands):
        if below.high != above.low:
            raise TableError(f"{path.name}: a gap between {below.key} and {above.key}.")
    return bands


def swallowing_band(viscosity: float) -> SwallowingBand:
    """Return the range of the 2002 diet that a viscosity at 50 1/s and 25 °C [mPa s] falls into.

    Only that diet is told by viscosity. The levels of the syringe test have none: shear rate,
    yield stress, density and stretch differ, and liquids of one level fall into several ranges.
    A number for trained staff, who test the served drink itself; no advice for a patient.
    """
    ranges = [band for band in swallowing_bands() if band.scale == "ndd"]
    # The ranges are printed in whole mPa·s, so a viscosity in between is rounded.
    told = round(viscosity)
    return next(band for band in ranges if band.high is None or told <= band.high)


@cache
def swallowing_bands(folder: Path = FOLDER) -> tuple[SwallowingBand, ...]:
    """Return the levels of each scale, thinnest first."""
    path = folder / "swallowing_bands.csv"
    return tuple(_swallowing(line) for line in table_lines(path, _SWALLOWING))


def _swallowing(line: Line) -> SwallowingBand:
    low, high = line.number("low"), line.number_or_none("high")
    if high is not None and low > high:
        raise TableError(f"{line.place}: low is above high.")
    return SwallowingBand(
        scale=line.choice("scale", frozenset({"iddsi", "ndd"})),
        level=line.required("level"),
        name=line.required("name"),
        quantity=line.required("quantity"),
        low=low,
        high=high,
        unit=line.required("unit"),
        conditions=line.required("conditions"),
        citation=line.citation(),
        note=line.text("note"),
    )


@cache
def viscosity_landmarks(folder: Path = FOLDER) -> tuple[ViscosityLandmark, ...]:
    """Return everyday liquids, thinnest first."""
    marks = tuple(
        ViscosityLandmark(
            key=line.required("id"),
            name=line.required("name"),
            viscosity=line.number("value"),
            conditions=line.required("conditions"),
            citation=line.citation(),
        )
        for line in table_lines(folder / "viscosity_landmarks.csv", _VISCOSITY)
    )
    return tuple(sorted(marks, key=lambda mark: mark.viscosity))
