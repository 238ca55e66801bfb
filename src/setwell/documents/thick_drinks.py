"""Thickened drinks: the old viscosity ranges, with the caution that no number replaces a test."""

from dataclasses import dataclass

from setwell.documents.amounts import number_text
from setwell.provenance import Evidence
from setwell.tables.rules import swallowing_bands

SWALLOWING_CAUTION = (
    "Not a swallowing test: the served food must be tested by a trained person with the IDDSI "
    "methods."
)
# Only this scale is told by viscosity; the syringe test has none.
_BY_VISCOSITY = "ndd"


@dataclass(frozen=True, slots=True)
class ThickDrinkRange:
    """One range of the 2002 diet: its name and its viscosities in words."""

    name: str
    viscosity: str


def thick_drink_ranges() -> tuple[ThickDrinkRange, ...]:
    """Return the historical ranges at 25 °C and 50 1/s, thinnest first.

    Nothing is placed in them: what is served differs in temperature, yield stress and stretch.
    """
    return tuple(
        ThickDrinkRange(band.name, _range(band.low, band.high))
        for band in swallowing_bands()
        if band.scale == _BY_VISCOSITY
    )


def thick_drink_evidence() -> Evidence:
    """Return where the ranges come from."""
    cited = (band.citation for band in swallowing_bands() if band.scale == _BY_VISCOSITY)
    return tuple(dict.fromkeys(cited))


def _range(low: float, high: float | None) -> str:
    least = number_text(low, digits=4)
    if high is None:
        return f"above {least} mPa·s"
    return f"{least} to {number_text(high, digits=4)} mPa·s"
