"""Ingredient statements against worked cases of the rules, with the section beside each."""

import pytest

from setwell.domain.brief import Market
from setwell.domain.formula import formula_make
from setwell.engine.assess import bench_build
from setwell.engine.labels.additive_rules import additive_findings
from setwell.engine.labels.quid import quid_percent, quid_wording
from setwell.engine.labels.statement_eu import eu_statement
from setwell.engine.labels.statement_items import added_water
from setwell.engine.labels.statement_results import LabelChoices
from setwell.engine.labels.statement_us import may_follow, us_statement
from setwell.engine.verdict import Verdict


def bench_of(ingredients, *, title="Test batch", parts=None, **fields):
    return bench_build(formula_make(title=title, ingredients=ingredients, **fields), parts=parts)


def finding_of(ingredients, market, category, number, **fields):
    found = additive_findings(bench_of(ingredients, **fields), market, category)
    return next(one for one in found if number in one.e_numbers)


# 21 CFR 101.4(a)(2): the phrase may stand before what is at or below the share it states.
@pytest.mark.parametrize(
    ("percent", "stated", "allowed"),
    [(1.9, 2.0, True), (0.8, 0.5, False), (2.0, 2.0, True), (0.5, 0.5, True), (2.01, 2.0, False)],
)
def test_a_share_may_follow_the_phrase_that_states_as_much(percent, stated, allowed):
    assert may_follow(percent, stated) is allowed


def test_an_ingredient_of_19_per_mille_follows_the_phrase():
    # 19 g of salt in 1000 g is 1.9 %.
    statement = us_statement(bench_of("981 g milk\n19 g salt"))
    assert statement.text == "Ingredients: milk, contains 2% or less of: salt."


def test_an_ingredient_of_8_per_mille_does_not_follow_a_phrase_of_half_a_percent():
    choices = LabelChoices(minor_pct=0.5)
    statement = us_statement(bench_of("992 g milk\n8 g salt"), choices=choices)
    assert statement.text == "Ingredients: milk, salt."
    assert statement.minor == ()


# Regulation (EU) No 1169/2011, Annex VII, part A, 1: finished weight less all other ingredients.
@pytest.mark.parametrize(
    ("finished", "grams", "percent", "listed"),
    [(850.0, 30.0, 3.53, False), (880.0, 60.0, 6.82, True), (820.0, 0.0, 0.0, False)],
)
def test_added_water_is_listed_above_five_percent(finished, grams, percent, listed):
    water = added_water(finished_g=finished, others_g=820.0)
    assert water.grams == pytest.approx(grams)
    assert water.percent == pytest.approx(percent, abs=0.005)
    assert water.is_listed is listed


def test_a_batch_baked_to_850_g_need_not_list_its_water():
    # 1000 g with 180 g of water, 15 % lost: 30 g of water are left, 3.53 %.
    bench = bench_of("500 g wheat flour\n320 g sugar\n180 g water", evaporation_pct=15)
    assert "water" not in eu_statement(bench).text
    assert us_statement(bench).text == "Ingredients: wheat flour, sugar, water."


def test_a_batch_baked_to_880_g_lists_its_water_at_60_g():
    # 12 % lost: 60 g of water are left, 6.82 %, between 90 g of butter and 30 g of cocoa.
    bench = bench_of(
        "400 g wheat flour\n300 g sugar\n90 g unsalted butter\n30 g cocoa powder\n180 g water",
        evaporation_pct=12,
    )
    names = [one.name for one in eu_statement(bench).ingredients]
    assert names == ["wheat flour", "sugar", "butter (milk)", "water", "cocoa powder"]


def test_meat_lists_every_added_water():
    # Annex VII, part A, 1: the 5 % do not hold for meat, meat preparations and raw fish.
    assert added_water(finished_g=850.0, others_g=820.0, lists_all=True).is_listed


def test_a_share_over_100_percent_is_told_as_a_weight():
    # Annex VIII, point 4(a): 120 g of fruit used for 100 g of finished spread.
    percent, is_over = quid_percent(120.0, ingredients_g=180.0, finished_g=100.0)
    assert is_over
    assert quid_wording("fruit", percent) == "prepared with 120 g of fruit per 100 g"


def test_a_share_without_loss_is_of_all_ingredients():
    # Annex VIII, point 3: as a percentage at the time of use.
    assert quid_percent(30.0, ingredients_g=200.0, finished_g=200.0) == (15.0, False)


def test_the_spread_itself_is_told_as_a_weight():
    bench = bench_of("1200 g raspberries\n600 g sugar", title="Raspberry spread",
                     evaporation_pct=44.4444444)  # fmt: skip
    (candidate,) = eu_statement(bench, category="fruit_spread").quid
    assert candidate.wording == "prepared with 120 g of raspberries per 100 g"


# Regulation (EC) No 1333/2008, Annex II, 05.2: jelly mini-cups.
@pytest.mark.parametrize(
    ("agent", "number"),
    [
        ("agar", "E406"), ("kappa carrageenan", "E407"), ("locust bean gum", "E410"),
        ("guar gum", "E412"), ("xanthan gum", "E415"), ("low acyl gellan gum", "E418"),
        ("sodium alginate", "E401"), ("LM pectin", "E440"), ("konjac gum", "E425"),
    ],
)  # fmt: skip
def test_gelling_agents_are_banned_from_mini_cups(agent, number):
    finding = finding_of(f"990 g water\n10 g {agent}", Market.EU, "mini_cups", number)
    assert finding.allowed is Verdict.NO
    statement = eu_statement(bench_of(f"990 g water\n10 g {agent}"), category="mini_cups")
    assert not statement.is_final


def test_gelatin_is_not_on_the_list_of_bans_but_the_shape_is_told():
    statement = eu_statement(bench_of("950 g water\n50 g gelatin"), category="mini_cups")
    assert statement.additives == ()
    assert "label_mini_cups" in {one.code for one in statement.findings}


def test_konjac_is_banned_from_all_jelly_confectionery():
    # Directive 2003/52/EC, article 1.
    finding = finding_of("995 g water\n5 g konjac gum", Market.EU, "jelly_confectionery", "E425")
    assert finding.allowed is Verdict.NO
    assert "2003/52/EC" in finding.rule


@pytest.mark.parametrize(("grams", "allowed"), [(9.9, Verdict.YES), (10.1, Verdict.NO)])
def test_konjac_is_capped_at_10_g_per_kg(grams, allowed):
    # Directive 2003/52/EC, article 1: 10 g/kg.
    finding = finding_of(
        f"{1000 - grams} g water\n{grams} g konjac gum", Market.EU, "sauce", "E425"
    )
    assert finding.allowed is allowed
    assert finding.limit_mg_kg == 10_000


def test_konjac_mini_cups_are_stopped_at_the_border_of_the_united_states():
    # FDA Import Alert 33-15.
    finding = finding_of("995 g water\n5 g konjac gum", Market.US, "mini_cups", "E425")
    assert finding.allowed is Verdict.NO
    assert "33-15" in finding.rule


@pytest.mark.parametrize("agent", ["locust bean gum", "guar gum", "xanthan gum", "tara gum"])
def test_dry_food_that_swells_when_swallowed_may_not_hold_four_gums(agent):
    # Regulation (EC) No 1333/2008, Annex II, note on dehydrated foods: E410, E412, E415, E417.
    statement = eu_statement(bench_of(f"90 g sugar\n10 g {agent}"), category="rehydrating")
    assert [one.allowed for one in statement.additives] == [Verdict.NO]


# Directive 95/2/EC, Annex VI, part 2: carrageenan 300, locust bean gum 1000, guar gum 1000 mg/l;
# used together, the shares of each limit add up to one at most.
@pytest.mark.parametrize(
    ("carrageenan", "locust", "share", "allowed"),
    [
        (0.15, 0.49, 0.99, Verdict.YES),
        (0.15, 0.51, 1.01, Verdict.NO),
        (0.31, 0.0, 1.03, Verdict.NO),
    ],
)
def test_gums_of_follow_on_formula_share_their_limits(carrageenan, locust, share, allowed):
    rest = 1000 - carrageenan - locust
    text = f"{rest} g whole milk\n{carrageenan} g iota carrageenan"
    text += f"\n{locust} g locust bean gum" if locust else ""
    finding = finding_of(text, Market.EU, "follow_on", "E407")
    assert finding.allowed is allowed
    assert f"{share:.2f} of the whole limit" in finding.text


def test_infant_formula_may_not_hold_carrageenan():
    # Regulation (EC) No 1333/2008, Annex II, 13.1.1.
    finding = finding_of("999 g milk\n1 g iota carrageenan", Market.EU, "infant_formula", "E407")
    assert finding.allowed is Verdict.NO


# 21 CFR 184.1339 (guar gum), 184.1724 (sodium alginate): most in percent of the food as served.
@pytest.mark.parametrize(
    ("agent", "number", "category", "percent"),
    [
        ("guar gum", "E412", "soup", 0.8), ("guar gum", "E412", "sauce", 1.2),
        ("guar gum", "E412", "baked", 0.35), ("guar gum", "E412", "set_dessert", 0.5),
        ("guar gum", "E412", "jam", 1.0), ("guar gum", "E412", "fermented_milk", 0.6),
        ("sodium alginate", "E401", "set_dessert", 4.0),
        ("sodium alginate", "E401", "dressing", 1.0),
        ("sodium alginate", "E401", "hard_candy", 10.0),
        ("sodium alginate", "E401", "fruit", 2.0),
    ],
)  # fmt: skip
def test_title_21_limits_gums_by_the_kind_of_food(agent, number, category, percent):
    for factor, allowed in ((0.99, Verdict.YES), (1.01, Verdict.NO)):
        grams = 10.0 * percent * factor
        text = f"{1000 - grams:.6f} g water\n{grams:.6f} g {agent}"
        finding = finding_of(text, Market.US, category, number)
        assert finding.limit_mg_kg == pytest.approx(1e4 * percent)
        assert finding.allowed is allowed


@pytest.mark.parametrize(("strength", "is_stop"), [(0.4, False), (0.7, True)])
def test_confectionery_with_half_a_percent_of_alcohol_is_stopped(strength, is_stop):
    # Federal Food, Drug, and Cosmetic Act, section 402(d)(1): 0.5 % by volume.
    bench = bench_of(f"{1000 - 25 * strength} g water\n{strength * 25:.3f} g rum")
    finding = us_statement(bench, category="confectionery").alcohol
    assert finding is not None
    assert (finding.severity.value == "stop") is is_stop


@pytest.mark.parametrize(("rum", "is_over"), [(20.0, False), (60.0, True)])
def test_a_drink_above_1_2_percent_states_its_strength(rum, is_over):
    # Regulation (EU) No 1169/2011, article 9(1)(k); 60 g of 40 % rum in a kilogram are 2.5 %.
    finding = eu_statement(bench_of(f"{1000 - rum} g water\n{rum} g rum")).alcohol
    assert finding is not None
    assert ("% vol" in finding.action) is is_over


# E numbers of Annex II of Regulation (EC) No 1333/2008; Annex VII, part C, of Regulation (EU)
# No 1169/2011: class with name or number.
@pytest.mark.parametrize(
    ("agent", "by_name", "by_number"),
    [
        ("agar", "gelling agent: agar", "gelling agent: E406"),
        ("guar gum", "thickener: guar gum", "thickener: E412"),
        ("xanthan gum", "thickener: xanthan gum", "thickener: E415"),
        ("gum arabic", "stabiliser: acacia gum", "stabiliser: E414"),
        ("potassium chloride", "stabiliser: potassium chloride", "stabiliser: E508"),
        ("sodium citrate", "acidity regulator: sodium citrates", "acidity regulator: E331"),
        ("citric acid", "acidity regulator: citric acid", "acidity regulator: E330"),
        ("calcium lactate", "firming agent: calcium lactate", "firming agent: E327"),
        ("gelatin", "gelatine", "gelatine"),
        ("cornstarch", "maize starch", "maize starch"),
        ("modified starch", "modified starch", "modified starch"),
    ],
)
def test_additives_are_told_by_class_with_name_or_number(agent, by_name, by_number):
    bench = bench_of(f"950 g milk\n50 g {agent}")
    for is_number, told in ((False, by_name), (True, by_number)):
        statement = eu_statement(bench, choices=LabelChoices(by_number=is_number))
        assert statement.text == f"Ingredients: whole milk, {told}."


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("kappa carrageenan", "carrageenan"),
        ("iota carrageenan", "carrageenan"),
        ("modified starch", "modified food starch"),
        ("gelatin", "gelatin"),
        ("LM pectin", "pectin"),
    ],
)
def test_common_names_of_the_united_states(typed, told):
    # 21 CFR 172.620 (carrageenan), 172.892 (modified food starch).
    statement = us_statement(bench_of(f"950 g milk\n50 g {typed}"))
    assert statement.text == f"Ingredients: milk, {told}."


def test_a_preservative_tells_its_use():
    # 21 CFR 101.22(j).
    statement = us_statement(bench_of("950 g milk\n50 g potassium sorbate"))
    assert "potassium sorbate (preservative)" in statement.text


def test_nine_allergens_follow_the_list_and_nuts_go_by_their_kind():
    # FALCPA and the FASTER Act.
    bench = bench_of(
        "500 g milk\n100 g whole egg\n100 g wheat flour\n50 g soy flour\n50 g hazelnuts\n"
        "50 g peanuts\n50 g sesame seeds\n50 g fish sauce"
    )
    choices = LabelChoices(species={"fish": "anchovy"})
    line = us_statement(bench, choices=choices).contains
    assert line == ("Contains: eggs, fish (anchovy), hazelnuts, milk, peanuts, sesame, soy, wheat.")


def test_barley_is_no_allergen_of_the_united_states_but_one_of_the_eu():
    # FALCPA names wheat alone; Annex II names cereals containing gluten.
    bench = bench_of("900 g water\n100 g barley malt syrup")
    assert us_statement(bench).contains == ""
    assert "barley" in [run.text for run in eu_statement(bench).runs if run.is_emphasized]
