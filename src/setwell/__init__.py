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

Heat it in a pot, cool it in molds, and see what the food code says of that:

>>> from setwell import CoolPlan, Cooler, Hob, MoldForm, PotPlan
>>> from setwell import bench_build, cool, cooling_checks, heat_pot
>>> bench = bench_build(formula)
>>> ring = Hob(name="Ring", kind="induction", power_w=1800)
>>> pot = heat_pot(bench, PotPlan(hob=ring, diameter_mm=160, stirring="constant", target_c=90))
>>> [place.place for place in pot.courses], pot.agents[0].name
(['bottom', 'core', 'surface'], 'Iota carrageenan')
>>> cup = MoldForm(shape="cup", diameter_mm=60, height_mm=50)
>>> molds = cool(bench, CoolPlan(mold=cup, cooler=Cooler(name="Fridge", air_c=3), count=6))
>>> cold = molds.moment("5").estimate
>>> cold.low < cold.value < cold.high, cold.unit
(True, 'min')
>>> [check.title for check in cooling_checks(bench, molds.courses)]
['Cooled to 21 °C (70 °F)', 'Cooled to 5 °C (41 °F)']
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from setwell.domain.brief import Brief, brief_from_json, brief_make
    from setwell.domain.equipment import Cooler, Hob, MoldForm
    from setwell.domain.formula import (
        Diet,
        Formula,
        Goal,
        MoldPlan,
        formula_from_json,
        formula_make,
    )
    from setwell.domain.pantry import Pantry
    from setwell.domain.probe_log import probe_log_read
    from setwell.domain.process_plan import CoolPlan, PotPlan
    from setwell.engine.assess import assess, bench_build
    from setwell.engine.assessment import Assessment
    from setwell.engine.catalog import Catalog, catalog_build
    from setwell.engine.difference import compare
    from setwell.engine.heat.cooling import cool
    from setwell.engine.heat.foodstuff import foodstuff_of
    from setwell.engine.heat.pot import heat_pot
    from setwell.engine.probe.judging import log_judge
    from setwell.engine.proposals.propose import propose
    from setwell.engine.safety.cooling import cooling_checks
    from setwell.engine.safety.heating import heating_checks
    from setwell.engine.scaling import scale
    from setwell.engine.sweep import assess_many
    from setwell.provenance import Estimate
    from setwell.services.sweeps.sweep import SweepPlan, executor_for, sweep
    from setwell.services.sweeps.uses import ChanceAsk, chance_of, texture_of

__version__ = "0.1.0"

_HOMES = {
    "Assessment": "setwell.engine.assessment",
    "Brief": "setwell.domain.brief",
    "Catalog": "setwell.engine.catalog",
    "ChanceAsk": "setwell.services.sweeps.uses",
    "CoolPlan": "setwell.domain.process_plan",
    "Cooler": "setwell.domain.equipment",
    "Diet": "setwell.domain.formula",
    "Estimate": "setwell.provenance",
    "Formula": "setwell.domain.formula",
    "Goal": "setwell.domain.formula",
    "Hob": "setwell.domain.equipment",
    "MoldForm": "setwell.domain.equipment",
    "MoldPlan": "setwell.domain.formula",
    "Pantry": "setwell.domain.pantry",
    "PotPlan": "setwell.domain.process_plan",
    "SweepPlan": "setwell.services.sweeps.sweep",
    "assess": "setwell.engine.assess",
    "assess_many": "setwell.engine.sweep",
    "bench_build": "setwell.engine.assess",
    "brief_from_json": "setwell.domain.brief",
    "brief_make": "setwell.domain.brief",
    "catalog_build": "setwell.engine.catalog",
    "chance_of": "setwell.services.sweeps.uses",
    "compare": "setwell.engine.difference",
    "cool": "setwell.engine.heat.cooling",
    "cooling_checks": "setwell.engine.safety.cooling",
    "executor_for": "setwell.services.sweeps.sweep",
    "foodstuff_of": "setwell.engine.heat.foodstuff",
    "formula_from_json": "setwell.domain.formula",
    "formula_make": "setwell.domain.formula",
    "heat_pot": "setwell.engine.heat.pot",
    "heating_checks": "setwell.engine.safety.heating",
    "log_judge": "setwell.engine.probe.judging",
    "probe_log_read": "setwell.domain.probe_log",
    "propose": "setwell.engine.proposals.propose",
    "scale": "setwell.engine.scaling",
    "sweep": "setwell.services.sweeps.sweep",
    "texture_of": "setwell.services.sweeps.uses",
}

__all__ = [
    "Assessment",
    "Brief",
    "Catalog",
    "ChanceAsk",
    "CoolPlan",
    "Cooler",
    "Diet",
    "Estimate",
    "Formula",
    "Goal",
    "Hob",
    "MoldForm",
    "MoldPlan",
    "Pantry",
    "PotPlan",
    "SweepPlan",
    "assess",
    "assess_many",
    "bench_build",
    "brief_from_json",
    "brief_make",
    "catalog_build",
    "chance_of",
    "compare",
    "cool",
    "cooling_checks",
    "executor_for",
    "foodstuff_of",
    "formula_from_json",
    "formula_make",
    "heat_pot",
    "heating_checks",
    "log_judge",
    "probe_log_read",
    "propose",
    "scale",
    "sweep",
    "texture_of",
]


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the name stands for
    """Load a public name on first use, so that the command line starts quickly."""
    if name not in _HOMES:
        raise AttributeError(f"module 'setwell' has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
