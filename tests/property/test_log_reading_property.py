"""Whatever a logger writes in is read back, and nothing a file holds breaks the reading."""

import datetime as dt
from contextlib import suppress

import numpy as np
import pytest
from builders_probe import log_of
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from setwell.domain.log_reading import DecimalMark, Delimiter, LogReading, TimeForm, log_read
from setwell.domain.probe_log import ProbeLog, samples_pack, samples_unpack
from setwell.engine.probe.cleaning import log_clean
from setwell.errors import InputError

START = dt.datetime(2026, 11, 23, 7, 59, 50)  # noqa: DTZ001 - as a logger writes it
TENTHS = st.integers(-400, 1_800).map(lambda value: value / 10)
READINGS = st.lists(st.tuples(TENTHS, TENTHS), min_size=3, max_size=12)
STEP = st.sampled_from([1, 5, 10, 60, 300])
FORMS = {
    TimeForm.ISO: lambda s: (START + dt.timedelta(seconds=s)).isoformat(sep=" "),
    TimeForm.DAY_FIRST: lambda s: (START + dt.timedelta(seconds=s)).strftime("%d/%m/%Y %H:%M:%S"),
    TimeForm.MONTH_FIRST: lambda s: (START + dt.timedelta(seconds=s)).strftime(
        "%m/%d/%Y %I:%M:%S %p"
    ),
    TimeForm.CLOCK: lambda s: f"{s // 3600}:{s // 60 % 60:02d}:{s % 60:02d}",
    TimeForm.SECONDS: str,
    TimeForm.MINUTES: lambda s: f"{s / 60:.4f}",
}


@settings(max_examples=150)
@given(
    rows=READINGS,
    step=STEP,
    delimiter=st.sampled_from(list(Delimiter)),
    decimal=st.sampled_from(list(DecimalMark)),
    form=st.sampled_from(list(FORMS)),
    quoted=st.booleans(),
    unit=st.sampled_from(["(°C)", "(°F)"]),
)
def test_any_mark_any_decimal_and_any_time_come_back(
    rows, step, delimiter, decimal, form, quoted, unit
):
    assume(not (decimal is DecimalMark.COMMA and delimiter is Delimiter.COMMA and not quoted))
    assume(not (delimiter is Delimiter.SPACES and quoted))
    mark = (decimal is DecimalMark.COMMA and ",") or "."
    head = {TimeForm.SECONDS: "time (s)", TimeForm.MINUTES: "time (min)"}.get(form, "Time")
    if delimiter is Delimiter.SPACES:
        head = head.replace(" ", "_")
        head = "Date Time" if form in {TimeForm.ISO, TimeForm.DAY_FIRST} else head
        unit = f"_{unit}"
        assume(form is not TimeForm.MONTH_FIRST)
    lines = [[head, f"Core {unit}".replace(" _", "_"), f"Top {unit}".replace(" _", "_")]]
    for place, readings in enumerate(rows):
        moment = FORMS[form](place * step).replace(".", mark)
        lines.append([moment, *(f"{value:.1f}".replace(".", mark) for value in readings)])
    if quoted:
        lines = [[f'"{cell}"' for cell in line] for line in lines]
    text = "\n".join(delimiter.mark.join(line) for line in lines)
    table = log_read(text)
    wanted = np.array(rows).T
    wanted = (wanted - 32) / 1.8 if "F" in unit else wanted
    assert table.reading.delimiter is delimiter
    np.testing.assert_allclose(table.seconds, np.arange(len(rows)) * step, atol=0.01)
    np.testing.assert_allclose(table.celsius, wanted, atol=1e-9)


@settings(max_examples=150)
@given(text=st.text(max_size=300))
def test_any_text_is_read_or_refused_in_words(text):
    with suppress(InputError):
        table = log_read(text)
        assert table.celsius.shape == (len(table.probes), table.count)


@settings(max_examples=100)
@given(data=st.binary(max_size=300))
def test_any_bytes_are_read_or_refused_in_words(data):
    with suppress(InputError):
        assert log_read(data).count >= 1


@settings(max_examples=100)
@given(
    lines=st.lists(
        st.lists(st.sampled_from(["", "20", "85,5", "8:00", "ERR", "2026-11-23", "-", "x", '"']),
                 min_size=1, max_size=5),
        min_size=1, max_size=12,
    ),
    delimiter=st.sampled_from(list(Delimiter)),
    header=st.integers(0, 5),
    column=st.integers(0, 6),
)  # fmt: skip
def test_any_setting_on_any_cells_is_read_or_refused(lines, delimiter, header, column):
    text = "\n".join(delimiter.mark.join(line) for line in lines)
    reading = LogReading(delimiter=delimiter, header_lines=header, time_column=column)
    with suppress(InputError):
        assert log_read(text, reading).reading.delimiter is delimiter


@settings(max_examples=60)
@given(
    rows=st.lists(
        st.tuples(st.one_of(st.just(float("nan")), st.floats(0, 1e6)),
                  st.one_of(st.just(float("nan")), st.floats(-60, 300))),
        max_size=30,
    )
)  # fmt: skip
def test_packed_samples_come_back_to_a_thousandth(rows):
    table = np.array(rows, dtype=float).reshape(-1, 2).T
    packed = samples_pack(table[0], table[1:])
    if table.shape[1]:
        again = samples_unpack(packed, 2, table.shape[1])
        np.testing.assert_allclose(again, table, atol=5.1e-4)


@settings(max_examples=60)
@given(
    seconds=st.lists(st.one_of(st.just(float("nan")), st.integers(0, 500)), max_size=40),
    seed=st.integers(0, 9),
)
def test_a_cleaned_course_rises_in_time_and_holds_only_samples_of_the_log(seconds, seed):
    celsius = np.random.default_rng(seed).uniform(-80, 320, len(seconds)).round(1)
    log = log_of(np.array(seconds, dtype=float), celsius)
    probe = log_clean(log).probes[0]
    assert len(probe.flags) == len(seconds)
    if probe.course is not None:
        assert (np.diff(probe.course.seconds) > 0).all()
        assert set(probe.course.celsius) <= set(celsius)
        assert len(probe.course.celsius) == int((probe.flags == 0).sum())


@pytest.mark.parametrize("broken", ["", "AAAA", "no text", "eJw="])
def test_samples_that_were_tampered_with_are_refused(broken):
    good = log_of([0, 1, 2], [20, 21, 22])
    with pytest.raises(ValueError, match="samples"):
        ProbeLog.model_validate({**good.model_dump(), "samples": broken})
