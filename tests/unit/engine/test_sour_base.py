"""Where the juice is the base, nobody is told to add the acid last."""

import re

import pytest

from setwell import formula_make
from setwell.engine.assess import assess, bench_build
from setwell.engine.rules.sour_base import acid_left_text, base_name, is_sour_base
from setwell.engine.substitution.ask import SubstitutionAsk
from setwell.engine.substitution.substitute import substitute

HOT = "Disperse the agar in the sugar\nBring to a boil and boil for 2 min\nPour\nChill to 4 °C"
JUICE = "700 g apple juice\n30 g lemon juice\n60 g sugar"
PART = "600 g water\n100 g lemon juice\n60 g sugar"


def made(lines: str, agent: str = "6 g agar"):
    return formula_make(title="Cup", ingredients=f"{lines}\n{agent}", steps=HOT)


def hot_acid(lines: str, agent: str = "6 g agar"):
    found = assess(made(lines, agent)).findings
    return next(one for one in found if one.code == "acid_hot")


@pytest.mark.parametrize(("lines", "is_sour"), [
    (JUICE, True), (PART, False), ("700 g whole milk\n60 g sugar", False),
    ("350 g water\n350 g apple juice\n60 g sugar", False),
])  # fmt: skip
def test_a_base_is_sour_when_no_water_is_left_without_it(lines, is_sour):
    assert is_sour_base(bench_build(made(lines))) is is_sour


def test_the_base_is_named_by_its_water_and_not_by_its_acid():
    assert base_name(bench_build(made(JUICE))) == "apple juice"


def test_juice_that_is_the_base_is_not_asked_to_wait():
    action = hot_acid(JUICE).action
    assert "last" not in action
    assert "apple juice is the base here and cannot wait" in action
    assert "plain water for about a fifth" in action
    assert "low-methoxyl pectin" in action
    assert re.search(r"warmed to \d5 °C|warmed to \d0 °C", action)


def test_an_acid_that_is_an_addition_still_waits():
    assert hot_acid(PART).action.startswith("Add the acid last")


def test_the_loss_is_the_one_that_the_numbers_count():
    bench = bench_build(made(JUICE))
    share = float(bench.state.agents["agar"].kept.heat.value[0])
    assert 0.05 < share < 0.95
    assert f"about {100 * share:.0f} % (" in acid_left_text(bench, 0, "agar")
    assert acid_left_text(bench, 0, "agar") in hot_acid(JUICE).action


def test_a_carrageenan_in_juice_is_not_told_to_take_the_juice_late():
    found = assess(made(JUICE, "6 g kappa carrageenan")).findings
    told = " ".join(one.action for one in found if one.code in {"too_acid", "acid_hot"})
    assert "after cooling" not in told
    assert "use less" in told


@pytest.mark.parametrize(("lines", "said"), [
    (JUICE, "cannot wait: the base itself is sour; hot acid leaves"), (PART, "add the acid late"),
])  # fmt: skip
def test_a_swap_for_agar_tells_what_the_acid_leaves_of_it(lines, said):
    gelatin = formula_make(
        title="Cup", ingredients=f"{lines}\n14 g gelatin, 200 Bloom",
        steps="Bloom the gelatin\nHeat to 60 °C\nStir in the gelatin\nChill to 4 °C for 12 h",
    )  # fmt: skip
    swap = substitute(gelatin, SubstitutionAsk(replace="gelatin", by="agar")).swap
    acid = next(one for one in swap.process if one.code == "acid")
    assert acid.after.startswith(said)
    assert [one.code for one in swap.process][2:5] == ["heat", "acid", "ions"]
    hot = next(one.text for one in swap.remarks if one.code == "all_hot")
    assert ("plain water for a part of the apple juice" in hot) is (lines == JUICE)
