"""What a file does not say must not become a verdict."""

import numpy as np
import pytest
from builders_probe import batch_course, log_of_file

from setwell import formula_make
from setwell.domain.log_reading import LogReading, log_read
from setwell.domain.probe_log import probe_log_make
from setwell.engine.assess import bench_build
from setwell.engine.probe.judging import log_judge
from setwell.engine.safety.results import Ruling
from setwell.engine.verdict import Verdict

CUSTARD = "500 g whole milk\n100 g egg yolk\n60 g sugar\n4 g kappa carrageenan"


@pytest.fixture(scope="module")
def bench():
    return bench_build(
        formula_make(title="Set custard", ingredients=CUSTARD, steps="Heat to 88 °C, hold 10 min")
    )


def rulings(found):
    return {check.key: check.ruling for check in found.checks}


def text_of(seconds, values, head):
    rows = "".join(f"{s:g},{v:.1f}\n" for s, v in zip(seconds, values, strict=True))
    return f"{head}\n{rows}"


def confirmed(text, **settings):
    """Return the log of a file as it was guessed, with the unit confirmed by a person."""
    reading = log_read(text).reading.model_copy(update=settings)
    return probe_log_make(log_read(text, reading), title="Batch")


def test_a_pass_that_another_unit_would_take_away_is_none(bench):
    text = text_of(*batch_course(), "time (s),Core")
    found = log_judge(log_of_file(text), bench)
    check = next(one for one in found.checks if one.key == "egg")
    assert check.ruling is Ruling.CANNOT_TELL
    assert "would change in °F" in check.text
    assert "Say whether it is °C or °F" in check.action
    assert found.agents[0].hydrates is Verdict.CANNOT_TELL
    assert Ruling.PASS not in {one.ruling for one in found.law}
    assert rulings(log_judge(confirmed(text), bench))["egg"] is Ruling.PASS


def test_what_no_unit_changes_stays_a_verdict(bench):
    seconds, celsius = batch_course(hot=45.0)
    found = log_judge(log_of_file(text_of(seconds, celsius, "time (s),Core")), bench)
    assert rulings(found)["egg"] is Ruling.FAIL


def test_kelvin_without_a_unit_never_proves_a_heating(bench):
    seconds, celsius = batch_course(hot=56.0)
    log = log_of_file(text_of(seconds, celsius + 273.15, "time (s),Core"))
    assert float(np.nanmax(log.table[1])) == pytest.approx(56.0, abs=0.1)
    assert Ruling.PASS not in {one.ruling for one in log_judge(log, bench).law}


def test_fahrenheit_that_was_guessed_is_not_trusted_either(bench):
    seconds, celsius = batch_course()
    log = log_of_file(text_of(seconds, celsius * 1.8 + 32, "time (s),Core"))
    assert rulings(log_judge(log, bench))["cooling_total"] is Ruling.CANNOT_TELL


@pytest.mark.parametrize(
    ("seconds_per_row", "head"), [(0.01, "time,Core °C"), (1.0, "time,Core °C")]
)
def test_a_time_without_a_unit_proves_no_hold_and_no_cooling(bench, seconds_per_row, head):
    seconds, celsius = batch_course(hot=66.0, hold_min=4)
    text = text_of(seconds * seconds_per_row, celsius, head)
    ruled = rulings(log_judge(log_of_file(text), bench))
    assert ruled["egg"] is not Ruling.PASS
    assert ruled["cooling_total"] is not Ruling.PASS


def test_a_moment_at_70_needs_no_time_and_stays_a_pass(bench):
    text = text_of(*batch_course(), "time,Core °C")
    assert rulings(log_judge(log_of_file(text), bench))["egg"] is Ruling.PASS


def test_hours_and_minutes_that_may_be_minutes_and_seconds_prove_no_hold(bench):
    seconds, celsius = batch_course(60.0, hot=66.0, hold_min=4)
    lines = [f"{int(s) // 60 // 60}:{int(s) // 60 % 60:02d},{c:.1f}"
             for s, c in zip(seconds, celsius, strict=True)]  # fmt: skip
    text = "\n".join(["t,Core °C", *lines])
    assert rulings(log_judge(log_of_file(text), bench))["cooling_total"] is Ruling.CANNOT_TELL
    told = LogReading(time_form="hours:minutes:seconds")
    known = log_judge(probe_log_make(log_read(text, told), title="Batch"), bench)
    assert rulings(known)["cooling_total"] is Ruling.PASS


def test_days_that_follow_on_each_other_leave_no_doubt_of_the_date():
    head = "when,Core °C\n"
    on = "11/05/2026 23:40,20\n11/05/2026 23:50,20\n11/06/2026 0:00,21\n11/06/2026 0:10,22\n"
    assert log_read(head + on).doubts == ()
    apart = "11/05/2026 8:00,20\n11/05/2026 8:10,20\n11/06/2026 8:00,21\n11/06/2026 8:10,22\n"
    assert [doubt.value for doubt in log_read(head + apart).doubts] == ["date_order"]


def test_numbers_beyond_any_probe_are_no_readings():
    log = log_of_file("time (s),Core °C\n0,20\n10,1e300\n20,-9e99\n30,21\n1e200,22\n")
    assert np.isnan(log.table[1][0]).tolist() == [False, True, True, False, False]
    assert np.isnan(log.table[0]).tolist() == [False] * 4 + [True]
