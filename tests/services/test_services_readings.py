"""pH readings of saved versions and of ingredients, and that they count."""

import datetime as dt

import pytest
from builders_kitchen import food_of, formula_of
from django.db import IntegrityError, transaction
from django.db.models import ProtectedError

from setwell.domain.reading import IngredientReading, VersionReading
from setwell.errors import ConflictError, InputError, NotFoundError, UnknownNameError
from setwell.services import pantry
from setwell.services.assessment import formula_assess
from setwell.services.formulas import formula_create, formula_duplicate, formula_save
from setwell.services.kitchen import kitchen_home
from setwell.services.materials import kitchen_catalog
from setwell.services.pantry import pantry_export_csv, pantry_import_csv
from setwell.services.readings import (
    measured_ph,
    measured_ph_before,
    version_reading_delete,
    version_reading_get,
    version_reading_list,
    version_reading_record,
)
from setwell.store.rows import VersionReadingRow, VersionRow

pytestmark = pytest.mark.django_db

DAY = dt.date(2026, 11, 20)


@pytest.fixture
def versions():
    """A formula with three versions; returns its id and their hashes."""
    saved = [formula_create(formula=formula_of())]
    for grams in (31, 32):
        changed = formula_of(ingredients=f"500 g whole milk\n{grams} g sugar\n")
        saved.append(
            formula_save(
                formula_id=saved[0].formula_id, formula=changed, base_number=saved[-1].number
            )
        )
    return saved[0].formula_id, [one.hash for one in saved]


def record(formula_id, number, ph, **fields):
    return version_reading_record(
        formula_id=formula_id, number=number, document=VersionReading(ph=ph, **fields)
    )


def reading_of(ph=2.9, material="lime juice", **fields):
    return IngredientReading(material=material, ph=ph, **fields)


def in_use():
    return [row.reading.ph for row in pantry.reading_list() if row.reading.in_use]


def test_a_reading_is_listed_with_its_version_and_can_be_deleted(versions):
    formula_id, _ = versions
    first = record(formula_id, 1, 6.5, note=" firm ", taken_on=DAY)
    second = record(formula_id, 3, 6.4)
    third = record(formula_id, 3, 6.3)
    rows = version_reading_list(formula_id=formula_id)
    assert [(row.id, row.number, row.document.ph) for row in rows] == [
        (third, 3, 6.3), (second, 3, 6.4), (first, 1, 6.5)
    ]  # fmt: skip
    assert version_reading_get(id=first).document == VersionReading(
        ph=6.5, note="firm", taken_on=DAY
    )
    assert rows[0].recorded_at.tzinfo is not None
    version_reading_delete(id=first)
    assert [row.id for row in version_reading_list(formula_id=formula_id)] == [third, second]


@pytest.mark.parametrize("number", [4, 0, -1, 10**30])
def test_a_version_that_is_not_there_cannot_be_measured(versions, number):
    formula_id, _ = versions
    with pytest.raises(NotFoundError, match=f"There is no version {number} of formula"):
        record(formula_id, number, 4.2)
    with pytest.raises(NotFoundError, match="There is no version 1 of formula"):
        record(10**30, 1, 4.2)


@pytest.mark.parametrize("missing", [404, -1, 10**30])
def test_what_is_not_there_is_said_not_to_be_there(missing):
    for ask in (version_reading_get, version_reading_delete):
        with pytest.raises(NotFoundError, match=f"There is no reading {missing} of a version"):
            ask(id=missing)
    assert version_reading_list(formula_id=missing) == ()
    assert measured_ph_before(formula_id=missing, number=missing) is None


def test_the_database_refuses_to_change_a_reading(versions):
    row_id = record(versions[0], 1, 4.2)
    refused = pytest.raises(IntegrityError, match="a reading of a version never changes")
    with refused, transaction.atomic():
        VersionReadingRow.objects.filter(pk=row_id).update(document='{"ph":7}')
    assert version_reading_get(id=row_id).document.ph == 4.2


def test_the_database_keeps_a_version_that_was_measured(versions):
    record(versions[0], 1, 4.2)
    with pytest.raises(ProtectedError), transaction.atomic():
        VersionRow.objects.filter(number=1).delete()


def test_what_was_measured_is_the_mean_with_its_spread(versions):
    formula_id, hashes = versions
    assert measured_ph(content_hash=hashes[0]) is None
    record(formula_id, 1, 4.2, plus_minus=0.02)
    one = measured_ph(content_hash=hashes[0])
    assert (one.ph, one.plus_minus, one.count) == (4.2, 0.02, 1)
    record(formula_id, 1, 4.4, plus_minus=0.02)
    two = measured_ph(content_hash=hashes[0])
    assert (two.ph, two.plus_minus, two.count) == (pytest.approx(4.3), pytest.approx(0.1), 2)
    assert measured_ph(content_hash=hashes[1]) is None


def test_a_reading_counts_wherever_the_same_content_was_saved(versions):
    formula_id, hashes = versions
    record(formula_id, 1, 4.2)
    again = formula_save(formula_id=formula_id, formula=formula_of(), base_number=3)
    assert (again.number, again.hash) == (4, hashes[0])
    assert measured_ph(content_hash=again.hash).ph == 4.2
    copy = formula_duplicate(formula_id=formula_id, number=1)
    assert measured_ph(content_hash=copy.hash) is None


def test_the_latest_version_before_this_one_that_was_measured_is_found(versions):
    formula_id, _ = versions
    record(formula_id, 2, 4.0)
    record(formula_id, 2, 4.2)
    record(formula_id, 1, 5.0)
    number, reading = measured_ph_before(formula_id=formula_id, number=3)
    assert (number, reading.ph, reading.count) == (2, pytest.approx(4.1), 2)
    assert measured_ph_before(formula_id=formula_id, number=2)[0] == 1
    assert measured_ph_before(formula_id=formula_id, number=1) is None


def test_readings_take_one_query_however_many_there_are(versions, query_counter):
    formula_id, hashes = versions
    for ph in range(3, 9):
        record(formula_id, 1, ph)
    for ask in (
        lambda: version_reading_list(formula_id=formula_id),
        lambda: measured_ph(content_hash=hashes[0]),
        lambda: measured_ph_before(formula_id=formula_id, number=3),
    ):
        with query_counter() as queries:
            assert ask()
        assert len(queries) == 1


def test_what_was_measured_counts_instead_of_the_estimate_and_both_are_shown(versions):
    formula_id, _ = versions
    formula = formula_of()
    estimate = formula_assess(formula=formula).figure("ph").estimate
    row_id = record(formula_id, 1, 5.61, plus_minus=0.1)
    found = formula_assess(formula=formula)
    measured = found.figure("ph").estimate
    assert (measured.value, measured.low, measured.high) == pytest.approx((5.61, 5.51, 5.71))
    assert {citation.source for citation in measured.evidence} == {"this_kitchen"}
    assert found.figure("ph_computed").estimate.value == estimate.value
    other = formula_of(ingredients="500 g whole milk\n31 g sugar\n")
    assert formula_assess(formula=other).figure("ph").estimate.value != measured.value
    version_reading_delete(id=row_id)
    assert formula_assess(formula=formula).figure("ph").estimate == estimate


def test_a_reading_at_the_end_of_the_scale_stays_on_it(versions):
    record(versions[0], 1, 0.02)
    measured = formula_assess(formula=formula_of()).figure("ph").estimate
    assert (measured.value, measured.low) == (0.02, 0.0)


def test_a_measured_ingredient_moves_the_estimate_of_a_formula():
    formula = formula_of(ingredients="200 g lime juice\n100 g water\n", steps="")
    before = formula_assess(formula=formula).figure("ph").estimate.value
    pantry.reading_save(id=None, document=reading_of(3.4, lot_code="LJ-4"))
    found = formula_assess(formula=formula).figure("ph").estimate
    assert before + 0.5 < found.value < 3.8
    assert "pH reading, lot LJ-4" in {citation.locator for citation in found.evidence}


def test_a_reading_of_an_ingredient_counts_at_once_and_shows_what_it_replaces():
    usual = kitchen_catalog().find("lime juice").material.ph
    row_id = pantry.reading_save(id=None, document=reading_of(lot_code="LJ-4", taken_on=DAY))
    measured = kitchen_catalog().find("lime juice").material
    assert (measured.ph.value, measured.ph_citation.locator) == (
        2.9, "pH reading, lot LJ-4, 20 Nov 2026"
    )  # fmt: skip
    instead = pantry.reading_get(row_id).instead_of
    assert (instead.value, instead.low, instead.high) == (usual.value, usual.low, usual.high)
    assert instead.evidence[0].source != "this_kitchen"
    pantry.reading_delete(id=row_id)
    assert kitchen_catalog().find("lime juice").material.ph == usual


def test_one_reading_of_a_food_is_in_use_at_a_time_by_any_of_its_names():
    pantry.reading_save(id=None, document=reading_of(6.7, "whole milk", taken_on=DAY))
    pantry.reading_save(id=None, document=reading_of(6.5, "milk", lot_code="9"))
    pantry.reading_save(id=None, document=reading_of(2.3))
    assert in_use() == [2.3, 6.5]


def test_the_same_food_lot_and_day_is_one_reading():
    pantry.reading_save(id=None, document=reading_of(taken_on=DAY, lot_code="A"))
    same = reading_of(3.1, "Lime  Juice", taken_on=DAY, lot_code="a")
    with pytest.raises(ConflictError) as caught:
        pantry.reading_save(id=None, document=same)
    said = "There already is a reading called “Lime Juice · a · 2026-11-20”."
    assert caught.value.message == said
    assert caught.value.hint == (
        "Change the one there is, or tell this one apart by its lot or its day."
    )
    assert len(pantry.reading_list()) == 1


def test_a_reading_of_something_unknown_offers_the_nearest_names():
    with pytest.raises(UnknownNameError) as caught:
        pantry.reading_save(id=None, document=reading_of(material="lime juce"))
    assert caught.value.message == (
        "“lime juce” is neither in the food table nor one of your foods. Write it as on a line "
        "of a formula."
    )
    assert "lime juice" in caught.value.nearest
    assert caught.value.field == "material"


def test_a_reading_of_a_texture_agent_is_refused():
    with pytest.raises(InputError, match="“agar” is a texture agent; a pH reading belongs to a"):
        pantry.reading_save(id=None, document=reading_of(material="agar"))
    assert pantry.reading_list() == ()


def test_a_reading_follows_an_own_food_to_its_new_name_and_outlives_it_with_a_warning():
    food_id = pantry.food_save(id=None, document=food_of("Quince must", aliases=("quince base",)))
    pantry.reading_save(id=None, document=reading_of(3.4, "Quince must"))
    pantry.food_save(id=food_id, document=food_of("Quince pulp"))
    assert [row.reading.material for row in pantry.reading_list()] == ["Quince pulp"]
    assert kitchen_catalog().find("quince pulp").material.ph.value == 3.4
    pantry.food_delete(id=food_id)
    assert kitchen_home().warnings == (
        "In the pantry, “Quince pulp” is neither in the food table nor one of your foods. Write "
        "it as on a line of a formula.",
    )
    assert pantry.reading_list()[0].instead_of is None


def test_a_reading_may_name_an_own_food_by_its_alias():
    pantry.food_save(id=None, document=food_of("Quince must", ph=3.6, aliases=("quince base",)))
    row_id = pantry.reading_save(id=None, document=reading_of(3.4, "quince base"))
    assert kitchen_catalog().find("quince must").material.ph.value == 3.4
    assert pantry.reading_get(row_id).instead_of.value == 3.6


def test_of_a_file_the_newest_reading_of_a_food_is_in_use():
    pantry.reading_save(id=None, document=reading_of(2.1, taken_on=dt.date(2027, 1, 1)))
    rows = "material,ph,taken_on\nlime juice,2.5,2026-11-02\nlime juice,2.4,2026-11-01\n"
    report = pantry_import_csv(entity="reading", data=rows.encode())
    assert (report.added, report.updated, report.problems) == (2, 0, ())
    assert in_use() == [2.5]


def test_problems_of_a_file_name_row_and_column_and_change_nothing():
    rows = "material,ph,in_use\nlime juice,15,yes\nmoon dust,4,yes\nlime juice,2.4,perhaps\n"
    report = pantry_import_csv(entity="reading", data=rows.encode())
    assert [problem[:30] for problem in report.problems] == [
        "Row 2, column ph: Input should", "Row 3, column material: “moon ",
        "Row 4, column in_use: “perhaps",
    ]  # fmt: skip
    assert pantry.reading_list() == ()


def test_the_file_of_an_empty_shelf_has_the_columns():
    assert pantry_export_csv(entity="reading") == (
        "material,ph,plus_minus,lot_code,taken_on,temperature_c,in_use,note\n"
    )
