"""What one batch is to heat, ready for a pot or a mold and for a page."""

from setwell.engine.assessment import Figure
from setwell.engine.heat.food_properties import FoodProperties, food_properties
from setwell.engine.heat.liquid_water import water_evidence
from setwell.engine.heat.mixing_rules import USUAL_RULE
from setwell.engine.heat.results import Foodstuff
from setwell.engine.origins import density_evidence, nutrient_evidence
from setwell.engine.rules.bench import Bench
from setwell.engine.solids import solids_evidence
from setwell.engine.spans import Spans
from setwell.errors import InputError
from setwell.provenance import Evidence, evidence_join
from setwell.tables.heat.components import component_properties
from setwell.tables.heat.spirit_excess import spirit_excesses
from setwell.units import temperature_print


def foodstuff_of(
    bench: Bench,
    *,
    at_c: float,
    mixing: str = USUAL_RULE,
    porosity: float = 0.0,
    row: int = 0,
) -> Foodstuff:
    """Return what one candidate is to heat at a temperature [°C].

    Raises InputError where nothing is weighed yet, the temperature is out of reach or the mixing
    rule is not known. For many candidates at once see `food_properties`.
    """
    if not float(bench.state.composition.finished_g[row]) > 0:
        raise InputError(
            "Nothing is weighed in this formula yet, so it has no heat properties.",
            field="ingredients",
            hint="Give at least one ingredient with a weight, such as “500 g milk”.",
        )
    found = food_properties(bench.state, at_c=at_c, mixing=mixing, porosity=porosity)
    return foodstuff_from(bench, found, mixing=mixing, row=row)


def foodstuff_from(
    bench: Bench, found: FoodProperties, *, mixing: str = USUAL_RULE, row: int = 0
) -> Foodstuff:
    """Return one candidate of a batch of properties, with its figures."""
    evidence = _evidence(bench, row)
    figures = _figures(bench, found, mixing, evidence, row)
    freezing = float(found.freezing.value[row])
    return Foodstuff(
        conductivity=float(found.conductivity.value[row]),
        heat_capacity=float(found.heat_capacity.value[row]),
        density=float(found.density.value[row]),
        freezing_c=freezing if freezing == freezing else None,
        at_c=float(found.at_c[row]),
        conductivity_range=_range(found.conductivity, row),
        heat_capacity_range=_range(found.heat_capacity, row),
        density_range=_range(found.density, row),
        mixing_model=mixing,
        figures=figures,
        evidence=evidence,
    )


def food_flags(found: FoodProperties, row: int) -> tuple[str, ...]:
    """Return what makes the properties of one candidate doubtful."""
    told = (
        (found.is_extrapolated, "extrapolated"),
        (found.is_frozen, "below freezing: properties of the unfrozen food"),
        (found.is_incomplete, "incomplete composition"),
        (found.has_alcohol, "alcohol"),
        (found.has_little_water, "little water"),
        (found.has_melting_fat, "melting fat"),
    )
    return tuple(flag for mask, flag in told if mask[row])


def _range(spans: Spans, row: int) -> tuple[float, float]:
    return float(spans.low[row]), float(spans.high[row])


def _evidence(bench: Bench, row: int) -> Evidence:
    origins = nutrient_evidence(bench.plan, bench.state, row)
    tables = tuple(found.citation for found in component_properties().values())
    parts = [water_evidence(), tables, density_evidence(bench.state, row)]
    parts += [origins[key] for key in ("water_g", "fat_g", "carbohydrate_g")]
    if float(bench.state.composition.of("alcohol_g")[row]) > 0:
        parts.append(tuple(found.citation for found in spirit_excesses()))
    return evidence_join(parts)


def _figures(
    bench: Bench, found: FoodProperties, mixing: str, evidence: Evidence, row: int
) -> tuple[Figure, ...]:
    flags, at = food_flags(found, row), temperature_print(float(found.at_c[row]))
    figures = [
        Figure(
            "conductivity",
            f"Conducts heat, at {at}",
            found.conductivity.estimate(
                unit="W/m/K", model=mixing, evidence=evidence, flags=flags, row=row
            ),
            "Water 0.6, fat 0.17: the lower, the longer the core waits.",
        ),
    ]
    return tuple(figures)
