"""Texture readings and lot checks on the pages, without scripts."""

import re

import pytest
from builders_kitchen import lot_of

from setwell.services import formulas, pantry
from setwell.services.assessment import formula_assess
from setwell.services.lot_checks import lot_check_list
from setwell.services.texture_readings import texture_reading_list

pytestmark = pytest.mark.django_db

KAPPA = "lot_kappa_carrageenan"


@pytest.fixture
def place(saved):
    formula_id = saved().formula_id
    return f"/formulas/{formula_id}/versions/1/"


@pytest.fixture
def lot():
    return pantry.lot_save(id=None, document=lot_of("K-1", in_use=True))


def text(answer):
    return " ".join(answer.content.decode().replace("\u00a0", " ").split())


def record(bench, place, kind="penetration", **fields):
    fields = {"plunger_mm": "12.7", **fields} if kind == "penetration" else fields
    return bench.post(f"{place}texture-readings/?kind={kind}", fields, follow=True)


def check(bench, lot, test="potassium_gel", **fields):
    return bench.post(f"/pantry/lots/{lot}/strength/{test}/", fields, follow=True)


def test_the_version_page_leads_to_recording_and_asks_only_for_what_is_needed(bench, place, lot):
    assert f'href="{place}texture-readings/"' in text(bench.get(place))
    chosen = text(bench.get(f"{place}texture-readings/"))
    assert "?kind=penetration#record" in chosen
    form = text(bench.get(f"{place}texture-readings/?kind=penetration"))
    assert 'name="plunger_mm" value="12.7"' in form
    assert re.search(r'<option value="K-1" selected', form)
    assert 'name="shear_rate_per_s"' not in form
    assert 'name="depth_mm"' not in form
    thick = text(bench.get(f"{place}texture-readings/?kind=viscosity"))
    assert 'name="shear_rate_per_s" value="50"' in thick
    assert 'name="plunger_mm"' not in thick
    assert bench.get(f"{place}texture-readings/?kind=sound").status_code == 200


def test_each_cup_is_kept_apart_and_the_range_shrinks(bench, place, lot):
    detail = formulas.version_get(formula_id=int(place.split("/")[2]))
    before = formula_assess(formula=detail.formula).agents[0].gel.fracture_stress_kpa
    page = text(record(bench, place, value="850", value_2="900", **{KAPPA: "K-1"}))
    assert "Recorded of version 1: Load at break 850 g" in page
    assert [row.document.value for row in texture_reading_list()] == [900, 850]
    assert texture_reading_list()[0].document.lots == {"kappa_carrageenan": "K-1"}
    after = formula_assess(formula=detail.formula).agents[0].gel.fracture_stress_kpa
    assert after.high / after.low < before.high / before.low
    assert "By the tables only" in page
    assert "2 own measurements (2 of lot K-1, 2 in dairy bases)" in page
    bench_page = text(bench.get(f"/formulas/{place.split('/')[2]}/"))
    assert "Calibrated by 2 of your own measurements</a>" in bench_page


@pytest.mark.parametrize(
    ("kind", "fields", "said"),
    [
        ("penetration", {"value": "0"}, "the plunger met nothing"),
        ("penetration", {}, "Give the reading in g"),
        ("penetration", {"value": "abc", "note": "kept"}, "is not a number"),
        ("setting_temperature", {"value": "104"}, "nothing sets there"),
        ("firmness_press", {"value": "90", "depth_mm": "30"}, "tells how it breaks"),
        ("viscosity", {"value": "90", "shear_rate_per_s": ""}, "Give the shear rate"),
        ("penetration", {"value": "300", KAPPA: "K-9"}, "There is no lot “K-9”"),
        ("outcome", {}, "Choose what it did"),
        ("word", {}, "Choose the word"),
    ],
)
def test_bad_input_is_told_at_its_field_and_nothing_is_lost(bench, place, lot, kind, fields, said):
    page = text(record(bench, place, kind, **{"taken_by": "Bench two", **fields}))
    assert said in page
    assert "Nothing you typed was lost." in page
    assert 'value="Bench two"' in page
    assert texture_reading_list() == ()


def test_a_version_without_an_agent_keeps_its_reading_and_says_so(bench, saved):
    made = saved(title="Plain milk", ingredients="700 g whole milk")
    place = f"/formulas/{made.formula_id}/versions/1/"
    assert "No texture agent was found" in text(bench.get(f"{place}texture-readings/"))
    assert "It is kept but moves no number" in text(record(bench, place, value="200"))


def test_a_reading_where_nothing_gels_is_kept_and_says_why(bench, saved, lot):
    made = saved(title="Thin milk", ingredients="700 g whole milk\n0.01 g kappa carrageenan")
    page = text(record(bench, f"/formulas/{made.formula_id}/versions/1/", value="200"))
    assert "no gel" in page
    assert len(texture_reading_list()) == 1


def test_a_reading_is_set_aside_with_a_reason_and_taken_back(bench, place, lot):
    record(bench, place, value="850")
    address = f"/measurements/readings/{texture_reading_list()[0].id}/"
    assert "Load at break 850 g" in text(bench.get(address))
    assert "Say why the reading is set aside" in text(bench.post(address, {"reason": " "}))
    page = text(bench.post(address, {"reason": "cup was <warm>"}, follow=True))
    assert "Set aside, does not count: “cup was &lt;warm&gt;”." in page
    assert not texture_reading_list()[0].counts
    bench.post(address)
    assert texture_reading_list()[0].counts
    assert bench.get("/measurements/readings/99/").status_code == 404


def test_a_lot_is_checked_by_numbered_steps(bench, lot):
    page = text(bench.get(f"/pantry/lots/{lot}/strength/"))
    assert "Not measured yet: taken to be as strong as usual." in page
    assert page.index("powder_control") < page.index("potassium_gel")
    control = text(bench.get(f"/pantry/lots/{lot}/strength/powder_control/"))
    assert "100 g (3.53 oz) water" in control
    assert "the fault is elsewhere" in control
    assert 'name="value"' not in control
    assert bench.get(f"/pantry/lots/{lot}/strength/bloom/").status_code == 404
    assert f"/pantry/lots/{lot}/strength/" in text(bench.get("/pantry/lots/"))


def test_a_control_cup_says_what_it_means_and_brown_powder_is_flagged(bench, lot):
    page = text(check(bench, lot, "powder_control", outcome="set", color="brown", flavor="marine"))
    assert "It sets: the powder is good" in page
    assert "brown, little refined" in page
    assert "tastes of the sea" in page
    assert "say whether" in text(check(bench, lot, "powder_control")).lower()


def test_a_wild_cup_is_named_and_the_range_narrows_without_it(bench, lot):
    calm = text(check(bench, lot, value="310", value_2="330"))
    assert re.search(r"[\d.]+ times the usual \([\d.]+ to [\d.]+\), on 2 own measurements\.", calm)
    assert "times the dose" in calm
    assert "in another base it may be less" in calm
    wild = text(check(bench, lot, value="1500"))
    assert "These contradict each other." in wild
    assert "They lie a factor of 4.8 apart." in wild
    assert "times the dose" not in wild
    odd = lot_check_list()[0].id
    after = text(bench.post(f"/measurements/checks/{odd}/", {"reason": "hit the rim"}, follow=True))
    assert "These contradict" not in after
    assert "times the dose" in after
    assert "hit the rim" in after


@pytest.mark.parametrize("fields", [{"value": "0"}, {}, {"value": "310", "value_2": "x"}])
def test_a_bad_lot_check_records_nothing(bench, lot, fields):
    page = text(check(bench, lot, note="kept", **fields))
    assert "Nothing you typed was lost." in page
    assert "kept" in page
    assert lot_check_list() == ()


def test_all_measurements_are_given_as_csv(bench, place, lot):
    record(bench, place, value="850")
    check(bench, lot, value="310")
    assert "850.0" in bench.get("/measurements/texture-readings.csv").content.decode()
    assert "310.0" in bench.get("/measurements/lot-checks.csv").content.decode()
