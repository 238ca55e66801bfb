"""Texture readings of versions: written once, set aside with a reason, exported whole."""

import csv
import datetime as dt
import io

import pytest
from builders_kitchen import agent_of, formula_of, lot_of
from django.db import IntegrityError, transaction
from django.db.models import ProtectedError

from setwell.domain.texture_reading import TextureReading
from setwell.errors import ConflictError, InputError, NotFoundError, UnknownNameError
from setwell.services import pantry
from setwell.services.formulas import formula_create, formula_save
from setwell.services.texture_readings import (
    texture_reading_export_csv,
    texture_reading_get,
    texture_reading_list,
    texture_reading_lots,
    texture_reading_record,
    texture_reading_set_aside,
    texture_reading_take_back,
    texture_word_choices,
)
from setwell.store.rows import TextureReadingRow, TextureRulingRow, VersionRow

pytestmark = pytest.mark.django_db

KAPPA = "kappa_carrageenan"


@pytest.fixture
def formula_id():
    saved = formula_create(formula=formula_of())
    changed = formula_of(ingredients="500 g whole milk\n30 g sugar\n0.5% kappa carrageenan\n")
    formula_save(formula_id=saved.formula_id, formula=changed, base_number=1)
    return saved.formula_id


def record(formula_id, number=1, value=300, **fields):
    document = TextureReading(**{"kind": "penetration", "value": value, **fields})
    return texture_reading_record(formula_id=formula_id, number=number, document=document)


def test_a_reading_is_listed_with_its_version(formula_id):
    first = record(formula_id, note=" firm ", taken_by=" Ana ", taken_on=dt.date(2026, 11, 20))
    second = record(formula_id, number=2, value=340)
    rows = texture_reading_list(formula_id=formula_id)
    assert [(row.id, row.number, row.document.value) for row in rows] == [
        (second, 2, 340), (first, 1, 300)
    ]  # fmt: skip
    one = texture_reading_get(id=first)
    assert (one.document.note, one.document.taken_by) == ("firm", "Ana")
    assert one.title == "Milk gel"
    assert one.counts
    assert one.recorded_at.tzinfo is not None


@pytest.mark.parametrize("number", [3, 0, -1, 10**30])
def test_a_version_that_is_not_there_cannot_be_measured(formula_id, number):
    with pytest.raises(NotFoundError):
        record(formula_id, number=number)
    with pytest.raises(NotFoundError, match="no texture reading 99"):
        texture_reading_get(id=99)


def test_the_lot_in_use_is_noted_unless_another_is_named(formula_id):
    assert texture_reading_get(id=record(formula_id)).document.lots == {KAPPA: ""}
    pantry.lot_save(id=None, document=lot_of("K-1", in_use=True))
    assert texture_reading_get(id=record(formula_id)).document.lots == {KAPPA: "K-1"}
    pantry.lot_save(id=None, document=lot_of("K-7"))
    other = record(formula_id, lots={KAPPA: "K-7"})
    assert texture_reading_get(id=other).document.lots == {KAPPA: "K-7"}
    without = record(formula_id, lots={KAPPA: ""})
    assert texture_reading_get(id=without).document.lots == {KAPPA: ""}
    with pytest.raises(UnknownNameError, match="no lot “K-8”") as caught:
        record(formula_id, lots={KAPPA: "K-8"})
    assert caught.value.nearest == ("K-1", "K-7")


def test_the_lots_that_a_reading_may_name_are_told(formula_id):
    (agent,) = texture_reading_lots(formula_id=formula_id, number=1)
    assert (agent.agent, agent.in_use, agent.known) == (KAPPA, "", ())
    for code in ("K-1", "K-7"):
        pantry.lot_save(id=None, document=lot_of(code, in_use=code == "K-7"))
    pantry.lot_save(id=None, document=lot_of("A-1", agent="agar"))
    (agent,) = texture_reading_lots(formula_id=formula_id, number=1)
    assert (agent.in_use, agent.known) == ("K-7", ("K-7", "K-1"))
    plain = formula_create(formula=formula_of(ingredients="500 g whole milk\n"))
    assert texture_reading_lots(formula_id=plain.formula_id, number=1) == ()


def test_an_own_product_is_noted_by_its_name(formula_id):
    pantry.agent_save(id=None, document=agent_of())
    pantry.lot_save(id=None, document=lot_of("7", agent="Kappa trade powder", in_use=True))
    own = formula_of(ingredients="500 g whole milk\n0.4% kappa trade powder\n")
    saved = formula_create(formula=own)
    reading = texture_reading_get(id=record(saved.formula_id))
    assert reading.document.lots == {KAPPA: "Kappa trade powder · 7"}


def test_a_lot_of_an_agent_that_is_not_in_it_is_refused(formula_id):
    with pytest.raises(InputError, match="no agar in version 1") as caught:
        record(formula_id, lots={"agar": "A-1"})
    assert caught.value.field == "lots"


def test_a_reading_never_changes_whoever_asks(formula_id):
    row_id = record(formula_id)
    texture_reading_set_aside(id=row_id, reason="scale not level")
    for table in (TextureReadingRow, TextureRulingRow):
        with pytest.raises(IntegrityError, match="never changes"), transaction.atomic():
            table.objects.update(recorded_at="2026-01-01T00:00:00Z")
    with pytest.raises(ProtectedError):
        VersionRow.objects.filter(formula_id=formula_id, number=1).delete()
    with pytest.raises(ProtectedError):
        TextureReadingRow.objects.filter(pk=row_id).delete()


def test_a_reading_is_set_aside_with_a_reason_and_taken_back(formula_id):
    row_id = record(formula_id)
    texture_reading_set_aside(id=row_id, reason=" the cup was still warm ")
    aside = texture_reading_get(id=row_id)
    assert (aside.counts, aside.reason) == (False, "the cup was still warm")
    with pytest.raises(ConflictError, match="already set aside"):
        texture_reading_set_aside(id=row_id, reason="again")
    texture_reading_take_back(id=row_id, reason="it was not")
    back = texture_reading_get(id=row_id)
    assert (back.counts, back.reason) == (True, "it was not")
    with pytest.raises(ConflictError, match="counts already"):
        texture_reading_take_back(id=row_id)
    assert TextureRulingRow.objects.count() == 2


@pytest.mark.parametrize("reason", ["", "   ", "x" * 2_001])
def test_setting_aside_needs_a_reason_of_some_length(formula_id, reason):
    row_id = record(formula_id)
    with pytest.raises(InputError) as caught:
        texture_reading_set_aside(id=row_id, reason=reason)
    assert caught.value.field == "reason"
    assert texture_reading_get(id=row_id).counts


def test_all_readings_go_into_the_export_even_those_set_aside(formula_id):
    first = record(formula_id, plus_minus=10, note="=SUM(A1)", taken_on=dt.date(2026, 11, 20))
    record(formula_id, number=2, kind="outcome", value=None, outcome="did_not_set")
    texture_reading_set_aside(id=first, reason="fell")
    rows = list(csv.DictReader(io.StringIO(texture_reading_export_csv())))
    assert [row["version"] for row in rows] == ["2", "1"]
    outcome, load = rows
    assert (outcome["outcome"], outcome["value"], outcome["plus_minus"]) == ("did_not_set", "", "")
    assert (load["value"], load["unit"], load["plus_minus"]) == ("300.0", "g", "10.0")
    assert (load["counts"], load["reason"], load["taken_on"]) == ("no", "fell", "2026-11-20")
    assert load["lots"] == f"{KAPPA}: -"
    # A spreadsheet would run it.
    assert load["note"] == "'=SUM(A1)"


def test_words_to_choose_from_say_what_they_mean():
    choices = {key: meaning for key, _, meaning in texture_word_choices()}
    assert "knife or a spoon" in choices["spreadable"]


def test_a_version_without_agents_keeps_its_reading():
    saved = formula_create(formula=formula_of(ingredients="500 g whole milk\n"))
    reading = texture_reading_get(id=record(saved.formula_id))
    assert reading.document.lots == {}
