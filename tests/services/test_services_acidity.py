"""Doses and curves with what this kitchen has."""

import pytest

from setwell.domain.formula import formula_make
from setwell.domain.pantry import Kitchen
from setwell.domain.reading import IngredientReading, VersionReading
from setwell.errors import InputError, OutOfRangeError, UnknownNameError
from setwell.services import pantry
from setwell.services.acidity import acid_dose, additive_names, titration
from setwell.services.formulas import formula_create
from setwell.services.kitchen import kitchen_settings_save
from setwell.services.readings import version_reading_record

pytestmark = pytest.mark.django_db


def formula_of(ingredients="400 g whole milk\n200 g heavy cream\n3 g iota carrageenan"):
    return formula_make(title="Cream", ingredients=ingredients)


def test_down_lists_acids_and_up_lists_buffers():
    down = acid_dose(formula=formula_of(), target_ph=5.4)
    up = acid_dose(formula=formula_of(), target_ph=7.0)
    assert (down.direction, up.direction) == ("acid", "buffer")
    assert all(one.is_acid for one in down.doses)
    assert not any(one.is_acid for one in up.doses)
    assert len(down.doses) + len(up.doses) == len(additive_names())


def test_one_additive_can_be_named_as_a_kitchen_names_it():
    found = acid_dose(formula=formula_of(), target_ph=5.4, additive="GDL")
    assert [one.key for one in found.doses] == ["glucono_delta_lactone"]


def test_the_named_one_in_the_wrong_direction_says_so():
    (found,) = acid_dose(formula=formula_of(), target_ph=5.4, additive="sodium citrate").doses
    assert not found.reachable
    assert "only makes it less acid" in found.reason


def test_a_recorded_reading_is_where_the_dose_starts():
    formula = formula_of()
    before = acid_dose(formula=formula, target_ph=5.4, additive="citric acid")
    saved = formula_create(formula=formula)
    reading = VersionReading(ph=6.0, plus_minus=0.05)
    version_reading_record(formula_id=saved.formula_id, number=1, document=reading)
    after = acid_dose(formula=formula, target_ph=5.4, additive="citric acid")
    assert (before.is_measured, after.is_measured) == (False, True)
    assert after.ph.value == pytest.approx(6.0)
    assert after.doses[0].grams.value < before.doses[0].grams.value
    assert titration(formula=formula).titration.ph.value == pytest.approx(6.0)


def test_a_lemon_that_was_measured_counts():
    before = acid_dose(formula=formula_of(), target_ph=5.4, additive="lemon juice")
    reading = IngredientReading(material="lemon juice", ph=2.8, in_use=True)
    pantry.reading_save(id=None, document=reading)
    after = acid_dose(formula=formula_of(), target_ph=5.4, additive="lemon juice")
    assert after.doses[0].grams.value > before.doses[0].grams.value


def test_a_dose_too_small_for_the_scale_is_said():
    kitchen_settings_save(kitchen=Kitchen(scale_readability_g=1.0))
    found = acid_dose(formula=formula_of(), target_ph=5.4, additive="citric acid")
    assert any("a scale of 1 g" in flag for flag in found.doses[0].flags)
    kitchen_settings_save(kitchen=Kitchen(scale_readability_g=0.01))
    found = acid_dose(formula=formula_of(), target_ph=5.4, additive="citric acid")
    assert not any("a scale of" in flag for flag in found.doses[0].flags)


def test_the_caution_about_acid_and_keeping_always_goes_along():
    plan = acid_dose(formula=formula_of(), target_ph=4.0)
    for caution in (*plan.cautions, *titration(formula=formula_of()).cautions):
        assert caution.code == "acid_claim"
        assert "never proves a shelf life" in caution.text


def test_lines_that_were_not_read_are_told():
    plan = acid_dose(formula=formula_of("500 g whole milk\n3 feathers"), target_ph=5.4)
    assert plan.warnings == ("1 line(s) could not be read and are not counted.",)


def test_a_target_that_suits_neither_agent_nor_milk_is_told():
    said = " ".join(acid_dose(formula=formula_of(), target_ph=3.8).warnings)
    assert "Iota carrageenan works best between pH 4 and 10." in said
    assert "flocculates below about pH 5.2" in said
    assert acid_dose(formula=formula_of(), target_ph=5.6).warnings == ()


def test_the_drawing_names_the_lines_and_the_windows():
    found = titration(formula=formula_of())
    assert found.svg.startswith("<svg")
    for name in ("citric acid", "trisodium citrate", "Iota", "casein"):
        assert name in found.svg


def test_the_drawing_marks_the_target_where_it_is_on_the_way():
    assert "to reach" in titration(formula=formula_of(), target_ph=5.0).svg
    assert "to reach" not in titration(formula=formula_of(), target_ph=12.0).svg


def test_agents_with_the_same_window_share_a_band():
    formula = formula_of("500 g water\n3 g kappa carrageenan\n2 g iota carrageenan")
    assert titration(formula=formula).svg.count('class="band') == 1


def test_what_cannot_be_answered_is_refused():
    with pytest.raises(OutOfRangeError):
        acid_dose(formula=formula_of(), target_ph=15.0)
    with pytest.raises(UnknownNameError):
        acid_dose(formula=formula_of(), target_ph=5.0, additive="sand")
    for lines in ("500 g sugar", "some love"):
        with pytest.raises(InputError):
            titration(formula=formula_of(lines))
