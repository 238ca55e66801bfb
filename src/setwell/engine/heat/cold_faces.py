"""What the faces of a mold pass on in one place, as the difference to the air falls."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.equipment import Cooler, CoolerKind, MoldShape
from setwell.engine.heat.equipment import (
    PLAIN_EMISSIVITY,
    SurfaceTransfer,
    Wall,
    surface_of,
)
from setwell.engine.heat.mold_body import face_areas
from setwell.engine.heat.mold_form import MoldGeometry
from setwell.engine.rules.bench import PRACTICE
from setwell.engine.spans import Spans
from setwell.provenance import Evidence, evidence_join
from setwell.science.heat.evaporation import evaporation_still_air, latent_heat
from setwell.tables.heat.surfaces import surface_rows

Array = NDArray[np.float64]

# Differences to the air at which the coefficients are read off [K].
_DIFFERENCES: Array = np.concatenate(
    [np.linspace(0.0, 10.0, 6)[:-1] + 0.2, np.linspace(10, 100, 10)]
)
# What a shelf leaves of the heat a base passes: a solid shelf almost nothing, a cold metal one
# more than air (our judgment).
_SHELF = Spans(np.array(0.7), np.array(0.3), np.array(1.5))
# Share of a pool of water that an open, setting surface gives off (our judgment): a skin holds it
# back, moving air takes more.
_OPEN_TOP = Spans(np.array(0.75), np.array(0.3), np.array(1.25))
# A coefficient was measured on one mold, one shelf and one day: so much more may others be off,
# on the natural log axis. A lid may hold back steam that the measured mold gave off (our judgment).
_ELSEWHERE, _UNDER_LID = 0.15, 0.2
_HUMIDITY, _WATER_ACTIVITY = 0.7, 0.98
# Steam that carries less than this share of the heat of the top is not worth a word.
STEAM_COUNTS = 0.1
_STANDING = frozenset({MoldShape.TRAY, MoldShape.CUP, MoldShape.JAR})


@dataclass(frozen=True, slots=True)
class Faces:
    """Coefficients of the faces of a mold in one place.

    `tables` hold, per face, the coefficient at `_DIFFERENCES` with the range that the air gives
    it [W/m2K]; `own` the factors by which a face may be off besides: the base for its shelf, an
    open top for its steam. `steam_share` is the largest share of the top's heat that leaves as
    steam.
    """

    cooler: Cooler
    tables: dict[str, Spans]
    own: dict[str, Spans]
    dry_top: Spans | None
    is_steady: bool
    steam_share: float
    model: str
    evidence: Evidence
    flags: tuple[str, ...]

    def passed(self, face: str, difference: float, pull: float = 0.0, own: float = 0.0) -> float:
        """Return what a face passes at a difference to the air, from -1 low to 1 high.

        `pull` is that of the air, `own` that of what is peculiar to this face.
        """
        # Warming up, an open top takes in no steam.
        is_dry = face == "top" and difference < 0.0 and self.dry_top is not None
        table = self.dry_top if is_dry and self.dry_top is not None else self.tables[face]
        at = abs(difference)
        value = float(np.interp(at, _DIFFERENCES, table.value))
        if pull != 0.0:
            bound = float(np.interp(at, _DIFFERENCES, table.low if pull < 0 else table.high))
            value = value * (max(bound, 1e-3) / max(value, 1e-3)) ** abs(pull)
        if own != 0.0 and face in self.own and not is_dry:
            factor = self.own[face].low if own < 0 else self.own[face].high
            value = value * float(np.interp(at, _DIFFERENCES, factor)) ** abs(own)
        return float(value)

    def usual(self, difference: float) -> dict[str, float]:
        """Return the coefficients of all faces at one difference."""
        return {name: self.passed(name, difference) for name in self.tables}


def faces_of(mold: MoldGeometry, wall: Wall | None, cooler: Cooler) -> Faces:
    """Return what the faces of a mold pass on in a cold place, or on the counter."""
    surface_c = cooler.air_c + _DIFFERENCES
    names = face_areas(mold)
    found = {name: _transfer(mold, wall, cooler, name, surface_c) for name in names}
    tables = {name: one.spans for name, one in found.items()}
    is_measured = cooler.coefficient_w_m2k is not None
    if is_measured:
        tables = {name: _elsewhere(table, is_open=mold.is_open) for name, table in tables.items()}
    is_bath = cooler.kind is CoolerKind.ICE_BATH
    flags = [flag for one in found.values() for flag in one.flags]
    if is_bath and "top" in tables and mold.shape is not MoldShape.BLOCK:
        tables["top"] = Spans(*(np.full(len(_DIFFERENCES), part) for part in (1e-3, 1e-3, 10.0)))
        flags.append("the top, above the water, is taken to lose nothing")
    own: dict[str, Spans] = {}
    if "base" in tables and mold.shape in _STANDING and not is_bath and not is_measured:
        shelf = float(_SHELF.value)
        tables["base"] = Spans(*(part * shelf for part in tables["base"]))
        own["base"] = Spans(*(np.full(len(_DIFFERENCES), part / shelf) for part in _SHELF))
    steam, dry = 0.0, tables.get("top")
    parts = [one.evidence for one in found.values()]
    if mold.is_open and not is_bath and not is_measured:
        steam, tables["top"], own["top"] = _with_steam(tables["top"], cooler.air_c)
        parts.append((surface_rows()["evaporation_spread"].citation,))
    return Faces(
        cooler=cooler,
        tables=tables,
        own=own,
        dry_top=dry,
        is_steady=is_measured,
        steam_share=steam,
        model=found["side"].model,
        evidence=evidence_join([*parts, () if is_measured else PRACTICE]),
        flags=tuple(dict.fromkeys(flags)),
    )


def _elsewhere(measured: Spans, *, is_open: bool) -> Spans:
    """Return a measured coefficient with what it may be off on another mold or shelf."""
    value = measured.value
    below = np.hypot(np.log(value / measured.low), _ELSEWHERE if is_open else _UNDER_LID)
    above = np.hypot(np.log(measured.high / value), _ELSEWHERE)
    return Spans(value, value * np.exp(-below), value * np.exp(above))


def _transfer(
    mold: MoldGeometry, wall: Wall | None, cooler: Cooler, face: str, surface_c: Array
) -> SurfaceTransfer:
    """Return the bare coefficients of one face."""
    bare = PLAIN_EMISSIVITY if wall is None else wall.emissivity
    long, wide = mold.lengths
    if mold.shape in {MoldShape.SPHERE, MoldShape.HEMISPHERE} and face == "side":
        return surface_of(cooler, surface_c=surface_c, size_m=long, emissivity=bare, face="ball")
    if face == "side":
        return surface_of(cooler, surface_c=surface_c, size_m=mold.height, emissivity=bare)
    # Area over perimeter of a level face.
    size = long * wide / (2.0 * (long + wide)) if mold.is_box else long / 4.0
    shown = PLAIN_EMISSIVITY if face == "top" and mold.is_open else bare
    return surface_of(cooler, surface_c=surface_c, size_m=size, emissivity=shown, face=face)


def _with_steam(table: Spans, air_c: float) -> tuple[float, Spans, Spans]:
    """Return the share of steam where it is largest, the top with it, and how far it is off."""
    surface = np.minimum(air_c + _DIFFERENCES, 99.0)
    lost = evaporation_still_air(
        surface, air_c=air_c, humidity=_HUMIDITY, water_activity=_WATER_ACTIVITY
    )
    taken = lost * latent_heat(surface) / _DIFFERENCES
    usual = float(_OPEN_TOP.value) * taken
    whole = Spans(*(dry + usual for dry in table))
    own = Spans(*((table.value + by * taken) / whole.value for by in _OPEN_TOP))
    return float(np.max(usual / whole.value)), whole, own
