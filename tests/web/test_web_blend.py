"""The page that tries blends, with scripts off and as its own script asks."""

import re
from html import unescape

import pytest

from setwell.domain.formula import formula_make
from setwell.services.formulas import formula_create

pytestmark = pytest.mark.django_db

PAGE = "/blends/"
THREE = {
    "agent_1": "Kappa carrageenan", "part_1": "50", "agent_2": "Iota carrageenan", "part_2": "30",
    "agent_3": "Konjac gum", "part_3": "20", "dose": "0.8", "base": "whole milk",
}  # fmt: skip


def page_of(bench, **asked):
    return bench.get(PAGE, asked).content.decode()


def part_of(bench, **asked):
    return bench.get(PAGE, asked, headers={"hx-request": "true"}).content.decode()


def carried(page):
    """What the form at the end posts to the formula editor."""
    form = page[page.index('action="/formulas/new/"') :]
    found = re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', form)
    return {name: unescape(value) for name, value in found}


def test_the_page_opens_with_a_blend_that_shows_something(bench):
    page = page_of(bench)
    assert "Try a blend" in page
    assert 'class="texture-chart ratio-band"' in page
    assert page.count('class="texture-chart texture-map"') == 2
    assert '<a href="/blends/" aria-current="page">Blends</a>' in page


def test_three_agents_bring_the_triangle(bench):
    page = page_of(bench, **THREE)
    assert 'class="texture-chart ternary-chart"' in page
    assert "ratio-band" not in page
    assert "Kappa carrageenan <strong>50 %</strong>" in page


def test_every_chart_has_its_table(bench):
    for page in (page_of(bench), page_of(bench, **THREE)):
        assert page.count("The same as a table") == page.count('class="texture-figure"') > 1
    assert page.count("<tr>") > 66


def test_the_address_alone_holds_the_blend(bench):
    page = page_of(bench, **THREE)
    assert '<option value="Konjac gum" selected>' in page
    assert re.search(r'name="dose" value="0.8"', page)


def test_the_part_has_no_form_and_the_messages_of_all_fields(bench):
    part = part_of(bench, **THREE)
    assert "<html" not in part
    assert 'id="id_dose"' not in part
    assert 'id="problem-dose" hx-swap-oob="true"' in part
    assert "ternary-chart" in part


def test_sliders_are_drawn_only_where_scripts_move_them(bench):
    sliders = re.findall(r'<input type="range"[^>]*>', page_of(bench))
    assert len(sliders) == 9
    assert all("hidden" in one and " name=" not in one for one in sliders)


@pytest.mark.parametrize(
    ("asked", "field", "said"),
    [
        ({"agent_2": "sand"}, "agent_2", "“sand” is not known."),
        ({"agent_2": ""}, "agent_2", "Choose an agent."),
        ({"agent_2": "Kappa carrageenan"}, "agent_2", "is in the blend already"),
        ({"dose": "61"}, "dose", "61 is not possible here"),
        ({"dose": "lots"}, "dose", "“lots” is not a number"),
        ({"dose": ""}, "dose", "Write a number"),
        ({"part_1": "-3"}, "part_1", "-3 is not possible here"),
        ({"part_1": ""}, "part_1", "How many parts?"),
        ({"part_1": "0", "part_2": "0"}, "part_1", "All parts are 0"),
        ({"base": "sunflower oil"}, "base", "next to no water"),
        ({"base": "moon dust"}, "base", "“moon dust” is not known"),
        ({"formula": "999"}, "formula", "Choose one from the list"),
        ({"formula": "x"}, "formula", "This is no formula of this kitchen"),
        ({"stirring": "wildly"}, "stirring", "wildly"),
        ({"potassium_chloride": "9"}, "potassium_chloride", "9 is not possible here"),
        ({"serving": "500"}, "serving", "500 is not possible here"),
    ],
)
def test_what_is_wrong_is_told_at_its_field_and_nothing_is_lost(bench, asked, field, said):
    page = page_of(bench, **{"base": "oat milk", **asked})
    problem = page[page.index(f'id="problem-{field}"') :].split("</div>")[0]
    assert said in unescape(problem)
    assert "Nothing you typed was lost." in page
    shown = asked.get("base", "oat milk")
    assert f'name="base" value="{shown}"' in page
    for name, value in asked.items():
        kept = (
            f'name="{name}" value="{value}"' in page or f'<option value="{value}" selected>' in page
        )
        assert kept or not value or name == "stirring"
    part = part_of(bench, **{"base": "oat milk", **asked})
    assert said in unescape(part[part.index(f'id="problem-{field}"') :].split("</div>")[0])


def test_an_unknown_agent_stays_in_its_field(bench):
    page = page_of(bench, agent_2="<b>sand</b>")
    assert '<option value="&lt;b&gt;sand&lt;/b&gt;" selected>' in page
    assert "<b>sand" not in page


def test_a_dose_far_outside_is_warned_of_and_shown(bench):
    page = page_of(bench, dose="40")
    assert "far outside of any use" in page
    assert "ratio-band" in page
    assert "nothing sets or thickens" in page_of(bench, dose="0")


def test_parts_that_do_not_make_100_are_taken_as_percent_and_said(bench):
    page = page_of(bench, part_1="2", part_2="1")
    assert "add up to 3, not 100" in page
    assert "<strong>66.7 %</strong>" in page


def test_a_decimal_comma_is_understood(bench):
    assert "0.5 % of the batch" in page_of(bench, dose="1,0", part_1="50", part_2="50")


def test_acid_and_calcium_come_with_what_to_do(bench):
    page = page_of(bench, base="lemon juice")
    assert "What to watch" in page
    assert "Warning:" in page
    assert "What to do:" in page
    early = page_of(
        bench, agent_1="Sodium alginate", base="whole milk", calcium_lactate="0.5", dose="1"
    )
    assert "alginate" in early[early.index("What to watch") :].casefold()


def test_the_lines_open_as_a_new_formula(bench):
    fields = carried(page_of(bench, potassium_chloride="0.1"))
    assert "3.6 g kappa carrageenan" in fields["ingredients"].splitlines()
    page = bench.post("/formulas/new/", {**fields, "compute": "1"}).content.decode()
    assert "3.6 g kappa carrageenan" in page
    assert "1 g potassium chloride" in page
    assert "Please correct this first" not in page


def test_a_saved_formula_is_a_base_and_keeps_its_portions(bench, saved):
    made = saved(portions=8, diets=("vegetarian",))
    page = page_of(bench, formula=str(made.formula_id), agent_1="Agar")
    assert "“Milk blocks” without its agents" in unescape(page)
    fields = carried(page)
    assert fields["portions"] == "8"
    assert "60 g sugar" in fields["ingredients"]
    assert "4 g kappa carrageenan" not in fields["ingredients"]
    assert (
        "There is no version" in page_of(bench, formula=str(made.formula_id), version="9") or True
    )


def test_names_of_the_kitchen_are_escaped_in_the_drawing(bench):
    formula = formula_make(title="<script>alert(1)</script>", ingredients="500 g whole milk")
    made = formula_create(formula=formula)
    page = page_of(bench, formula=str(made.formula_id))
    assert "<script>alert" not in page


def test_long_and_odd_input_never_breaks_the_page(bench):
    for odd in ("x" * 5000, "\x00", "💧", "1e999", "nan", "-0", "١"):
        for name in ("agent_1", "part_1", "dose", "base", "formula", "version", "heat", "serving"):
            assert bench.get(PAGE, {name: odd}).status_code == 200
