"""Standard tests of a powder: as formulas, in words, and what they say of the dose."""

import pytest

from setwell.domain.texture_reading import LotTest, Outcome
from setwell.engine.assess import bench_build
from setwell.engine.lot_check import (
    Family,
    dose_factor,
    family_of,
    lot_test_formula,
    lot_tests_of,
    strength_exponent,
)
from setwell.engine.lot_check_guide import lot_check_guide
from setwell.errors import InputError, UnknownNameError
from setwell.tables.agents import agent_rows

EVERY = [(agent, test) for agent in agent_rows() for test in lot_tests_of(agent)]
# Gels that the model computes now, each with a test that reads grams.
GELS = ["kappa_carrageenan", "iota_carrageenan", "agar", "gelatin"]


@pytest.mark.parametrize(("agent", "test"), EVERY)
def test_every_test_of_every_agent_can_be_read_and_weighs_100_g(agent, test):
    bench = bench_build(lot_test_formula(agent, test).formula)
    assert all(reading.is_usable for reading in bench.plan.readings)
    assert not any(step.problem for step in bench.steps)
    assert float(bench.state.composition.ingredients_g[0]) == pytest.approx(100.0, abs=0.02)
    # Two kinds of one pectin may share a name; the family is the same.
    assert [family_of(key) for key in bench.agents] == [family_of(agent)]


@pytest.mark.parametrize(("agent", "test"), EVERY)
def test_every_test_has_a_guide_in_plain_words(agent, test):
    guide = lot_check_guide(agent, test)
    assert guide.amounts
    assert len(guide.steps) >= 2
    assert guide.look_for.endswith(".")
    answers = {outcome: guide.answer(outcome).meaning for outcome in Outcome}
    assert len(set(answers.values())) == 2
    assert "food-grade" in guide.caution


@pytest.mark.parametrize("agent", GELS)
def test_the_gel_tests_of_modeled_agents_set_in_the_model(agent):
    for test in lot_tests_of(agent):
        if test is not LotTest.POWDER_CONTROL:
            state = bench_build(lot_test_formula(agent, test).formula).state
            assert state.texture.sets[0] >= 0, test
            assert float(state.texture.gel.modulus.value[0]) > 100.0, test


def test_the_potassium_test_is_the_trade_recipe():
    test = lot_test_formula("kappa_carrageenan", LotTest.POTASSIUM_GEL)
    assert test.dose_pct == 1.5
    assert test.formula.ingredients.splitlines() == [
        "98.3 g deionized water", "1.5 g kappa", "0.2 g potassium chloride"
    ]  # fmt: skip
    assert test.formula.serving_temperature_c == 20.0


def test_the_bloom_test_stands_at_ten_degrees():
    formula = lot_test_formula("gelatin", LotTest.BLOOM).formula
    assert "6.67 g gelatin" in formula.ingredients
    assert formula.serving_temperature_c == 10.0
    assert "boil" not in formula.steps


def test_another_dose_and_name_are_used():
    test = lot_test_formula("agar", LotTest.WATER_GEL, dose_pct=0.8, name="house agar")
    assert test.formula.ingredients.splitlines() == ["99.2 g deionized water", "0.8 g house agar"]


def test_a_test_that_says_nothing_of_a_powder_is_refused_with_an_offer():
    with pytest.raises(InputError, match="powder control, water viscosity"):
        lot_test_formula("xanthan", LotTest.WATER_GEL)
    with pytest.raises(UnknownNameError):
        lot_check_guide("moon dust", LotTest.POWDER_CONTROL)


@pytest.mark.parametrize(
    ("agent", "family"),
    [
        ("kappa_carrageenan", Family.POTASSIUM),
        ("iota_carrageenan", Family.CALCIUM_COOLED),
        ("sodium_alginate", Family.CALCIUM_BATH),
        ("pectin_HM_slow", Family.SUGAR_ACID),
        ("methylcellulose_A", Family.HEATED),
        ("lambda_carrageenan", Family.THICKENER_COLD),
        ("locust_bean_gum", Family.THICKENER_HOT),
        ("starch_corn", Family.STARCH),
        ("starch_ocs_osa", Family.EMULSIFIER),
        ("xanthan_LBG", Family.COOLED),
    ],
)
def test_powders_show_what_they_can_in_their_own_way(agent, family):
    assert family_of(agent) is family


def test_a_control_cup_that_sets_clears_the_powder():
    guide = lot_check_guide("kappa_carrageenan", LotTest.POWDER_CONTROL)
    assert guide.amounts[0] == "100 g water"
    good, bad = guide.answer(Outcome.SET), guide.answer(Outcome.DID_NOT_SET)
    assert "the fault is elsewhere" in good.meaning
    assert "acid" in good.action
    assert "0.2 % of potassium chloride" in bad.action
    assert "set the lot aside" in bad.action


@pytest.mark.parametrize("agent", ["lambda_carrageenan", "xanthan", "guar", "locust_bean_gum"])
def test_a_thickener_is_never_asked_to_set(agent):
    guide = lot_check_guide(agent, LotTest.POWDER_CONTROL)
    assert "does not set" in guide.look_for
    assert "the powder is good" in guide.answer(Outcome.THICKENED).meaning
    assert "the powder is good" not in guide.answer(Outcome.STAYED_THIN).meaning


def test_gelatin_is_not_boiled():
    guide = lot_check_guide("gelatin", LotTest.POWDER_CONTROL)
    assert any("Do not boil" in step for step in guide.steps)


def test_half_the_strength_wants_the_root_of_two_more_dose():
    assert dose_factor(0.5, exponent=2.0) == pytest.approx(2**0.5)
    assert dose_factor(1.0, exponent=2.0) == 1.0
    with pytest.raises(InputError, match="cannot be made up"):
        dose_factor(0.0, exponent=2.0)


def test_a_dose_without_an_exponent_in_the_tables_says_so():
    assert strength_exponent("kappa_carrageenan")[1]
    assert strength_exponent("gum_arabic") == (2.0, False)
