"""The kitchen's tap water: its hardness as calcium, magnesium and bicarbonate."""

from collections.abc import Mapping
from dataclasses import replace

from setwell.domain.pantry import Kitchen, WaterHardness
from setwell.engine.food_materials import KITCHEN_CITATION
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.provenance import Evidence
from setwell.tables.solution import acid_systems, hardness_presets

TAP_WATER = "water_tap"
_MILLIGRAMS = {"calcium": 40.078, "magnesium": 24.305}


def with_hardness(materials: dict[str, Material], kitchen: Kitchen) -> None:
    """Give the tap water of the catalog the minerals this kitchen has in it."""
    ions = water_ions(kitchen)
    water = materials[TAP_WATER]
    if not ions:
        return
    nutrients = water.nutrients.copy()
    for metal, milligrams in _MILLIGRAMS.items():
        # mmol/L to mg per 100 g of water.
        nutrients[NUTRIENT_INDEX[f"{metal}_mg"]] = ions[metal] * milligrams / 10.0
    materials[TAP_WATER] = replace(
        water,
        nutrients=nutrients,
        evidence=(*_origin(kitchen), *water.evidence),
        acids={"carbonic": _carbonate(ions["bicarbonate"], water) / 1000.0},
    )


def water_ions(kitchen: Kitchen) -> Mapping[str, float]:
    """Return calcium, magnesium and bicarbonate in mmol/L; empty for the food table's water."""
    if kitchen.water_hardness is WaterHardness.TABLE:
        return {}
    preset = hardness_presets()[kitchen.water_hardness.value.replace(" ", "_")]
    own = {
        "calcium": kitchen.water_calcium_mmol_l,
        "magnesium": kitchen.water_magnesium_mmol_l,
        "bicarbonate": kitchen.water_bicarbonate_mmol_l,
    }
    return {
        ion: preset[ion].value if measured is None else measured for ion, measured in own.items()
    }


def _carbonate(bicarbonate: float, water: Material) -> float:
    """Return all carbonic acid behind a bicarbonate at the water's pH, mmol/L."""
    first = acid_systems()["carbonic"].steps[0].pk25
    ph = 7.25 if water.ph is None else water.ph.value
    return float(bicarbonate * (1.0 + 10.0 ** (first - ph)))


def _origin(kitchen: Kitchen) -> Evidence:
    measured = (
        kitchen.water_calcium_mmol_l,
        kitchen.water_magnesium_mmol_l,
        kitchen.water_bicarbonate_mmol_l,
    )
    if any(value is not None for value in measured):
        return (KITCHEN_CITATION,)
    preset = hardness_presets()[kitchen.water_hardness.value.replace(" ", "_")]
    return tuple(dict.fromkeys(figure.citation for figure in preset.values()))
