"""Which lines of a formula keep dry in a bag."""

import numpy as np

from setwell.engine.material import NUTRIENT_INDEX, Material, MaterialKind
from setwell.engine.resolve import Reading

# More water than this cakes in the bag (our own judgment) [g in 100 g].
_DRY_G = 15.0
# Salts keep dry with water in their crystals; fats are no powder.
_SALTS = frozenset({"chemical", "mineral"})
_NO_POWDER = frozenset({"fat"})


def is_dry(reading: Reading) -> bool:
    """True for a powder that can wait in a bag: agents, salts, sugars, dry foods."""
    material = reading.material
    return material is not None and _is_powder(material)


def _is_powder(material: Material) -> bool:
    if material.is_liquid or material.group in _NO_POWDER:
        return False
    if material.kind is MaterialKind.AGENT or material.group in _SALTS:
        return True
    water = material.nutrients[NUTRIENT_INDEX["water_g"]]
    # Of unknown water nobody knows whether it keeps dry.
    return bool(np.isfinite(water) and water < _DRY_G)
