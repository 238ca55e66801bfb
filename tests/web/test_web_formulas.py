"""The pages that list, write and save formulas."""

import pytest
from django.utils.html import escape

from setwell.services import formulas

pytestmark = pytest.mark.django_db


def test_an_empty_kitchen_offers_to_write_the_first_formula(bench):
    page = bench.get("/formulas/").content.decode()
    assert "No formulas yet" in page
    assert 'href="/formulas/new/"' in page


def test_the_list_shows_title_and_headline(bench, saved):
    saved()
    page = bench.get("/formulas/").content.decode()
    headline = formulas.formula_list()[0].headline
    assert headline
    assert "Milk blocks" in page
    assert escape(headline) in page


def test_the_search_finds_by_words_and_says_when_nothing_fits(bench, saved):
    saved(title="Oat cream")
    saved(title="Melon cubes")
    found = bench.get("/formulas/", {"search": "melon"}).content.decode()
    assert "Melon cubes" in found
    assert "Oat cream" not in found
    assert "No formula matches “walnut”" in bench.get("/formulas/?search=walnut").content.decode()


def test_the_live_search_gets_only_the_list(bench, saved):
    saved()
    answer = bench.get("/formulas/", headers={"hx-request": "true", "hx-target": "found"})
    assert b"Milk blocks" in answer.content
    assert b"<html" not in answer.content


def test_the_list_needs_the_same_queries_for_many_formulas(bench, saved, query_counter):
    saved(title="One")
    with query_counter() as few:
        bench.get("/formulas/")
    for number in range(12):
        saved(title=f"Formula {number}")
    with query_counter() as many:
        bench.get("/formulas/")
    assert len(many) == len(few)


def test_a_new_formula_can_be_computed_before_it_is_saved(bench, sheet):
    page = bench.post("/formulas/new/", sheet(compute="1", title="")).content.decode()
    assert "How each line was read" in page
    assert "Kappa carrageenan" in page
    assert formulas.formula_list() == ()


def test_saving_a_new_formula_leads_to_its_page(bench, sheet):
    answer = bench.post("/formulas/new/", sheet(save="1", version_note="first try"))
    formula = formulas.formula_list()[0]
    assert answer.status_code == 302
    assert answer.url == f"/formulas/{formula.id}/"
    assert formulas.version_history(formula_id=formula.id)[0].note == "first try"
    assert "Saved as version 1." in bench.get(answer.url).content.decode()


def test_a_formula_without_a_name_is_not_saved_and_keeps_its_text(bench, sheet):
    page = bench.post("/formulas/new/", sheet(save="1", title="")).content.decode()
    assert "Give the formula a name." in page
    assert "4 g kappa carrageenan" in page
    assert formulas.formula_list() == ()


def test_a_whole_page_says_what_to_correct_once(bench, sheet):
    page = bench.post("/formulas/new/", sheet(title="", save="1")).content.decode()
    assert page.count("Please correct this first") == 1
    part = bench.part("/formulas/preview/", sheet(title="", ingredients="1 g salt\n" * 3000))
    assert part.content.decode().count("Please correct this first") == 1


def test_the_page_of_a_formula_shows_what_was_typed_and_what_was_computed(bench, saved):
    one = saved(portions=8, molds={"count": 8, "volume_ml": 90}, diets=("vegetarian",))
    page = bench.get(f"/formulas/{one.formula_id}/").content.decode()
    assert "700 g whole milk" in page
    assert 'name="portions" value="8"' in page
    assert 'value="90"' in page
    assert 'value="vegetarian" id="id_diets_1" checked' in page
    assert "Water phase" in page


def test_saving_adds_a_version_and_keeps_the_first(bench, saved, sheet):
    one = saved()
    changed = sheet(save="1", ingredients="700 g whole milk\n5 g agar", base_number="1")
    answer = bench.post(f"/formulas/{one.formula_id}/", changed)
    assert answer.url == f"/formulas/{one.formula_id}/"
    assert formulas.formula_get(formula_id=one.formula_id).head_number == 2
    first = formulas.version_get(formula_id=one.formula_id, number=1)
    assert "kappa" in first.formula.ingredients


def test_saving_without_a_change_says_so(bench, saved):
    one = saved(steps="")
    posted = {"title": "Milk blocks", "base_number": "1", "save": "1"}
    head = formulas.version_get(formula_id=one.formula_id).formula
    answer = bench.post(f"/formulas/{one.formula_id}/", {**posted, "ingredients": head.ingredients})
    page = bench.get(answer.url).content.decode()
    assert "Nothing changed since version 1" in page


def test_details_survive_a_round_through_the_form(bench, saved):
    one = saved(
        evaporation_pct=7.5, loss_pct=2, serving_temperature_c=6, notes="Chill.", goal="slice"
    )
    page = bench.get(f"/formulas/{one.formula_id}/").content.decode()
    for part in ('value="7.5"', 'name="loss_pct" value="2"', 'value="6"', ">\nChill.</textarea>"):
        assert part in page
    assert '<option value="slice" selected>' in page


def test_an_overtaken_save_keeps_both_versions_and_says_so(bench, saved, sheet):
    one = saved()
    path = f"/formulas/{one.formula_id}/"
    bench.post(path, sheet(save="1", ingredients="1 l milk\n4 g agar", base_number="1"))
    answer = bench.post(path, sheet(save="1", ingredients="1 l milk\n9 g agar", base_number="1"))
    assert answer.url == f"{path}?overtaken=2&saved=3"
    page = bench.get(answer.url).content.decode()
    assert "Someone saved version 2 while you were working" in page
    assert f"{path}compare/?first=2&amp;second=3" in page
    assert [v.number for v in formulas.version_history(formula_id=one.formula_id)] == [3, 2, 1]


@pytest.mark.parametrize("path", ["/formulas/99/", "/formulas/99/archive/", "/formulas/x/"])
def test_a_formula_that_is_not_there_gives_a_page_with_a_way_back(bench, path):
    answer = bench.get(path)
    assert answer.status_code == 404
    assert "Back to the kitchen" in answer.content.decode()


def test_only_fitting_methods_are_answered(bench, saved):
    one = saved()
    assert bench.post("/formulas/").status_code == 405
    assert bench.get("/formulas/preview/").status_code == 405
    assert bench.delete(f"/formulas/{one.formula_id}/").status_code == 405


def test_copying_asks_first_and_leads_to_the_copy(bench, saved):
    one = saved()
    path = f"/formulas/{one.formula_id}/duplicate/"
    assert "Copy “Milk blocks”?" in bench.get(path).content.decode()
    answer = bench.post(path)
    assert answer.status_code == 302
    assert len(formulas.formula_list()) == 2
    assert "This is a copy of “Milk blocks”" in bench.get(answer.url).content.decode()


def test_putting_away_and_taking_back(bench, saved):
    one = saved()
    path = f"/formulas/{one.formula_id}/archive/"
    assert "Put “Milk blocks” away?" in bench.get(path).content.decode()
    assert bench.post(path).url == "/formulas/"
    assert "Milk blocks" in bench.get("/formulas/?archived=1").content.decode()
    assert "back into use?" in bench.get(path).content.decode()
    bench.post(path)
    assert formulas.formula_list()[0].archived is False
