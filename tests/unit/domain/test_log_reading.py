"""Files of any logger: what is guessed, what is said to be in doubt, what a person corrects."""

import numpy as np
import pytest

from setwell.domain.log_reading import (
    DecimalMark,
    Delimiter,
    LogReading,
    ProbeColumn,
    ProbePlace,
    TemperatureUnit,
    TimeForm,
    log_read,
)
from setwell.errors import DocumentError, InputError

TEN_S = [0.0, 10.0, 20.0]


def codes(table):
    return {note.code for note in table.notes}


def doubts(table):
    return {note.code for note in table.notes if note.is_doubt}


FORMATS = {
    "ISO and commas": (
        "Time,Core (°C)\n2026-11-23 08:00:00,20.1\n2026-11-23 08:00:10,21\n"
        "2026-11-23 08:00:20,22.5\n"
    ),
    "letter T and zone": (
        "time;core_c\n2026-11-23T08:00:00Z;20.1\n2026-11-23T08:00:10Z;21\n"
        "2026-11-23T08:00:20Z;22.5\n"
    ),
    "time zone with minutes": (
        "time,Core °C\n2026-11-23T10:00:00+02:00,20.1\n2026-11-23T10:00:10+02:00,21\n"
        "2026-11-23T10:00:20+02:00,22.5\n"
    ),
    "semicolon and decimal comma": (
        "Zeit;Kern °C\n23.11.2026 08:00:00;20,1\n23.11.2026 08:00:10;21,0\n"
        "23.11.2026 08:00:20;22,5\n"
    ),
    "month first, twelve hours": (
        "Date/Time\tCore deg C\n11/23/2026 8:00:00 AM\t20.1\n11/23/2026 8:00:10 AM\t21\n"
        "11/23/2026 8:00:20 AM\t22.5\n"
    ),
    "month by name": (
        "when,Core °C\n23-Nov-2026 08:00:00,20.1\n23-Nov-2026 08:00:10,21\n"
        "23-Nov-2026 08:00:20,22.5\n"
    ),
    "two columns and bars": (
        "Date|Time|Core °C\n23/11/2026|8:00:00|20.1\n23/11/2026|8:00:10|21\n"
        "23/11/2026|8:00:20|22.5\n"
    ),
    "spaces between": (
        "Date Time             Core °C\n2026-11-23 08:00:00   20.1\n2026-11-23 08:00:10   21.0\n"
        "2026-11-23 08:00:20   22.5\n"
    ),
    "clock over midnight": "t,Core °C\n23:59:50,20.1\n0:00:00,21\n0:00:10,22.5\n",
    "seconds": "time (s),Core (°C)\n0,20.1\n10,21\n20,22.5\n",
    "milliseconds": "time_ms,Core °C\n500,20.1\n10500,21\n20500,22.5\n",
    "seconds since 1970": "time,Core °C\n1795420800,20.1\n1795420810,21\n1795420820,22.5\n",
    "spreadsheet days": "t;Core °C\n46349,3333333;20,1\n46349,3334491;21\n46349,3335648;22,5\n",
    "names and units on two lines": "Elapsed,Core\ns,°C\n0,20.1\n10,21\n20,22.5\n",
    "quoted": '"Time","Core (°C)"\n"0:00:00","20.1"\n"0:00:10","21"\n"0:00:20","22.5"\n',
    "a delimiter at each end": "s;Core °C;\n0;20.1;\n10;21;\n20;22.5;\n",
    "unit in each cell": "s,Core\n0,20.1 °C\n10,21 °C\n20,22.5 °C\n",
    "unit glued on": "s Core\n0 20.1C\n10 21C\n20 22.5C\n",
    "kelvin": "s,Core (K)\n0,293.25\n10,294.15\n20,295.65\n",
    "fahrenheit": "s,Core (°F)\n0,68.18\n10,69.8\n20,72.5\n",
    "old line ends": "s,Core °C\r0,20.1\r10,21\r20,22.5\r",
    "a preamble": (
        "Logger: kitchen two\nSerial;48213\n\nOperator;at the bench\n"
        "Seconds;Core (°C)\n0;20,1\n10;21,0\n20;22,5\n"
    ),
}


@pytest.mark.parametrize("text", FORMATS.values(), ids=FORMATS.keys())
def test_the_same_three_samples_are_read_from_every_format(text):
    table = log_read(text)
    assert table.seconds == pytest.approx(TEN_S, abs=0.02)
    assert table.celsius[0] == pytest.approx([20.1, 21.0, 22.5], abs=1e-6)
    assert len(table.probes) == 1


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252"])
def test_the_encoding_is_found(codec):
    table = log_read(FORMATS["fahrenheit"].encode(codec))
    assert table.celsius[0] == pytest.approx([20.1, 21.0, 22.5])
    assert ("encoding" in codes(table)) is (codec == "cp1252")


def test_the_first_moment_is_kept_as_text():
    assert log_read(FORMATS["semicolon and decimal comma"]).started == "2026-11-23 08:00:00"
    assert log_read(FORMATS["spreadsheet days"]).started == "2026-11-23 08:00:00"
    assert log_read(FORMATS["seconds"]).started == ""


def test_places_are_taken_from_the_names():
    table = log_read(
        "s,Core °C,Pot bottom °C,Room air °C,Fridge °C,T5 °C\n0,1,2,3,4,5\n1,1,2,3,4,5\n"
    )
    assert [probe.place for probe in table.probes] == [
        ProbePlace.CORE, ProbePlace.BOTTOM, ProbePlace.AIR, ProbePlace.FRIDGE, ProbePlace.FOOD,
    ]  # fmt: skip


def test_columns_that_are_no_temperature_are_left_out_and_named():
    table = log_read("No.,s,Core °C,Humidity %,Battery V\n1,0,20,40,3.1\n2,10,21,41,3.1\n")
    assert [probe.name for probe in table.probes] == ["Core"]
    assert table.reading.time_column == 2
    left = next(note for note in table.notes if note.code == "left_out")
    assert "Humidity" in left.text
    assert "Battery" in left.text


def test_probe_c_beside_probe_a_is_a_name_and_no_unit():
    table = log_read("s,Probe A,Probe C,Probe F\n0,20,20,20\n10,30,30,30\n")
    assert [probe.name for probe in table.probes] == ["Probe A", "Probe C", "Probe F"]
    assert table.celsius[:, 1] == pytest.approx([30, 30, 30])


def test_no_unit_is_told_and_high_values_are_fahrenheit():
    low = log_read("s,Core\n0,20\n10,85\n")
    high = log_read("s,Core\n0,180\n10,185\n")
    assert doubts(low) == doubts(high) == {"unit"}
    assert high.celsius[0, 1] == pytest.approx(85.0)


def test_columns_without_a_unit_are_all_in_one():
    table = log_read("s,Pot,Air\n0,180,70\n10,185,70\n")
    assert table.celsius[:, 1] == pytest.approx([85.0, 70 / 1.8 - 32 / 1.8])
    (said,) = [note for note in table.notes if note.code == "unit"]
    assert said.text.startswith("Pot, Air do not say °C or °F; they were read as °F because")


def test_one_unit_in_the_head_goes_for_columns_that_do_not_say():
    table = log_read("s,Core (°F),Surface\n0,68,68\n10,185,185\n")
    assert "unit" not in codes(table)
    assert table.celsius[1, 1] == pytest.approx(85.0)


def test_mixed_units_are_read_by_cell_and_said():
    table = log_read("s,Core\n0,85 °C\n10,185 °F\n20,85 °C\n")
    assert table.celsius[0] == pytest.approx([85, 85, 85])
    said = next(note for note in table.notes if note.code == "mixed_units")
    assert "2 in °C, 1 in °F" in said.text


@pytest.mark.parametrize("word", ["---", "OL", "ERR", "n/a", "", "NaN", "open", "hot", "inf", "∞"])
def test_text_among_the_numbers_is_missing_and_counted(word):
    table = log_read(f"s,Core °C\n0,20\n10,{word}\n20,22\n30,23\n")
    assert np.isnan(table.celsius[0]).tolist() == [False, True, False, False]
    said = next(note for note in table.notes if note.code == "no_number")
    assert "1 of 4" in said.text


def test_a_decimal_comma_in_a_file_with_points_is_still_that_number():
    table = log_read('s;Core °C\n0;20.5\n10;20.7\n20;"21,5"\n')
    assert table.celsius[0] == pytest.approx([20.5, 20.7, 21.5])


def test_a_date_that_could_be_two_says_so_and_can_be_turned():
    text = "when,Core °C\n03/04/2026 8:00,20\n03/05/2026 8:00,21\n"
    table = log_read(text)
    assert table.reading.time_form is TimeForm.MONTH_FIRST
    assert "date_order" in codes(table)
    turned = log_read(text, LogReading(time_form=TimeForm.DAY_FIRST))
    assert turned.seconds[1] == pytest.approx(30 * 86_400)


def test_two_parts_of_a_clock_say_that_they_could_be_minutes():
    text = "t,Core °C\n0:10,20\n0:20,21\n"
    assert log_read(text).seconds[1] == 600
    assert "clock_parts" in doubts(log_read(text))
    assert log_read(text, LogReading(time_form=TimeForm.MINUTES_CLOCK)).seconds[1] == 10


def test_a_file_without_a_time_asks_for_the_interval():
    table = log_read("Core °C\n20\n21\n22\n")
    assert table.needs_interval
    assert "interval" in doubts(table)
    told = log_read("Core °C\n20\n21\n22\n", LogReading(interval_s=30))
    assert not told.needs_interval
    assert told.seconds == pytest.approx([0, 30, 60])


def test_every_guess_can_be_corrected():
    text = "a;b;c\n1,5;20,5;90\n2,5;21,5;91\n"
    reading = LogReading(
        delimiter=Delimiter.SEMICOLON,
        decimal=DecimalMark.COMMA,
        header_lines=2,
        time_column=1,
        date_column=0,
        time_form=TimeForm.HOURS,
        probes=(
            ProbeColumn(column=3, name="Pot", unit=TemperatureUnit.FAHRENHEIT, place="bottom"),
        ),
    )
    table = log_read(text, reading)
    assert table.count == 1
    assert table.celsius[0, 0] == pytest.approx((91 - 32) / 1.8)
    assert table.reading.probes == reading.probes


def test_what_was_used_reads_the_same_again():
    for text in FORMATS.values():
        first = log_read(text)
        again = log_read(text, first.reading)
        np.testing.assert_array_equal(first.seconds, again.seconds)
        np.testing.assert_array_equal(first.celsius, again.celsius)
        assert again.reading == first.reading


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "empty"),
        (b"\n \n\n", "empty"),
        (b"Time,Core\n", "not a single sample"),
        (b"PK\x03\x04rest", "workbook"),
        (b"%PDF-1.7", "a PDF"),
        (bytes(range(256)) * 20, "not a text file"),
        (b"\xff\xfea\x00b", "cut short"),
        (b"dear cook\nthis is a letter\nwith no numbers\n", "not a single sample"),
    ],
)
def test_what_is_no_log_is_refused_with_what_to_do(data, said):
    with pytest.raises(DocumentError) as caught:
        log_read(data)
    assert said in str(caught.value)
    assert caught.value.hint


def test_a_file_without_temperatures_says_so():
    with pytest.raises(InputError, match="No column of temperatures"):
        log_read("Date,Time\n2026-11-23,8:00:00\n2026-11-23,8:00:10\n")


def test_a_column_that_is_not_there_is_refused_at_its_field():
    probes = (ProbeColumn(column=9, name="Core"),)
    with pytest.raises(InputError) as caught:
        log_read("s,Core °C\n0,20\n1,21\n", LogReading(probes=probes))
    assert caught.value.field == "probes"


def test_short_and_long_lines_are_kept_and_counted():
    table = log_read("s,A °C,B °C\n0,20,30\n10,21\n20,22,32,99\n")
    assert table.count == 3
    assert np.isnan(table.celsius[1, 1])
    assert "ragged" in codes(table)


def test_a_quoted_cell_may_hold_the_delimiter_and_a_line_end():
    table = log_read('"Time, s","Core\n(°C)"\n"0","20.1"\n"10","21"\n')
    assert table.celsius[0] == pytest.approx([20.1, 21])


def test_a_mark_that_is_never_closed_is_said():
    with pytest.raises(DocumentError, match="not closed"):
        log_read('s,Core °C\n0,"20\n' + "1,20\n" * 200)


def test_one_sample_is_a_log_of_one():
    table = log_read("s,Core °C\n0,20\n")
    assert table.count == 1


def test_times_that_cannot_be_read_keep_their_sample():
    table = log_read("s,Core °C\n0,20\nsoon,21\n20,22\n30,23\n")
    assert np.isnan(table.seconds).tolist() == [False, True, False, False]
    assert "no_moment" in codes(table)


def long_lines(count=400):
    return [f"{10 * n},{20 + n / 10:.1f},{30 + n / 10:.1f}" for n in range(count)]


@pytest.mark.parametrize("change", ["none", "quotes", "marks at the end", "empty lines", "short"])
def test_a_long_file_reads_alike_by_every_way_through_it(change):
    lines = long_lines()
    if change == "quotes":
        lines = [",".join(f'"{cell}"' for cell in line.split(",")) for line in lines]
    if change == "marks at the end":
        lines = [f"{line}," for line in lines]
    if change == "empty lines":
        lines[200:200] = ["", ",,", "  "]
    if change == "short":
        lines.append("4000,60.0")
    table = log_read("\n".join(["s,A °C,B °C", *lines]))
    assert table.seconds[:400].tolist() == [10.0 * n for n in range(400)]
    assert table.celsius[1, :400] == pytest.approx([30 + n / 10 for n in range(400)])
    assert ("ragged" in codes(table)) is (change == "short")
    assert table.count == (401 if change == "short" else 400)


def test_more_samples_than_can_be_kept_are_refused():
    from setwell.domain.log_reading import reading

    with pytest.raises(DocumentError, match="1,000,001 samples; at most 1,000,000"):
        reading._count_checked(1_000_001)


@pytest.mark.parametrize(
    "head",
    ["Channel 2 (V)", "Probe (mV)", "RH", "Humidity %", "Feuchte %", "U kPa", "Signal dBm",
     "Power (W)", "Weight kg", "Set point °C", "Setpoint (°C)", "Dew point (°C)", "Alarm high °C",
     "Batt"],
)  # fmt: skip
def test_a_column_of_something_else_is_no_probe(head):
    table = log_read(f"time (s),Core °C,{head}\n0,20,90\n10,21,91\n20,22,92\n")
    assert [probe.name for probe in table.probes] == ["Core"]


@pytest.mark.parametrize(
    ("head", "place"),
    [
        ("Fridge °C", ProbePlace.FRIDGE), ("Refrigerator °C", ProbePlace.FRIDGE),
        ("Walk-in center °C", ProbePlace.FRIDGE), ("Kühlschrank °C", ProbePlace.FRIDGE),
        ("Room °C", ProbePlace.AIR), ("Mushroom base °C", ProbePlace.BOTTOM),
        ("Proven probe °C", ProbePlace.FOOD), ("Core in the fridge °C", ProbePlace.CORE),
        ("Middle °C", ProbePlace.CORE),
    ],
)  # fmt: skip
def test_a_place_outside_of_the_food_is_told_from_its_name(head, place):
    (probe,) = log_read(f"time (s),{head}\n0,20\n10,21\n20,22\n").probes
    assert probe.place is place
    assert probe.place.is_food is (place not in {ProbePlace.AIR, ProbePlace.FRIDGE})


def test_a_letter_that_names_the_only_probe_is_no_unit():
    table = log_read("time (s),Probe F\n0,20\n10,21\n20,22\n")
    assert table.probes[0].name == "Probe F"
    assert "unit" in doubts(table)
    assert log_read("time (s),Core F\n0,68\n10,70\n").doubts == ()


@pytest.mark.parametrize("line", ["Registered to: Kitchen F", "Unitron logger C", "Serial: 12 F"])
def test_a_line_above_the_samples_tells_a_unit_only_when_it_means_one(line):
    assert "unit" in doubts(log_read(f"{line}\ntime (s),Core\n0,20\n10,21\n20,22\n"))


@pytest.mark.parametrize("line", ["Units: F", "Temperature in °F", "unit;F", "degrees Fahrenheit"])
def test_a_line_above_the_samples_can_tell_the_unit(line):
    table = log_read(f"{line}\ntime (s),Core\n0,68\n10,69.8\n20,70\n")
    assert table.celsius[0][0] == pytest.approx(20.0)
    assert table.doubts == ()


def test_a_day_of_hours_that_may_be_minutes_is_in_doubt():
    text = "t,Core °C\n" + "".join(f"{h}:00,{80 - h}\n" for h in range(30))
    assert [doubt.value for doubt in log_read(text).doubts] == ["clock_parts"]


def test_a_clock_with_a_damaged_cell_is_still_a_clock():
    table = log_read("t,Core °C\n0:10,20\nx0:20,21\n0:30,22\n0:40,23\n")
    assert np.isnan(table.seconds).tolist() == [False, True, False, False]


def test_samples_that_are_counted_down_run_backward():
    text = "No.,Core °C\n4,90\n3,60\n2,30\n1,20\n"
    assert log_read(text, LogReading(interval_s=60)).seconds.tolist() == [180, 120, 60, 0]
    forward = "No.,Core °C\n1,90\n2,60\n3,30\n4,20\n"
    assert log_read(forward, LogReading(interval_s=60)).seconds.tolist() == [0, 60, 120, 180]
