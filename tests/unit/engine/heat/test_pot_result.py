"""A batch in a pot: what comes out of a plan, and what is said about it."""

import numpy as np
import pytest
from builders_engine import formula_of

from setwell.domain.equipment import Hob, HobKind, WallMaterial
from setwell.domain.process_plan import PotPlan, PotStirring
from setwell.engine.assess import bench_build
from setwell.engine.heat.pot import bottom_curve, heat_pot, pot_course
from setwell.engine.heat.pot_setup import pot_task
from setwell.engine.heat.pot_track import pot_tracks
from setwell.engine.safety import heating_checks
from setwell.engine.verdict import Verdict
from setwell.errors import InputError

STEPS = "Whisk the powder with the sugar into the milk\nHeat to 85 °C, hold 5 min\nChill 4 h"
MILK = ("1000 g whole milk", "50 g sugar", "4 g kappa carrageenan")
SAUCE = ("2400 g whole milk", "60 g sugar", "90 g cornstarch")


def bench_of(*lines, steps=STEPS, **fields):
    return bench_build(formula_of(*lines, steps=steps, **fields))


def result(*lines, steps=STEPS, **plan):
    power = plan.pop("power_w", 2000.0)
    return heat_pot(
        bench_of(*lines, steps=steps), PotPlan(hob=Hob(name="H", power_w=power), **plan)
    )


def codes(found):
    return {one.code for one in found.advice}


def figure(found, key):
    return next(one.estimate for one in found.figures if one.key == key)


def moment(found, key):
    return next(one for one in found.moments if one.key == key)


def test_the_target_and_the_hold_come_from_the_steps():
    task = pot_task(bench_of(*MILK), PotPlan())
    assert (task.target_c, task.hold_min) == (85.0, 5.0)
    told = pot_task(bench_of(*MILK), PotPlan(target_c=70.0, hold_min=1.0))
    assert (told.target_c, told.hold_min) == (70.0, 1.0)


def test_an_oven_in_the_steps_is_not_the_pot():
    bench = bench_of(*MILK, steps="Preheat the oven to 150 °C\nHeat to 80 °C\nChill")
    assert pot_task(bench, PotPlan()).target_c == 80.0


def test_what_bakes_or_steams_later_is_not_the_pot():
    steps = "Heat to 60 °C\nPour into cups\nSteam at 95 °C for 20 min\nChill"
    task = pot_task(bench_of(*MILK, steps=steps), PotPlan())
    assert (task.target_c, task.hold_min) == (60.0, None)


@pytest.mark.parametrize(
    ("steps", "ruling"),
    [
        ("Whip the egg white to soft peaks\nHeat to 85 °C, stirring, hold 5 min", "cannot tell"),
        ("Mix\nHeat to 85 °C, stirring, hold 5 min\nFold in the whipped cream", "pass"),
    ],
)
def test_no_heating_of_a_foam_passes_as_computed(steps, ruling):
    bench = bench_of("500 g water", "100 g egg white", "50 g sugar", steps=steps)
    pot = heat_pot(bench, PotPlan(stirring=PotStirring.CONSTANT))
    (egg,) = [one for one in heating_checks(bench, pot.courses) if one.key == "egg"]
    assert egg.ruling.value == ruling


def test_the_weight_and_the_depth_are_those_of_the_batch():
    task = pot_task(bench_of("1000 g water"), PotPlan(target_c=80.0, diameter_mm=200.0))
    assert task.mass_kg == pytest.approx(1.0)
    assert 1000.0 * task.depth == pytest.approx(32.2, abs=0.5)
    assert pot_task(bench_of("1000 g water"), PotPlan(target_c=80.0, batch_g=3000.0)).is_scaled


def test_a_pot_comes_in_three_places_with_ranges():
    found = result(*MILK, stirring=PotStirring.NONE)
    assert [course.place for course in found.courses] == ["bottom", "core", "surface"]
    bottom, core, surface = (course.celsius[-1] for course in found.courses)
    assert bottom >= core >= surface
    assert found.coldest.celsius[-1] == pytest.approx(surface)
    for course in found.courses:
        assert (course.low_c <= course.celsius).all()
        assert (course.celsius <= course.high_c).all()
        assert course.evidence


def test_stirring_evens_it_out_and_is_shown_beside():
    found = result(*SAUCE, stirring=PotStirring.NONE)
    assert found.other_label == "stirred all the time"
    assert found.other.regime == "stirred"
    difference = figure(found, "difference")
    assert difference.value > 5.0
    assert figure(found.other, "difference").value < 1.0
    assert difference.low < difference.value < difference.high
    assert any("±40 %" in flag for flag in difference.flags)
    assert {"uneven", "no_more_power"} <= codes(found)
    assert "uneven" not in codes(found.other)


def test_a_stirred_pot_is_compared_with_one_at_rest():
    assert result(*MILK, stirring=PotStirring.CONSTANT).other_label == "not stirred"


def test_a_gum_that_holds_still_heats_by_conduction():
    found = result("2000 g water", "20 g xanthan gum", stirring=PotStirring.NONE)
    assert found.regime == "conduction"
    assert "too thick to move" in found.regime_text
    assert any("thicker than the flow curve" in flag for flag in figure(found, "thickness").flags)


def test_a_boil_stirs_itself():
    found = result("1000 g water", "8 g agar", steps="Bring to a boil, hold 3 min", power_w=3000.0,
                   stirring=PotStirring.NONE)  # fmt: skip
    assert found.regime == "boiling"
    assert found.courses[2].celsius[-1] > 97.0
    assert found.agents[0].hydrates is Verdict.YES


def test_power_divides_the_time():
    quick, slow = (
        result(*MILK, power_w=watts, stirring=PotStirring.CONSTANT) for watts in (3000.0, 1000.0)
    )
    times = [moment(one, "reads").estimate.value for one in (quick, slow)]
    assert times[1] / times[0] == pytest.approx(3.0, rel=0.15)


def test_the_range_of_the_hob_is_in_the_time():
    read = moment(result("1000 g water", target_c=80.0, stirring=PotStirring.CONSTANT), "reads")
    assert read.estimate.low < read.estimate.value < read.estimate.high
    gas = heat_pot(
        bench_of("1000 g water"),
        PotPlan(hob=Hob(name="G", kind=HobKind.GAS), target_c=80.0, stirring=PotStirring.CONSTANT),
    )
    assert moment(gas, "reads").estimate.value > 1.5 * read.estimate.value


def test_agents_get_yes_no_and_cannot_tell():
    stirred = result(*MILK, stirring=PotStirring.CONSTANT, hold_min=10.0, target_c=90.0)
    assert stirred.agents[0].hydrates is Verdict.YES
    assert stirred.agents[0].done.estimate is not None
    cool = result(*MILK, stirring=PotStirring.CONSTANT, target_c=55.0)
    assert cool.agents[0].hydrates is Verdict.NO
    assert cool.agents[0].reached.estimate is None
    assert "does not get there" in cool.agents[0].text
    still = result(*MILK, stirring=PotStirring.NONE)
    assert still.agents[0].hydrates is Verdict.CANNOT_TELL
    assert still.agents[0].needs_c == 85.0
    assert still.agents[0].needs_min == 5.0


def test_powders_that_dissolve_cold_are_not_asked():
    assert result("1000 g water", "3 g xanthan gum", stirring=PotStirring.NONE).agents == ()


def test_a_batch_that_does_not_fit_is_stopped():
    found = result("12 kg water", target_c=60.0, height_mm=150.0)
    (said,) = [one for one in found.advice if one.code == "does_not_fit"]
    assert said.is_stop
    assert found.advice[0].is_stop
    assert "12" in said.text


def test_a_hob_that_is_too_weak_says_where_it_ends():
    found = result("6000 g water", target_c=95.0, power_w=300.0, stirring=PotStirring.CONSTANT)
    (said,) = [one for one in found.advice if one.code == "too_weak"]
    assert "does not reach 95 °C" in said.text
    assert moment(found, "reads").estimate is None


def test_milk_and_starch_catch_on_a_hot_base_and_water_does_not():
    assert "scorch" in codes(result(*SAUCE, stirring=PotStirring.NONE, power_w=3000.0))
    assert "scorch" not in codes(result("2000 g water", target_c=85.0, power_w=3000.0))


def test_steam_from_an_open_pot_is_set_against_the_formula():
    steps = "Heat to 95 °C, hold 30 min"
    found = result("1000 g water", steps=steps, stirring=PotStirring.CONSTANT)
    lost = found.evaporated_g
    assert lost.low < lost.value < lost.high
    # 17.6 kg per m2 and hour at 95 °C over 0.0314 m2 for half an hour.
    assert lost.value == pytest.approx(276.0, rel=0.05)
    said = next(one for one in found.advice if one.code == "evaporation")
    assert "0.0 %" in said.text
    covered = result("1000 g water", steps=steps, stirring=PotStirring.CONSTANT, lid=True)
    assert covered.evaporated_g.value < 0.15 * lost.value


def test_live_steam_says_how_much_water_it_brings():
    plan = PotPlan(hob=Hob(name="S", kind=HobKind.STEAM, power_w=3000.0), lid=True,
                   stirring=PotStirring.STEAM, target_c=80.0, hold_min=0.0)  # fmt: skip
    found = heat_pot(bench_of("1000 g water"), plan)
    # 60 K times 4.18 kJ for the water and 0.5 kJ for the pot, over about 2.45 MJ/kg.
    assert figure(found, "condensate").value == pytest.approx(115.0, rel=0.08)
    assert "condensate" in codes(found)


def test_spirits_get_a_caution():
    assert "spirits" in codes(result("500 g vodka", "500 g water", target_c=60.0))


def test_a_hot_boil_beyond_the_boiling_point_is_refused_kindly():
    found = result("1000 g water", target_c=115.0)
    assert "above_boiling" in codes(found)


@pytest.mark.parametrize(
    ("lines", "plan", "field", "says"),
    [
        (("500 g water",), {}, "target_c", "No step says how hot"),
        (("500 g water",), {"target_c": 15.0}, "target_c", "nothing to heat"),
        (("500 g water",), {"target_c": 80.0, "start_c": -18.0}, "start_c", "melting"),
        (("500 g olive oil",), {"target_c": 80.0}, "ingredients", "watery"),
        (("0 g water",), {"target_c": 80.0}, "ingredients", "weighed"),
        (("500 g water",), {"target_c": 80.0, "batch_g": 0.1}, "batch_g", "too little"),
        (("900 kg water",), {"target_c": 80.0, "diameter_mm": 300.0}, "diameter_mm", "wider"),
    ],
)  # fmt: skip
def test_a_pot_that_cannot_be_computed_says_why(lines, plan, field, says):
    bench = bench_of(*lines, steps="")
    with pytest.raises(InputError, match=says) as caught:
        heat_pot(bench, PotPlan(**plan))
    assert caught.value.field == field
    assert caught.value.hint
    assert pot_course(bench, PotPlan(**plan)) is None


def test_the_bottom_curve_follows_the_share_of_the_power():
    bench = bench_of("1000 g water")
    plan = PotPlan(target_c=95.0, stirring=PotStirring.CONSTANT)
    times = np.array([0.0, 60.0, 120.0])
    low, high = (bottom_curve(bench, plan, times, efficiency=share) for share in (0.4, 0.8))
    assert low[0] == high[0] == 20.0
    assert (high[2] - 20.0) / (low[2] - 20.0) == pytest.approx(2.0, rel=0.1)
    usual = bottom_curve(bench, plan, times)
    assert high[2] < usual[2] < bottom_curve(bench, plan, times, efficiency=0.9)[2]


def test_a_heavy_pot_takes_longer():
    heavy, light = (
        moment(result("500 g water", target_c=80.0, wall=wall), "reads").estimate.value
        for wall in (WallMaterial.CAST_IRON, WallMaterial.ALUMINUM)
    )
    assert heavy > 1.05 * light


def test_a_syrup_that_comes_to_the_boil_unstirred_does_not_flicker():
    """Bubbles that come and go from step to step would make the solver creep."""
    bench = bench_of("320 g water", "160 g sugar", "9 g agar", steps="Boil for 3 min")
    task = pot_task(bench, PotPlan(diameter_mm=240.0, wall=WallMaterial.ALUMINUM))
    (track,) = pot_tracks(task, (PotStirring.NONE,))
    assert len(track.seconds) < 200
