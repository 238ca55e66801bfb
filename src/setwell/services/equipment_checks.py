"""What hobs, cold places, molds and pots must fulfill beyond their own fields."""

from collections.abc import Iterator

from setwell.domain.document import Document
from setwell.domain.equipment import Cooler, Hob
from setwell.domain.mold_shapes import volume_of
from setwell.domain.pantry import Mold, Vessel

# Tapered molds and thick rims hold less than their lengths say, never much more.
_LEAST_FILLED = 0.4
_MOST_FILLED = 1.25


def equipment_faults(document: Document) -> Iterator[tuple[str, str]]:
    """Yield the field and the reason why a piece of equipment cannot be stored."""
    if isinstance(document, Hob):
        yield from _range_faults(
            "efficiency", "efficiency_low", "efficiency_high",
            (document.efficiency_low, document.efficiency, document.efficiency_high),
        )  # fmt: skip
    elif isinstance(document, Cooler):
        yield from _range_faults(
            "coefficient_w_m2k", "coefficient_low", "coefficient_high",
            (document.coefficient_low, document.coefficient_w_m2k, document.coefficient_high),
        )  # fmt: skip
    elif isinstance(document, Mold):
        yield from _volume_faults(document.volume_ml, volume_of(document.form()))
    elif isinstance(document, Vessel) and document.diameter_mm and document.height_mm:
        # Half a diameter squared times π, in mL.
        inside = 3.1416 / 4 * document.diameter_mm**2 * document.height_mm / 1_000
        yield from _volume_faults(document.volume_ml, inside)


def _range_faults(
    middle: str, low: str, high: str, values: tuple[float | None, float | None, float | None]
) -> Iterator[tuple[str, str]]:
    given = [value for value in values if value is not None]
    if given != sorted(given):
        yield low, f"The lowest must not be above the middle or the highest ({high})."
    if values[1] is None and given:
        yield middle, "The middle value is missing; the range alone cannot be used."


def _volume_faults(volume_ml: float, inside_ml: float | None) -> Iterator[tuple[str, str]]:
    if inside_ml is None:
        return
    if not _LEAST_FILLED <= volume_ml / inside_ml <= _MOST_FILLED:
        yield (
            "volume_ml",
            f"The lengths make {inside_ml:,.0f} mL, the volume is {volume_ml:,.0f} mL. "
            "Lengths are in mm; check both.",
        )
