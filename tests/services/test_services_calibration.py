"""Which pH counts: a reading, an earlier one that moves the computed pH, or the computed pH."""

import pytest
from builders_kitchen import formula_of

from setwell.domain.reading import IngredientReading, VersionReading
from setwell.engine.assess import bench_build
from setwell.errors import InputError
from setwell.services import calibration, formulas, pantry
from setwell.services.acidity import acid_dose, titration
from setwell.services.assessment import formula_assess
from setwell.services.calibration import calibration_for
from setwell.services.cards import card_get
from setwell.services.formulas import (
    formula_create,
    formula_get,
    formula_save,
    version_compare,
    version_get,
)
from setwell.services.readings import version_reading_delete, version_reading_record

pytestmark = pytest.mark.django_db

SOUR = "500 g whole milk\n20 g lemon juice\n"
SOURER = "500 g whole milk\n30 g lemon juice\n"
SOUREST = "500 g whole milk\n60 g lemon juice\n"


def sour(ingredients=SOUR):
    return formula_of(ingredients=ingredients, steps="")


def ph(found):
    return found.figure("ph").estimate


def width(estimate):
    return estimate.high - estimate.low


def record(formula_id, number, value):
    return version_reading_record(
        formula_id=formula_id, number=number, document=VersionReading(ph=value, plus_minus=0.02)
    )


@pytest.fixture
def formula_id():
    return formula_create(formula=sour()).formula_id


def test_a_draft_moves_by_as_much_as_its_saved_version_was_measured_off(formula_id):
    off = -0.31
    plain = ph(formula_assess(formula=sour(SOURER)))
    record(formula_id, 1, ph(formula_assess(formula=sour())).value + off)
    moved = formula_assess(formula=sour(SOURER), formula_id=formula_id)
    assert ph(moved).value == pytest.approx(plain.value + off)
    assert width(ph(moved)) == pytest.approx(width(plain) / 2)
    assert "Moved by -0.31, as an earlier version was measured." in moved.figure("ph").remark
    assert "this_kitchen" in {citation.source for citation in ph(moved).evidence}


def test_the_content_that_was_measured_shows_the_reading_beside_the_computed_ph(formula_id):
    computed = ph(formula_assess(formula=sour()))
    record(formula_id, 1, 4.9)
    found = formula_assess(formula=sour(), formula_id=formula_id)
    assert (found.figure("ph").label, ph(found).value) == ("pH, measured", 4.9)
    assert found.figure("ph_computed").estimate == computed
    assert "Moved" not in found.figure("ph_computed").remark


def test_the_newest_version_that_was_measured_decides(formula_id):
    formula_save(formula_id=formula_id, formula=sour(SOURER), base_number=1)
    plain = ph(formula_assess(formula=sour(SOUREST))).value
    record(formula_id, 2, ph(formula_assess(formula=sour(SOURER))).value + 0.2)
    record(formula_id, 1, ph(formula_assess(formula=sour())).value - 0.4)
    found = formula_assess(formula=sour(SOUREST), formula_id=formula_id)
    assert ph(found).value == pytest.approx(plain + 0.2)


def test_a_draft_without_a_reading_of_its_own_formula_is_not_moved(formula_id):
    plain = formula_assess(formula=sour(SOURER)).figure("ph")
    other = formula_create(formula=sour(SOUREST)).formula_id
    row_id = record(formula_id, 1, 4.0)
    for draft in (
        formula_assess(formula=sour(SOURER)),
        formula_assess(formula=sour(SOURER), formula_id=other),
    ):
        assert draft.figure("ph") == plain
    version_reading_delete(id=row_id)
    assert formula_assess(formula=sour(SOURER), formula_id=formula_id).figure("ph") == plain


@pytest.fixture
def measured_off(formula_id):
    """Three versions of which only the first was measured, and how far it was off."""
    off = -0.31
    formula_save(formula_id=formula_id, formula=sour(SOURER), base_number=1)
    formula_save(formula_id=formula_id, formula=sour(SOUREST), base_number=2)
    record(formula_id, 1, ph(formula_assess(formula=sour())).value + off)
    return formula_id, off


def version_of(formula_id, number):
    formula = version_get(formula_id=formula_id, number=number).formula
    return {"formula": formula, "formula_id": formula_id, "number": number}


def test_the_same_text_has_one_ph_wherever_it_is_assessed(measured_off):
    formula_id, off = measured_off
    version = version_of(formula_id, 3)
    found = formula_assess(**version).figure("ph")
    plain = ph(formula_assess(formula=version["formula"])).value
    assert found.estimate.value == pytest.approx(plain + off)
    draft = formula_assess(formula=version["formula"], formula_id=formula_id)
    assert draft.figure("ph") == found
    (shown,) = (one for one in card_get(**version).key_numbers if one.key == "ph")
    assert shown.value == f"{plain + off:.1f}"
    assert acid_dose(target_ph=4.0, **version).ph.value == found.estimate.value
    assert titration(**version).titration.ph.value == found.estimate.value
    difference = version_compare(formula_id=formula_id, first=2, second=3)
    (row,) = (one for one in difference.values if one.label == found.label)
    assert (row.second.value, row.second.low, row.second.high) == (
        found.estimate.value, found.estimate.low, found.estimate.high
    )  # fmt: skip


def test_a_reading_of_a_later_version_moves_no_earlier_one(measured_off):
    formula_id, off = measured_off
    record(formula_id, 3, 4.0)
    second = formula_assess(**version_of(formula_id, 2))
    plain = ph(formula_assess(formula=sour(SOURER))).value
    assert ph(second).value == pytest.approx(plain + off)
    first = formula_assess(**version_of(formula_id, 1))
    assert first.figure("ph").label == "pH, measured"


def test_a_dose_says_whether_a_reading_counts_and_starts_from_it(measured_off):
    formula_id, _ = measured_off
    told = [
        (plan.is_measured, plan.is_moved)
        for plan in (
            acid_dose(target_ph=4.0, **version_of(formula_id, 1)),
            acid_dose(target_ph=4.0, **version_of(formula_id, 2)),
            acid_dose(target_ph=4.0, formula=sour(SOURER)),
        )
    ]
    assert told == [(True, False), (False, True), (False, False)]


def test_an_ingredient_measured_since_counts_in_the_earlier_version_too(measured_off):
    formula_id, off = measured_off
    before = calibration_for(**version_of(formula_id, 2)).offset
    assert before == pytest.approx(off)
    lemon = IngredientReading(material="lemon juice", ph=3.0)
    pantry.reading_save(id=None, document=lemon)
    after = calibration_for(**version_of(formula_id, 2)).offset
    assert after != pytest.approx(before, abs=0.01)


def test_the_earlier_version_is_computed_once(measured_off, monkeypatch):
    built = []

    def counted(*arguments, **named):
        built.append(arguments)
        return bench_build(*arguments, **named)

    monkeypatch.setattr(calibration, "bench_build", counted)
    pantry.reading_save(id=None, document=IngredientReading(material="lime juice", ph=2.5))
    found = {calibration_for(**version_of(measured_off[0], number)).offset for number in (2, 3, 2)}
    assert (len(found), len(built)) == (1, 1)


def test_an_earlier_version_without_a_ph_moves_nothing():
    dry = formula_of(ingredients="500 g sugar\n", steps="")
    formula_id = formula_create(formula=dry).formula_id
    formula_save(formula_id=formula_id, formula=sour(), base_number=1)
    record(formula_id, 1, 5.0)
    assert formula_assess(**version_of(formula_id, 2)) == formula_assess(formula=sour())


def test_an_earlier_version_that_cannot_be_read_moves_nothing(measured_off, monkeypatch):
    def refused(*_, **__):
        raise InputError("Too long to be a formula.")

    pantry.reading_save(id=None, document=IngredientReading(material="lime juice", ph=2.4))
    monkeypatch.setattr(calibration, "bench_build", refused)
    assert calibration_for(**version_of(measured_off[0], 2)) == calibration.Calibration()


def test_the_sentence_in_the_list_is_computed_with_the_reading(formula_id, monkeypatch):
    record(formula_id, 1, 4.0)
    asked = []

    def noted(**named):
        asked.append(named)
        return formula_assess(**named)

    monkeypatch.setattr(formulas, "formula_assess", noted)
    saved = formula_save(formula_id=formula_id, formula=sour(SOURER), base_number=1)
    assert [one["formula_id"] for one in asked] == [formula_id]
    found = formula_assess(**version_of(formula_id, saved.number))
    assert formula_get(formula_id=formula_id).headline == found.texture.sentence
