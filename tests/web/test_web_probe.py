"""Pages of probe logs: send, correct, save, type in, set aside, and refuse what cannot be."""

import re

import pytest
from builders_probe import batch_course, file_of
from django.core.files.uploadedfile import SimpleUploadedFile

from setwell.services import probe_logs
from setwell.web.probe.marks import sample_time

pytestmark = pytest.mark.django_db

SEMICOLONS = "a;b;c\n1,5;20,5;90\n2,5;21,5;91\n"


@pytest.fixture
def base(saved):
    return f"/formulas/{saved().formula_id}/probe/"


@pytest.fixture
def text():
    seconds, celsius = batch_course(30.0)
    return file_of(seconds, celsius, celsius - 1)


def sent(bench, base, text, name="batch 7.csv"):
    data = text if isinstance(text, bytes) else text.encode()
    return bench.post(f"{base}upload/", {"version": "1", "file": SimpleUploadedFile(name, data)})


def fields_of(answer):
    """Return what the form on a page would post, as a browser does."""
    form = answer.context["form"]
    shown = {name: form[name].value() for name in form.fields}
    return {
        name: "on" if value is True else value
        for name, value in shown.items()
        if value not in (None, False)
    }


def saved_log(bench, base, text, **changes):
    answer = bench.get(sent(bench, base, text)["Location"])
    answer = bench.post(answer.request["PATH_INFO"], {**fields_of(answer), **changes, "do": "save"})
    assert answer.status_code == 302, answer.context["form"].errors
    return answer["Location"]


def test_a_file_goes_from_upload_over_preview_to_its_verdicts(bench, base, text):
    answer = sent(bench, base, text)
    assert re.fullmatch(rf"{base}uploads/\d+/", answer["Location"])
    preview = bench.get(answer["Location"]).content.decode()
    assert "How batch 7.csv reads" in preview
    assert "core, read as °C" in preview
    page = bench.get(saved_log(bench, base, text)).content.decode()
    assert "Kappa carrageenan: hot enough" in page
    assert "Hydration of Kappa carrageenan: pass." in page
    assert "Cooled to 21 °C (70 °F): Pass" in page
    assert "Margin at the safe end" in page
    assert "3-501.14" in page
    assert "food-safety plan" in page
    assert "<svg" in page
    assert "batch 7" in bench.get(base).content.decode()


def test_read_again_keeps_the_settings_in_the_address(bench, base):
    where = sent(bench, base, SEMICOLONS)["Location"]
    fields = fields_of(bench.get(where))
    assert bench.post(where, {**fields, "do": "read"})["Location"].startswith(f"{where}?")
    right = {**fields, "time_column": "1", "time_form": "minutes", "name_2": "Pot"}
    right |= {"unit_2": "°F", "do": "read"}
    address = bench.post(where, right)["Location"]
    assert "csrf" not in address
    form = bench.get(address).context["form"]
    assert form["time_form"].value() == "minutes"
    assert form["name_2"].value() == "Pot"
    assert form["unit_2"].value() == "°F"
    assert probe_logs.probe_log_list() == ()


def test_a_form_of_time_without_its_column_is_told(bench, base):
    where = sent(bench, base, SEMICOLONS)["Location"]
    fields = {**fields_of(bench.get(where)), "time_form": "minutes", "do": "save"}
    answer = bench.post(where, fields)
    assert "Choose the column" in str(answer.context["form"].errors["time_column"])


def test_another_time_column_is_guessed_anew(bench, base):
    where = sent(bench, base, "s,clock,Core °C\n0,8:00:00,20\n10,8:00:10,30\n")["Location"]
    fields = fields_of(bench.get(where))
    assert fields["time_form"] == "hours:minutes:seconds"
    address = bench.post(where, {**fields, "time_column": "1", "do": "read"})["Location"]
    assert bench.get(address).context["form"]["time_form"].value() == "seconds"


def test_another_delimiter_guesses_the_columns_anew(bench, base):
    where = sent(bench, base, SEMICOLONS)["Location"]
    fields = {**fields_of(bench.get(where)), "delimiter": "tab", "title": "Mine", "do": "read"}
    answer = bench.get(bench.post(where, fields)["Location"])
    form = answer.context["form"]
    assert form["title"].value() == "Mine"
    assert "not a single sample" in str(form.errors) or answer.context["table"] is not None
    assert "a;b;c" in answer.content.decode()


def test_a_file_without_a_time_is_asked_for_its_interval_at_the_field(bench, base):
    where = sent(bench, base, "Core C\n20\n30\n40\n")["Location"]
    answer = bench.get(where)
    assert "Say how many seconds" in answer.content.decode()
    refused = bench.post(where, {**fields_of(answer), "title": "Kept", "do": "save"})
    assert refused.status_code == 400
    assert "interval_s" in refused.context["form"].errors
    assert refused.context["form"]["title"].value() == "Kept"
    fields = {**fields_of(refused), "interval_s": "10", "do": "save"}
    assert bench.post(where, fields).status_code == 302


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("interval_s", "0", "write a number above 0"),
        ("header_lines", "many", "is not a number"),
        ("delimiter", "star", "not one of the available choices"),
        ("probe_error_c", "99", "not possible here"),
        ("name_2", "x" * 90, "at most 80 characters"),
    ],
)
def test_a_wrong_setting_is_told_at_its_field_and_nothing_is_lost(
    bench, base, text, field, value, said
):
    where = sent(bench, base, text)["Location"]
    fields = {**fields_of(bench.get(where)), field: value, "note": "kept", "do": "save"}
    answer = bench.post(where, fields)
    assert answer.status_code == 400
    assert said in str(answer.context["form"].errors[field])
    assert answer.context["form"]["note"].value() == "kept"
    assert probe_logs.probe_log_list() == ()


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "The file is empty"),
        (b"PK\x03\x04 rest", "workbook"),
        (bytes(range(256)) * 9, "not a text file"),
    ],
)
def test_what_is_no_log_is_refused_at_the_field(bench, base, data, said):
    answer = sent(bench, base, data)
    assert answer.status_code == 400
    assert said in str(answer.context["upload"].errors["file"])


def test_no_file_at_all_is_told(bench, base):
    answer = bench.post(f"{base}upload/", {"version": "1"})
    assert "Choose the file" in answer.content.decode()


def test_a_file_of_a_gigabyte_is_refused_by_the_size_it_says(bench, base):
    answer = bench.post(
        f"{base}upload/", data=b"x", content_type="multipart/form-data; boundary=b",
        headers={"content-length": "1000000000"},
    )  # fmt: skip
    assert answer.status_code == 413
    page = answer.content.decode()
    assert "has 1,000 MB; at most 64 MB" in page
    assert "export fewer hours" in page


def test_a_preview_whose_file_is_gone_says_so(bench, base):
    answer = bench.get(f"{base}uploads/999/")
    assert answer.status_code == 404
    assert "Send it again" in answer.content.decode()


def test_a_log_of_another_formula_is_not_shown_here(bench, base, text, saved):
    where = saved_log(bench, base, text)
    other = where.replace(base, f"/formulas/{saved(title='Other').formula_id}/probe/")
    for path in (other, f"{other}file/", f"{other}csv/", f"{other}rule/", f"{other}hob/"):
        assert bench.get(path).status_code == 404


def started(bench, base, **fields):
    posted = {
        "version": "1", "probe_error_c": "1", "name_1": "Core", "place_1": "core",
        "place_2": "food", "place_3": "food", "place_4": "food", **fields,
    }  # fmt: skip
    return bench.post(f"{base}start/", posted)


def test_readings_by_hand_are_typed_in_one_after_the_other(bench, base):
    where = started(bench, base, title="Stove run")["Location"]
    assert "Next reading" in bench.get(where).content.decode()
    for value, minute in (("20", "0"), ("185 °F", "10"), ("88,5", "15")):
        answer = bench.post(f"{where}readings/", {"probe_0": value, "minutes": minute})
        assert answer["Location"] == where
    answer = bench.post(f"{where}readings/", {"probe_0": "90", "minutes": ""})
    assert answer.status_code == 302
    page = bench.get(where).content.decode()
    assert "85 °C (185 °F)" in page
    assert "88.5 °C" in page
    assert "What it proves" in page


def test_what_was_typed_wrong_stays_and_is_told(bench, base):
    where = started(bench, base)["Location"]
    for value, said in (("hot", "is not a temperature"), ("", "Type what the probe shows"),
                        ("900", "not possible")):  # fmt: skip
        answer = bench.post(f"{where}readings/", {"probe_0": value, "minutes": "3"})
        assert answer.status_code == 400
        page = answer.content.decode()
        assert said in page
        assert f'value="{value}"' in page or not value
        assert 'value="3"' in page


def test_a_reading_is_struck(bench, base):
    where = started(bench, base)["Location"]
    bench.post(f"{where}readings/", {"probe_0": "20", "minutes": "0"})
    bench.post(f"{where}readings/", {"probe_0": "200", "minutes": "5"})
    log_id = int(where.rstrip("/").rsplit("/", 1)[1])
    wrong = probe_logs.probe_samples(id=log_id)[1]
    assert bench.post(f"{where}readings/{wrong.id}/strike/").status_code == 302
    assert len(probe_logs.probe_samples(id=log_id)) == 1
    assert b"200.0" in bench.get(f"{where}file/").content


def test_a_start_without_a_probe_or_with_two_equal_names_is_told(bench, base):
    assert "Name at least one probe" in started(bench, base, name_1="").content.decode()
    twice = started(bench, base, name_2="Core")
    assert "another probe" in twice.content.decode()


def test_a_log_is_set_aside_with_a_reason(bench, base, text):
    where = saved_log(bench, base, text)
    refused = bench.post(f"{where}rule/", {"reason": ""})
    assert refused.status_code == 400
    assert "Say why" in refused.content.decode()
    assert bench.post(f"{where}rule/", {"reason": "slipped out"}).status_code == 302
    assert "Set aside: slipped out" in bench.get(where).content.decode()
    assert bench.post(f"{where}rule/").status_code == 302
    assert "Set aside:" not in bench.get(where).content.decode()


def test_both_files_of_a_log_come_back(bench, base, text):
    where = saved_log(bench, base, text)
    raw, cleaned = bench.get(f"{where}file/"), bench.get(f"{where}csv/")
    assert raw.content == text.encode()
    assert raw["Content-Disposition"].startswith("attachment")
    assert cleaned.content.decode().startswith("seconds,Core raw (°C),Core (°C),Core flags")


def test_what_was_flagged_is_told_on_the_page(bench, base, text):
    lines = text.splitlines()
    lines[40] = re.sub(r",[\d.]+,", ",ERR,", lines[40])
    lines[60] = re.sub(r",[\d.]+,", ",190.0,", lines[60])
    del lines[200:400]
    page = bench.get(saved_log(bench, base, "\n".join(lines))).content.decode()
    for said in ("1 sample without a number", "jump away and back", "a gap of", "no verdict"):
        assert said in page


def test_names_from_a_file_are_shown_as_text(bench, base):
    where = sent(bench, base, "s,<script>x</script> °C\n0,20\n10,90\n20,91\n")["Location"]
    answer = bench.get(where)
    assert "<script>x" not in answer.content.decode()
    saved = bench.post(where, {**fields_of(answer), "do": "save"})["Location"]
    assert "<script>x" not in bench.get(saved).content.decode()


@pytest.mark.parametrize("kind", ["cold-place", "hob"])
def test_equipment_that_a_log_does_not_tell_is_explained(bench, base, kind):
    where = saved_log(bench, base, "s,Core °C\n0,20\n10,21\n20,20\n")
    page = bench.get(f"{where}{kind}/").content.decode()
    assert "What this log tells of the" in page
    assert "Use it for" not in page


def test_wrong_methods_are_refused(bench, base, text):
    where = saved_log(bench, base, text)
    assert bench.get(f"{base}upload/").status_code == 405
    assert bench.get(f"{base}start/").status_code == 405
    assert bench.get(f"{where}readings/").status_code == 405
    assert bench.post(where).status_code == 405


def test_the_page_of_a_version_leads_to_its_logs(bench, saved):
    one = saved()
    page = bench.get(f"/formulas/{one.formula_id}/versions/1/").content.decode()
    assert f"/formulas/{one.formula_id}/probe/?version=1" in page


UNTOLD = "time (s),Core,Room\n0,20,21\n10,60,21.5\n20,85,21\n30,86,21\n"


def test_a_unit_that_the_file_does_not_tell_has_to_be_chosen(bench, base):
    where = sent(bench, base, UNTOLD)["Location"]
    answer = bench.get(where)
    assert answer.context["form"]["unit_2"].value() == ""
    fields = {**fields_of(answer), "title": "Kept", "do": "save"}
    refused = bench.post(where, fields)
    assert refused.status_code == 400
    errors = refused.context["form"].errors
    assert "“Core”: say whether it is °C or °F" in str(errors["unit_2"])
    assert "“Room”: say whether it is °C or °F" in str(errors["unit_3"])
    assert refused.context["form"]["title"].value() == "Kept"
    assert probe_logs.probe_log_list() == ()
    saved = bench.post(where, {**fields, "unit_2": "°F", "unit_3": "°F"})
    assert saved.status_code == 302
    (log,) = probe_logs.probe_log_list()
    assert log.document.doubts == ()
    assert log.document.table[1][0][3] == pytest.approx(30.0)


def test_a_time_that_the_file_does_not_tell_has_to_be_chosen(bench, base):
    where = sent(bench, base, UNTOLD.replace("time (s)", "time"))["Location"]
    fields = {**fields_of(bench.get(where)), "unit_2": "°C", "unit_3": "°C", "do": "save"}
    refused = bench.post(where, fields)
    assert "Say how the time is written" in str(refused.context["form"].errors["time_form"])
    assert bench.post(where, {**fields, "time_form": "seconds"}).status_code == 302


def test_a_unit_once_chosen_stays_chosen_when_it_is_read_again(bench, base):
    where = sent(bench, base, UNTOLD)["Location"]
    fields = {**fields_of(bench.get(where)), "unit_2": "°C", "do": "read"}
    form = bench.get(bench.post(where, fields)["Location"]).context["form"]
    assert form["unit_2"].value() == "°C"
    # A logger writes all of its columns in one unit.
    assert form["unit_3"].value() == "°C"


def test_a_file_of_any_encoding_comes_back_byte_for_byte(bench, base, text):
    for data in (text.encode("utf-16"), b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode(),
                 text.encode("cp1252")):  # fmt: skip
        where = saved_log(bench, base, data)
        assert bench.get(f"{where}file/").content == data


def test_a_log_is_judged_as_food_that_was_held(bench, base, text):
    where = saved_log(bench, base, text)
    page = bench.get(f"{where}?purpose=held+hot&egg_in=").content.decode()
    assert "3-501.16(A)(1)" in page
    assert "3-501.14(A)(2)" not in page
    assert 'value="held hot" selected' in page
    odd = bench.get(f"{where}?purpose=danced&egg_in=").content.decode()
    assert "danced is not one of the available choices" in odd
    assert "3-501.14(A)(2)" in odd


def test_when_the_egg_went_in_is_asked_on_the_page_and_at_the_reading(bench, saved, text):
    custard = saved(ingredients="500 g milk\n90 g egg yolk", steps="Heat to 88 °C, hold 10 min")
    base = f"/formulas/{custard.formula_id}/probe/"
    where = saved_log(bench, base, text)
    assert "Egg cooked: Pass" in bench.get(where).content.decode()
    assert "Egg cooked: Fail" in bench.get(f"{where}?egg_in=120").content.decode()
    for wrong, said in (("soon", "not a number"), ("9000", "cannot have gone in")):
        page = bench.get(f"{where}?egg_in={wrong}").content.decode()
        assert said in page
        assert f'value="{wrong}"' in page
    late = saved_log(bench, base, text, egg_in="120")
    assert "Egg cooked: Fail" in bench.get(late).content.decode()


@pytest.mark.parametrize(("started", "said"), [
    ("2026-11-23 08:00:00", "23 Nov 2026, 08:00:00"), ("by the wall clock", "by the wall clock"),
])  # fmt: skip
def test_the_begin_of_a_log_is_told_as_every_other_day(started, said):
    assert sample_time(started) == said
