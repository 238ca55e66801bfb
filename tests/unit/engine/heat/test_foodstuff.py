"""What one batch is to heat, and what is said about it."""

from dataclasses import replace

import numpy as np
import pytest
from builders_engine import formula_of

from setwell.engine.assess import bench_build
from setwell.engine.heat.food_properties import food_properties
from setwell.engine.heat.foodstuff import foodstuff_from, foodstuff_of
from setwell.engine.heat.liquid_water import water_at, water_evidence
from setwell.engine.heat.mixing_rules import RULES
from setwell.engine.pipeline import batch_assess
from setwell.errors import InputError, OutOfRangeError, UnknownNameError
from setwell.provenance import Grade
from setwell.tables.heat.mixing_rules import mixing_rules

MILK = ("800 g whole milk", "100 g sugar", "4 g agar")


def food(*lines, at_c=40.0, **more):
    return foodstuff_of(bench_build(formula_of(*lines)), at_c=at_c, **more)


def figure(found, key):
    (one,) = [figure for figure in found.figures if figure.key == key]
    return one


def width(span):
    return span[1] / span[0] - 1


def test_pure_water_is_that_of_the_steam_table():
    found, water = food("1000 g water", at_c=60), water_at(60.0)
    assert found.conductivity == pytest.approx(float(water.conductivity), rel=1e-3)
    assert found.heat_capacity == pytest.approx(float(water.heat_capacity), rel=1e-3)
    assert found.density == pytest.approx(float(water.density), rel=1e-3)
    assert width(found.conductivity_range) < 0.02
    assert water_evidence()[0].source == "iapws_2018"


def test_a_milk_gel_lies_where_wet_foods_lie():
    found = food(*MILK)
    assert 0.5 < found.conductivity < 0.6
    assert 3600 < found.heat_capacity < 3900
    assert 1030 < found.density < 1070
    assert found.diffusivity == pytest.approx(0.14e-6, rel=0.05)
    assert found.mixing_model == "maxwell_eucken"
    assert found.at_c == 40.0


def test_the_figures_say_the_same_as_the_numbers():
    found = food(*MILK)
    assert [one.key for one in found.figures] == [
        "conductivity", "heat_capacity", "density", "diffusivity", "freezing",
    ]  # fmt: skip
    assert figure(found, "conductivity").estimate.value == found.conductivity
    assert figure(found, "heat_capacity").estimate.value == found.heat_capacity / 1000
    assert figure(found, "density").estimate.value == found.density / 1000
    assert figure(found, "diffusivity").estimate.value == pytest.approx(1e6 * found.diffusivity)
    assert figure(found, "freezing").estimate.value == found.freezing_c
    assert figure(found, "conductivity").estimate.low == found.conductivity_range[0]
    assert figure(found, "density").label == "Density at 40 °C (104 °F)"
    assert all(one.estimate.evidence for one in found.figures)
    assert figure(found, "conductivity").estimate.grade == Grade.UNVERIFIED


def test_density_at_20_degrees_is_the_one_shown_with_the_formula():
    bench = bench_build(formula_of(*MILK))
    found = foodstuff_of(bench, at_c=20)
    assert found.density == pytest.approx(float(bench.state.water.density.value[0]), rel=1e-12)
    assert foodstuff_of(bench, at_c=80).density < found.density


def test_the_freezing_point_is_the_one_shown_with_the_formula():
    bench = bench_build(formula_of(*MILK))
    found = foodstuff_of(bench, at_c=20)
    assert found.freezing_c == float(bench.state.water.solids.freezing_c.value[0])


def test_only_citations_that_count_are_named():
    plain, boozy = food("1000 g whole milk"), food("900 g whole milk", "100 g vodka")
    named = {citation.source for citation in plain.evidence}
    assert "zabransky_2001" not in named
    assert "trade_recalled" not in named
    assert "zabransky_2001" in {citation.source for citation in boozy.evidence}
    foam = food("1000 g whole milk", porosity=0.5)
    assert "trade_recalled" in {citation.source for citation in foam.evidence}


@pytest.mark.parametrize("mixing", RULES)
def test_every_mixing_rule_can_be_chosen(mixing):
    found = food(*MILK, mixing=mixing)
    assert found.mixing_model == mixing
    assert mixing_rules()[mixing].label in figure(found, "conductivity").estimate.model


def test_rules_and_their_errors_are_the_same_list():
    assert set(RULES) == set(mixing_rules())


def test_an_unknown_mixing_rule_is_told_with_the_known_ones():
    with pytest.raises(UnknownNameError, match="no mixing rule “blend”") as caught:
        food(*MILK, mixing="blend")
    assert caught.value.field == "mixing"
    assert all(name in caught.value.hint for name in RULES)


@pytest.mark.parametrize("at_c", [-300.0, 1000.0, float("nan"), float("inf")])
def test_a_temperature_out_of_reach_is_refused(at_c):
    with pytest.raises(OutOfRangeError, match="no temperature") as caught:
        food(*MILK, at_c=at_c)
    assert "160 °C (320 °F)" in caught.value.hint


@pytest.mark.parametrize("porosity", [-0.1, 1.0, float("nan")])
def test_more_air_than_volume_is_refused(porosity):
    with pytest.raises(OutOfRangeError) as caught:
        food(*MILK, porosity=porosity)
    assert caught.value.field == "porosity"


@pytest.mark.parametrize("lines", [(), ("sugar to taste",)])
def test_a_formula_without_weights_asks_for_them(lines):
    with pytest.raises(InputError, match="Nothing is weighed") as caught:
        food(*lines)
    assert caught.value.hint


def test_beyond_the_equations_the_range_widens_and_is_marked():
    inside, outside = food(*MILK, at_c=149), food(*MILK, at_c=155)
    assert "extrapolated" not in inside.flags
    assert "extrapolated" in outside.flags
    assert width(outside.conductivity_range) > width(inside.conductivity_range)
    assert width(outside.heat_capacity_range) > width(inside.heat_capacity_range)
    assert "Outside the range" in figure(outside, "conductivity").remark


def test_below_freezing_it_says_that_ice_is_left_out():
    found = food(*MILK, at_c=-10)
    assert "below freezing: properties of the unfrozen food" in found.flags
    assert "Ice is left out" in figure(found, "heat_capacity").remark
    assert "Ice" not in figure(found, "freezing").remark


def test_below_freezing_ice_has_figures_of_its_own():
    keys = {"ice", "frozen_conductivity", "freezing_heat"}
    frozen = food("1000 g whole milk", at_c=-18)
    assert keys <= {one.key for one in frozen.figures}
    assert not keys & {one.key for one in food("1000 g whole milk", at_c=-0.3).figures}
    assert 70 < figure(frozen, "ice").estimate.value < 88
    assert figure(frozen, "frozen_conductivity").estimate.value > 2 * frozen.conductivity
    assert 250 < figure(frozen, "freezing_heat").estimate.value < 334 + 18 * 2.1
    for key in keys:
        estimate = figure(frozen, key).estimate
        assert estimate.low < estimate.value <= estimate.high
        assert estimate.grade == Grade.UNVERIFIED


def test_sweet_food_freezes_less_and_is_less_sure():
    plain, sweet = (
        figure(food("700 g whole milk", *more, at_c=-18), "ice").estimate
        for more in ((), ("300 g sugar",))
    )
    assert sweet.value < 0.7 * plain.value
    assert 1 - sweet.low / sweet.value > 1 - plain.low / plain.value


def test_a_line_of_unknown_composition_widens_every_range():
    known = food("700 g whole milk", "300 g water")
    unknown = food("700 g whole milk", "300 g nutritional yeast")
    assert "incomplete composition" in unknown.flags
    assert not known.flags
    for name in ("conductivity_range", "heat_capacity_range", "density_range"):
        assert width(getattr(unknown, name)) > width(getattr(known, name)), name
    assert width(unknown.conductivity_range) > 0.2


def test_acids_count_as_known_solids():
    assert "incomplete composition" not in food("900 g water", "100 g citric acid").flags
    vinegar = food("1000 g distilled vinegar")
    assert "incomplete composition" not in vinegar.flags


def test_alcohol_lowers_conductivity_and_widens_the_range():
    water, spirit = food("1000 g water"), food("500 g vodka", "500 g water")
    assert "alcohol" in spirit.flags
    assert spirit.conductivity < water.conductivity
    assert width(spirit.conductivity_range) > width(water.conductivity_range)
    assert width(spirit.heat_capacity_range) > width(water.heat_capacity_range)
    assert spirit.freezing_c < -5
    assert "less well known" in figure(spirit, "conductivity").remark


def test_vodka_takes_more_heat_than_the_mean_of_its_parts():
    # Recalled: 25 % ethanol by mass takes 4.31 kJ/kg/K near 23 °C, more than water.
    found = food("750 g vodka", "250 g water", at_c=23)
    assert found.heat_capacity_range[0] < 4310 < found.heat_capacity_range[1]
    assert found.heat_capacity == pytest.approx(4310, rel=0.02)


def test_with_little_water_the_range_reaches_from_series_to_parallel():
    bench = bench_build(formula_of("1000 g butter"))
    found = foodstuff_of(bench, at_c=60)
    assert "little water" in found.flags
    low, high = found.conductivity_range
    for rule in ("series", "parallel"):
        assert low <= foodstuff_of(bench, at_c=60, mixing=rule).conductivity <= high


def test_hard_fat_widens_heat_capacity_upward_while_it_melts_and_oil_does_less():
    def above(line, at_c):
        found = food(line, at_c=at_c)
        return found.heat_capacity_range[1] / found.heat_capacity

    assert "melting fat" in food("100 g heavy cream", at_c=15).flags
    assert above("100 g heavy cream", 15) > 1.3
    assert above("100 g heavy cream", 60) < 1.05
    assert above("100 g butter", 15) > above("100 g olive oil", 15) > 1.05


def test_air_makes_a_foam_light_and_a_poor_conductor():
    still, foam = food(*MILK), food(*MILK, porosity=0.5)
    assert foam.density == pytest.approx(still.density / 2)
    assert foam.conductivity < 0.5 * still.conductivity
    assert foam.heat_capacity == still.heat_capacity
    assert figure(foam, "density").remark == "With its air."


def test_dry_food_has_no_freezing_point():
    found = food("100 g sugar")
    assert found.freezing_c is None
    assert "freezing" not in [one.key for one in found.figures]


def test_many_candidates_come_from_one_pass():
    bench = bench_build(formula_of(*MILK))
    grams = bench.state.line_masses * np.array([[1.0], [0.5], [2.0]])
    grams[1, 1] *= 4.0
    many = batch_assess(bench.plan, grams)
    found = food_properties(many, at_c=[20.0, 40.0, 60.0])
    shown = foodstuff_from(replace(bench, state=many), found, row=1)
    alone = foodstuff_of(replace(bench, state=batch_assess(bench.plan, grams[[1]])), at_c=40.0)
    assert shown.conductivity == pytest.approx(alone.conductivity, rel=1e-12)
    assert shown.figures[0].label == "Heat conductivity at 40 °C (104 °F)"
    assert found.conductivity.value[1] < found.conductivity.value[2]


def test_water_near_its_density_maximum_neither_rises_nor_sinks():
    cold = water_at([0.0, 3.98, 8.0])
    assert cold.expansion[0] < 0 < cold.expansion[2]
    assert abs(cold.expansion[1]) < 2e-6
    assert cold.density.argmax() == 1
