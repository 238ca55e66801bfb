"""The shelves of the pantry: list, add, change, delete, CSV."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from setwell.domain.pantry import OwnFood, Vessel
from setwell.services import pantry

pytestmark = pytest.mark.django_db

SHELVES = {
    "foods": {"name": "Harbor oat base", "nutrient_fat_g": "1.5", "allergens": "none"},
    "agents": {"name": "Firm kappa", "based_on": "kappa carrageenan", "dose_low_pct": "0.2"},
    "lots": {"agent": "agar", "lot_code": "AG-9", "best_before": "2030-02-01", "in_use": "on"},
    "prices": {"material": "agar", "price_per_kg": "48.5"},
    "molds": {"name": "Small dome", "volume_ml": "35", "count": "24"},
    "vessels": {"name": "Blue pot", "volume_ml": "4000", "diameter_mm": "180", "lid": "on"},
    "hobs": {"name": "Left ring", "kind": "gas", "power_w": "3500"},
    "cold-places": {"name": "Tall fridge", "kind": "fridge", "air_c": "3.5"},
    "readings": {
        "material": "lime juice",
        "ph": "2.35",
        "plus_minus": "0.1",
        "in_use": "on",
        "lot_code": "LJ-4",
        "taken_on": "2026-11-20",
        "temperature_c": "21",
    },
}
NAMES = {
    "foods": "Harbor oat base",
    "agents": "Firm kappa",
    "lots": "AG-9",
    "prices": "agar",
    "molds": "Small dome",
    "vessels": "Blue pot",
    "hobs": "Left ring",
    "cold-places": "Tall fridge",
    "readings": "lime juice",
}
ROWS = {
    "foods": pantry.food_list,
    "agents": pantry.agent_list,
    "lots": pantry.lot_list,
    "prices": pantry.price_list,
    "molds": pantry.mold_list,
    "vessels": pantry.vessel_list,
    "hobs": pantry.hob_list,
    "cold-places": pantry.cooler_list,
    "readings": pantry.reading_list,
}
every_shelf = pytest.mark.parametrize("shelf", SHELVES)


@pytest.fixture
def stocked(bench):
    """Put one thing on a shelf through its form and return the id."""

    def stock(shelf):
        answer = bench.post(f"/pantry/{shelf}/new/", SHELVES[shelf])
        assert answer.status_code == 302, answer.content.decode()
        assert answer.url == f"/pantry/{shelf}/"
        return ROWS[shelf]()[0].id

    return stock


def test_the_pantry_opens_at_its_first_shelf(bench):
    assert bench.get("/pantry/").url == "/pantry/foods/"
    assert bench.get("/pantry/spices/").status_code == 404


@every_shelf
def test_an_empty_shelf_says_so(bench, shelf):
    assert "This shelf is empty." in bench.get(f"/pantry/{shelf}/").content.decode()


@every_shelf
def test_what_is_added_is_listed(bench, stocked, shelf):
    row_id = stocked(shelf)
    page = bench.get(f"/pantry/{shelf}/").content.decode()
    assert f"Saved: {NAMES[shelf]}." in page
    assert f'<a href="/pantry/{shelf}/{row_id}/">{NAMES[shelf]}</a>' in page
    assert f'href="/pantry/{shelf}/{row_id}/delete/"' in page


@every_shelf
def test_what_is_stored_comes_back_into_the_form(bench, stocked, shelf):
    row_id = stocked(shelf)
    before = ROWS[shelf]()[0].document
    page = bench.get(f"/pantry/{shelf}/{row_id}/").content.decode()
    for value in SHELVES[shelf].values():
        assert value == "on" or f'value="{value}"' in page
    assert bench.post(f"/pantry/{shelf}/{row_id}/", SHELVES[shelf]).status_code == 302
    assert ROWS[shelf]()[0].document == before


@every_shelf
def test_deleting_asks_first(bench, stocked, shelf):
    row_id = stocked(shelf)
    path = f"/pantry/{shelf}/{row_id}/delete/"
    assert f"Delete “{NAMES[shelf]}”?" in bench.get(path).content.decode()
    assert len(ROWS[shelf]()) == 1
    assert bench.post(path).url == f"/pantry/{shelf}/"
    assert ROWS[shelf]() == ()


@every_shelf
def test_a_row_that_is_not_there_is_not_found(bench, shelf):
    assert bench.get(f"/pantry/{shelf}/77/").status_code == 404
    assert bench.post(f"/pantry/{shelf}/77/delete/").status_code == 404


@every_shelf
def test_an_empty_form_is_explained_and_nothing_is_stored(bench, shelf):
    page = bench.post(f"/pantry/{shelf}/new/", {}).content.decode()
    assert "Please correct this first" in page
    assert ROWS[shelf]() == ()


@pytest.mark.parametrize(
    ("shelf", "field", "value", "said"),
    [
        ("foods", "nutrient_fat_g", "140", "at most 100"),
        ("foods", "ph", "15", "15 is not possible here: write a number from 0 to 14."),
        ("foods", "name", "x" * 121, "120"),
        ("agents", "based_on", "unobtainium", "unobtainium"),
        ("agents", "bloom", "7", "write a number from 30 to 400"),
        ("lots", "best_before", "31.12.2030", "Write the date as 2027-03-31."),
        ("lots", "agent", "kapa carrageenan", "kappa carrageenan"),
        ("lots", "strength_factor", "0", "above 0"),
        ("prices", "material", "moon dust", "moon dust"),
        ("prices", "price_per_kg", "1e400", "is not possible here"),
        ("molds", "count", "1.5", "not a whole number"),
        ("vessels", "volume_ml", "big", "“big” is not a number"),
        ("molds", "length_mm", "2500", "2500 is not possible here: write a number above 0 up to"),
        ("molds", "volume_ml", "", "Give the volume, or one of the shapes below with its lengths."),
        ("hobs", "power_w", "20", "20 is not possible here: write a number from 50 to 50,000 W."),
        ("hobs", "efficiency", "44", "44 is not possible here: write a number above 0.02 up to 1"),
        ("cold-places", "air_c", "cold", "“cold” is not a number"),
        ("cold-places", "coefficient_high", "9", "The middle value is missing"),
        ("readings", "ph", "15", "15 is not possible here: write a number from 0 to 14."),
        ("readings", "plus_minus", "0", "0 is not possible here: write a number from 0.01 to 1."),
        ("readings", "taken_on", "20.11.2026", "Write the date as 2027-03-31."),
        ("readings", "material", "lime juce", "Did you mean lime juice"),
        ("readings", "material", "agar", "“agar” is a texture agent; a pH reading belongs to"),
    ],
)
def test_a_wrong_value_is_explained_and_kept(bench, shelf, field, value, said):
    answer = bench.post(f"/pantry/{shelf}/new/", {**SHELVES[shelf], field: value})
    page = answer.content.decode()
    assert answer.status_code == 200
    assert said in page
    assert f'value="{value}"' in page
    assert ROWS[shelf]() == ()


def test_a_table_food_can_be_copied_and_adjusted(bench):
    page = bench.get("/pantry/foods/new/?copy=milk_whole").content.decode()
    assert 'name="based_on" value="milk_whole"' in page
    assert bench.get("/pantry/foods/new/?copy=nothing").status_code == 404


def test_allergens_not_said_and_none_are_told_apart(bench):
    base = {"name": "Oat base", "allergens": ""}
    bench.post("/pantry/foods/new/", base)
    bench.post("/pantry/foods/new/", {**base, "name": "Rice base", "allergens": "None"})
    bench.post("/pantry/foods/new/", {**base, "name": "Soy base", "allergens": "soy, sesame"})
    said = {row.document.name: row.document.allergens for row in pantry.food_list()}
    assert said == {"Oat base": None, "Rice base": (), "Soy base": ("soy", "sesame")}


def test_a_list_needs_the_same_queries_for_many_rows(bench, query_counter):
    pantry.food_save(id=None, document=OwnFood(name="One"))
    with query_counter() as few:
        bench.get("/pantry/foods/")
    for number in range(8):
        pantry.food_save(id=None, document=OwnFood(name=f"Food {number}"))
    with query_counter() as many:
        bench.get("/pantry/foods/")
    assert len(many) == len(few)


@every_shelf
def test_an_exported_shelf_can_be_imported_again(bench, stocked, shelf):
    stocked(shelf)
    answer = bench.get(f"/pantry/{shelf}/export.csv")
    assert answer["Content-Type"].startswith("text/csv")
    upload = SimpleUploadedFile("shelf.csv", answer.content)
    page = bench.post(f"/pantry/{shelf}/import/", {"file": upload}).content.decode()
    assert "0 added, 1 updated" in page


def test_a_file_with_a_problem_changes_nothing_and_names_the_row(bench):
    rows = b"name,volume_ml\nBlue pot,4000\nRed pot,huge\n"
    upload = SimpleUploadedFile("vessels.csv", rows)
    page = bench.post("/pantry/vessels/import/", {"file": upload}).content.decode()
    assert "Nothing was changed: 1 problem" in page
    assert "huge" in page
    assert pantry.vessel_list() == ()


@pytest.mark.parametrize("data", [b"", b"\xff\xfe\x00", b"a,b\n1,2\n", b"\x00" * 40])
def test_a_file_that_is_no_shelf_is_explained(bench, data):
    upload = SimpleUploadedFile("junk.csv", data)
    answer = bench.post("/pantry/vessels/import/", {"file": upload})
    page = answer.content.decode()
    assert answer.status_code == 200
    assert 'role="alert"' in page


def test_only_fitting_methods_are_answered(bench):
    pantry.vessel_save(id=None, document=Vessel(name="Pot", volume_ml=900))
    assert bench.post("/pantry/vessels/").status_code == 405
    assert bench.post("/pantry/vessels/export.csv").status_code == 405
    assert bench.put("/pantry/vessels/new/").status_code == 405
