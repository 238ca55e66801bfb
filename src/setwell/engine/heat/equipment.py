"""What a cold place, a wall and a hob do to heat: figures with ranges and origins."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.domain.equipment import Cooler, CoolerKind, Hob, WallMaterial
from setwell.engine.material import Span
from setwell.engine.spans import Spans
from setwell.errors import InputError
from setwell.provenance import Citation, Estimate, Evidence, Grade, evidence_join
from setwell.science.heat.radiation import coefficient_radiation
from setwell.science.heat.surface_coefficient import (
    coefficient_still_air,
    coefficient_still_water,
)
from setwell.tables.heat.hobs import hob_rows
from setwell.tables.heat.surfaces import SurfaceRow, surface_rows
from setwell.tables.heat.walls import wall_rows

Array = NDArray[np.float64]

PLAIN_EMISSIVITY = 0.9
# A measured figure without a range of its own is taken to be this far off.
MEASURED_SPREAD = 0.15
# Surfaces the correlations are asked for [m].
SMALLEST_M, LARGEST_M = 0.01, 2.0
DENSE_AS_ICE_WATER_C = 8.0


@dataclass(frozen=True, slots=True)
class SurfaceTransfer:
    """Heat passed from a surface [W/m2K], with its range; each array has the shape asked for."""

    value: Array
    low: Array
    high: Array
    model: str
    evidence: Evidence = ()
    flags: tuple[str, ...] = ()

    @property
    def spans(self) -> Spans:
        """The three arrays alone."""
        return Spans(self.value, self.low, self.high)

    def estimate(self, row: int = 0) -> Estimate:
        """Return one of the figures, ready to show."""
        value, low, high = (float(np.atleast_1d(part)[row]) for part in self.spans)
        return Estimate(value, "W/m²K", low, high, self.model, self.evidence, self.flags)


@dataclass(frozen=True, slots=True)
class Wall:
    """The wall of a mold or a pot: SI units."""

    material: WallMaterial
    conductivity: Span
    thickness_m: float
    density: float
    heat_capacity: float
    emissivity: float
    is_usual_thickness: bool
    evidence: Evidence

    @property
    def resistance(self) -> float:
        """Resistance of a flat wall [m2K/W]."""
        return self.thickness_m / self.conductivity.value

    @property
    def heat_per_area(self) -> float:
        """Heat the wall itself holds [J/m2K]."""
        return self.thickness_m * self.density * self.heat_capacity


def surface_of(
    cooler: Cooler,
    *,
    surface_c: ArrayLike,
    size_m: float,
    emissivity: float = PLAIN_EMISSIVITY,
    face: str = "wall",
) -> SurfaceTransfer:
    """Return what a surface of this temperature passes to a cold place.

    `size_m` is the height of a wall, area over perimeter of a level face or the diameter of a
    ball; `face` is "wall", "top", "base" or "ball". A measured coefficient of the place wins
    and does not change with the surface. Otherwise it falls as the surface gets colder.
    """
    surface = np.asarray(surface_c, dtype=np.float64)
    if cooler.coefficient_w_m2k is not None:
        return _measured(cooler, surface.shape)
    size = float(np.clip(size_m, SMALLEST_M, LARGEST_M))
    if cooler.kind is CoolerKind.ICE_BATH:
        return _ice_bath(cooler, surface, size)
    if not 0.0 <= emissivity <= 1.0:
        raise InputError(f"The emissivity must lie between 0 and 1, not {emissivity:g}.")
    still = _still_air(cooler, surface, size, emissivity, face)
    blown = _BLOWN.get(cooler.kind)
    return still if blown is None else _blown(still, surface_rows()[blown])


def wall_of(material: WallMaterial, thickness_mm: float | None = None) -> Wall:
    """Return a wall of this material; without a thickness it has the usual one."""
    row = wall_rows()[material.value]
    thickness = row.thickness_mm if thickness_mm is None else thickness_mm
    return Wall(
        material=material,
        conductivity=Span(row.conductivity, row.conductivity_low, row.conductivity_high),
        thickness_m=thickness / 1000.0,
        density=row.density,
        heat_capacity=row.heat_capacity,
        emissivity=row.emissivity,
        is_usual_thickness=thickness_mm is None,
        evidence=(row.citation,),
    )


def hob_efficiency(hob: Hob) -> Estimate:
    """Return the share of the power that reaches the food; a measured share wins."""
    row = hob_rows()[hob.kind.value]
    if hob.efficiency is None:
        model = f"usual share of a hob of the kind {hob.kind.value}"
        return Estimate(row.value, "", row.low, row.high, model, (row.citation,))
    low, high = _range_around(hob.efficiency, hob.efficiency_low, hob.efficiency_high, highest=1.0)
    evidence = (_own(hob.measured),)
    return Estimate(hob.efficiency, "", low, high, "measured on this hob", evidence)


def _own(measured: str) -> Citation:
    where = measured or "entered with the equipment"
    return Citation("this_kitchen", where, Grade.MEASURED)


def _range_around(
    value: float, low: float | None, high: float | None, *, highest: float = np.inf
) -> tuple[float, float]:
    """Return the range given, or the usual one; it always holds the value."""
    below = value * (1.0 - MEASURED_SPREAD) if low is None else low
    above = value * (1.0 + MEASURED_SPREAD) if high is None else high
    return min(below, value), min(max(above, value), highest)


def _measured(cooler: Cooler, shape: tuple[int, ...]) -> SurfaceTransfer:
    value = cooler.coefficient_w_m2k or 0.0
    low, high = _range_around(value, cooler.coefficient_low, cooler.coefficient_high)
    value_at, low_at, high_at = (np.full(shape, part) for part in (value, low, high))
    model = f"measured in {cooler.name}"
    return SurfaceTransfer(value_at, low_at, high_at, model, (_own(cooler.measured),))


def _still_air(
    cooler: Cooler, surface: Array, size: float, emissivity: float, face: str
) -> SurfaceTransfer:
    convection = coefficient_still_air(surface, surroundings_c=cooler.air_c, length=size, face=face)
    radiation = coefficient_radiation(surface, surroundings_c=cooler.air_c, emissivity=emissivity)
    is_freezer = cooler.kind is CoolerKind.FREEZER
    spread = surface_rows()["freezer_spread" if is_freezer else "still_air_spread"]
    value = convection + radiation
    typical = surface_rows()["still_fridge" if face == "wall" else "open_tray_top"]
    evidence = (typical.citation, spread.citation)
    model = "air that rises by itself, and radiation"
    return SurfaceTransfer(value, spread.low * value, spread.high * value, model, evidence)


def _blown(still: SurfaceTransfer, row: SurfaceRow) -> SurfaceTransfer:
    """Blown air passes what is usual for it, and never less than the same air at rest."""
    usual = row.low if row.value is None else row.value
    return SurfaceTransfer(
        np.maximum(usual, still.value),
        np.maximum(row.low, still.low),
        np.maximum(row.high, still.high),
        "blown air, usual figure of its kind",
        evidence_join([(row.citation,), still.evidence]),
    )


def _ice_bath(cooler: Cooler, surface: Array, size: float) -> SurfaceTransfer:
    """Still ice water, with a floor where water hardly moves; stirring is in the range."""
    rows = surface_rows()
    hot, cold, stirred = rows["ice_bath_hot"], rows["ice_bath_cold"], rows["ice_bath_stirred"]
    bath = float(np.clip(cooler.air_c, 0.0, 100.0))
    # Below 8 °C ice water is as dense as the layer at the wall: the floor takes over.
    seen = np.clip(surface, DENSE_AS_ICE_WATER_C, 100.0)
    moving = coefficient_still_water(seen, surroundings_c=bath, length=size)
    floor = cold.low if cold.value is None else cold.value
    value = np.clip(moving, floor, hot.high)
    low = np.clip(0.6 * value, cold.low, hot.high)
    high = np.maximum(1.3 * value, stirred.high)
    evidence = evidence_join([(hot.citation, cold.citation, stirred.citation)])
    flags = ("still and stirred ice water",)
    return SurfaceTransfer(value, low, high, "ice water around a wall", evidence, flags)


_BLOWN: dict[CoolerKind, str] = {
    CoolerKind.VENTILATED_FRIDGE: "ventilated_fridge",
    CoolerKind.BLAST_CHILLER: "blast_chiller",
}
