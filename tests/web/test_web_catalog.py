"""Foods, agents and sources."""

import pytest

from setwell.services import catalog, sources

pytestmark = pytest.mark.django_db


def test_foods_are_found_by_name_and_lead_to_their_page(bench):
    page = bench.get("/foods/", {"search": "coconut milk"}).content.decode()
    assert "oconut milk" in page
    assert 'href="/foods/' in page
    assert "No food matches “zzz”" in bench.get("/foods/?search=zzz").content.decode()


def test_the_live_search_of_foods_gets_only_the_list(bench):
    answer = bench.get("/foods/?search=milk", headers={"hx-request": "true", "hx-target": "found"})
    assert b"<html" not in answer.content


def test_a_food_shows_the_origin_of_its_numbers(bench):
    page = bench.get("/foods/milk_whole/").content.decode()
    assert "NDB" in page
    assert "Where from" in page
    assert "/pantry/foods/new/?copy=milk_whole" in page
    assert bench.get("/foods/stardust/").status_code == 404


def test_a_pure_chemical_shows_no_ph_but_what_dissolving_does(bench):
    page = bench.get("/foods/sodium_citrate_dihydrate/").content.decode()
    assert "<dt>pH</dt><dd>none of its own" in page
    assert "a sour batch gets less acid" in page
    assert "none of its own" not in bench.get("/foods/milk_whole/").content.decode()


def test_every_food_has_a_page_without_gaps(bench):
    for food in catalog.foods_search(search="", limit=10_000)[::40]:
        assert bench.get(f"/foods/{food.key}/").status_code == 200, food.key


def test_the_chart_shows_six_agents_all_or_the_chosen(bench):
    first = bench.get("/agents/").content.decode()
    assert first.count('<th scope="col"><a') == 6
    everything = bench.get("/agents/?all=1").content.decode()
    assert everything.count('<th scope="col"><a') == len(catalog.agents_chart().columns)
    chosen = bench.get("/agents/?agent=agar&agent=gelatin").content.decode()
    assert chosen.count('<th scope="col"><a') == 2
    assert 'value="agar" checked' in chosen


def test_an_unknown_agent_is_explained(bench):
    answer = bench.get("/agents/?agent=glue")
    assert answer.status_code == 400
    assert "“glue” is not in the agent table" in answer.content.decode()
    assert bench.get("/agents/glue/").status_code in {400, 404}


def test_every_agent_has_a_page_with_grades_and_sources(bench):
    for column in catalog.agents_chart().columns:
        page = bench.get(f"/agents/{column.key}/").content.decode()
        assert "Law and authorities" in page, column.key
        assert 'class="grade grade-' in page


def test_every_source_is_listed_with_the_meaning_of_each_grade(bench):
    page = bench.get("/sources/").content.decode()
    assert page.count('<li id="source-') == len(sources.source_list())
    assert "the source was not seen" in page


def test_these_pages_only_read(bench):
    for path in ("/foods/", "/foods/milk_whole/", "/agents/", "/agents/agar/", "/sources/"):
        assert bench.post(path).status_code == 405
