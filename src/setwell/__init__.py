"""Bench companion for recipes that are set or thickened with texture agents.

Write a formula in kitchen lines, get it computed:

>>> from setwell import assess, formula_make
>>> formula = formula_make(
...     title="Oat cup",
...     ingredients="500 g oat milk\\n40 g sugar (with the agent)\\n0.6% iota carrageenan",
...     steps="Whisk the iota with the sugar into the cold milk\\nBoil 1 min, stirring\\nChill",
... )
>>> result = assess(formula)
>>> result.texture.sets.value
'yes'
>>> [line.material_name for line in result.lines]
['Oat milk, unsweetened, plain', 'Sugar, granulated', 'Iota carrageenan']

Every number is an estimate with its range, unit and origin:

>>> ph = result.figure("ph").estimate
>>> ph.low < ph.value < ph.high, ph.unit
(True, 'pH')
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from setwell.domain.formula import (
        Diet,
        Formula,
        Goal,
        MoldPlan,
        formula_from_json,
        formula_make,
    )
    from setwell.domain.pantry import Pantry
    from setwell.engine.assess import assess
    from setwell.engine.assessment import Assessment
    from setwell.engine.catalog import Catalog, catalog_build
    from setwell.engine.difference import compare
    from setwell.engine.scaling import scale
    from setwell.engine.sweep import assess_many
    from setwell.provenance import Estimate

__version__ = "0.1.0"

_HOMES = {
    "Assessment": "setwell.engine.assessment",
    "Catalog": "setwell.engine.catalog",
    "Diet": "setwell.domain.formula",
    "Estimate": "setwell.provenance",
    "Formula": "setwell.domain.formula",
    "Goal": "setwell.domain.formula",
    "MoldPlan": "setwell.domain.formula",
    "Pantry": "setwell.domain.pantry",
    "assess": "setwell.engine.assess",
    "assess_many": "setwell.engine.sweep",
    "catalog_build": "setwell.engine.catalog",
    "compare": "setwell.engine.difference",
    "formula_from_json": "setwell.domain.formula",
    "formula_make": "setwell.domain.formula",
    "scale": "setwell.engine.scaling",
}

__all__ = [
    "Assessment",
    "Catalog",
    "Diet",
    "Estimate",
    "Formula",
    "Goal",
    "MoldPlan",
    "Pantry",
    "assess",
    "assess_many",
    "catalog_build",
    "compare",
    "formula_from_json",
    "formula_make",
    "scale",
]


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the name stands for
    """Load a public name on first use, so that the command line starts quickly."""
    if name not in _HOMES:
        raise AttributeError(f"module 'setwell' has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
