"""Which materials are clearly acid, and what a pure chemical does once it is dissolved."""

from enum import StrEnum
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.acid_side import acid_side, systems_taken, water_at
from setwell.engine.material import Material
from setwell.science.solution.charge_balance import strong_ion_difference_for_ph
from setwell.tables.solution import chemicals

# A food below this, or a chemical whose solution is, counts as an acid of the formula.
_ACID_PH, _NEUTRAL_PH = 4.2, 7.0
# A food that holds its pH less than this moves no batch [mmol/(kg pH)].
_HARDLY_BUFFERS = 1.0
# Grams in a gram of the solution that a chemical is judged by, and its temperature.
_DILUTION, _CELSIUS = 0.01, 25.0


class Dissolving(StrEnum):
    """What a pure chemical does to the pH once it is dissolved."""

    GIVES_ACID = "gives acid"
    HOLDS_BETWEEN = "holds between"
    TAKES_UP_ACID = "takes up acid"
    NEITHER = "neither"


def is_clearly_acid(material: Material) -> bool:
    """Return whether a material makes a batch sour: a food by its pH, a chemical by formula."""
    does = dissolving(material)
    if does is not None:
        return does is Dissolving.GIVES_ACID
    if material.ph is None:
        return False
    return material.ph.value < _ACID_PH and material.buffering.value > _HARDLY_BUFFERS


def acid_columns(materials: tuple[Material, ...]) -> NDArray[np.bool_]:
    """Return which materials are clearly acid by themselves."""
    return np.array([is_clearly_acid(material) for material in materials], dtype=np.bool_)


@lru_cache(maxsize=1024)
def dissolving(material: Material) -> Dissolving | None:
    """Return what a pure chemical does in water; None for anything that is no such chemical.

    A solution is more acid than a pH when the strong ions fall short of those that would hold it
    there.
    """
    if material.table_key not in chemicals():
        return None
    side = acid_side(material)
    columns = np.flatnonzero(side.totals > 0)
    if not columns.size:
        return Dissolving.NEITHER
    needed = strong_ion_difference_for_ph(
        np.tile(_DILUTION * side.totals[columns], (2, 1)),
        [_ACID_PH, _NEUTRAL_PH],
        acids=systems_taken(_CELSIUS, columns),
        water=water_at(_CELSIUS),
        strong_ionic_strength=np.full(2, _DILUTION * side.ionic),
    ).difference
    brought = _DILUTION * side.strong
    if brought < needed[0]:
        return Dissolving.GIVES_ACID
    return Dissolving.HOLDS_BETWEEN if brought < needed[1] else Dissolving.TAKES_UP_ACID
