"""The document of a probe log: raw as it was read, packed, and whole."""

import json

import numpy as np
import pytest
from builders_probe import batch_course, file_of, log_of
from pydantic import ValidationError

from setwell.domain.log_reading import LogReading, ProbePlace
from setwell.domain.probe_log import PROBE_ERROR_C, ProbeLog, probe_log_read
from setwell.errors import InputError


def test_a_file_becomes_a_log_that_tells_how_it_was_read():
    seconds, celsius = batch_course()
    log = probe_log_read(file_of(seconds, celsius, celsius - 1), title="Run 7", file_name="a.csv")
    times, readings = log.table
    np.testing.assert_allclose(times, seconds)
    np.testing.assert_allclose(readings[0], celsius.round(1), atol=1e-9)
    assert [probe.place for probe in log.probes] == [ProbePlace.CORE, ProbePlace.SURFACE]
    assert log.probe_error_c == PROBE_ERROR_C
    assert log.started == "2026-11-23 08:00:00"
    assert log.read_by.header_lines == 1
    assert len(log.raw_sha256) == 64


def test_a_log_comes_back_from_its_json():
    log = log_of([0, 10, np.nan, 30], [20, np.nan, 22, 23], [1, 2, 3, 4])
    again = ProbeLog.model_validate_json(log.canonical_json())
    assert again == log
    np.testing.assert_array_equal(again.table[0], log.table[0])
    np.testing.assert_array_equal(again.table[1], log.table[1])


def test_a_day_of_samples_takes_little_room():
    seconds, celsius = batch_course(1.0, cool_h=23)
    log = log_of(seconds, (celsius + 0.05).round(1))
    assert len(log.canonical_json()) < 2 * len(seconds)


def test_nothing_is_sorted_or_cut():
    log = log_of([30, 10, 10, 0], [23, 21, 500, 20])
    assert log.table[0].tolist() == [30, 10, 10, 0]
    assert log.table[1].tolist() == [[23, 21, 500, 20]]


def test_equal_names_are_numbered():
    log = probe_log_read("s,Core °C,Core °C\n0,20,21\n1,20,21\n")
    assert [probe.name for probe in log.probes] == ["Core", "Core (2)"]


def test_a_file_without_a_time_needs_its_interval():
    with pytest.raises(InputError) as caught:
        probe_log_read("Core °C\n20\n21\n")
    assert caught.value.field == "interval_s"
    log = probe_log_read("Core °C\n20\n21\n", reading=LogReading(interval_s=5))
    assert log.table[0].tolist() == [0, 5]


def test_text_and_bytes_are_the_same_file():
    text = "s,Core °C\n0,20\n1,21\n"
    assert probe_log_read(text).raw_sha256 == probe_log_read(text.encode()).raw_sha256


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"count": 5}, "not those of 5 lines"),
        ({"probes": [{"name": "A"}, {"name": "A"}]}, "two probes are called"),
        ({"probe_error_c": -1}, "greater than or equal"),
        ({"raw_sha256": "abc"}, "pattern"),
        ({"color": "red"}, "not permitted"),
        ({"probes": []}, "at least 1"),
    ],
)
def test_what_is_not_whole_is_refused(change, said):
    made = json.loads(log_of([0, 1, 2], [20, 21, 22]).canonical_json())
    with pytest.raises(ValidationError, match=said):
        ProbeLog.model_validate({**made, **change})


def test_a_short_text_cannot_unpack_to_a_flood():
    import base64
    import zlib

    flood = base64.b64encode(zlib.compress(b"\0" * 50_000_000)).decode()
    made = log_of([0, 1, 2], [20, 21, 22]).model_dump()
    with pytest.raises(ValidationError, match="not those of 3 lines"):
        ProbeLog.model_validate({**made, "samples": flood})
