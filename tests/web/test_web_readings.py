"""pH readings on the pages: of saved versions, and the water of the kitchen."""

import datetime as dt
import re

import pytest

from setwell.domain.formula import formula_make
from setwell.domain.pantry import WaterHardness
from setwell.domain.reading import IngredientReading, VersionReading
from setwell.services import formulas, pantry, readings
from setwell.services.kitchen import kitchen_settings_get
from setwell.web.figures import estimate
from setwell.web.formula.forms import FormulaForm
from setwell.web.formula.sheet import formula_initial

pytestmark = pytest.mark.django_db

NBSP = "\u00a0"
POSTED = {"ph": "6,4", "plus_minus": "0.1", "taken_on": "2026-11-20", "note": "after one night"}


@pytest.fixture
def two(saved):
    """The address of a formula with two versions."""
    one = saved()
    changed = formula_make(title="Milk blocks", ingredients="700 g whole milk\n7 g agar")
    formulas.formula_save(formula_id=one.formula_id, formula=changed, base_number=1)
    return f"/formulas/{one.formula_id}/"


def id_of(address):
    return int(address.split("/")[2])


def listed(address):
    return readings.version_reading_list(formula_id=id_of(address))


def record(address, number, ph, **fields):
    return readings.version_reading_record(
        formula_id=id_of(address), number=number, document=VersionReading(ph=ph, **fields)
    )


def section(answer):
    text = answer.content.decode().replace(NBSP, " ")
    return text[text.index('id="readings"') : text.index("</main>")]


def test_the_bench_offers_to_record_a_reading_of_the_newest_version(bench, two):
    part = section(bench.get(two))
    assert "Version 2 was not measured yet: its pH is an estimate." in part
    assert f'action="{two}versions/2/reading/"' in part
    assert 'name="page" value="bench"' in part
    assert 'name="csrfmiddlewaretoken"' in part
    assert "Save changed text first" in part
    assert "Save changed text first" not in section(bench.get(f"{two}versions/2/"))
    assert re.search(r'name="taken_on" value="\d{4}-\d\d-\d\d"', part)


def test_a_formula_that_is_not_saved_has_no_readings(bench):
    assert 'id="readings"' not in bench.get("/formulas/new/").content.decode()


def test_what_is_recorded_on_the_bench_is_stored_and_leads_back_to_it(bench, two):
    answer = bench.post(f"{two}versions/2/reading/", {**POSTED, "page": "bench"})
    assert (answer.status_code, answer.url) == (302, two)
    assert [(row.number, row.document) for row in listed(two)] == [
        (
            2,
            VersionReading(
                ph=6.4, plus_minus=0.1, taken_on=dt.date(2026, 11, 20), note="after one night"
            ),
        )
    ]
    page = bench.get(two)
    assert "Recorded: pH 6.4 of version 2." in page.content.decode()
    part = section(page)
    assert "Measured for version 2: pH <strong>6.40 ± 0.10</strong>. It counts" in part
    assert "20 Nov 2026" in part
    assert "after one night" in part


def test_the_bench_computes_the_very_content_that_was_measured(saved):
    lines = "Base:\n700 g whole milk \n\n0.35% kappa carrageenan\n"
    one = saved(ingredients=lines, evaporation_pct=12.5, diets=("vegetarian",), notes=" so \n")
    head = formulas.version_get(formula_id=one.formula_id)
    form = FormulaForm(formula_initial(head.formula, base_number=1))
    assert form.is_valid()
    assert form.formula.ingredients == head.formula.ingredients
    assert form.formula.content_hash == one.hash


def test_an_old_version_can_be_measured_on_its_page(bench, two):
    assert f'action="{two}versions/1/reading/"' in section(bench.get(f"{two}versions/1/"))
    answer = bench.post(f"{two}versions/1/reading/", {"ph": "6.5", "page": "version"})
    assert answer.url == f"{two}versions/1/"
    assert listed(two)[0].document == VersionReading(ph=6.5)
    assert "Measured for version 1" in section(bench.get(f"{two}versions/1/"))
    assert (
        "Version 2 was not measured yet: its pH is an estimate, moved by the reading of an "
        "earlier version." in section(bench.get(two))
    )


def test_several_readings_count_as_their_mean(bench, two):
    record(two, 2, 6.2)
    record(two, 2, 6.6)
    assert "<strong>6.40 ± 0.20</strong>, the mean of 2 readings." in section(bench.get(two))


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("ph", "15", "15 is not possible here: write a number from 0 to 14."),
        ("ph", "", "Write what the meter showed."),
        ("ph", "sour", "“sour” is not a number: write a number from 0 to 14."),
        ("plus_minus", "2", "2 is not possible here: write a number from 0.01 to 1."),
        ("temperature_c", "500", "write a number from -40 to 120 °C."),
        ("taken_on", "20.11.2026", "Write the date as 2027-03-31."),
    ],
)
def test_a_wrong_value_is_explained_at_its_field_and_nothing_is_lost(
    bench, two, field, value, said
):
    answer = bench.post(f"{two}versions/2/reading/", {**POSTED, field: value})
    page = answer.content.decode()
    assert answer.status_code == 200
    place = re.search(rf'<ul class="errorlist" id="reading_{field}_error">.*?</ul>', page, re.S)
    assert said in place[0]
    assert not value or f'value="{value}"' in page
    assert "after one night" in page
    assert listed(two) == ()


def test_a_reading_can_be_recorded_on_a_page_of_its_own(bench, two):
    page = bench.get(f"{two}versions/2/reading/").content.decode()
    assert "pH of Milk blocks, version 2" in page
    assert "Please correct" not in page


def test_deleting_asks_first(bench, two):
    row_id = record(two, 1, 6.5)
    path = f"{two}readings/{row_id}/delete/"
    assert f'href="{path}"' in section(bench.get(two))
    page = bench.get(path).content.decode().replace(NBSP, " ")
    assert "Delete pH 6.50 ± 0.05 of “Milk blocks”, version 1?" in page
    assert len(listed(two)) == 1
    assert bench.post(path).url == f"{two}versions/1/"
    assert listed(two) == ()


def test_what_is_not_there_is_not_found(bench, two, saved):
    other = saved(title="Other").formula_id
    row_id = record(two, 1, 6.5)
    for path in (
        f"{two}versions/9/reading/",
        f"{two}readings/{row_id + 1}/delete/",
        f"/formulas/{other}/readings/{row_id}/delete/",
    ):
        assert bench.get(path).status_code == 404
        assert bench.post(path, POSTED).status_code == 404
    assert len(listed(two)) == 1


def test_pages_take_the_same_queries_for_many_readings(bench, two, query_counter):
    counts = []
    record(two, 2, 6.0)
    for _ in range(2):
        record(two, 1, 6.5)
        with query_counter() as queries:
            bench.get(two)
            bench.get(f"{two}versions/1/")
        counts.append(len(queries))
        for ph in (6.1, 6.2, 6.3):
            record(two, 2, ph)
    assert counts[0] == counts[1]


def test_the_shelf_shows_the_usual_pH_beside_the_reading(bench):  # noqa: N802 - pH
    reading = IngredientReading(material="whole milk", ph=6.31, lot_code="M-2")
    row_id = pantry.reading_save(id=None, document=reading)
    page = bench.get("/pantry/readings/").content.decode().replace(NBSP, " ")
    usual = pantry.reading_get(row_id).instead_of
    assert "<h1>Pantry: pH readings</h1>" in page
    assert "6.31 ± 0.05" in page
    assert f"<td>{estimate(usual).replace(NBSP, ' ')}</td>" in page
    assert "Add a pH reading" in page


def test_the_same_reading_twice_is_explained(bench):
    posted = {"material": "lime juice", "ph": "2.4", "lot_code": "A", "taken_on": "2026-11-20"}
    bench.post("/pantry/readings/new/", posted)
    page = bench.post("/pantry/readings/new/", {**posted, "ph": "2.5"}).content.decode()
    assert "There already is a reading called “lime juice · A · 2026-11-20”." in page
    assert "tell this one apart by its lot or its day" in page
    assert 'value="2.5"' in page


def test_a_new_reading_is_in_use_unless_the_box_is_cleared(bench):
    page = bench.get("/pantry/readings/new/").content.decode()
    assert re.search(r'name="in_use"[^>]*checked', page)
    bench.post("/pantry/readings/new/", {"material": "lime juice", "ph": "2.4"})
    row = pantry.reading_list()[0]
    assert not row.reading.in_use
    page = bench.get(f"/pantry/readings/{row.id}/").content.decode()
    assert not re.search(r'name="in_use"[^>]*checked', page)


def test_the_water_of_the_kitchen_is_kept(bench):
    posted = {
        "name": "Quay", "currency": "EUR", "scale_readability_g": "0.1",
        "water_hardness": "very hard", "water_calcium_mmol_l": "2,1",
        "water_magnesium_mmol_l": "", "water_bicarbonate_mmol_l": "4.5",
    }  # fmt: skip
    assert bench.post("/settings/", posted).status_code == 302
    kitchen = kitchen_settings_get()
    assert kitchen.water_hardness is WaterHardness.VERY_HARD
    assert (kitchen.water_calcium_mmol_l, kitchen.water_magnesium_mmol_l) == (2.1, None)
    assert kitchen.water_bicarbonate_mmol_l == 4.5
    page = bench.get("/settings/").content.decode()
    assert '<option value="very hard" selected>Very hard</option>' in page
    assert 'name="water_calcium_mmol_l" value="2.1"' in page


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("water_hardness", "wet", "Select a valid choice"),
        ("water_calcium_mmol_l", "60", "write a number from 0 to 50 mmol/L."),
    ],
)
def test_water_that_cannot_be_is_explained(bench, field, value, said):
    posted = {"name": "Quay", "currency": "EUR", "scale_readability_g": "0.1", field: value}
    assert said in bench.post("/settings/", posted).content.decode()
    assert kitchen_settings_get().name != "Quay"
