"""What a finished proposal asks of the cook, adds to a label, and gives up."""

import pytest
from builders_engine import formula_of

from setwell.domain.brief import Market
from setwell.engine.assess import bench_build
from setwell.engine.proposals.results import AgentDose, Proposal, WishAnswer
from setwell.engine.proposals.words import (
    allergens_of,
    cautions_of,
    compared,
    label_of,
    process_of_proposal,
    traded,
)
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.texture_words import texture_words
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate

AGAR = AgentDose("agar", "Agar", "agar", 0.5)
KAPPA = AgentDose("kappa_carrageenan", "Kappa carrageenan", "kappa carrageenan", 0.4)
IOTA = AgentDose("iota_carrageenan", "Iota carrageenan", "iota carrageenan", 0.3)
XANTHAN = AgentDose("xanthan", "Xanthan gum", "xanthan gum", 0.2)
GELATIN = AgentDose("gelatin", "Gelatin", "gelatin", 2.0)
CORN = AgentDose("starch_corn", "Cornstarch", "cornstarch", 5.0)

BOILED = """Disperse the agar in the cold base with a blender
Bring to a boil and boil for 2 min, stirring all the time
Cool to 60 °C (140 °F)
Stir in the lemon juice
Pour into molds
Chill to 4 °C (39 °F) for 4 h"""
BLOOMED = """Bloom the gelatin in cold water for 10 min
Heat to 60 °C and hold for 10 min, stirring all the time
Pour into molds
Chill to 4 °C for 12 h"""
ETHER = """Disperse the methylcellulose in the cold base under a fast whisk
Chill to 4 °C for 6 h, stirring now and then
Pour into molds
Heat to 65 °C and hold for 5 min"""


def bench(*lines: str, steps: str = BOILED, **fields: object) -> Bench:
    return bench_build(formula_of(*lines, steps=steps, **fields))


def test_a_boiled_gel_asks_for_blender_boil_late_acid_and_a_warm_pour():
    asked = process_of_proposal(bench("1000 g water", "8 g agar", "20 g lemon juice"))
    assert asked == (
        "disperse with a blender or with sugar", "boil", "acid late, below 60 °C (140 °F)",
        "pour above 45 °C (113 °F)", "4 h in the fridge",
    )  # fmt: skip


def test_gelatin_asks_for_blooming_and_a_night():
    asked = process_of_proposal(bench("1000 g water", "25 g gelatin", steps=BLOOMED))
    assert asked[0] == "bloom in cold water"
    assert asked[-1] == "overnight in the fridge"
    assert "boil" not in asked


def test_an_ether_asks_to_dissolve_in_the_cold_and_to_be_warmed_again():
    asked = process_of_proposal(bench("1000 g water", "15 g methylcellulose", steps=ETHER))
    assert "disperse little by little" in asked
    assert "dissolve cold for 6 h" in asked
    assert "warm again to 65 °C (149 °F)" in asked


def test_what_has_cooled_near_its_setting_is_poured_at_once():
    steps = "Disperse the agar\nBring to a boil\nCool to 42 °C\nPour into molds\nChill for 4 h"
    asked = process_of_proposal(bench("1000 g water", "8 g agar", steps=steps))
    assert "pour at once" in asked


def test_acid_that_goes_in_cold_is_there_from_the_start():
    steps = "Disperse the agar\nStir in the lemon juice\nBring to a boil\nPour into molds"
    asked = process_of_proposal(bench("1000 g water", "8 g agar", "20 g lemon juice", steps=steps))
    assert "acid from the start" in asked


def test_a_label_in_the_united_states_names_each_once():
    told = label_of((KAPPA, IOTA), ("potassium chloride",), Market.US, sets=True)
    assert told[0] == "US: carrageenan, potassium chloride"
    assert not any(line.startswith("EU") for line in told)


def test_a_label_in_the_union_groups_additives_by_class_and_number():
    told = label_of((GELATIN, AGAR, XANTHAN), ("trisodium citrate",), Market.EU, sets=True)
    assert told[0] == (
        "EU: gelatine; gelling agent: agar (E406); thickener: xanthan gum (E415); "
        "acidity regulator: sodium citrates (E331)"
    )
    assert "EU: not allowed in jelly mini-cups, choose another shape: Agar; Xanthan gum" in told


def test_a_liquid_has_thickeners_only_and_no_mini_cups():
    told = label_of((KAPPA,), (), Market.EU, sets=False)
    assert told[0] == "EU: thickener: carrageenan (E407)"
    assert not any("mini-cups" in line for line in told)


def test_a_starch_is_a_food_on_both_lists():
    told = label_of((CORN,), (), Market.ANY, sets=True)
    assert told[:2] == ("US: cornstarch", "EU: cornstarch")


def test_a_ready_mix_is_declared_by_its_parts():
    mix = AgentDose("kappa_LBG", "Kappa carrageenan and locust bean gum blend", "mix", 0.7)
    told = label_of((mix,), (), Market.EU, sets=True)
    assert told[0] == "EU: gelling agent: carrageenan (E407); thickener: locust bean gum (E410)"


@pytest.mark.parametrize(("pct", "is_above"), [(0.5, False), (1.2, True)])
def test_konjac_is_held_against_its_cap(pct, is_above):
    konjac = AgentDose("konjac", "Konjac gum", "konjac gum", pct)
    (told,) = [line for line in label_of((konjac,), (), Market.EU, sets=True) if "per kg" in line]
    assert f"Here {10 * pct:.2g} g of konjac per kg" in told
    assert ("above that" in told) is is_above


@pytest.mark.parametrize("market", list(Market))
def test_every_label_says_that_it_is_a_draft(market):
    assert label_of((AGAR,), (), market, sets=True)[-1].startswith("A draft")


def test_what_united_states_law_leaves_open_is_to_be_checked():
    tara = AgentDose("tara", "Tara gum", "tara gum", 0.3)
    told = label_of((tara,), (), Market.US, sets=False)
    assert "US: check that tara gum may be used (GRAS notice)" in told


def test_allergens_and_cautions_are_those_of_the_whole_batch():
    made = bench("1000 g whole milk", "5 g xanthan gum", "5 g konjac gum")
    assert allergens_of(made) == ("milk", "gluten (check)")
    assert any("killed by choking" in text for text in cautions_of(made))
    assert all(text.endswith(("decides.", "decide.")) for text in cautions_of(made))


def test_missed_and_open_wishes_are_given_up():
    made = bench("1000 g water", "8 g agar")
    wishes = (
        WishAnswer("texture", "is elastic", "brittle", Verdict.NO, 3.0),
        WishAnswer("sets", "sets", "may set", Verdict.CANNOT_TELL, 0.5),
        WishAnswer("clarity", "looks clear", "clear", Verdict.YES, 0.0),
    )
    told = traded(made, texture_words(made), wishes)
    assert told[:2] == ("Misses “is elastic”: brittle", "May miss “sets”: may set")
    assert not any("looks clear" in line for line in told)


def test_hot_acid_weeping_and_small_weights_are_given_up():
    steps = "Disperse the agar\nStir in the lemon juice\nBring to a boil, hold 20 min\nChill"
    made = bench("300 g water", "0.9 g agar", "60 g lemon juice", steps=steps)
    told = traded(made, texture_words(made), ())
    assert any("of its strength to acid and heat" in line for line in told)
    assert "Only 0.9 g of agar in the batch: take a fine scale" in told


def test_a_plain_gel_weeps_and_says_so():
    made = bench("1000 g water", "8 g agar")
    told = traded(made, texture_words(made), ())
    assert any(line.startswith("Weeps about") for line in told)


def proposal(name: str, cost: float | None, ingredients: int) -> Proposal:
    """Return a proposal of one name and one price."""
    made = bench("1000 g water", "8 g agar")
    price = None if cost is None else Estimate(cost, "USD", cost, None, "prices", PRACTICE)
    return Proposal(
        code="", agents=(AgentDose("agar", name, name, 0.8),), helpers=(), formula=made.formula,
        texture=texture_words(made), wishes=(), fit=0.0, chance=None, cost_per_portion=price,
        ingredients=ingredients, process=(), label=(), allergens=(), traded=("Looks cloudy",),
        cautions=(),
    )  # fmt: skip


def test_proposals_are_compared_by_cost_and_number_of_ingredients():
    dear, cheap, free = compared(
        (proposal("agar", 0.30, 2), proposal("starch", 0.10, 1), proposal("guar", None, 1))
    )
    assert dear.traded == (
        "Looks cloudy", "Costs 3 times as much as starch, as far as prices are known",
        "1 more ingredient than the simplest",
    )  # fmt: skip
    assert cheap.traded == free.traded == ("Looks cloudy",)


def test_nothing_is_compared_with_nothing():
    assert compared(()) == ()
