"""Drafts of a saved formula: what its versions were measured at moves the computed pH."""

import pytest
from builders_kitchen import formula_of

from setwell.domain.reading import VersionReading
from setwell.services.assessment import formula_assess
from setwell.services.drafts import draft_assess
from setwell.services.formulas import formula_create, formula_save
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
    moved = draft_assess(formula=sour(SOURER), formula_id=formula_id)
    assert ph(moved).value == pytest.approx(plain.value + off)
    assert width(ph(moved)) == pytest.approx(width(plain) / 2)
    assert "Moved by -0.31, as an earlier version was measured." in moved.figure("ph").remark
    assert "this_kitchen" in {citation.source for citation in ph(moved).evidence}


def test_the_content_that_was_measured_shows_the_reading_beside_the_computed_ph(formula_id):
    computed = ph(formula_assess(formula=sour()))
    record(formula_id, 1, 4.9)
    found = draft_assess(formula=sour(), formula_id=formula_id)
    assert (found.figure("ph").label, ph(found).value) == ("pH, measured", 4.9)
    assert found.figure("ph_computed").estimate == computed
    assert "Moved" not in found.figure("ph_computed").remark


def test_the_newest_version_that_was_measured_decides(formula_id):
    formula_save(formula_id=formula_id, formula=sour(SOURER), base_number=1)
    plain = ph(formula_assess(formula=sour(SOUREST))).value
    record(formula_id, 2, ph(formula_assess(formula=sour(SOURER))).value + 0.2)
    record(formula_id, 1, ph(formula_assess(formula=sour())).value - 0.4)
    found = draft_assess(formula=sour(SOUREST), formula_id=formula_id)
    assert ph(found).value == pytest.approx(plain + 0.2)


def test_a_draft_without_a_reading_of_its_own_formula_is_not_moved(formula_id):
    plain = formula_assess(formula=sour(SOURER)).figure("ph")
    other = formula_create(formula=sour(SOUREST)).formula_id
    row_id = record(formula_id, 1, 4.0)
    for draft in (
        draft_assess(formula=sour(SOURER)),
        draft_assess(formula=sour(SOURER), formula_id=other),
    ):
        assert draft.figure("ph") == plain
    version_reading_delete(id=row_id)
    assert draft_assess(formula=sour(SOURER), formula_id=formula_id).figure("ph") == plain
