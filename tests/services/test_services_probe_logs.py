"""Probe logs of versions: sent, corrected, saved, typed in, set aside; nothing is lost."""

import csv
import datetime as dt
import hashlib
import io

import numpy as np
import pytest
from builders_kitchen import formula_of
from builders_probe import batch_course, file_of
from django.db import IntegrityError, transaction

from setwell.domain.equipment import Cooler, MoldForm, MoldShape
from setwell.domain.log_reading import LogReading, ProbePlace
from setwell.domain.probe_log import Probe
from setwell.domain.process_plan import CoolPlan, ProcessPlan
from setwell.engine.assess import bench_build
from setwell.engine.heat.cooling import cool
from setwell.engine.safety.results import Ruling
from setwell.errors import (
    ConflictError,
    DocumentError,
    InputError,
    NotFoundError,
    OutOfRangeError,
)
from setwell.services import pantry, probe_logs, probe_uploads
from setwell.services.formulas import formula_create
from setwell.services.probe_fitting import FittedKind, probe_equipment_fit, probe_equipment_use
from setwell.services.probe_judging import computed, probe_log_judged
from setwell.services.process_plans import plan_save
from setwell.store.rows import ProbeLogRow, ProbeRulingRow, ProbeSampleRow, ProbeUploadRow

pytestmark = pytest.mark.django_db

CORE = (Probe(name="Core", place=ProbePlace.CORE),)


@pytest.fixture
def place():
    saved = formula_create(formula=formula_of())
    return {"formula_id": saved.formula_id, "number": saved.number}


@pytest.fixture
def data():
    seconds, celsius = batch_course()
    return file_of(seconds, celsius, celsius - 1).encode()


def saved_log(place, data, **fields):
    upload = probe_uploads.probe_upload_add(**place, file_name="batch 7.csv", data=data)
    fields.setdefault("reading", LogReading())
    return probe_uploads.probe_log_save(upload_id=upload, **fields)


def test_a_file_is_shown_before_anything_is_saved(place, data):
    upload = probe_uploads.probe_upload_add(**place, file_name="batch 7.csv", data=data)
    found = probe_uploads.probe_preview(upload_id=upload)
    assert [probe.name for probe in found.table.probes] == ["Core", "Surface"]
    assert found.head_lines[0] == "Time,Core (°C),Surface (°C)"
    assert found.first_samples[0] == (0.0, (20.0, 19.0))
    assert probe_logs.probe_log_list() == ()


def test_a_saved_log_keeps_the_file_the_settings_and_the_samples(place, data):
    log_id = saved_log(place, data, title=" Run 7 ", note=" slow fridge ", probe_error_c=0.5)
    stored = probe_logs.probe_log_get(id=log_id)
    document = stored.document
    assert (document.title, document.note, document.probe_error_c) == ("Run 7", "slow fridge", 0.5)
    assert document.raw_sha256 == hashlib.sha256(data).hexdigest()
    assert document.file_name == "batch 7.csv"
    assert document.read_by.time_column == 1
    assert probe_logs.probe_log_raw(id=log_id) == data
    assert document.count == len(batch_course()[0])
    assert not ProbeUploadRow.objects.exists()
    assert (stored.formula_id, stored.number) == (place["formula_id"], 1)


def test_a_file_that_cannot_be_read_stays_and_can_be_corrected(place):
    text = "a;b\n1,5;20,5\n2,5;21\n"
    upload = probe_uploads.probe_upload_add(**place, file_name="x", data=text.encode())
    bad = LogReading(time_column=7)
    assert (
        "no column 7" in probe_uploads.probe_preview(upload_id=upload, reading=bad).problem.message
    )
    with pytest.raises(InputError, match="no column 7"):
        probe_uploads.probe_log_save(upload_id=upload, reading=bad)
    good = LogReading(time_column=1, time_form="minutes")
    assert probe_uploads.probe_preview(upload_id=upload, reading=good).table.count == 2
    assert probe_uploads.probe_log_save(upload_id=upload, reading=good)


def test_a_log_without_a_time_needs_its_interval(place):
    data = b"Core C\n20\n30\n"
    upload = probe_uploads.probe_upload_add(**place, file_name="x", data=data)
    with pytest.raises(InputError) as caught:
        probe_uploads.probe_log_save(upload_id=upload, reading=LogReading())
    assert caught.value.field == "interval_s"
    reading = LogReading(interval_s=5)
    log_id = probe_uploads.probe_log_save(upload_id=upload, reading=reading)
    assert probe_logs.probe_log_get(id=log_id).document.table[0].tolist() == [0, 5]


def test_a_file_is_refused_by_its_size_and_by_what_it_is(place):
    with pytest.raises(DocumentError, match=r"has 1,024 MB; at most 64 MB"):
        probe_uploads.probe_file_check(size=1_024_000_000, name="log.csv")
    with pytest.raises(DocumentError, match="is empty"):
        probe_uploads.probe_upload_add(**place, file_name="log.csv", data=b"")
    with pytest.raises(DocumentError, match="workbook"):
        probe_uploads.probe_upload_add(**place, file_name="log.xlsx", data=b"PK\x03\x04")
    assert not ProbeUploadRow.objects.exists()


def test_files_that_were_never_saved_are_forgotten_after_a_week(place, data, monkeypatch):
    first = probe_uploads.probe_upload_add(**place, file_name="old", data=data)
    later = probe_uploads.now() + dt.timedelta(days=8)
    monkeypatch.setattr(probe_uploads, "now", lambda: later)
    second = probe_uploads.probe_upload_add(**place, file_name="new", data=data)
    with pytest.raises(NotFoundError, match="Send it again"):
        probe_uploads.probe_preview(upload_id=first)
    assert probe_uploads.probe_preview(upload_id=second).table


def test_an_upload_needs_a_version(data):
    with pytest.raises(NotFoundError, match="no version 3"):
        probe_uploads.probe_upload_add(formula_id=1, number=3, file_name="x", data=data)


def test_what_a_log_proves_is_told_with_the_formula(place, data):
    judged = probe_log_judged(id=saved_log(place, data))
    rulings = {check.key: check.ruling for check in judged.judgement.checks}
    assert rulings["cooling_total"] is Ruling.PASS
    assert judged.judgement.agents[0].name == "Kappa carrageenan"
    assert judged.plan is not None


def test_readings_by_hand_grow_a_log(place, monkeypatch):
    log_id = probe_logs.probe_log_start(**place, title="", probes=CORE)
    stored = probe_logs.probe_log_get(id=log_id)
    assert stored.document.title.startswith("Typed in ")
    assert stored.document.count == 0
    for minute, value in ((0, 20.0), (10, 60.0), (20, 88.0)):
        moment = stored.recorded_at + dt.timedelta(minutes=minute)
        monkeypatch.setattr(probe_logs, "now", lambda moment=moment: moment)
        assert probe_logs.probe_sample_add(id=log_id, celsius={0: value}) == minute * 60
    probe_logs.probe_sample_add(id=log_id, celsius={0: 75.0}, seconds=900)
    seconds, celsius = probe_logs.probe_log_get(id=log_id).document.table
    assert seconds.tolist() == [0, 600, 900, 1_200]
    assert celsius[0].tolist() == [20, 60, 75, 88]
    assert probe_log_judged(id=log_id).judgement.agents


def test_a_struck_reading_stays_in_the_records(place):
    log_id = probe_logs.probe_log_start(**place, title="Hand", probes=CORE)
    probe_logs.probe_sample_add(id=log_id, celsius={0: 20.0}, seconds=0)
    probe_logs.probe_sample_add(id=log_id, celsius={0: 880.0 / 10 * 2}, seconds=60)
    wrong = probe_logs.probe_samples(id=log_id)[1]
    probe_logs.probe_sample_strike(id=log_id, sample=wrong.id)
    assert [one.celsius for one in probe_logs.probe_samples(id=log_id)] == [20.0]
    rows = list(csv.DictReader(io.StringIO(probe_logs.probe_log_raw(id=log_id).decode())))
    assert [row["celsius"] for row in rows] == ["20.0", "176.0", ""]
    assert probe_logs.probe_log_get(id=log_id).document.count == 1


@pytest.mark.parametrize(
    ("celsius", "seconds", "error"),
    [
        ({}, None, InputError),
        ({0: 900.0}, None, OutOfRangeError),
        ({0: float("nan")}, None, OutOfRangeError),
        ({3: 20.0}, None, NotFoundError),
        ({0: 20.0}, -5.0, OutOfRangeError),
        ({0: 20.0}, 1e9, OutOfRangeError),
    ],
)
def test_a_reading_that_cannot_be_is_refused(place, celsius, seconds, error):
    log_id = probe_logs.probe_log_start(**place, title="Hand", probes=CORE)
    with pytest.raises(error):
        probe_logs.probe_sample_add(id=log_id, celsius=celsius, seconds=seconds)
    assert probe_logs.probe_samples(id=log_id) == ()


def test_nothing_is_typed_into_the_log_of_a_file(place, data):
    log_id = saved_log(place, data)
    with pytest.raises(ConflictError, match="that of a file"):
        probe_logs.probe_sample_add(id=log_id, celsius={0: 20.0})


def test_two_probes_need_two_names(place):
    with pytest.raises(DocumentError, match="two probes are called"):
        probe_logs.probe_log_start(**place, title="Hand", probes=CORE * 2)


def test_a_log_is_set_aside_with_a_reason_and_taken_back(place, data):
    log_id = saved_log(place, data)
    with pytest.raises(InputError, match="Say why"):
        probe_logs.probe_log_rule(id=log_id, counts=False, reason=" ")
    with pytest.raises(ConflictError, match="counts already"):
        probe_logs.probe_log_rule(id=log_id, counts=True)
    probe_logs.probe_log_rule(id=log_id, counts=False, reason="the probe slipped out")
    stored = probe_logs.probe_log_get(id=log_id)
    assert (stored.counts, stored.reason) == (False, "the probe slipped out")
    probe_logs.probe_log_rule(id=log_id, counts=True)
    assert probe_logs.probe_log_get(id=log_id).counts
    assert ProbeRulingRow.objects.count() == 2


@pytest.mark.parametrize("table", [ProbeLogRow, ProbeSampleRow, ProbeRulingRow])
def test_the_database_refuses_to_change_what_was_recorded(place, table):
    log_id = probe_logs.probe_log_start(**place, title="Hand", probes=CORE)
    probe_logs.probe_sample_add(id=log_id, celsius={0: 20.0})
    probe_logs.probe_log_rule(id=log_id, counts=False, reason="test")
    row = table.objects.get()
    with pytest.raises(IntegrityError, match="never changes"), transaction.atomic():
        row.save()


def test_the_csv_has_every_sample_and_why_it_does_not_count(place):
    seconds, celsius = batch_course()
    celsius[300] = 150.0
    log_id = saved_log(place, file_of(seconds, celsius, celsius).encode())
    rows = list(csv.DictReader(io.StringIO(probe_logs.probe_log_clean_csv(id=log_id))))
    assert len(rows) == len(seconds)
    assert rows[300]["Core raw (°C)"] == "150"
    assert rows[300]["Core (°C)"] == ""
    assert rows[300]["Core flags"] == "spike"
    assert rows[299]["Core flags"] == ""


def test_missing_logs_say_so():
    for ask in (
        lambda: probe_logs.probe_log_get(id=99),
        lambda: probe_logs.probe_log_raw(id=99),
        lambda: probe_log_judged(id=99),
    ):
        with pytest.raises(NotFoundError, match="no probe log 99"):
            ask()


def test_a_list_of_logs_asks_the_database_as_often_for_one_as_for_ten(place, query_counter):
    probe_logs.probe_log_start(**place, title="One", probes=CORE)
    with query_counter() as one:
        probe_logs.probe_log_list(formula_id=place["formula_id"])
    for number in range(4):
        probe_logs.probe_log_start(**place, title=f"Log {number}", probes=CORE)
    with query_counter() as many:
        assert len(probe_logs.probe_log_list(formula_id=place["formula_id"])) == 5
    assert len(one) == len(many)


@pytest.fixture
def cooled(place):
    """A log of a mold in a fridge whose coefficient is known."""
    cooler = Cooler(name="Walk-in", air_c=3.0)
    pantry.cooler_save(id=None, document=cooler)
    mold = MoldForm(shape=MoldShape.CUP, diameter_mm=70, height_mm=60)
    plan = CoolPlan(mold=mold, cooler=cooler, pour_c=80.0)
    plan_save(**place, document=ProcessPlan(cooling=plan))
    known = plan.model_copy(
        update={
            "cooler": cooler.model_copy(
                update={"coefficient_w_m2k": 18.0, "coefficient_low": 18, "coefficient_high": 18}
            )
        }
    )
    core = cool(bench_build(formula_of()), known).core
    seconds = np.arange(0, min(float(core.seconds[-1]), 5 * 3_600.0), 60.0)
    celsius = core.at(seconds).celsius + np.random.default_rng(2).normal(0, 0.1, len(seconds))
    return saved_log(place, file_of(seconds, celsius, head="Time,Core (°C)").encode())


def test_a_cold_place_is_fitted_and_written_on_its_shelf(cooled):
    found = probe_equipment_fit(id=cooled, kind=FittedKind.COLD_PLACE)
    assert found.fit.low <= 18.0 <= found.fit.high
    assert found.fit.value == pytest.approx(18.0, rel=0.15)
    assert pantry.cooler_list()[0].document.coefficient_w_m2k is None
    probe_equipment_use(id=cooled, kind=FittedKind.COLD_PLACE)
    (row,) = pantry.cooler_list()
    assert row.document.name == "Walk-in"
    assert row.document.coefficient_w_m2k == pytest.approx(18.0, rel=0.15)
    assert f"probe log {cooled}" in row.document.measured


def test_the_log_stands_beside_what_was_computed(cooled):
    judged = probe_log_judged(id=cooled)
    (beside,) = judged.judgement.compared
    assert beside.place == "Core"
    assert beside.worst_at_s > 0
    assert judged.plan.is_saved


def test_nothing_is_fitted_to_a_log_that_is_set_aside_or_has_no_plan(cooled, place, data):
    probe_logs.probe_log_rule(id=cooled, counts=False, reason="door open")
    with pytest.raises(ConflictError, match="set aside"):
        probe_equipment_fit(id=cooled, kind=FittedKind.COLD_PLACE)
    other = saved_log(place, data)
    with pytest.raises(InputError, match="no pot"):
        probe_equipment_fit(id=other, kind=FittedKind.HOB)


def test_a_fault_of_the_equations_is_told_as_a_log_they_were_not_made_for():
    with pytest.raises(InputError, match="outside of what is computed"):
        computed(lambda: np.max(np.zeros(0)))
    with pytest.raises(NotFoundError):
        computed(lambda: probe_logs.probe_log_get(id=99))
