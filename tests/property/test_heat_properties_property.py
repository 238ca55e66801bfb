"""What holds for the heat properties of any mixture and any batch."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.domain.formula import formula_make
from setwell.engine.assess import bench_build
from setwell.engine.heat.food_properties import food_properties
from setwell.engine.heat.frozen_food import frozen_food
from setwell.engine.heat.mixing_rules import RULES
from setwell.engine.pipeline import batch_assess
from setwell.engine.rules.bench import Bench
from setwell.science.heat.components import mixture_density, volume_fractions
from setwell.science.heat.freezing import (
    enthalpy_chen_1985,
    ice_fraction_miles_1983,
    ice_fraction_tchigeov_1979,
)
from setwell.science.heat.freezing_front import (
    freezing_front_steady,
    freezing_front_stefan,
    stefan_constant,
)
from setwell.science.heat.liquid_mixture import conductivity_filippov
from setwell.science.heat.mixing import (
    conductivity_levy,
    conductivity_parallel,
    conductivity_series,
)

CONDUCTIVITY = st.floats(0.02, 5.0)
SHARE = st.floats(0.0, 1.0)
INGREDIENTS = (
    "water", "sugar", "heavy cream", "vodka", "egg yolk", "olive oil", "salt",
    "citric acid", "gelatin", "lemon juice",
)  # fmt: skip
BENCH = bench_build(
    formula_make(title="Any cup", ingredients="\n".join(f"100 g {name}" for name in INGREDIENTS))
)
GRAMS = st.one_of(st.just(0.0), st.floats(1e-3, 1e5))
BATCH = st.lists(GRAMS, min_size=len(INGREDIENTS), max_size=len(INGREDIENTS))


def all_rules(around, inside, share):
    return {
        name: float(rule(np.float64(around), np.float64(inside), np.float64(share)))
        for name, rule in RULES.items()
    }


@given(around=CONDUCTIVITY, inside=CONDUCTIVITY, share=SHARE)
def test_every_rule_lies_between_series_and_parallel(around, inside, share):
    found = all_rules(around, inside, share)
    parts, fractions = [around, inside], [1.0 - share, share]
    low = float(conductivity_series(parts, fractions=fractions))
    high = float(conductivity_parallel(parts, fractions=fractions))
    for name, conductivity in found.items():
        assert low * (1 - 1e-9) <= conductivity <= high * (1 + 1e-9), name


@given(around=CONDUCTIVITY, inside=CONDUCTIVITY, shares=st.tuples(SHARE, SHARE))
def test_more_of_the_poorer_conductor_never_conducts_better(around, inside, shares):
    less, more = (all_rules(around, inside, share) for share in sorted(shares))
    for name in RULES:
        step = more[name] - less[name]
        assert step * np.sign(inside - around) >= -1e-12 * max(around, inside), name


@given(around=CONDUCTIVITY, inside=CONDUCTIVITY)
def test_a_single_phase_conducts_as_itself(around, inside):
    for share, alone in ((0.0, around), (1.0, inside)):
        for name, found in all_rules(around, inside, share).items():
            assert np.isclose(found, alone, rtol=1e-12), name
    for name, found in all_rules(around, around, 0.4).items():
        assert np.isclose(found, around, rtol=1e-12), name


@given(first=CONDUCTIVITY, second=CONDUCTIVITY, share=SHARE)
def test_levys_rule_does_not_ask_which_phase_is_around(first, second, share):
    one = conductivity_levy(first, second, first_fraction=share)
    other = conductivity_levy(second, first, first_fraction=1.0 - share)
    assert np.isclose(one, other, rtol=1e-7)


@given(first=CONDUCTIVITY, second=CONDUCTIVITY, share=SHARE)
def test_two_liquids_conduct_no_worse_than_the_poorer(first, second, share):
    found = float(conductivity_filippov(first, second, second_mass_fraction=share))
    other = float(conductivity_filippov(second, first, second_mass_fraction=1.0 - share))
    assert np.isclose(found, other, rtol=1e-12)
    assert min(first, second) * (1 - 1e-12) <= found <= max(first, second) * (1 + 1e-12)


@given(
    masses=st.lists(st.floats(0.01, 1.0), min_size=3, max_size=3),
    densities=st.lists(st.floats(700.0, 2500.0), min_size=3, max_size=3),
    air=st.floats(0.0, 0.95),
)
def test_volumes_add_up_and_air_only_lightens(masses, densities, air):
    shares = np.array(masses) / sum(masses)
    assert np.isclose(volume_fractions(shares, densities=densities).sum(), 1.0)
    still = float(mixture_density(shares, densities=densities))
    assert min(densities) * (1 - 1e-9) <= still <= max(densities) * (1 + 1e-9)
    assert np.isclose(mixture_density(shares, densities=densities, porosity=air), (1 - air) * still)


FROZEN = st.floats(-40.0, 20.0)
FOOD = st.tuples(st.floats(0.2, 0.95), st.floats(0.0, 0.1), st.floats(-5.0, -0.3))


@given(food=FOOD, temperatures=st.tuples(FROZEN, FROZEN))
def test_colder_food_holds_more_ice_and_less_heat(food, temperatures):
    water, bound, start = food
    cold, warm = sorted(temperatures)
    given_food = {"water_share": water, "bound_water": bound, "freezing_point": start}
    ice = ice_fraction_miles_1983([cold, warm], **given_food)
    assert 0.0 <= ice[1] <= ice[0] <= water
    fitted = ice_fraction_tchigeov_1979([cold, warm], water_share=water, freezing_point=start)
    assert 0.0 <= fitted[1] <= fitted[0] <= water
    heat = enthalpy_chen_1985([cold, warm], **given_food)
    assert heat[0] <= heat[1] + 1e-6


@given(number=st.floats(1e-6, 1.0), seconds=st.one_of(st.just(0.0), st.floats(1e-6, 1e6)))
def test_the_exact_front_never_outruns_the_steady_one(number, seconds):
    constant = float(stefan_constant(number))
    assert 0.0 < constant <= np.sqrt(number / 2.0) * (1 + 1e-12)
    # Ice of unit density and heat capacity: both laws from the same numbers.
    exact = freezing_front_stefan(seconds, diffusivity=1e-6, stefan_number=number)
    steady = freezing_front_steady(
        seconds, conductivity=1e-6, fall=number, density=1.0, melting_heat=1.0
    )
    assert exact <= steady * (1 + 1e-12)


@settings(max_examples=30, deadline=None)
@given(batches=st.lists(BATCH, min_size=1, max_size=4), at_c=st.floats(-60.0, 160.0))
def test_any_batch_has_numbers_within_their_ranges(batches, at_c):
    masses = np.array(batches)
    state = batch_assess(BENCH.plan, masses)
    for mixing in RULES:
        found = food_properties(state, at_c=at_c, mixing=mixing)
        for spans in (found.conductivity, found.heat_capacity, found.density, found.diffusivity):
            assert np.isfinite(np.stack(spans)).all()
            assert (spans.low > 0).all()
            assert (spans.low <= spans.value).all()
            assert (spans.value <= spans.high).all()


@settings(max_examples=40, deadline=None)
@given(batches=st.lists(BATCH, min_size=1, max_size=4), at_c=st.floats(-60.0, 5.0))
def test_any_batch_holds_no_more_ice_than_water(batches, at_c):
    found = food_properties(batch_assess(BENCH.plan, np.array(batches)), at_c=at_c)
    frozen = frozen_food(found.fractions, found.at_c, found.freezing.value)
    for spans in (frozen.ice, frozen.conductivity, frozen.heat):
        assert np.isfinite(np.stack(spans)).all()
        assert (spans.low <= spans.value + 1e-9).all()
        assert (spans.value <= spans.high + 1e-9).all()
    assert (frozen.ice.low >= 0).all()
    assert (frozen.ice.high <= found.fractions[:, 0] + 1e-12).all()
    assert (frozen.ice.value[~found.is_frozen] < 1e-3).all()
    assert (frozen.heat.value >= -1e-6).all()


@settings(max_examples=20, deadline=None)
@given(
    batches=st.lists(BATCH, min_size=2, max_size=4),
    temperatures=st.lists(st.floats(-20.0, 120.0), min_size=4, max_size=4),
)
def test_a_row_of_a_batch_is_what_it_is_alone(batches, temperatures):
    masses, at_c = np.array(batches), np.array(temperatures[: len(batches)])
    together = food_properties(batch_assess(BENCH.plan, masses), at_c=at_c)
    for row in range(len(masses)):
        alone = food_properties(batch_assess(BENCH.plan, masses[[row]]), at_c=at_c[row])
        for name in ("conductivity", "heat_capacity", "density", "diffusivity", "freezing"):
            many, one = getattr(together, name), getattr(alone, name)
            for ours, theirs in zip(many, one, strict=True):
                assert np.isclose(ours[row], theirs[0], rtol=1e-9, equal_nan=True), name


def test_the_bench_of_these_tests_reads_every_line():
    assert isinstance(BENCH, Bench)
    assert BENCH.state.line_masses.shape == (1, len(INGREDIENTS))
