"""The page about other kitchens, with scripts off and as its own script asks."""

import re
from html import unescape

import pytest

pytestmark = pytest.mark.django_db


@pytest.fixture
def page_of(bench, saved):
    made = saved()

    def page(*, is_part=False, path="strangers/", **asked):
        asked.setdefault("draws", "256")
        headers = {"hx-request": "true"} if is_part else {}
        answer = bench.get(f"/formulas/{made.formula_id}/{path}", asked, headers=headers)
        assert answer.status_code == 200
        return answer.content.decode()

    return page


def problem(page, field):
    return unescape(page[page.index(f'id="problem-{field}"') :].split("</div>")[0])


def test_the_page_says_how_many_kitchens_get_it(page_of):
    page = page_of()
    said = re.search(r'<h2 id="chance-title">(.*?)</h2>', page)[1]
    assert " kitchens get " in said
    assert re.search(r"\d+ of 10|all|none", said)
    assert "home" in said
    assert 'aria-current="page">Other kitchens</a>' in page


def test_charts_have_words_and_tables(page_of):
    page = page_of()
    assert 'class="outcome-strip" role="img"' in page
    assert 'class="driver-bars" role="img"' in page
    assert page.count("The same as a table") == 2
    assert page.count("<desc") == 2


def test_a_better_kitchen_has_a_better_chance(page_of):
    chances = [
        float(re.search(r"([\d.]+)(?:\xa0| )% ?(?:\(|of)", page_of(profile=name))[1])
        for name in ("home", "lab")
    ]
    assert chances[1] > chances[0]


def test_the_part_has_no_form_and_the_messages_of_all_fields(page_of):
    part = page_of(is_part=True, profile="pro")
    assert "<html" not in part
    assert 'id="id_profile"' not in part
    assert 'id="problem-low" hx-swap-oob="true"' in part
    assert "pro kitchens" in part


@pytest.mark.parametrize(
    ("asked", "field", "said"),
    [
        ({"profile": "moon"}, "profile", "“moon” is no kitchen known here. Choose one of home"),
        ({"low": "9", "high": "2"}, "low", "Right from 9 to 2 leaves no room."),
        ({"low": "much"}, "low", "“much” is not a number"),
        ({"low": "-1"}, "low", "-1 is not possible here"),
        ({"draws": "100000"}, "draws", "too many: at most 16,384 here"),
        ({"draws": "3"}, "draws", "too few to count: at least 64"),
        ({"scale": "0"}, "scale", "0 is not possible here"),
        ({"thermometer": "99"}, "thermometer", "99 is not possible here"),
        ({"care": "wild"}, "care", "wild"),
        ({"water_low": "3", "water_high": "1"}, "water_low", "Change one of the two"),
        ({"water_low": "9"}, "water_low", "softest water is harder"),
        ({"fridge_low": "9", "fridge_high": "4"}, "fridge_low", "Change one of the two"),
    ],
)
def test_what_is_wrong_is_told_at_its_field_and_nothing_is_lost(page_of, asked, field, said):
    page = page_of(**asked)
    assert said in problem(page, field)
    assert said in problem(page_of(is_part=True, **asked), field)
    assert "Nothing you typed was lost." in page
    for name, value in asked.items():
        kept = f'name="{name}" value="{value}"' in page or f'value="{value}" selected' in page
        assert kept or name == "care"


def test_names_in_the_address_are_escaped(page_of):
    assert "<b>x" not in page_of(profile="<b>x")


def test_long_and_odd_input_never_breaks_the_page(page_of):
    for odd in ("x" * 5000, "\x00", "1e999", "nan", "١", "0"):
        for name in (
            "profile",
            "low",
            "high",
            "draws",
            "scale",
            "care",
            "water_low",
            "fridge_high",
        ):
            page_of(**{name: odd})


def test_own_numbers_make_the_kitchen(page_of):
    page = page_of(scale="0.01", thermometer="0.5")
    assert " such kitchens get " in page
    assert re.search(r'data-keep="own-numbers" open', page)


def test_a_change_opens_the_editor_with_it_made(bench, saved):
    made = saved()
    page = bench.get(f"/formulas/{made.formula_id}/strangers/").content.decode()
    form = page[page.index('class="go"') :].split("</form>")[0]
    found = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', form))
    fields = {name: unescape(value) for name, value in found.items()}
    assert fields["base_number"] == "1"
    assert fields["version_note"]
    as_saved = bench.get(f"/formulas/{made.formula_id}/").content.decode()
    opened = bench.post(f"/formulas/{made.formula_id}/", {**fields, "compute": "1"})
    assert "Please correct this first" not in opened.content.decode()
    lines = fields["ingredients"].splitlines()[0]
    assert lines in unescape(opened.content.decode())
    changed = (fields["ingredients"], fields["steps"])
    assert changed != ("700 g whole milk\n60 g sugar\n4 g kappa carrageenan",
                       "Mix powder and sugar\nHeat to 90 °C and hold 2 min")  # fmt: skip
    assert "4 g kappa carrageenan" in unescape(as_saved)


def test_a_version_links_to_the_page_and_keeps_its_number(page_of):
    assert "strangers/?version=1" in page_of(path="versions/1/")
    assert 'name="version" value="1"' in page_of(version="1")


def test_a_formula_without_anything_that_sets_is_told(bench, saved):
    made = saved(ingredients="500 g water", steps="", goal="slice")
    answer = bench.get(f"/formulas/{made.formula_id}/strangers/")
    assert answer.status_code == 200
