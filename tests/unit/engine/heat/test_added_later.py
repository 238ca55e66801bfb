"""What the steps add after the heat is not in the pot."""

import pytest
from builders_engine import formula_of

from setwell.domain.equipment import Hob
from setwell.domain.process_plan import PotPlan, PotStirring
from setwell.engine.assess import bench_build
from setwell.engine.heat.added_later import added_later
from setwell.engine.heat.pot import heat_pot
from setwell.engine.heat.pot_setup import pot_task

STEPS = """Rain the agar into the cold water and sugar, whisking
Boil for 3 min, stirring
Warm the orange juice to 40 °C
Cool the base to 60 °C, then stir in the juice
Pour into the tray at 55 °C
Chill at 4 °C for 2 h"""
LINES = ("320 g water", "160 g sugar", "9 g agar", "360 g orange juice")
PLAN = PotPlan(hob=Hob(name="H"), stirring=PotStirring.CONSTANT)


def bench_of(*lines, steps=STEPS):
    return bench_build(formula_of(*lines, steps=steps))


def test_juice_that_goes_in_later_is_told_with_its_warmth():
    (juice,) = added_later(bench_of(*LINES))
    assert (juice.lines, juice.celsius) == ((3,), 40.0)


def test_the_pot_holds_what_is_heated():
    task = pot_task(bench_of(*LINES), PLAN)
    assert 1000.0 * task.mass_kg == pytest.approx(489.0)
    assert 1000.0 * task.whole_kg == pytest.approx(849.0)
    # A third of it is sugar: it boils above water.
    assert task.boiling_c > 100.4
    assert task.is_boil
    assert not task.is_scaled
    twice = pot_task(bench_of(*LINES), PLAN.model_copy(update={"batch_g": 1698.0}))
    assert 1000.0 * twice.mass_kg == pytest.approx(978.0)


def test_a_smaller_pot_is_hot_sooner_and_says_what_is_left_out():
    less = heat_pot(bench_of(*LINES), PLAN)
    every = heat_pot(bench_of(*LINES, steps="Boil for 3 min, stirring\nPour\nChill"), PLAN)
    reads = [one.moments[0].estimate.value for one in (less, every)]
    assert reads[0] == pytest.approx(reads[1] * 489 / 849, rel=0.25)
    assert "360 g go in after the heat" in less.figures[0].remark
    assert every.figures[0].remark == ""


def test_a_line_that_a_step_names_before_is_in_the_pot():
    steps = "Heat the juice to 60 °C\nStir in the rest of the juice\nPour\nChill"
    assert added_later(bench_of("500 g orange juice", "5 g gelatin", steps=steps)) == ()


def test_spirits_that_go_in_cold_do_not_catch_fire():
    steps = "Heat the juice to 80 °C\nCool to 35 °C\nStir in the vodka\nPour\nChill"
    later = heat_pot(bench_of("500 g apple juice", "300 g vodka", steps=steps), PLAN)
    hot = heat_pot(bench_of("500 g apple juice", "300 g vodka", steps="Heat to 80 °C"), PLAN)
    assert "spirits" not in {one.code for one in later.advice}
    assert "spirits" in {one.code for one in hot.advice}


def test_agents_that_go_in_with_the_rest_leave_a_pot_without_them():
    steps = "Heat the milk to 80 °C\nStir in the cream and the agar\nPour\nChill"
    found = heat_pot(
        bench_of("500 g whole milk", "300 g heavy cream", "5 g agar", steps=steps), PLAN
    )
    assert found.figures[0].estimate.value == pytest.approx(500.0)
    assert [one.key for one in found.agents] == ["agar"]


def test_less_power_keeps_the_base_within_ten_degrees():
    """The advice on power is worth what it says."""
    bench = bench_of("1000 g whole milk", "20 g cornstarch", steps="Heat to 85 °C\nChill")
    strong = PLAN.model_copy(update={"hob": Hob(name="H", power_w=1000.0)})
    told = next(one for one in heat_pot(bench, strong).advice if one.code == "scorch").action
    watts = float(told.split("about ")[1].split(" W")[0])
    gentle = heat_pot(bench, PLAN.model_copy(update={"hob": Hob(name="H", power_w=watts)}))
    base = next(one.estimate.value for one in gentle.figures if one.key == "base")
    assert base == pytest.approx(95.0, abs=2.0)


def test_nobody_holds_the_thermometer_to_a_base_that_is_scraped():
    found = heat_pot(bench_of("1000 g whole milk", steps="Heat to 85 °C\nChill"), PLAN)
    coldest = next(one for one in found.moments if one.key == "coldest")
    assert coldest.estimate.high is not None
