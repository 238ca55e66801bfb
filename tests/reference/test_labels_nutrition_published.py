"""Nutrition panels against the rules of both markets, and three panels added up by hand."""

import pytest
from builders_engine import formula_of

from setwell.engine.assess import bench_build
from setwell.engine.labels.nutrition_eu import eu_panel
from setwell.engine.labels.nutrition_us import UsEnergy, us_panel
from setwell.engine.labels.panel_results import Form
from setwell.engine.labels.printing import amount_print, share_print
from setwell.engine.labels.servings import ServingAsk
from setwell.science.panels.energy import factor_energy, sodium_salt

# 21 CFR 101.9(c), halves up: line, unrounded amount, what the label shows.
US_AMOUNTS = [
    ("calories", 4.9, "0"), ("calories", 5.0, "5"), ("calories", 32.6, "35"),
    ("calories", 32.4, "30"), ("calories", 50.0, "50"), ("calories", 50.4, "50"),
    ("calories", 55.0, "60"), ("calories", 161.8, "160"), ("calories", 165.0, "170"),
    ("fat", 0.49, "0 g"), ("fat", 0.50, "0.5 g"), ("fat", 0.74, "0.5 g"), ("fat", 0.75, "1 g"),
    ("fat", 4.74, "4.5 g"), ("fat", 4.75, "5 g"), ("fat", 5.4, "5 g"), ("fat", 5.5, "6 g"),
    ("saturated_fat", 1.24, "1 g"), ("saturated_fat", 1.26, "1.5 g"), ("trans_fat", 0.4, "0 g"),
    ("cholesterol", 1.9, "0 mg"), ("cholesterol", 2.0, "less than 5 mg"),
    ("cholesterol", 5.0, "less than 5 mg"), ("cholesterol", 7.4, "5 mg"),
    ("cholesterol", 7.5, "10 mg"), ("cholesterol", 72.0, "70 mg"),
    ("sodium", 4.9, "0 mg"), ("sodium", 5.0, "5 mg"), ("sodium", 137.4, "135 mg"),
    ("sodium", 137.5, "140 mg"), ("sodium", 140.0, "140 mg"), ("sodium", 141.0, "140 mg"),
    ("sodium", 145.0, "150 mg"),
    ("carbohydrate", 0.49, "0 g"), ("carbohydrate", 0.7, "less than 1 g"),
    ("carbohydrate", 1.49, "1 g"), ("carbohydrate", 18.5, "19 g"),
    ("fiber", 0.6, "less than 1 g"), ("added_sugars", 12.4, "12 g"),
    ("protein", 0.8, "less than 1 g"), ("protein", 3.5, "4 g"),
    ("vitamin_d", 0.34, "0.3 mcg"), ("calcium", 143.0, "140 mg"),
    ("servings", 3.3, "3.5"), ("servings", 6.4, "6"),
]  # fmt: skip

# 21 CFR 101.9(c)(8)(iii) and (d)(7)(ii): line, kind, amount, percentage.
US_SHARES = [
    ("vitamin_d", "stepped", 0.34, "0%"), ("calcium", "stepped", 143.0, "10%"),
    ("iron", "stepped", 1.0, "6%"), ("potassium", "stepped", 190.0, "4%"),
    ("calcium", "stepped", 700.0, "50%"), ("calcium", "stepped", 720.0, "60%"),
    ("fat", "plain", 8.2, "11%"), ("added_sugars", "plain", 12.4, "25%"),
]  # fmt: skip

# Rounding guidelines of the Commission, December 2012, per 100 g: shown, or also allowed.
EU_AMOUNTS = [
    ("energy_kj", 672.0, "672 kJ"), ("energy_kcal", 160.6, "161 kcal"),
    ("fat", 3.46, "3.5 g"), ("fat", 0.50, "< 0.5 g"), ("fat", 0.54, "0.5 g"),
    ("fat", 12.4, "12 g"), ("saturated_fat", 0.10, "< 0.1 g"), ("saturated_fat", 0.14, "0.1 g"),
    ("carbohydrate", 17.5, "18 g"), ("sugars", 9.94, "9.9 g"), ("protein", 3.94, "3.9 g"),
    ("salt", 0.0125, "< 0.01 g"), ("salt", 0.013, "0.01 g"), ("salt", 0.734, "0.73 g"),
    ("salt", 1.34, "1.3 g"), ("salt", 1.20, "1.2 g"),
]  # fmt: skip


@pytest.mark.parametrize(("row", "amount", "shown"), US_AMOUNTS)
def test_us_amounts_round_as_the_rule_says(row, amount, shown):
    assert amount_print("us", row, amount).text == shown


def test_protein_below_one_gram_may_also_be_one():
    assert amount_print("us", "protein", 0.8).also_allowed == "1 g"


@pytest.mark.parametrize(("row", "kind", "amount", "shown"), US_SHARES)
def test_us_percentages_round_as_the_rule_says(row, kind, amount, shown):
    share = share_print("us", row, kind, amount, amount_print("us", row, amount))
    assert share.text == shown


@pytest.mark.parametrize(("row", "amount", "shown"), EU_AMOUNTS)
def test_eu_amounts_round_as_the_guidelines_say(row, amount, shown):
    printed = amount_print("eu", row, amount)
    assert printed.text == shown
    if printed.form is Form.LESS_THAN:
        assert printed.also_allowed == "0 g"


def test_salt_is_sodium_times_two_and_a_half():
    # Regulation (EU) 1169/2011, Annex I.
    assert sodium_salt([300.0, 480.0]) == pytest.approx([0.75, 1.20])


def test_energy_adds_up_from_the_factors():
    # Annex XIV; fat, available carbohydrate, fiber, protein of 100 g.
    food = [[8.2, 17.5, 0.6, 3.9]]
    assert factor_energy(food, factors=[37, 17, 8, 17]) == pytest.approx([672.0])
    assert factor_energy(food, factors=[9, 4, 2, 4]) == pytest.approx([160.6])
    # 21 CFR 101.9(c)(1)(i)(B): total carbohydrate counts 4.
    assert factor_energy([[8.2, 18.1, 3.9]], factors=[9, 4, 4]) == pytest.approx([161.8])


def test_alcohol_counts_29_kilojoules_and_7_calories():
    # 4 % vol in 100 ml: 4 x 0.789 g of ethanol.
    assert factor_energy([[3.156]], factors=[29]) == pytest.approx([91.5], abs=0.05)
    assert factor_energy([[3.156]], factors=[7]) == pytest.approx([22.1], abs=0.05)


def bench(*lines, **fields):
    return bench_build(formula_of(*lines, **fields))


def shown(panel, column=0):
    return {row.key: row.cells[column].printed.text for row in panel.rows}


def shares(panel):
    return {r.key: r.cells[0].share.text for r in panel.rows if r.cells[0].share is not None}


def unrounded(panel):
    return {row.key: row.cells[0].estimate.value for row in panel.rows}


# USDA SR28 per 100 g: whole milk NDB 01077, heavy cream NDB 01053, sugar NDB 19335.
CREAM_CUP = ("800 g whole milk", "100 g heavy cream", "100 g sugar")


def test_a_milk_cream_sugar_panel_of_the_us_is_the_one_added_up_by_hand():
    panel = us_panel(bench(*CREAM_CUP), serving=ServingAsk("yogurt"), analyzed={"trans_fat": 0.2})
    # Per 100 g: fat 8 x 3.25 + 36.08 = 62.08 in 1000 g, and so on; a serving is 170 g.
    assert unrounded(panel) == pytest.approx(
        {
            "calories": 1.7 * (9 * 6.208 + 4 * 14.112 + 4 * 2.804),
            "fat": 10.5536, "saturated_fat": 6.45184, "trans_fat": 0.34, "cholesterol": 32.81,
            "sodium": 63.24, "carbohydrate": 23.9904, "fiber": 0.0, "sugars": 24.3304,
            "added_sugars": 16.966, "protein": 4.7668, "vitamin_d": 2.04, "calcium": 165.07,
            "iron": 0.0663, "potassium": 196.01,
        }
    )  # fmt: skip
    assert shown(panel) == {
        "calories": "210", "fat": "11 g", "saturated_fat": "6 g", "trans_fat": "0 g",
        "cholesterol": "35 mg", "sodium": "65 mg", "carbohydrate": "24 g", "fiber": "0 g",
        "sugars": "24 g", "added_sugars": "17 g", "protein": "5 g", "vitamin_d": "2 mcg",
        "calcium": "170 mg", "iron": "0.1 mg", "potassium": "200 mg",
    }  # fmt: skip
    assert shares(panel) == {
        "fat": "14%", "saturated_fat": "32%", "cholesterol": "11%", "sodium": "3%",
        "carbohydrate": "9%", "fiber": "0%", "added_sugars": "34%", "vitamin_d": "10%",
        "calcium": "15%", "iron": "0%", "potassium": "4%",
    }  # fmt: skip
    assert panel.is_final


def test_a_milk_cream_sugar_panel_of_the_eu_is_the_one_added_up_by_hand():
    panel = eu_panel(bench(*CREAM_CUP), portion_g=125.0)
    # 37 x 6.208 + 17 x 14.112 + 17 x 2.804 kJ; 9, 4 and 4 kcal.
    assert unrounded(panel)["energy_kj"] == pytest.approx(517.268)
    assert unrounded(panel)["energy_kcal"] == pytest.approx(123.536)
    assert shown(panel) == {
        "energy_kj": "517 kJ", "energy_kcal": "124 kcal", "fat": "6.2 g",
        "saturated_fat": "3.8 g", "carbohydrate": "14 g", "sugars": "14 g", "fiber": "0 g",
        "protein": "2.8 g", "salt": "0.09 g",
    }  # fmt: skip
    assert shown(panel, 1)["energy_kj"] == "647 kJ"
    assert shares(panel)["energy_kj"] == "6%"
    assert shares(panel)["fat"] == "9%"
    assert panel.is_final


# Gums as tabulated: locust bean gum 81.8 g fiber, 5.5 protein, 0.7 fat; xanthan 76.8, 3 and 0.2.
GUM_SYRUP = ("1000 g distilled water", "200 g sugar", "20 g locust bean gum", "10 g xanthan")


def test_gums_count_as_fiber_by_market_and_evaporation_concentrates():
    made = bench(*GUM_SYRUP, evaporation_pct=10)
    half_cup = ServingAsk("gelatin_pudding", density_g_ml=1.1)
    us, less = (
        us_panel(made, serving=half_cup, energy=way)
        for way in (UsEnergy.GENERAL, UsEnergy.LESS_FIBER)
    )
    eu = eu_panel(made)
    # 1230 g boil down to 1107 g; only the 16.36 g of locust bean gum count in the US.
    assert us.serving.text == "1/2 cup (132 g)"
    assert unrounded(us)["fiber"] == pytest.approx(1.32 * 1636 / 1107)
    assert unrounded(eu)["fiber"] == pytest.approx((16.36 + 7.68) * 100 / 1107)
    assert unrounded(us)["carbohydrate"] == pytest.approx(1.32 * 22400 / 1107, rel=1e-4)
    assert unrounded(eu)["carbohydrate"] == pytest.approx(19996 / 1107, rel=1e-4)
    assert unrounded(us)["calories"] == pytest.approx(1.32 * 81.575, rel=1e-4)
    assert unrounded(less)["calories"] == pytest.approx(1.32 * 77.232, rel=1e-4)
    assert unrounded(eu)["energy_kj"] == pytest.approx(327.13, abs=0.01)
    assert unrounded(eu)["energy_kcal"] == pytest.approx(77.232, abs=0.001)
    assert [shown(us)[key] for key in ("calories", "fiber", "iron")] == ["110", "2 g", "unknown"]
    assert [shown(eu)[key] for key in ("fiber", "salt")] == ["2.2 g", "0.07 g"]
    assert shares(us)["fiber"] == "7%"


def test_polyols_acid_and_alcohol_have_their_own_factors():
    made = bench(
        "600 g distilled water", "200 g erythritol", "100 g xylitol", "10 g citric acid",
        "90 g vodka",
    )  # fmt: skip
    eu = unrounded(eu_panel(made))
    # Erythritol 0, xylitol 10 x 10 kJ, acid 1 x 13 kJ, alcohol 3.006 x 29 kJ.
    assert eu["energy_kj"] == pytest.approx(100 + 13 + 87.174)
    assert eu["energy_kcal"] == pytest.approx(24 + 3 + 21.042)
    assert (eu["carbohydrate"], eu["polyols"]) == pytest.approx((30.0, 30.0))
    ask = ServingAsk(own_g=100.0)
    # By difference the acid is carbohydrate in the US: 31 g.
    general, less = (
        unrounded(us_panel(made, serving=ask, energy=way))["calories"] for way in UsEnergy
    )
    assert general == pytest.approx(4 * 31 + 21.042)
    assert less == pytest.approx(4 * 1 + 2.4 * 10 + 21.042)


def test_carbohydrate_is_raised_to_the_lactose_in_it_where_the_print_would_contradict_itself():
    # NDB 01077 has 4.80 g carbohydrate and 5.05 g sugars, NDB 01053 has 2.74 and 2.92 g.
    lines = ("700 g whole milk", "150 g heavy cream", "60 g malt syrup", "45 g sugar")
    panel = eu_panel(bench(*lines, "1 g salt", evaporation_pct=3))
    # 33.60 + 4.11 + 42.78 + 44.991 and 35.35 + 4.38 + 42.78 + 44.91 g in 927.32 g.
    assert unrounded(panel)["carbohydrate"] == pytest.approx(125.481 / 9.2732)
    assert unrounded(panel)["sugars"] == pytest.approx(127.42 / 9.2732)
    made = eu_panel(bench(*lines, "3.84 g kappa carrageenan", "1 g salt", evaporation_pct=3))
    assert made.is_final
    # 1.75 g more from 700 g of milk and 0.27 g from 150 g of cream, in 931.04 g.
    before = eu_panel(
        bench(*lines, "3.84 g kappa carrageenan", "1 g salt", evaporation_pct=3),
        analyzed={"sugars": 1.0},
    )
    more = unrounded(made)["carbohydrate"] - unrounded(before)["carbohydrate"]
    assert more == pytest.approx(2.02 / 9.3104, rel=1e-3)
    assert unrounded(made)["energy_kj"] - unrounded(before)["energy_kj"] == pytest.approx(17 * more)
    assert "In Milk, whole 3.25%, Cream, heavy whipping analyzed" in made.notes[0]
    settled = eu_panel(
        bench(*lines, "3.84 g kappa carrageenan", "1 g salt", evaporation_pct=3),
        analyzed={"carbohydrate": 13.9},
    )
    assert settled.is_final


def test_a_part_is_not_above_a_whole_that_is_too_little_to_print():
    # 6 g of cream in 906 g: 0.24 g fat of which 0.15 g saturated, sugars 0.02 g.
    panel = eu_panel(bench("900 g distilled water", "6 g heavy cream"))
    assert shown(panel)["fat"] == "< 0.5 g"
    assert shown(panel)["saturated_fat"] == "0.2 g"
    assert "part_above_whole" not in {one.code for one in panel.blockers}
