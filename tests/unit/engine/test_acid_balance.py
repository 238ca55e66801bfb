"""The pH of whole batches, its range, and what it does to calcium, sugar and frost."""

import numpy as np
import pytest
from builders_engine import assess_of

from setwell import catalog_build, formula_make
from setwell.domain.pantry import Kitchen, Pantry, WaterHardness
from setwell.engine.acid_side import acid_side, system_names
from setwell.engine.acidity import acidity
from setwell.engine.assess import assess
from setwell.engine.material import NUTRIENT_INDEX, Span
from setwell.provenance import grade_worst

CATALOG = catalog_build()


def batch(*lines: tuple[float, str]):
    materials = tuple(CATALOG.find(name).material for _, name in lines)
    masses = np.array([[grams for grams, _ in lines]])
    water = np.array([np.nan_to_num(m.nutrients[NUTRIENT_INDEX["water_g"]]) for m in materials])
    return acidity(masses, materials, masses @ water / 100.0)


def figure(key: str, *lines: str, **options):
    formula = formula_make(title="Any", ingredients="\n".join(lines))
    return assess(formula, catalog=CATALOG, **options).figure(key)


@pytest.mark.parametrize("name", ["whole milk", "lemon juice", "egg yolk", "white wine", "yogurt"])
def test_a_food_alone_has_its_own_ph(name):
    found = batch((100, name))
    assert found.ph.value[0] == pytest.approx(CATALOG.find(name).material.ph.value, abs=0.02)


def test_acid_lowers_and_base_raises():
    plain, acid = batch((100, "whole milk")), batch((100, "whole milk"), (1, "citric acid"))
    base = batch((100, "whole milk"), (0.3, "baking soda"))
    assert acid.ph.value < plain.ph.value < base.ph.value


def test_an_unknown_buffer_widens_the_range():
    sure, unsure = batch((100, "whole milk")), batch((100, "oat milk"), (5, "lemon juice"))
    width = [found.ph.high[0] - found.ph.low[0] for found in (sure, unsure)]
    assert width[1] > 2 * width[0]


def test_too_little_water_has_no_ph():
    found = batch((100, "sugar"))
    assert not found.is_solved[0]
    assert (found.ph.low[0], found.ph.high[0]) == (0.0, 14.0)
    told = figure("ph", "100 g sugar")
    assert "too little water" in told.remark
    assert told.estimate.flags == ("no pH: too little water",)


def test_much_salt_is_marked_as_beyond_the_model():
    found = batch((100, "water"), (20, "salt"))
    assert found.is_beyond[0]
    assert "more salt than the activity model" in figure("ph", "100 g water", "20 g salt").remark


def test_a_pure_chemical_brings_its_formula():
    side = acid_side(CATALOG.find("trisodium citrate").material)
    citric = side.totals[system_names().index("citric")]
    assert citric == pytest.approx(1000 / 294.099, rel=1e-3)
    assert side.strong == pytest.approx(3 * citric)


def test_a_measured_ph_wins_and_the_computed_one_stays_in_sight():
    reading = Span(4.1, 4.05, 4.15)
    formula = formula_make(title="Any", ingredients="100 g whole milk\n10 g lemon juice")
    found = assess(formula, catalog=CATALOG, measured_ph=reading)
    assert found.figure("ph").estimate.value == 4.1
    assert found.figure("ph_computed").estimate.value == pytest.approx(4.8, abs=0.2)


def test_an_earlier_reading_moves_and_narrows_the_estimate():
    plain = figure("ph", "100 g oat milk", "5 g lemon juice").estimate
    moved = figure("ph", "100 g oat milk", "5 g lemon juice", ph_offset=-0.3)
    assert moved.estimate.value == pytest.approx(plain.value - 0.3)
    assert moved.estimate.high - moved.estimate.low < plain.high - plain.low
    assert "Moved by -0.30" in moved.remark


def test_citrate_holds_calcium_and_hard_water_brings_it():
    free = figure("free_calcium", "1000 g water", "5 g calcium lactate").estimate.value
    held = figure("free_calcium", "1000 g water", "5 g calcium lactate", "5 g sodium citrate")
    assert held.estimate.value < free / 3
    assert "is held" in held.remark
    hard = catalog_build(Pantry(kitchen=Kitchen(water_hardness=WaterHardness.VERY_HARD)))
    formula = formula_make(title="Any", ingredients="1000 g water")
    of_hard = assess(formula, catalog=hard).figure("free_calcium").estimate.value
    of_medium = assess(formula, catalog=CATALOG).figure("free_calcium").estimate.value
    assert of_hard == pytest.approx(2.2, abs=0.1)
    assert of_medium == pytest.approx(0.67, abs=0.05)


def test_own_water_values_win_over_the_preset():
    kitchen = Kitchen(water_hardness=WaterHardness.SOFT, water_calcium_mmol_l=3.0)
    formula = formula_make(title="Any", ingredients="1000 g water")
    found = assess(formula, catalog=catalog_build(Pantry(kitchen=kitchen)))
    assert found.figure("calcium").estimate.value == pytest.approx(3.0, abs=0.05)


def test_acid_frees_the_calcium_of_milk():
    fresh = figure("free_calcium", "1000 g skim milk").estimate.value
    soured = figure("free_calcium", "1000 g skim milk", "9 g lactic acid").estimate.value
    assert 1.5 < fresh < 3.5
    assert soured > 3 * fresh


def test_sugar_and_salt_lower_water_activity_and_freezing():
    water = assess_of("1000 g water")
    syrup = assess_of("500 g water", "500 g sugar")
    activity = [a.figure("water_activity").estimate.value for a in (water, syrup)]
    freezing = [a.figure("freezing").estimate.value for a in (water, syrup)]
    boiling = [a.figure("boiling").estimate.value for a in (water, syrup)]
    assert activity[0] > 0.998
    assert activity[1] < 0.95
    assert freezing[0] > -0.1
    assert freezing[1] < -5
    assert boiling[0] < 100.1
    assert boiling[1] > 101.5


def test_a_drink_with_alcohol_gets_no_boiling_point():
    assert assess_of("100 g vodka").figure("boiling") is None


def test_a_batch_equals_the_loop():
    names = ("whole milk", "lemon juice", "sugar", "salt", "oat milk")
    materials = tuple(CATALOG.find(name).material for name in names)
    masses = np.random.default_rng(3).uniform(1, 100, (20, len(names)))
    water = np.array([m.nutrients[NUTRIENT_INDEX["water_g"]] for m in materials]) / 100
    many = acidity(masses, materials, masses @ water)
    for row in range(len(masses)):
        one = acidity(masses[row : row + 1], materials, masses[row : row + 1] @ water)
        assert one.ph.value[0] == pytest.approx(many.ph.value[row], abs=1e-9)
        assert one.ph.low[0] == pytest.approx(many.ph.low[row], abs=1e-6)


def test_an_acid_that_may_be_missing_is_a_doubt_in_the_sum_only():
    wine, lemon = (acid_side(CATALOG.find(name).material) for name in ("red wine", "lemon juice"))
    assert 0.05 < lemon.total_log_half_width < wine.total_log_half_width < 1.5


def test_every_material_of_the_tables_has_an_acid_side():
    for material in CATALOG.materials.values():
        side = acid_side(material)
        assert np.isfinite([side.strong, side.cations, side.total_log_half_width]).all(), material
        assert np.isfinite(side.totals).all(), material.name


def test_a_reading_moves_what_is_held_and_what_a_titration_finds():
    lines = ("500 g whole milk", "5 g citric acid")
    low, high = (Span(ph, ph - 0.05, ph + 0.05) for ph in (3.0, 6.0))
    free = [figure("free_calcium", *lines, measured_ph=ph).estimate.value for ph in (low, high)]
    acid = [figure("titratable", *lines, measured_ph=ph).estimate.value for ph in (low, high)]
    assert free[0] > 1.2 * free[1]
    assert acid[0] > 1.2 * acid[1]


@pytest.mark.parametrize("ph", [3.0, 4.6, 5.5, 6.6])
def test_no_more_calcium_is_free_than_is_in_the_water(ph):
    reading = Span(ph, ph - 0.05, ph + 0.05)
    lines = ("500 g whole milk", "20 g lemon juice")
    free = figure("free_calcium", *lines, measured_ph=reading).estimate
    whole = figure("calcium", *lines, measured_ph=reading).estimate
    assert free.value < whole.value
    # Milk holds some 30 mmol/kg in all, two thirds of it in its micelles until acid frees it.
    assert (whole.value > 25) == (ph < 5.2)


def test_a_dry_powder_has_no_ions_and_no_acid_in_water_it_has_not():
    found = assess_of("100 g sugar")
    assert found.figure("ph").is_none
    keys = {one.key for one in found.solution}
    assert not keys & {"potassium", "calcium", "free_calcium", "titratable", "ionic_strength"}


def test_ionic_strength_is_no_surer_than_the_ions_it_counts():
    lines = ("500 g whole milk", "3 g iota carrageenan")
    counted = [figure(key, *lines) for key in ("potassium", "sodium", "calcium", "magnesium")]
    worst = grade_worst(one.estimate.grade for one in counted)
    assert figure("ionic_strength", *lines).estimate.grade == worst
