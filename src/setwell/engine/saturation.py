"""What the water of a batch cannot dissolve when cold."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.tables.solution import Solubility, solubilities

Array = NDArray[np.float64]

_WATER = NUTRIENT_INDEX["water_g"]
# Sugar and salt are moist by less than this; the least crystal water, of lactose, is 5 %.
_NO_HYDRATE = 0.97


@dataclass(frozen=True, slots=True)
class Load:
    """One substance of n batches: grams without crystal water in 100 g of their water."""

    solubility: Solubility
    columns: tuple[int, ...]
    grams: Array
    has_crystal_water: bool

    @property
    def is_too_much(self) -> NDArray[np.bool_]:
        """True where even the high end of the table does not hold it at 20 °C."""
        return np.asarray(self.grams > self.solubility.high)


def loads(
    masses: Array, materials: tuple[Material, ...], water_g: Array, is_wet: NDArray[np.bool_]
) -> tuple[Load, ...]:
    """Return what is there of each substance with a known solubility; 0 where all is dry."""
    rows = []
    for solubility, columns, dry in _substances(materials):
        grams = np.clip(masses[:, columns] @ np.array(dry), 0.0, None)
        per_water = np.divide(100.0 * grams, water_g, out=np.zeros_like(grams), where=is_wet)
        rows.append(Load(solubility, columns, per_water, min(dry) < _NO_HYDRATE))
    return tuple(rows)


@lru_cache(maxsize=256)
def _substances(
    materials: tuple[Material, ...],
) -> tuple[tuple[Solubility, tuple[int, ...], tuple[float, ...]], ...]:
    """Return each substance with its columns and the dry share of each of them."""
    found = []
    for solubility in solubilities().values():
        columns = tuple(
            column
            for column, material in enumerate(materials)
            if material.agent is None and material.table_key in solubility.materials
        )
        if columns:
            dry = tuple(_dry_share(materials[column]) for column in columns)
            found.append((solubility, columns, dry))
    return tuple(found)


def _dry_share(material: Material) -> float:
    water = float(np.nan_to_num(material.nutrients[_WATER]))
    return 1.0 - min(max(water, 0.0), 100.0) / 100.0


def dissolves_at_most(material: Material) -> float | None:
    """Return kg of a material, as sold, that a kg of cold water holds; None when not known."""
    for solubility in solubilities().values():
        if material.table_key in solubility.materials:
            held, dry = solubility.value / 100.0, _dry_share(material)
            # Its crystal water joins the water and holds some of it too.
            rest = dry - held * (1.0 - dry)
            return held / rest if rest > 0 else None
    return None
