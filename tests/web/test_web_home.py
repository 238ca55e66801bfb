"""Home, settings, look and limits."""

import datetime as dt

import pytest

from setwell.domain.pantry import Lot
from setwell.services import kitchen, pantry
from setwell.services.demo import demo_load

pytestmark = pytest.mark.django_db


def test_home_shows_what_is_in_work_and_offers_a_new_formula(bench, saved):
    saved()
    page = bench.get("/").content.decode()
    assert "Milk blocks" in page
    assert 'href="/formulas/new/"' in page
    assert 'name="search"' in page


def test_home_says_what_is_invented_until_the_kitchen_has_a_name(bench):
    assert "are invented" not in bench.get("/").content.decode()
    demo_load()
    assert "are invented" in bench.get("/").content.decode()
    named = {"name": "Harbor kitchen", "currency": "EUR", "scale_readability_g": "0.1"}
    bench.post("/settings/", named)
    assert "are invented" not in bench.get("/").content.decode()


def test_home_leads_to_each_way_of_starting(bench):
    page = bench.get("/").content.decode()
    ways = page[page.index('class="ways"') :]
    ways = ways[: ways.index("</ul>")]
    assert all(f'href="{way}"' in ways for way in ("/formulas/new/", "/briefs/new/", "/blends/"))


def test_home_names_lots_near_their_day(bench):
    day = dt.date(2020, 1, 31)
    lot = Lot(agent="kappa carrageenan", lot_code="HARBOR-7", best_before=day)
    row_id = pantry.lot_save(id=None, document=lot)
    page = bench.get("/").content.decode()
    assert "lot HARBOR-7" in page
    assert f"/pantry/lots/{row_id}/" in page
    assert "31 Jan 2020" in page


def test_home_needs_the_same_queries_for_many_formulas(bench, saved, query_counter):
    saved(title="One")
    with query_counter() as few:
        bench.get("/")
    for number in range(7):
        saved(title=f"Formula {number}")
    with query_counter() as many:
        bench.get("/")
    assert len(many) == len(few)


def test_home_only_reads(bench):
    assert bench.post("/").status_code == 405


def test_settings_are_saved_and_shown_again(bench):
    posted = {"name": "Harbor kitchen", "currency": "EUR", "scale_readability_g": "0,01"}
    answer = bench.post("/settings/", posted)
    assert answer.url == "/settings/"
    page = bench.get("/settings/").content.decode()
    assert "Settings saved." in page
    assert 'value="0.01"' in page
    assert kitchen.kitchen_settings_get().currency == "EUR"


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("name", " ", "Give the kitchen a name."),
        ("currency", "", "Name a currency"),
        ("scale_readability_g", "0", "0 is not possible here: write a number above 0"),
        ("scale_readability_g", "", "Write a number here."),
    ],
)
def test_wrong_settings_are_explained_and_kept(bench, field, value, said):
    posted = {"name": "Harbor kitchen", "currency": "EUR", "scale_readability_g": "0.1"}
    page = bench.post("/settings/", {**posted, field: value}).content.decode()
    assert said in page
    assert kitchen.kitchen_settings_get().currency != "EUR"


def test_the_chosen_look_is_kept_in_a_cookie_without_scripts(bench):
    answer = bench.post("/look/", {"look": "dark", "back": "/limits/"})
    assert answer.url == "/limits/"
    assert 'data-look="dark"' in bench.get("/limits/").content.decode()


def test_the_script_is_told_the_look_and_stays_on_the_page(bench):
    answer = bench.part("/look/", {"look": "light"})
    assert answer.status_code == 204
    assert '"look": "light"' in answer["HX-Trigger"]


@pytest.mark.parametrize("back", ["https://example.org/", "//example.org", "javascript:x", ""])
def test_the_look_never_leads_away(bench, back):
    assert bench.post("/look/", {"look": "dark", "back": back}).url == "/"


def test_an_unknown_look_counts_as_that_of_the_device(bench):
    bench.post("/look/", {"look": "<b>"})
    assert 'data-look="auto"' in bench.get("/limits/").content.decode()
    bench.cookies["look"] = "neon"
    assert 'data-look="auto"' in bench.get("/limits/").content.decode()


def test_the_limits_are_said_plainly(bench):
    page = bench.get("/limits/").content.decode()
    assert "What this tool cannot tell you" in page
    assert "It does not make a food safe" in page
