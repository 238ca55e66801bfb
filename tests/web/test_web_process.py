"""The process page: what it shows, what it keeps, what it refuses, and its plan."""

import html
import re

import pytest
from builders_process import STEPS

from setwell.domain.equipment import Cooler, CoolerKind, Hob
from setwell.domain.pantry import Mold, Vessel
from setwell.services import pantry
from setwell.services.process_plans import plan_saved

pytestmark = pytest.mark.django_db

LINES = "500 g whole milk\n60 g sugar\n4 g agar\n20 g lemon juice"


@pytest.fixture
def lemon(saved):
    """A saved agar gel; returns the id of its formula."""
    molds = {"count": 6, "volume_ml": 100}
    return saved(title="Lemon cups", ingredients=LINES, steps=STEPS, molds=molds).formula_id


@pytest.fixture
def shelves():
    """A hob, a pot, a mold and a fridge of the kitchen's own."""
    pantry.hob_save(id=None, document=Hob(name="Left ring", power_w=1800))
    pantry.vessel_save(
        id=None, document=Vessel(name="Blue pot", volume_ml=3_000, diameter_mm=180, height_mm=120)
    )
    pantry.mold_save(
        id=None, document=Mold(name="Lemon cup", shape="cup", volume_ml=98, diameter_mm=62)
    )
    pantry.cooler_save(
        id=None,
        document=Cooler(name="Drawer", kind=CoolerKind.VENTILATED_FRIDGE, air_c=2, inside_l=100),
    )


def read(answer):
    return html.unescape(answer.content.decode())


def squeezed(answer):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", read(answer)))


def test_the_page_has_pot_mold_safety_and_timeline(bench, lemon):
    page = read(bench.get(f"/formulas/{lemon}/process/"))
    for part in ('id="pot"', 'id="cooling"', 'id="safety"', 'id="timeline"'):
        assert part in page
    assert page.count("course-chart") >= 2
    assert "timeline-chart" in page


def test_moments_are_told_in_plain_words(bench, lemon):
    text = squeezed(bench.get(f"/formulas/{lemon}/process/"))
    assert re.search(r"Set after \d+ (min|h)( \d+ min)? \(", text)


def test_the_shelves_fill_the_form(bench, lemon, shelves):
    page = read(bench.get(f"/formulas/{lemon}/process/"))
    for name in ("Left ring", "Blue pot", "Lemon cup", "Drawer"):
        assert re.search(rf'value="{name}" selected', page), name
    assert "No plan is saved yet" in page


def test_the_address_holds_the_question(bench, lemon):
    asked = {"target": "88", "count": "12", "cooler": "Ice bath", "serve": "18:30"}
    page = read(bench.get(f"/formulas/{lemon}/process/", asked))
    assert 'value="88"' in page
    assert 'value="12"' in page
    assert 'value="Ice bath" selected' in page
    assert "Start at" in page
    assert "This is a trial" in page


def test_a_colder_place_sets_sooner(bench, lemon):
    def sets(cooler):
        text = squeezed(bench.get(f"/formulas/{lemon}/process/", {"cooler": cooler}))
        hours, minutes = re.search(r"Set after (?:(\d+) h ?)?(?:(\d+)(?:\.5)? min)?", text).groups()
        return 60 * int(hours or 0) + int(minutes or 0)

    assert sets("Ice bath") < sets("Fridge at 4 °C")


def test_a_hotter_kitchen_keeps_the_counter_hot(bench, lemon):
    def half_gone(room):
        asked = {"room": room, "counter": "90", "cooler": "Fridge at 4 °C"}
        text = squeezed(bench.get(f"/formulas/{lemon}/process/", asked))
        return minutes_in(re.search(r"Core at 21 °C \(70 °F\) after (.*?) \(", text)[1])

    assert half_gone("32") > half_gone("20") + 5
    page = read(bench.get(f"/formulas/{lemon}/process/", {"room": "32"}))
    assert 'name="room" value="32"' in page


def minutes_in(said):
    hours, minutes = (re.search(rf"(\d+) {unit}", said) for unit in ("h", "min"))
    return 60 * int(hours[1] if hours else 0) + int(minutes[1] if minutes else 0)


def test_serving_too_soon_is_said_with_how_much(bench, lemon):
    asked = {"serve": "12:00", "earliest": "11:30"}
    text = squeezed(bench.get(f"/formulas/{lemon}/process/", asked))
    assert "too late for 12:00 (12:00 pm)" in text
    assert "Serve at" in text


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("target", "hot", "“hot” is not a number"),
        ("pour", "300", "300 is not possible here"),
        ("count", "0", "0 is not possible here"),
        ("hob", "Dragon", "There is no “Dragon” in this kitchen"),
        ("cooler", "Moon", "There is no “Moon” in this kitchen"),
        ("serve", "late", "Write the time as 18:30 or 6:30 pm."),
        ("sweep", "mood", "“mood” cannot be changed here."),
    ],
)
def test_a_wrong_value_is_explained_at_its_field_and_kept(bench, lemon, field, value, said):
    page = read(bench.get(f"/formulas/{lemon}/process/", {field: value}))
    place = page.index(f'id="problem-{field}"')
    assert said in page[place : place + 400]
    assert f'value="{value}"' in page


def test_what_the_engine_refuses_stands_at_its_field_and_the_rest_is_computed(bench, lemon):
    page = read(
        bench.get(f"/formulas/{lemon}/process/", {"pour": "-4", "cooler": "Fridge at 4 °C"})
    )
    place = page.index('id="problem-pour"')
    assert 'class="errorlist"' in page[place : place + 300]
    assert 'id="pot"' in page


def test_the_live_part_comes_alone_with_problems_beside_it(bench, lemon):
    answer = bench.get(
        f"/formulas/{lemon}/process/", {"target": "hot"}, headers={"hx-request": "true"}
    )
    page = read(answer)
    assert "<html" not in page
    assert 'id="problem-target" hx-swap-oob="true"' in page
    assert "Not computed" in page


def test_a_plan_is_used_and_counts_for_the_version(bench, lemon, shelves):
    asked = {"target": "91", "count": "9", "serve": "18:00"}
    answer = bench.post(f"/formulas/{lemon}/process/plan/", asked, follow=True)
    assert "This plan now counts for version 1." in read(answer)
    assert 'value="18:00"' in read(answer)
    plan = plan_saved(formula_id=lemon, number=1)
    assert (plan.pot.target_c, plan.cooling.count) == (91, 9)
    page = read(bench.get(f"/formulas/{lemon}/process/"))
    assert "This plan counts for version 1" in page
    assert 'value="91"' in page


def test_a_wrong_plan_is_not_saved_and_stays_in_the_form(bench, lemon):
    page = read(bench.post(f"/formulas/{lemon}/process/plan/", {"target": "hot"}))
    assert "“hot” is not a number" in page
    assert 'value="hot"' in page
    assert plan_saved(formula_id=lemon, number=1) is None


def test_a_plan_that_cannot_be_computed_is_not_saved(bench, lemon):
    asked = {"pour": "-4", "cooler": "Fridge at 4 °C"}
    page = read(bench.post(f"/formulas/{lemon}/process/plan/", asked))
    place = page.index('id="problem-pour"')
    assert 'class="errorlist"' in page[place : place + 300]
    assert plan_saved(formula_id=lemon, number=1) is None


def test_a_sweep_draws_its_chart(bench, lemon):
    page = read(bench.get(f"/formulas/{lemon}/process/", {"sweep": "air temperature"}))
    assert "How cold the place is</h3>" in page
    assert "At 21 °C (70 °F)" in page


def test_an_unheated_formula_has_no_pot(bench, saved):
    formula = saved(ingredients="500 g water\n2 g xanthan", steps="Blend and chill for 2 h.")
    page = read(bench.get(f"/formulas/{formula.formula_id}/process/"))
    assert 'id="pot"' not in page
    assert 'id="timeline"' in page


def test_a_formula_without_steps_says_so(bench, saved):
    formula = saved(ingredients="500 g water", steps="")
    assert "No steps are written" in read(bench.get(f"/formulas/{formula.formula_id}/process/"))


def test_the_bench_sheet_is_a_page_and_a_pdf(bench, lemon):
    asked = {"target": "95", "serve": "18:30", "cooler": "Ice bath"}
    page = read(bench.get(f"/formulas/{lemon}/process/sheet/", asked))
    assert "Points that decide" in page
    assert "in Ice bath" in page
    assert "Core °C after 2 h" in page
    answer = bench.get(f"/formulas/{lemon}/process/sheet/sheet.pdf", {**asked, "paper": "Letter"})
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    assert 'filename="lemon-cups-bench-sheet.pdf"' in answer["Content-Disposition"]


def test_a_sheet_of_a_wrong_question_or_paper_is_refused(bench, lemon):
    assert bench.get(f"/formulas/{lemon}/process/sheet/", {"target": "hot"}).status_code == 400
    answer = bench.get(f"/formulas/{lemon}/process/sheet/sheet.pdf", {"paper": "A9"})
    assert answer.status_code == 400


def test_an_unknown_formula_or_version_is_refused(bench, lemon):
    assert bench.get("/formulas/999/process/").status_code == 404
    assert bench.get(f"/formulas/{lemon}/process/?version=7").status_code == 404
    assert bench.get(f"/formulas/{lemon}/process/?version=x").status_code == 400


def test_the_page_takes_no_post_and_the_plan_no_get(bench, lemon):
    assert bench.post(f"/formulas/{lemon}/process/").status_code == 405
    assert bench.get(f"/formulas/{lemon}/process/plan/").status_code == 405


def test_a_layer_below_is_judged(bench, lemon, saved):
    below = saved(
        title="Cold base", ingredients="500 g whole milk\n10 g gelatin",
        steps="Bloom the gelatin.\nHeat to 60 °C.\nPour into cups.\nChill for 6 h.",
    ).formula_id  # fmt: skip
    asked = {"layer": str(below), "pour": "75", "layer_mm": "10", "this_mm": "20"}
    page = read(bench.get(f"/formulas/{lemon}/process/", asked))
    assert "Poured onto Cold base" in page
    assert "Where the layers meet" in page


@pytest.mark.parametrize("layer", ["x", "404"])
def test_an_unknown_layer_is_said_at_its_field(bench, lemon, layer):
    page = read(bench.get(f"/formulas/{lemon}/process/", {"layer": layer}))
    place = page.index('id="problem-layer"')
    assert 'class="errorlist"' in page[place : place + 200]


def test_a_layer_that_never_sets_cannot_lie_below(bench, lemon, saved):
    below = saved(ingredients="500 g water", steps="Chill for 1 h.").formula_id
    page = read(bench.get(f"/formulas/{lemon}/process/", {"layer": str(below)}))
    assert "The first layer does not set" in page


def test_a_frozen_piece_inside_makes_it_set_sooner(bench, lemon):
    asked = {"cooler": "Fridge at 4 °C", "piece_mm": "15", "piece_c": "-18"}
    text = squeezed(bench.get(f"/formulas/{lemon}/process/", asked))
    assert "With the piece the core" in text
    assert "sooner" in text
    page = read(bench.get(f"/formulas/{lemon}/process/", {**asked, "piece_mm": "150"}))
    place = page.index('id="problem-piece_mm"')
    assert "does not fit a mold" in page[place : place + 400]
