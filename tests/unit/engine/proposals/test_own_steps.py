"""What a saved formula does to its own food stays in the methods that are proposed for it."""

import pytest

from setwell.domain.brief import brief_make
from setwell.domain.formula import formula_make
from setwell.domain.steps import StepKind, steps_parse
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.propose import propose

CATALOG = catalog_build()
CUSTARD = formula_make(
    title="Cardamom cream",
    ingredients="800 g whole milk\n100 g sugar\n2 g cardamom\n4 g kappa carrageenan\n"
    "1 g locust bean gum\n30 g lemon juice\n50 g pistachios",
    steps="Warm the milk with the cardamom to 80 °C.\nCover and rest for 20 min.\n"
    "Strain it.\nMix the kappa and the locust bean gum with the sugar, dry.\n"
    "Whisk the mix into the milk.\nHeat to 90 °C and hold for 2 min.\n"
    "Stir in the lemon juice.\nFold in half of the pistachios.\n"
    "Pour into cups.\nChill for 4 h.\nTop with the other pistachios.",
)


def read(**limits):
    brief = brief_make(
        title="Cup", base_formula="Cardamom cream", texture={"sets": True}, limits=limits,
        without_allergens=(), agents_most=1,
    )  # fmt: skip
    return brief, base_read(brief, catalog=CATALOG, origin=CUSTARD)


def test_steps_on_the_food_stay_and_those_of_the_agents_go():
    own = read()[1].own
    assert own.early == (
        "Warm the milk with the cardamom to 80 °C", "Cover and rest for 20 min", "Strain it",
    )  # fmt: skip
    assert own.is_hot
    assert own.late == ("Fold in half of the pistachios",)
    assert own.end == ("Top with the other pistachios",)
    assert own.left_out[0].startswith("Mix the kappa")
    assert "Stir in the lemon juice" in own.left_out


def test_what_is_kept_and_what_is_left_out_is_told():
    kept, out = read()[1].remarks[-2:]
    assert kept.startswith("5 steps of the base")
    assert "“Heat to 90 °C and hold for 2 min”" in out


def test_what_the_limits_bar_does_not_stay():
    own = read(max_temperature_c=60.0)[1].own
    assert not any("80 °C" in text for text in own.early)
    assert any("80 °C" in text for text in own.left_out)
    blended = CUSTARD.revised(steps="Blitz the cardamom with the sugar.\nStrain it.")
    brief = read(has_blender=False)[0]
    assert base_read(brief, catalog=CATALOG, origin=blended).own.early == ("Strain it",)


def test_a_heat_that_names_no_food_was_for_the_agents():
    plain = CUSTARD.revised(steps="Strain the milk.\nHeat to 90 °C.\nPour into cups.")
    own = base_read(read()[0], catalog=CATALOG, origin=plain).own
    assert own.early == ("Strain the milk",)


@pytest.mark.parametrize("agent", ["agar", "gelatin", "kappa carrageenan"])
def test_every_method_holds_them_in_their_order(agent):
    brief = read()[0].model_copy(update={"shelf": (agent,)})
    (first, *_) = propose(brief, catalog=CATALOG, origin=CUSTARD).proposals
    steps = steps_parse(first.formula.steps)
    texts = [step.text for step in steps]
    kinds = [step.kind for step in steps]
    assert texts[0].startswith("Warm the milk")
    assert texts.index("Cool to 20 °C (68 °F)") < next(
        n for n, text in enumerate(texts) if agent.split()[0] in text
    )
    assert texts.index("Fold in half of the pistachios") < kinds.index(StepKind.POUR)
    assert texts[-1] == "Top with the other pistachios"


def test_a_base_of_lines_has_no_steps_of_its_own():
    brief = brief_make(title="Cup", base="900 g water", texture={"sets": True})
    assert not any(base_read(brief, catalog=CATALOG).own)


def test_pouring_within_a_step_and_words_that_lead_on_are_cut():
    plain = CUSTARD.revised(
        steps="Strain the milk.\nAdd the kappa.\nFold in the pistachios, pour into the frame "
        "at 75 °C.\nCool a little, then stir in the cardamom."
    )
    own = base_read(read()[0], catalog=CATALOG, origin=plain).own
    assert own.late[0] == "Fold in the pistachios"
    assert "Stir in the cardamom" in [text.capitalize() for text in own.late]
