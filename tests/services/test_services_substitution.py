"""Substitutions with what this kitchen has."""

import pytest

from setwell.domain.formula import Diet, formula_make
from setwell.domain.pantry import Lot
from setwell.errors import InputError, OutOfRangeError, UnknownNameError
from setwell.services import pantry
from setwell.services.assessment import formula_assess
from setwell.services.substitution import SubstitutionAsk, formula_substitute, replaceable

pytestmark = pytest.mark.django_db

GELATIN = formula_make(
    title="Apple cup",
    ingredients="500 g apple juice\n50 g sugar\n10 g gelatin, 200 Bloom\n10 g lemon juice",
    steps="Bloom the gelatin in cold juice for 10 min\nHeat the juice and sugar to 60 °C\n"
    "Stir in the gelatin and the lemon juice\nPour into molds\nChill to 4 °C for 12 h",
)
AGAR = formula_make(
    title="Milk slice",
    ingredients="500 g whole milk\n50 g sugar\n4 g agar",
    steps="Mix the agar with the sugar and whisk into the milk\n"
    "Boil for 2 min, stirring all the time\nPour into molds\nChill to 4 °C for 4 h",
)
STARCH = formula_make(
    title="Milk sauce",
    ingredients="500 g whole milk\n25 g corn starch",
    steps="Stir the corn starch into a little cold milk\nHeat to 95 °C, stirring, hold 2 min\n"
    "Serve at 60 °C",
    serving_temperature_c=60.0,
)
EGG = formula_make(
    title="Baked cup", ingredients="400 g whole milk\n150 g egg\n60 g sugar",
    steps="Whisk the egg with the sugar\nStir in the milk\nHeat to 83 °C, stirring\n"
    "Pour into molds\nChill to 4 °C for 4 h",
)  # fmt: skip


def swap_of(formula, **asked):
    found = formula_substitute(formula=formula, ask=SubstitutionAsk(**asked)).swap
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("formula", "by", "code"),
    [
        (GELATIN, "agar", "firmness"),
        (GELATIN, "iota carrageenan", "firmness"),
        (AGAR, "gelatin", "firmness"),
        (STARCH, "xanthan gum", "thickness"),
        (STARCH, "guar gum", "thickness"),
        (AGAR, "low acyl gellan", "firmness"),
    ],
)
def test_the_new_formula_assessed_by_itself_keeps_the_target(formula, by, code):
    asked = SubstitutionAsk(by=by)
    found = formula_substitute(formula=formula, ask=asked)
    assert found.keep == code
    assert found.swap is not None
    assert found.swap.is_reached
    texture = formula_assess(formula=found.swap.formula).texture
    now = texture.modulus_kpa if code == "firmness" else texture.viscosity_mpa_s
    # What the cook weighs has three digits.
    assert now.value == pytest.approx(found.target.value, rel=0.05)


def test_every_possible_candidate_keeps_the_target_when_chosen():
    found = formula_substitute(formula=AGAR, ask=SubstitutionAsk())
    possible = [one for one in found.candidates if one.is_possible]
    assert len(possible) > 8
    for one in possible[:5]:
        swap = swap_of(AGAR, by=one.name)
        assert swap.after.modulus_kpa.value == pytest.approx(found.target.value, rel=0.05)


def test_what_falls_out_says_why():
    found = formula_substitute(formula=GELATIN, ask=SubstitutionAsk())
    why = {one.key: one.reason for one in found.candidates if not one.is_possible}
    assert why["lambda_carrageenan"] == "will not gel: it only thickens"
    assert "dissolved solids" in why["pectin_HM_slow"]
    assert "gels while hot" in why["methylcellulose_A"]
    assert all(why.values())


def test_gelatin_to_agar_changes_the_work():
    swap = swap_of(GELATIN, by="agar")
    work = {one.code: one.after for one in swap.process if one.is_changed}
    assert work["bloom"].startswith("do not bloom")
    assert work["heat"].startswith("must boil")
    assert work["acid"].startswith("cannot wait: the base itself is sour; hot acid leaves about")
    steps = swap.formula.steps.splitlines()
    assert not any("gelatin" in step.lower() or "bloom" in step.lower() for step in steps)
    boil = next(n for n, step in enumerate(steps) if "boil" in step)
    assert next(n for n, step in enumerate(steps) if "lemon juice" in step) > boil
    assert {"strain", "mouth", "diet vegetarian"} <= {one.code for one in swap.remarks}


def test_agar_to_gelatin_lets_the_gelatin_in_after_the_boil():
    steps = swap_of(AGAR, by="gelatin").formula.steps.splitlines()
    boil = next(n for n, step in enumerate(steps) if step.startswith("Boil"))
    assert steps[boil + 1].startswith("Cool to 60 °C")
    assert steps[boil + 2].startswith("Bloom the gelatin")
    assert steps[-1].endswith("for 12 h")


def test_a_claimed_diet_throws_an_agent_out():
    vegan = formula_make(
        title="Cup", ingredients="500 g water\n5 g agar", steps=AGAR.steps, diets=[Diet.VEGAN]
    )
    found = formula_substitute(formula=vegan, ask=SubstitutionAsk())
    gelatin = next(one for one in found.candidates if one.key == "gelatin")
    assert gelatin.reason == "the formula says vegan, and it would not be"


def test_kappa_in_water_gets_its_potassium():
    cup = formula_make(title="Cup", ingredients="500 g water\n5 g agar", steps=AGAR.steps)
    swap = swap_of(cup, by="kappa carrageenan")
    assert [one.name for one in swap.helpers] == ["potassium chloride"]
    assert "potassium chloride" in swap.formula.ingredients
    assert "potassium chloride" in swap.formula.steps


def test_a_weaker_lot_takes_more_and_keeps_the_texture():
    swap = swap_of(AGAR, strength=0.8)
    assert swap.dose_g.value == pytest.approx(4.0 / 0.8, rel=0.01)
    assert swap.formula.steps == AGAR.steps
    assert "lot" in {one.code for one in swap.remarks}


def test_a_lot_in_the_pantry_counts():
    usual = swap_of(GELATIN, by="agar").dose_g.value
    lot = Lot(agent="Agar", lot_code="A", strength_factor=0.5, in_use=True)
    pantry.lot_save(id=None, document=lot)
    assert swap_of(GELATIN, by="agar").dose_g.value == pytest.approx(2.0 * usual, rel=0.02)


def test_removal_shows_what_is_left():
    found = formula_substitute(formula=AGAR, ask=SubstitutionAsk(is_removal=True))
    assert found.swap.dose_g is None
    assert "agar" not in found.swap.formula.ingredients + found.swap.formula.steps
    assert "It no longer sets." in {one.text for one in found.swap.remarks}
    assert found.candidates


def test_egg_asks_for_a_target_and_then_is_replaced_with_its_water():
    with pytest.raises(InputError, match="How firm egg sets is not computed") as told:
        swap_of(EGG, by="agar")
    assert told.value.field == "target"
    swap = swap_of(EGG, by="agar", target=3.0)
    assert swap.after.modulus_kpa.value == pytest.approx(3.0, rel=0.05)
    assert "114.2 g water" in swap.formula.ingredients
    assert "egg" not in swap.formula.ingredients + swap.formula.steps.lower()


def test_percentages_stay_a_whole_batch():
    cup = formula_make(title="Cup", ingredients="98 % water\n2 % gelatin, 200 Bloom",
                       steps=GELATIN.steps)  # fmt: skip
    found = formula_substitute(formula=cup, ask=SubstitutionAsk(by="agar"))
    assert formula_assess(formula=found.swap.formula).batch.ingredients_g == pytest.approx(
        990.0, abs=15.0
    )


def test_two_agents_have_to_be_told_apart():
    both = formula_make(title="Cup", ingredients="500 g water\n3 g agar\n2 g xanthan", steps="Boil")
    assert [one.name for one in replaceable(both)] == ["Agar", "Xanthan gum"]
    with pytest.raises(InputError, match="more than one agent") as told:
        formula_substitute(formula=both, ask=SubstitutionAsk())
    assert told.value.field == "replace"
    kept = formula_substitute(formula=both, ask=SubstitutionAsk(replace="3", by="guar gum"))
    assert kept.replaced == "xanthan"
    assert "3 g agar" in kept.swap.formula.ingredients


@pytest.mark.parametrize(
    ("asked", "kind", "field"),
    [
        ({"by": "agrr"}, UnknownNameError, "by"),
        ({"bloom": 20.0}, OutOfRangeError, "bloom"),
        ({"strength": float("nan")}, OutOfRangeError, "strength"),
        ({"target": -1.0}, InputError, "target"),
        ({"keep": "taste"}, InputError, "keep"),
        ({"by": "gelatin", "bloom": 200.0}, InputError, "bloom"),
        ({"replace": "7"}, InputError, "replace"),
        ({"replace": "1"}, InputError, "replace"),
    ],
)
def test_bad_asks_name_their_field(asked, kind, field):
    with pytest.raises(kind) as told:
        formula_substitute(formula=GELATIN, ask=SubstitutionAsk(**asked))
    assert told.value.field == field


def test_a_formula_without_texture_has_nothing_to_keep():
    raw = formula_make(
        title="Cup",
        ingredients="300 g water\n200 g fresh pineapple\n10 g gelatin",
        steps=GELATIN.steps,
    )
    with pytest.raises(InputError, match="neither sets nor thickens") as told:
        formula_substitute(formula=raw, ask=SubstitutionAsk(by="agar"))
    assert told.value.field == "target"


def test_steps_stay_sentences_when_the_agent_leaves():
    block = formula_make(
        title="Block", ingredients="500 g whole milk\n5 g agar\n10 g ginger",
        steps="Rain the agar into the cold milk, whisking.\nBoil for 4 min, stirring.\n"
        "Cool to 60 °C, then stir in the ginger.\nPour into the frame.\nChill at 4 °C for 2 h.\n"
        "Reheat to 74 °C, covered.",
    )  # fmt: skip
    steps = swap_of(block, by="gelatin").formula.steps.splitlines()
    assert steps[0] == "Start with the cold milk, whisking."
    assert "Then stir in the ginger." in steps
    bloom = next(n for n, step in enumerate(steps) if step.startswith("Bloom the gelatin"))
    assert bloom < next(n for n, step in enumerate(steps) if step.startswith("Pour"))


def test_powders_that_go_in_the_same_way_only_change_their_name():
    steps = swap_of(AGAR, by="low acyl gellan").formula.steps.splitlines()
    assert steps[0].startswith("Mix the ")
    assert steps[0].endswith("with the sugar and whisk into the milk")
    assert "agar" not in steps[0]
