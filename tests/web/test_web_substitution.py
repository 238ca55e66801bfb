"""The page that replaces an agent, with scripts off and as its own script asks."""

import re
from html import unescape

import pytest

from setwell.domain.formula import formula_make
from setwell.services.formulas import formula_create

pytestmark = pytest.mark.django_db

CUP = (
    "500 g apple juice\n50 g sugar\n10 g gelatin, 200 Bloom\n10 g lemon juice",
    "Bloom the gelatin in cold juice for 10 min\nHeat the juice and sugar to 60 °C\n"
    "Stir in the gelatin and the lemon juice\nPour into molds\nChill to 4 °C for 12 h",
)


def saved(ingredients=CUP[0], steps=CUP[1]):
    made = formula_make(title="Apple cup", ingredients=ingredients, steps=steps)
    return formula_create(formula=made).formula_id


def page_of(bench, number, **asked):
    answer = bench.get(f"/formulas/{number}/substitute/", asked)
    assert answer.status_code == 200
    return unescape(answer.content.decode())


def test_the_page_opens_with_all_that_could_stand_in_and_why_not(bench):
    page = page_of(bench, saved())
    assert "What could stand in" in page
    assert "<strong>Lambda carrageenan:</strong> will not gel: it only thickens" in page
    assert page.index("Iota carrageenan</a>") < page.index("What falls out")


def test_a_swap_shows_dose_texture_work_and_lines(bench):
    page = page_of(bench, saved(), by="Agar")
    assert re.search(r"[\d.]+\sg agar for 10\sg gelatin", page)
    for said in ("Texture before and after", "Strain at break", "do not bloom", "must boil",
                 "cannot wait: the base itself is sour", "Bring to a boil",
                 "more brittle"):  # fmt: skip
        assert said in page


def test_the_swap_opens_as_a_formula(bench):
    page = page_of(bench, saved(), by="Agar")
    form = page[page.index('action="/formulas/new/"') :]
    fields = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', form))
    assert " g agar" in fields["ingredients"]
    assert "gelatin" not in fields["ingredients"]
    answer = bench.post("/formulas/new/", {**fields, "compute": "1"})
    assert answer.status_code == 200
    assert " g agar" in answer.content.decode()


@pytest.mark.parametrize(
    ("asked", "field", "said"),
    [
        ({"by": "agrr"}, "by", "“agrr” is not known. Nearest: Agar"),
        ({"by": "gelatin", "bloom": "200"}, "bloom", "is what the formula has already"),
        ({"by": "agar", "bloom": "200"}, "bloom", "Bloom is a strength of gelatin"),
        ({"bloom": "9"}, "bloom", "write a number from 30 to 400"),
        ({"replace": "xanthan gum", "by": "agar"}, "replace", "is not in this formula"),
        ({"replace": "nothing at all", "by": "agar"}, "replace", "is not known"),
        ({"by": "agar", "keep": "color"}, "keep", "cannot be kept"),
        ({"by": "whole milk"}, "by", "is not a texture agent"),
    ],
)
def test_what_cannot_be_done_is_said_at_its_field(bench, asked, field, said):
    page = page_of(bench, saved(), **asked)
    shown = page[page.index(f'id="problem-{field}"') :]
    assert said in shown[: shown.index("</div>")]
    assert "Nothing you typed was lost" in page


@pytest.mark.parametrize(
    ("ingredients", "said"),
    [
        ("500 g water\n50 g sugar", "there is nothing to replace"),
        ("500 g water\n5 g agar\n3 blobs of moon dust", "cannot be read"),
    ],
)
def test_a_formula_that_cannot_be_worked_on_says_so(bench, ingredients, said):
    assert said in page_of(bench, saved(ingredients), by="gelatin")


def test_the_script_gets_the_answer_alone(bench):
    address = f"/formulas/{saved()}/substitute/"
    part = bench.get(address, {"by": "Agar"}, headers={"hx-request": "true"}).content.decode()
    assert "<html" not in part
    assert 'hx-swap-oob="true"' in part


def test_the_version_page_links_here(bench):
    number = saved()
    page = bench.get(f"/formulas/{number}/versions/1/").content.decode()
    assert f"/formulas/{number}/substitute/?version=1" in page
