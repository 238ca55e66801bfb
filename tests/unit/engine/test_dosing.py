"""Doses of acid and buffer: they reach the pH, add up, and say why they cannot."""

import math

import numpy as np
import pytest
from builders_engine import formula_of

from setwell.engine.acid_additives import additive_find, additives
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.dose_search import Start, doses
from setwell.engine.dosing import Taste, acid_to, buffer_to, dose_for
from setwell.engine.material import NUTRIENT_INDEX, Span
from setwell.engine.sweep import assess_many
from setwell.errors import InputError, OutOfRangeError, UnknownNameError

FRUIT = ("300 g passion fruit", "500 g coconut milk", "120 g sugar")
CREAM = ("400 g whole milk", "200 g heavy cream", "60 g sugar")


def bench_of(*lines, **options):
    return bench_build(formula_of(*lines), **options)


def dosed(lines, target, name, **options):
    return dose_for(bench_of(*lines, **options), target, additive_find(name))


def ph_of(*lines):
    return float(bench_of(*lines).state.water.ph.value[0])


@pytest.mark.parametrize(
    ("lines", "target", "key"),
    [
        (CREAM, 5.6, "citric_acid"),
        (CREAM, 5.0, "juice_lemon"),
        (CREAM, 5.2, "vinegar_cider"),
        (CREAM, 5.4, "glucono_delta_lactone"),
        (FRUIT, 4.5, "sodium_citrate_dihydrate"),
        (FRUIT, 4.5, "potassium_citrate_monohydrate"),
        (FRUIT, 5.0, "baking_soda"),
        (FRUIT, 4.2, "disodium_phosphate"),
        (FRUIT, 4.8, "potassium_carbonate"),
        (("900 g orange juice",), 3.2, "tartaric_acid"),
        (("900 g water",), 3.0, "malic_acid"),
        (("900 g water", "9 g citric acid"), 2.05, "lactic_acid"),
    ],
)
def test_a_dose_put_into_the_formula_reaches_the_target(lines, target, key):
    found = dosed(lines, target, key)
    assert found.reachable
    assert ph_of(*lines, f"{found.grams.value:.6f} g {found.name}") == pytest.approx(
        target, abs=0.01
    )
    assert found.reached_ph.value == pytest.approx(target, abs=0.001)
    assert found.grams.low <= found.grams.value <= found.grams.high


def test_sodium_and_share_are_those_of_the_formula_with_the_dose_in():
    found = dosed(FRUIT, 4.5, "trisodium citrate")
    after = bench_of(*FRUIT, f"{found.grams.value:.6f} g trisodium citrate").state
    per_100g = after.composition.per_100g()[0][0, NUTRIENT_INDEX["sodium_mg"]]
    assert found.sodium.value == pytest.approx(per_100g, rel=1e-6)
    assert found.percent == pytest.approx(100 * found.grams.value / after.masses.sum(), rel=1e-6)


def test_citrate_is_that_of_the_fruit_and_of_the_dose():
    found = dosed(("900 g water", "9 g citric acid"), 4.0, "trisodium citrate")
    # 294.099 g of the salt and 192.123 g of the acid hold one mole of citrate each (IUPAC 2021).
    grams = 9.0 + found.grams.value * 192.123 / 294.099
    assert found.citrate.value == pytest.approx(1e5 * grams / (909 + found.grams.value), rel=1e-4)


def test_the_table_is_sorted_and_what_cannot_get_there_comes_last():
    found = buffer_to(bench_of("1000 g water", "10 g citric acid"), 6.6)
    reached = [one.reachable for one in found]
    assert reached == sorted(reached, reverse=True)
    assert True in reached
    assert False in reached
    grams = [one.grams.value for one in found if one.reachable]
    assert grams == sorted(grams)
    assert not any(one.is_acid for one in found)


def test_an_acid_does_not_make_it_alkaline_and_says_so():
    found = dosed(("1000 g water", "10 g citric acid"), 9.0, "citric acid")
    assert not found.reachable
    assert found.grams is None
    assert found.percent is None
    assert "only makes it more acid" in found.reason


def test_a_buffer_that_runs_out_says_how_far_it_gets():
    found = dosed(("1000 g water", "10 g citric acid"), 9.0, "trisodium citrate")
    assert not found.reachable
    assert "Even 200 g per kg of water" in found.reason
    assert 6.0 < found.reached_ph.value < 7.0


def test_nothing_is_needed_where_the_batch_is_already():
    now = ph_of(*CREAM)
    found = dosed(CREAM, now, "citric acid")
    assert found.reachable
    assert found.grams.value == 0.0


@pytest.mark.parametrize("ph", [-0.1, 14.5, math.nan, math.inf])
def test_a_ph_that_cannot_be_is_refused(ph):
    with pytest.raises(OutOfRangeError, match="pH runs from 0 to 14"):
        dosed(CREAM, ph, "citric acid")


@pytest.mark.parametrize("lines", [("500 g sugar",), ("20 g citric acid", "20 g sugar")])
def test_a_batch_without_water_is_refused(lines):
    with pytest.raises(InputError, match="too little to speak of a pH"):
        dosed(lines, 4.0, "citric acid")


def test_a_formula_without_weights_is_refused():
    with pytest.raises(InputError, match="has a weight yet"):
        dosed(("some love",), 4.0, "citric acid")


def test_an_additive_nobody_knows_is_refused_with_names_to_choose_from():
    with pytest.raises(UnknownNameError, match="trisodium citrate") as caught:
        additive_find("sodium citrat")
    assert caught.value.nearest


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("citric acid", "citric_acid"),
        ("Baking Soda", "baking_soda"),
        ("juice_lemon", "juice_lemon"),
        ("sodium citrate", "sodium_citrate_dihydrate"),
        ("GDL", "glucono_delta_lactone"),
        ("vinegar", "vinegar_distilled"),
    ],
)
def test_kitchen_names_lead_to_an_additive(written, key):
    assert additive_find(written, catalog_build()).key == key


@pytest.mark.parametrize("target", [0.0, 1.5, 3.0, 4.6, 7.0, 10.0, 14.0])
@pytest.mark.parametrize("lines", [CREAM, FRUIT, ("500 g water",), ("5 g water", "80 g sugar")])
def test_no_number_is_negative_or_nan(lines, target):
    bench = bench_of(*lines)
    for one in (*acid_to(bench, target), *buffer_to(bench, target)):
        ends = (one.reached_ph.value, one.reached_ph.low, one.reached_ph.high)
        numbers = [end for end in ends if end is not None]
        if one.reachable:
            numbers += [one.grams.value, one.grams.low, one.percent, one.sodium.value]
            numbers += [one.citrate.value, one.grams.value if one.grams.high is None else 0.0]
        else:
            assert one.reason
        assert np.isfinite(numbers).all()
        assert min(numbers[3:], default=0.0) >= 0.0


def test_a_reading_is_what_the_dose_starts_from():
    computed = dosed(CREAM, 5.6, "citric acid")
    read = dosed(CREAM, 5.6, "citric acid", measured_ph=Span(6.2, 6.15, 6.25))
    assert read.grams.value < computed.grams.value
    width = read.grams.high - read.grams.low
    assert width < computed.grams.high - computed.grams.low
    assert read.reached_ph.value == pytest.approx(5.6, abs=0.001)


def test_gas_that_leaves_makes_less_soda_enough():
    found = dosed(("1000 g water", "6 g citric acid"), 6.0, "baking soda")
    assert found.grams.low < 0.8 * found.grams.value
    assert any("gas" in flag for flag in found.flags)


def test_more_than_dissolves_and_more_than_the_model_holds_is_said():
    found = dosed(("500 g water", "40 g citric acid"), 4.5, "disodium phosphate")
    assert any("dissolve in a kg" in flag for flag in found.flags)
    assert any("model" in flag for flag in found.flags)


def test_calcium_is_spoken_of_where_an_agent_needs_it():
    with_iota = dosed((*FRUIT, "4 g iota carrageenan"), 4.5, "trisodium citrate")
    without = dosed(FRUIT, 4.5, "trisodium citrate")
    assert any("calcium" in flag for flag in with_iota.flags)
    assert not any("calcium" in flag for flag in without.flags)


def test_taste_limits_judge_sodium_and_citrate():
    little = dosed(("450 g water", "20 g lemon juice"), 3.5, "trisodium citrate")
    much = dosed(("450 g lemon juice", "50 g water"), 4.5, "trisodium citrate")
    acid = dosed(CREAM, 5.6, "malic acid")
    assert (little.sodium_taste, little.is_pleasant) == (Taste.FINE, True)
    assert (much.sodium_taste, much.is_pleasant) == (Taste.TOO_MUCH, False)
    assert (acid.sodium_taste, acid.citrate_taste) == (Taste.NOT_ADDED, Taste.NOT_ADDED)


def test_many_batches_at_once_are_each_batch_alone():
    rows = np.array([[400.0, 200.0, 60.0], [500.0, 0.0, 60.0], [100.0, 300.0, 200.0]])
    many = assess_many(formula_of(*CREAM), rows)
    acid = additive_find("citric acid")
    together = doses(Start.of(many.state), many.plan.materials, 5.5, acid)
    for row in range(len(rows)):
        one = Start.of(many.state, slice(row, row + 1))
        alone = doses(one, many.plan.materials, 5.5, acid)
        for ours, theirs in zip(together.grams, alone.grams, strict=True):
            assert ours[row] == pytest.approx(theirs[0], rel=1e-9)
        assert dose_for(many, 5.5, acid, row=row).grams.value == pytest.approx(
            together.grams.value[row], rel=1e-9
        )


def test_a_batch_without_water_among_many_gets_no_dose():
    many = assess_many(formula_of("500 g water", "50 g sugar"), [[500.0, 50.0], [0.0, 50.0]])
    found = doses(Start.of(many.state), many.plan.materials, 4.0, additive_find("citric acid"))
    assert found.is_reachable.tolist() == [True, False]
    assert found.grams.value[1] == 0.0
    assert np.isfinite(found.ph).all()


def test_every_additive_stands_in_the_tables():
    keys = [one.key for one in additives()]
    assert len(keys) == len(set(keys)) == 15
    assert [one.key for one in additives(catalog_build())] == keys
