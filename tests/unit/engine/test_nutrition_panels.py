"""Panels: unknown amounts, what blocks them, gums by market, the short form, tolerances."""

from dataclasses import replace

import numpy as np
import pytest
from builders_engine import formula_of

from setwell import Pantry
from setwell.domain.pantry import OwnFood
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.labels.nutrition_eu import eu_panel
from setwell.engine.labels.nutrition_us import us_panel
from setwell.engine.labels.panel_results import DRAFT, Form
from setwell.engine.labels.servings import ServingAsk
from setwell.engine.pipeline import batch_assess
from setwell.errors import InputError
from setwell.provenance import Grade

YOGURT = ServingAsk("yogurt")
CREAM_CUP = ("800 g whole milk", "100 g heavy cream", "100 g sugar")


def bench(*lines, **fields):
    return bench_build(formula_of(*lines, **fields))


def us(*lines, serving=YOGURT, analyzed=None, **fields):
    return us_panel(bench(*lines, **fields), serving=serving, analyzed=analyzed)


def codes(panel):
    return [blocker.code for blocker in panel.blockers]


def test_an_unknown_amount_is_shown_as_unknown_and_blocks():
    panel = us(*CREAM_CUP)
    trans = panel.row("trans_fat")
    assert trans.cells[0].printed.text == "unknown"
    assert trans.cells[0].estimate.high is None
    assert trans.unknown_in == ("Milk, whole 3.25%",)
    assert codes(panel) == ["unknown"]
    assert not panel.is_final
    assert panel.blockers[0].rows == ("trans_fat",)


def test_an_analysis_fills_the_gap_and_is_named():
    panel = us(*CREAM_CUP, analyzed={"trans_fat": 0.4})
    trans = panel.row("trans_fat")
    assert trans.cells[0].printed.text == "0.5 g"
    assert trans.evidence[0].source == "this_kitchen"
    assert panel.is_final
    assert panel.status == DRAFT


def test_a_gap_too_small_to_show_does_not_block():
    # Skim milk holds hardly any fat, so hardly any trans fat either.
    panel = us("1000 g skim milk", "60 g sugar")
    trans = panel.row("trans_fat")
    assert trans.cells[0].printed.text == "0 g"
    assert trans.cells[0].estimate.high > 0
    assert not trans.is_unknown
    assert panel.is_final


def test_an_unread_line_blocks_and_is_quoted():
    panel = us("1000 g skim milk", "90 g sugar", "30 g unobtainium")
    assert codes(panel) == ["lines_open"]
    assert "30 g unobtainium" in panel.blockers[0].text


def test_an_empty_batch_shows_nothing_and_blocks_both_panels():
    for panel in (us("", serving=ServingAsk("yogurt")), eu_panel(bench(""))):
        assert codes(panel) == ["batch_empty"]
        assert {row.cells[0].printed.form for row in panel.rows} == {Form.UNKNOWN}


def test_a_part_above_its_whole_blocks():
    panel = eu_panel(bench("1000 g whole milk"), analyzed={"carbohydrate": 4.8})
    assert codes(panel) == ["part_above_whole"]
    assert "Sugars 5.1 g" in panel.blockers[0].text
    settled = eu_panel(bench("1000 g whole milk"), analyzed={"carbohydrate": 5.1})
    assert settled.is_final


def test_a_part_above_its_whole_in_the_column_per_portion_blocks_too():
    # Both print as 4.7 g in 100 g; in 222 g they are 10.35 and 10.52 g.
    analyzed = {"fat": 4.66, "saturated_fat": 4.74}
    for portion, found in ((250.0, []), (222.0, ["part_above_whole"])):
        panel = eu_panel(bench("1000 g skim milk"), portion_g=portion, analyzed=analyzed)
        assert panel.row("fat").cells[0].printed.text == "4.7 g"
        assert panel.row("saturated_fat").cells[0].printed.text == "4.7 g"
        assert codes(panel) == found


def test_carbohydrate_is_no_less_than_the_lactose_in_it_and_the_note_says_by_how_much():
    # USDA: whole milk has 4.80 g of carbohydrate by difference and 5.05 g of sugars.
    panel = eu_panel(bench("1000 g whole milk"))
    assert panel.is_final
    carbohydrate, sugars = panel.row("carbohydrate").cells[0], panel.row("sugars").cells[0]
    assert carbohydrate.printed.text == sugars.printed.text == "5.1 g"
    assert carbohydrate.estimate.value == pytest.approx(5.05)
    assert carbohydrate.estimate.low <= 4.8
    # 37 x 3.25 + 17 x 5.05 + 17 x 3.15 kJ.
    assert panel.row("energy_kj").cells[0].estimate.value == pytest.approx(259.65)
    assert "5.05 g in 100 g in place of 4.80 g" in panel.notes[0]
    assert "Milk, whole" in panel.notes[0]


def test_carbohydrate_stays_as_it_is_where_the_print_agrees():
    panel = eu_panel(bench("800 g whole milk", "100 g heavy cream", "100 g sugar"))
    assert not any("no less than the sugars" in note for note in panel.notes)


def test_a_typed_food_with_more_sugars_than_carbohydrate_is_not_mended():
    typed = {"carbohydrate_g": 5.0, "sugars_g": 5.6}
    for based_on in ("", "skim milk"):
        food = OwnFood(name="Odd base", based_on=based_on, nutrients=typed)
        made = bench_build(
            formula_of("1000 g Odd base"), catalog=catalog_build(Pantry(foods=[food]))
        )
        assert "part_above_whole" in codes(eu_panel(made))


def test_a_serving_that_is_not_settled_blocks():
    panel = us("1000 g skim milk", serving=ServingAsk(own_g=100.0))
    assert codes(panel) == ["serving_open"]


@pytest.mark.parametrize(
    ("analyzed", "said"),
    [({"ash": 1.0}, "“ash”"), ({"iron": -1.0}, "iron is -1"), ({"fat": np.nan}, "fat is nan")],
)
def test_an_impossible_analysis_is_refused(analyzed, said):
    with pytest.raises(InputError, match=said):
        us("1000 g skim milk", analyzed=analyzed)


@pytest.mark.parametrize("portion", [0.0, -5.0, float("nan")])
def test_an_impossible_portion_is_refused(portion):
    with pytest.raises(InputError, match="weight of a portion"):
        eu_panel(bench("1000 g skim milk"), portion_g=portion)


@pytest.mark.parametrize(
    ("gum", "us_counts"),
    [("pectin", True), ("guar gum", True), ("locust bean gum", True), ("sodium alginate", True),
     ("kappa carrageenan", False), ("xanthan", False), ("low acyl gellan", False),
     ("agar", False)],
)  # fmt: skip
def test_gums_count_as_fiber_by_market(gum, us_counts):
    made = bench("960 g distilled water", f"40 g {gum}")
    american, european = us_panel(made, serving=YOGURT), eu_panel(made)
    assert (american.row("fiber").cells[0].estimate.value > 0) == us_counts
    assert european.row("fiber").cells[0].estimate.value > 1.5
    assert [found.is_counted for found in american.fiber] == [us_counts]
    assert american.fiber[0].evidence[0].grade is Grade.COMPILED
    assert european.fiber[0].evidence[0].grade is Grade.ESTIMATED


def test_what_the_us_does_not_count_as_fiber_stays_carbohydrate():
    made = bench("960 g distilled water", "40 g xanthan")
    assert us_panel(made, serving=YOGURT).row("carbohydrate").cells[0].printed.text == "5 g"
    assert eu_panel(made).row("carbohydrate").cells[0].printed.form is not Form.VALUE


def test_a_blend_counts_by_its_parts():
    made = bench("960 g distilled water", "40 g xanthan + LBG")
    found = us_panel(made, serving=YOGURT).fiber[0]
    # Half of each: 81.8 g of the one count, 76.8 g of the other do not.
    assert found.grams_per_100g == pytest.approx(79.3 * 81.8 / (81.8 + 76.8))


def test_fiber_of_a_food_counts_in_both_markets():
    made = bench("500 g strawberries")
    assert us_panel(made, serving=YOGURT).row("fiber").cells[0].printed.text == "3 g"
    assert eu_panel(made).row("fiber").cells[0].printed.text == "2.0 g"


def test_the_short_form_is_allowed_from_eight_insignificant_lines():
    jelly = us("930 g distilled water", "50 g sugar", "20 g gelatin")
    assert jelly.simplified.is_allowed
    assert set(jelly.simplified.kept) >= {"calories", "fat", "sodium", "carbohydrate", "protein"}
    assert jelly.simplified.sentence.startswith("Not a significant source of saturated fat,")
    assert jelly.simplified.sentence.endswith(" or potassium.")
    assert not us("1000 g skim milk").simplified.is_allowed


def test_yield_concentrates_what_does_not_boil_off():
    before = eu_panel(bench("900 g soy milk", "100 g sugar"))
    after = eu_panel(bench("900 g soy milk", "100 g sugar", evaporation_pct=20))
    for key in ("energy_kj", "carbohydrate", "salt"):
        one, other = (panel.row(key).cells[0].estimate.value for panel in (before, after))
        assert other == pytest.approx(one / 0.8)


def test_what_stays_in_the_pot_changes_no_panel():
    lines = ("900 g skim milk", "100 g sugar")
    assert eu_panel(bench(*lines)).rows == eu_panel(bench(*lines, loss_pct=10)).rows


def test_per_100_ml_goes_by_the_density():
    made = bench("1000 g skim milk")
    per_g, per_ml = eu_panel(made), eu_panel(made, per_ml=True, density_g_ml=1.03)
    for one, other in zip(per_g.rows, per_ml.rows, strict=True):
        assert other.cells[0].estimate.value == pytest.approx(1.03 * one.cells[0].estimate.value)
    assert per_ml.columns[0].heading == "per 100 ml"
    assert any("without air" in note for note in eu_panel(made, per_ml=True).notes)


def test_tolerances_follow_the_declared_amount():
    fat = eu_panel(bench("1000 g whole milk", "100 g heavy cream")).row("fat").tolerance
    assert (fat.low, fat.high) == pytest.approx((4.7, 7.7))
    sodium = us("1000 g skim milk").row("sodium").tolerance
    assert (sodium.low, sodium.high) == (None, pytest.approx(1.2 * 70.0))


def test_what_is_shown_as_zero_is_zero_percent():
    fat = us("1000 g skim milk").row("fat")
    assert 0.1 < fat.cells[0].estimate.value < 0.5
    assert (fat.cells[0].printed.text, fat.cells[0].share.text) == ("0 g", "0%")


def test_polyols_have_a_line_only_where_there_are_any():
    with_polyol = ("900 g skim milk", "100 g isomalt")
    assert us(*with_polyol).row("polyols").cells[0].printed.text == "17 g"
    assert us("1000 g skim milk").row("polyols") is None
    assert eu_panel(bench("1000 g skim milk")).row("polyols") is None


def test_every_candidate_of_a_bench_has_its_own_panel():
    made = bench("900 g skim milk", "100 g sugar")
    grams = np.array([[900.0, 100.0], [950.0, 50.0], [700.0, 300.0]])
    several = replace(made, state=batch_assess(made.plan, grams, steps=made.steps))
    for row, (milk, sugar) in enumerate(grams):
        alone = bench(f"{milk:g} g skim milk", f"{sugar:g} g sugar")
        assert _values(eu_panel(several, row=row)) == pytest.approx(_values(eu_panel(alone)))
        one, other = us_panel(several, serving=YOGURT, row=row), us_panel(alone, serving=YOGURT)
        assert _values(one) == pytest.approx(_values(other))


def _values(panel):
    return {row.key: row.cells[0].estimate.value for row in panel.rows}


def test_a_food_of_the_pantry_brings_its_own_figures():
    pantry = Pantry.model_validate(
        {
            "foods": [
                {"name": "Farm milk", "based_on": "milk_whole", "nutrients": {"trans_fat_g": 0.1}}
            ]
        }
    )
    formula = formula_of("800 g farm milk", "100 g heavy cream", "100 g sugar")
    panel = us_panel(bench_build(formula, catalog=catalog_build(pantry)), serving=YOGURT)
    assert panel.row("trans_fat").cells[0].printed.text == "0 g"
    assert panel.is_final


def test_protein_has_a_percentage_only_with_the_score_of_an_analysis():
    made = bench("1000 g skim milk")
    assert us_panel(made, serving=YOGURT).row("protein").cells[0].share is None
    # 170 g with 3.37 g in 100 g are 5.729 g; 0.9 of it is 10.3 % of 50 g.
    share = us_panel(made, serving=YOGURT, protein_score=0.9).row("protein").cells[0].share
    assert share.percent == pytest.approx(100 * 5.729 * 0.9 / 50)
    assert (share.text, share.of) == ("10%", "50 g")
    assert Grade.UNVERIFIED in {citation.grade for citation in share.evidence}


@pytest.mark.parametrize("score", [0.0, 1.2, -1.0, float("nan")])
def test_an_impossible_protein_score_is_refused(score):
    with pytest.raises(InputError, match="protein score is"):
        us_panel(bench("1000 g skim milk"), serving=YOGURT, protein_score=score)
