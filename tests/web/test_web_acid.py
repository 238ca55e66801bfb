"""The page that tells what brings a formula to a pH."""

import re

import pytest

from setwell.domain.pantry import OwnAgent
from setwell.services import pantry

pytestmark = pytest.mark.django_db

LEMON = "450 g water\n50 g lemon juice\n3 g kappa carrageenan\n100 g whole milk"


@pytest.fixture
def lemon(saved):
    return f"/formulas/{saved(ingredients=LEMON).formula_id}/acid/"


def test_the_page_opens_with_the_ph_the_curve_and_the_caution(bench, lemon):
    page = bench.get(lemon).content.decode()
    assert "pH now:" in page
    assert '<svg class="line-chart"' in page
    assert "Kappa carrageenan works best between pH 4 and 10." in page
    assert "never proves a shelf life" in page
    assert 'id="doses-title"' not in page


def test_a_target_lists_what_to_weigh(bench, lemon):
    page = bench.get(lemon, {"to": "4.5"}).content.decode()
    assert "To pH 4.5" in page
    assert "trisodium citrate" in page
    assert "malic acid" not in page[page.index("doses-title") : page.index("curve-title")]
    assert re.search(r'<td class="n weighed">\d+\.\d\sg</td>', page)


def test_the_table_stands_beside_the_drawing(bench, lemon):
    page = bench.get(lemon).content.decode()
    table = page[page.index("The same as a table") :]
    assert table.count('<th scope="row" class="n">') == 11
    assert "pH with citric acid" in table


def test_one_additive_gets_a_curve_and_a_dose_of_its_own(bench, lemon):
    page = bench.get(lemon, {"to": "4.5", "additive": "baking_soda"}).content.decode()
    assert "pH with baking soda" in page
    assert "pH with citric acid" not in page
    assert "Baking soda: foams" in page


def test_what_does_not_get_there_says_why(bench, lemon):
    page = bench.get(lemon, {"to": "9"}).content.decode()
    assert "not reachable" in page
    assert "per kg of water brings it to pH" in page


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ({"to": "15"}, "15 is not possible here"),
        ({"to": "sour"}, "“sour” is not a number"),
        ({"to": "4", "additive": "sand"}, "Select a valid choice"),
    ],
)
def test_a_wrong_entry_is_explained_and_kept(bench, lemon, query, said):
    answer = bench.get(lemon, query)
    page = answer.content.decode()
    assert answer.status_code == 200
    assert said in page
    assert f'value="{query["to"]}"' in page
    assert "pH now:" in page


@pytest.mark.parametrize("ingredients", ["500 g sugar", "some love"])
def test_a_formula_without_a_ph_says_so(bench, saved, ingredients):
    one = saved(ingredients=ingredients)
    answer = bench.get(f"/formulas/{one.formula_id}/acid/", {"to": "4"})
    assert answer.status_code == 200
    assert "pH" in answer.content.decode()
    assert re.search("too little to speak of a pH|no pH to start from", answer.content.decode())


def test_the_live_answer_has_no_page_around_it(bench, lemon):
    answer = bench.get(lemon, {"to": "4.2"}, headers={"hx-request": "true"})
    assert b"<html" not in answer.content
    assert b"doses-title" in answer.content


def test_the_other_pages_of_a_formula_lead_here(bench, saved, lemon):
    page = bench.get(lemon.replace("acid/", "scale/")).content.decode()
    assert f'<a href="{lemon}">Acid</a>' in page
    assert 'aria-current="page">Acid</a>' in bench.get(lemon).content.decode()


def test_only_reading_is_answered_and_only_for_what_is_there(bench, lemon):
    assert bench.post(lemon).status_code == 405
    assert bench.get("/formulas/99999/acid/").status_code == 404


def test_a_name_from_the_pantry_cannot_break_the_drawing(bench, saved):
    agent = OwnAgent(name="<b>Set</b> & go", based_on="kappa carrageenan")
    pantry.agent_save(id=None, document=agent)
    one = saved(ingredients="450 g water\n9 g lemon juice\n3 g <b>Set</b> & go")
    page = bench.get(f"/formulas/{one.formula_id}/acid/").content.decode()
    assert "<b>Set" not in page
