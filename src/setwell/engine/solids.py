"""What the dissolved things do to the water: water activity, boiling, freezing, sourness."""

from dataclasses import dataclass
from functools import cache, cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.acidity import Acidity
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.engine.row_products import row_products
from setwell.engine.saturation import loads
from setwell.engine.spans import Spans
from setwell.provenance import Evidence
from setwell.science.solution.colligative import boiling_temperature, freezing_temperature
from setwell.science.solution.titratable import titratable_acidity
from setwell.science.solution.water_activity import water_activity_mixture
from setwell.tables.foods import SUGARS
from setwell.tables.solution import acid_systems, solutes, titratable_acids

Array = NDArray[np.float64]

_SALTS = frozenset({"sodium_chloride", "potassium_chloride", "calcium_chloride"})
_ETHANOL_MOLAR, _ETHANOL_NORRISH = 46.068, 0.0
# Sugar of unknown kind, by weight: half sucrose, the rest glucose and fructose (our judgment).
_UNKNOWN_SPLIT = {"sucrose": 0.5, "glucose": 0.25, "fructose": 0.25}
# Mixed salts of foods (our judgment around sodium and potassium chloride).
_OSMOTIC = 0.93
# How far the estimate may be off, as a share of what the water activity is lowered by, and at
# least (our judgment).
_RELATIVE_ERROR, _LEAST_ERROR = 0.12, 0.003
_SEA_LEVEL_PA = 101_325.0
_KELVIN = 273.15
# Stronger than this, water activity from composition is not to be trusted.
_LEAST_ACTIVITY = 0.6
# Boiling and freezing are not followed further than this; the figures are then marked.
_DRIEST = 0.45
# Titratable acidity is read to this pH.
_END_PH = 8.1


@dataclass(frozen=True)
class Solids:
    """What the dissolved things of n batches do; a batch of thousands seldom asks for all of it.

    `acids` and `wet`, the water in the ingredients [kg/kg], are what a titration goes by.
    """

    water_activity: Spans
    is_in_range: NDArray[np.bool_]
    acids: Acidity
    wet: Array

    @cached_property
    def boiling_c(self) -> Spans:
        """Boiling point at sea level [°C]."""
        celsius = boiling_temperature(self._followed(), pressure=_SEA_LEVEL_PA) - _KELVIN
        return Spans(celsius[0], celsius[2], celsius[1])

    @cached_property
    def freezing_c(self) -> Spans:
        """Where it begins to freeze [°C]."""
        return Spans(*(freezing_temperature(self._followed()) - _KELVIN))

    @cached_property
    def titratable(self) -> Spans:
        """The acid a titration to pH 8.1 finds, as citric acid [g/100 g]."""
        citric = titratable_acids()["citric_anhydrous"]
        per_water = self.acids.strong_at(_END_PH) - self.acids.strong
        grams = titratable_acidity(
            np.maximum(per_water * self.wet, 0.0),
            molar_mass=citric.equivalent_mass * citric.protons / 1000.0,
            protons=citric.protons,
        )
        return Spans(grams, grams * 0.75, grams * 1.3)

    def _followed(self) -> Array:
        return np.asarray(np.minimum(np.maximum(self.water_activity, _DRIEST), 1.0))


@cache
def _solute_names() -> tuple[str, ...]:
    return tuple(key for key in solutes() if key not in _SALTS)


@cache
def _norrish() -> Array:
    figures = [solutes()[key].norrish_k for key in _solute_names()]
    return np.array([0.0 if f is None else f.value for f in figures] + [_ETHANOL_NORRISH])


@lru_cache(maxsize=256)
def _solute_table(materials: tuple[Material, ...]) -> Array:
    """Return mol per kg of each neutral solute of each material."""
    found = [_solutes_of(material) for material in materials]
    return np.array(found).reshape(len(materials), len(_norrish()))


def _solutes_of(material: Material) -> Array:
    """Return mol per kg of each neutral solute of a material, ethanol last."""
    names = _solute_names()
    found = np.zeros(len(names) + 1)
    found[-1] = 10.0 * _grams(material, "alcohol_g") / _ETHANOL_MOLAR
    if material.table_key in names:
        position = names.index(material.table_key)
        found[position] = 1000.0 / solutes()[material.table_key].molar_mass
        return found
    for sugar, grams in _sugars(material).items():
        if sugar in names:
            found[names.index(sugar)] += 10.0 * grams / solutes()[sugar].molar_mass
    return found


def _grams(material: Material, nutrient: str) -> float:
    return float(np.nan_to_num(material.nutrients[NUTRIENT_INDEX[nutrient]]))


def _sugars(material: Material) -> dict[str, float]:
    """Return grams of each sugar in 100 g, adding up to the sugars of the food."""
    total = _grams(material, "sugars_g")
    known: dict[str, float] = {}
    if material.sugars is not None:
        known = dict(zip(SUGARS, np.nan_to_num(material.sugars).tolist(), strict=True))
    listed = sum(known.values())
    if listed > total > 0:
        return {sugar: grams * total / listed for sugar, grams in known.items()}
    split = {"lactose": 1.0} if material.group == "dairy" else _UNKNOWN_SPLIT
    for sugar, share in split.items():
        known[sugar] = known.get(sugar, 0.0) + share * max(total - listed, 0.0)
    return known


def solids(
    masses: Array, materials: tuple[Material, ...], water_g: Array, acids: Acidity
) -> Solids:
    """Return what the dissolved things of n batches do to their water."""
    enough = acids.is_solved
    per_water = np.divide(
        masses, water_g[:, None], out=np.zeros_like(masses), where=enough[:, None]
    )
    neutral = np.maximum(row_products(per_water, _solute_table(materials)), 0.0)
    # Strong ions come in pairs; every weak acid counts once, whatever its charge.
    ions = 2.0 * acids.ionic_strength + acids.totals[:, : len(acid_systems())].sum(axis=1)
    found = water_activity_mixture(
        neutral,
        norrish_constants=_norrish(),
        ion_molality=ions,
        osmotic_coefficient=_OSMOTIC,
        relative_error=_RELATIVE_ERROR,
        least_error=_LEAST_ERROR,
    )
    crystals = np.zeros(len(masses), dtype=np.bool_)
    for load in loads(masses, materials, water_g, enough):
        crystals |= load.is_too_much
    batch = masses.sum(axis=1)
    return Solids(
        Spans(found.value, found.low, found.high),
        np.asarray((found.value >= _LEAST_ACTIVITY) & enough & ~crystals),
        acids,
        np.divide(water_g, batch, out=np.zeros_like(batch), where=batch > 0),
    )


@cache
def solids_evidence() -> Evidence:
    """Return the citations of the constants behind the water activity."""
    figures = [solutes()[key].norrish_k for key in _solute_names()]
    return tuple(dict.fromkeys(figure.citation for figure in figures if figure is not None))
