"""What an open pot or cup loses at its surface: water, and heat by all ways."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.engine.spans import Spans
from setwell.provenance import Evidence, evidence_join
from setwell.science.heat.evaporation import evaporation_still_air, latent_heat
from setwell.science.heat.radiation import coefficient_radiation
from setwell.science.heat.surface_coefficient import coefficient_still_air
from setwell.tables.heat.surfaces import SurfaceRow, surface_rows

Array = NDArray[np.float64]

# Air of a kitchen where nobody measured its moisture.
KITCHEN_HUMIDITY = 0.5
WATERY_EMISSIVITY = 0.95
SETTLED_WATER_ACTIVITY = 0.98


@dataclass(frozen=True, slots=True)
class SurfaceLoss:
    """Loss of an open or covered surface, per area.

    `water` [kg/m2s]; `evaporation`, `dry` (convection and radiation) and their sum `heat`
    [W/m2]. The water lost and the heat it takes belong together.
    """

    water: Spans
    evaporation: Spans
    dry: Spans
    evidence: Evidence

    @property
    def heat(self) -> Spans:
        """All heat lost [W/m2]."""
        pairs = zip(self.evaporation, self.dry, strict=True)
        return Spans(*(wet + dry for wet, dry in pairs))


def surface_loss(
    surface_c: ArrayLike,
    *,
    room_c: float,
    diameter_m: float,
    lid: bool = False,
    humidity: float = KITCHEN_HUMIDITY,
    water_activity: float = SETTLED_WATER_ACTIVITY,
) -> SurfaceLoss:
    """Return what a round surface of this temperature loses to a quiet room."""
    surface = np.asarray(surface_c, dtype=np.float64)
    rows = surface_rows()
    spread, cover, shade = (
        rows[key] for key in ("evaporation_spread", "lid_evaporation", "lid_heat")
    )
    lost = evaporation_still_air(
        surface, air_c=room_c, humidity=humidity, water_activity=water_activity
    )
    water = _times(Spans.exact(lost), spread)
    dry = _dry(surface, room_c, diameter_m)
    evidence = (spread.citation, *dry_evidence())
    if lid:
        water, dry = _times(water, cover), _times(dry, shade)
        evidence = (*evidence, cover.citation, shade.citation)
    heat = latent_heat(surface)
    evaporation = Spans(*(part * heat for part in water))
    return SurfaceLoss(water, evaporation, dry, evidence_join([evidence]))


def dry_evidence() -> Evidence:
    """Return where convection and radiation of a level face come from."""
    rows = surface_rows()
    return (rows["open_tray_top"].citation, rows["still_air_spread"].citation)


def _dry(surface: Array, room_c: float, diameter_m: float) -> Spans:
    # Area over perimeter of a disk.
    length = diameter_m / 4.0
    convection = coefficient_still_air(surface, surroundings_c=room_c, length=length, face="top")
    radiation = coefficient_radiation(surface, surroundings_c=room_c, emissivity=WATERY_EMISSIVITY)
    flux = Spans.exact((convection + radiation) * (surface - room_c))
    return _times(flux, surface_rows()["still_air_spread"])


def _times(spans: Spans, factor: SurfaceRow) -> Spans:
    """Return spans times a factor of the table; a surface colder than the room gains heat."""
    middle = factor.low if factor.value is None else factor.value
    ends = np.stack([end * by for end in spans[1:] for by in (factor.low, factor.high)])
    return Spans(spans.value * middle, np.min(ends, axis=0), np.max(ends, axis=0))
