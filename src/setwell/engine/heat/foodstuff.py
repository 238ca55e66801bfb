"""What one batch is to heat, ready for a pot or a mold."""

import numpy as np

from setwell.engine.heat.food_figures import food_figures, food_flags
from setwell.engine.heat.food_properties import FoodProperties, food_properties
from setwell.engine.heat.mixing_rules import USUAL_RULE
from setwell.engine.heat.results import Foodstuff
from setwell.engine.rules.bench import Bench
from setwell.engine.spans import Spans
from setwell.errors import InputError
from setwell.provenance import evidence_join


def foodstuff_of(
    bench: Bench,
    *,
    at_c: float,
    mixing: str = USUAL_RULE,
    porosity: float = 0.0,
    row: int = 0,
) -> Foodstuff:
    """Return what one candidate is to heat at a temperature [°C].

    `porosity` is the share of air in the volume. Raises InputError where nothing is weighed yet,
    the temperature is out of reach or the mixing rule is not known. For many candidates at once
    take `food_properties` and `foodstuff_from`.
    """
    if not float(bench.state.composition.finished_g[row]) > 0:
        raise InputError(
            "Nothing is weighed in this formula yet, so it has no heat properties.",
            field="ingredients",
            hint="Give at least one ingredient with a weight, such as “500 g milk”.",
        )
    found = food_properties(bench.state, at_c=at_c, mixing=mixing, porosity=porosity)
    return foodstuff_from(bench, found, row=row)


def foodstuff_from(bench: Bench, found: FoodProperties, *, row: int = 0) -> Foodstuff:
    """Return one candidate out of the properties of all, with its figures."""
    figures = food_figures(bench, found, row)
    freezing = float(found.freezing.value[row])
    return Foodstuff(
        conductivity=float(found.conductivity.value[row]),
        heat_capacity=float(found.heat_capacity.value[row]),
        density=float(found.density.value[row]),
        freezing_c=None if np.isnan(freezing) else freezing,
        at_c=float(found.at_c[row]),
        conductivity_range=_range(found.conductivity, row),
        heat_capacity_range=_range(found.heat_capacity, row),
        density_range=_range(found.density, row),
        mixing_model=found.mixing,
        figures=figures,
        evidence=evidence_join(figure.estimate.evidence for figure in figures),
        flags=food_flags(found, row),
    )


def _range(spans: Spans, row: int) -> tuple[float, float]:
    return float(spans.low[row]), float(spans.high[row])
