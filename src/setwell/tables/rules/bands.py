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
_FIRMNESS = ("id", "name", "low", "high", "unit", "statement", *_SOURCE)
_SWALLOWING = ("scale", "level", "name", "quantity", "low", "high", "unit", "conditions", *_SOURCE)
_FLOW = ("id", "name", "low", "high", "unit", "statement", *_SOURCE)
_VISCOSITY = ("id", "name", "value", "unit", "conditions", *_SOURCE)


@dataclass(frozen=True, slots=True)
class FirmnessBand:
    """A word for a shear modulus from `low` up to `high` [kPa]; None = open."""

    key: str
    name: str
    low: float
    high: float | None
    statement: str
    citation: Citation
    note: str

    def contains(self, modulus: float) -> bool:
        """True when a shear modulus [kPa] falls into this band."""
        return self.low <= modulus and (self.high is None or modulus < self.high)


@dataclass(frozen=True, slots=True)
class FlowWord:
    """A word for a viscosity at 50 1/s from `low` up to `high` [mPa s]; None = open."""

    key: str
    name: str
    low: float
    high: float | None
    statement: str
    citation: Citation
    note: str

    def contains(self, viscosity: float) -> bool:
        """True when an apparent viscosity [mPa s] falls into this band."""
        return self.low <= viscosity and (self.high is None or viscosity < self.high)


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
def firmness_bands(folder: Path = FOLDER) -> tuple[FirmnessBand, ...]:
    """Return the firmness bands from weak to very firm; they join without a gap."""
    bands = tuple(
        FirmnessBand(
            key=line.required("id"),
            name=line.required("name"),
            low=line.number("low"),
            high=line.number_or_none("high"),
            statement=line.required("statement"),
            citation=line.citation(),
            note=line.text("note"),
        )
        for line in table_lines(folder / "firmness_bands.csv", _FIRMNESS)
    )
    for below, above in pairwise(bands):
        if below.high != above.low:
            raise TableError(f"firmness_bands.csv: a gap between {below.key} and {above.key}.")
    return bands


@cache
def flow_words(folder: Path = FOLDER) -> tuple[FlowWord, ...]:
    """Return the words for a thickness, thinnest first; they join without a gap."""
    words = tuple(
        FlowWord(
            key=line.required("id"),
            name=line.required("name"),
            low=line.number("low"),
            high=line.number_or_none("high"),
            statement=line.required("statement"),
            citation=line.citation(),
            note=line.text("note"),
        )
        for line in table_lines(folder / "flow_words.csv", _FLOW)
    )
    for below, above in pairwise(words):
        if below.high != above.low:
            raise TableError(f"flow_words.csv: a gap between {below.key} and {above.key}.")
    return words


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
