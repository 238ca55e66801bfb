"""A cooling as the kitchen sees it: courses, moments, advice and figures."""

import numpy as np
import pytest
from builders_cooling import (
    CUP,
    HOT_POUR,
    JAR,
    TRAY,
    agar_milk,
    gelatin_juice,
    plain_milk,
    plan_of,
)
from builders_engine import formula_of

from setwell.domain.equipment import CoolerKind, MoldForm, MoldShape, WallMaterial
from setwell.engine.assess import bench_build
from setwell.engine.heat.cooling import cool, core_curve
from setwell.engine.heat.course import Course
from setwell.engine.safety import Ruling, cooling_checks
from setwell.errors import InputError


def codes(result):
    return {one.code for one in result.advice}


def test_courses_are_core_and_surface_with_ranges():
    result = cool(agar_milk(), plan_of(JAR))
    assert [one.place for one in result.courses] == ["core", "surface"]
    for course in result.courses:
        assert 150 <= len(course.seconds) <= 361
        assert (np.diff(course.seconds) > 0).all()
        assert (course.low_c <= course.celsius).all()
        assert (course.celsius <= course.high_c).all()
        assert course.evidence
    assert result.core.celsius[0] == pytest.approx(90.0, abs=0.1)
    assert (result.courses[1].celsius <= result.core.celsius + 0.05).all()


def test_the_moments_of_a_jar_come_in_order():
    result = cool(agar_milk(), plan_of(JAR))
    assert [one.key for one in result.moments] == ["set", "unmold", "21", "5", "serve"]
    minutes = {one.key: one.estimate for one in result.moments}
    assert all(one is not None for one in minutes.values())
    assert minutes["set"].value < minutes["unmold"].value < minutes["5"].value
    for key, one in minutes.items():
        assert one.low <= one.value
        # A fridge that is set to 4 °C may run at 5: then the core never gets down to that.
        assert (one.high is None) if key in {"5", "serve"} else (one.value <= one.high)
        assert one.unit == "min"
    # 57 °C starts the clock of chilling rules.
    assert "after it passed 57 °C (135 °F)" in result.moment("21").text


def test_gelatin_waits_for_its_hours_before_it_unmolds():
    # In ice water a small cup is cold within the hour; gelatin still needs longer to firm up.
    small = CUP.model_copy(update={"diameter_mm": 30.0})
    result = cool(gelatin_juice(), plan_of(small, kind=CoolerKind.ICE_BATH, air_c=1.0))
    assert result.moment("5").estimate.value < 30.0
    assert result.moment("unmold").estimate.value > 60.0
    assert "firms up for hours" in result.moment("unmold").text


def test_a_place_warmer_than_the_setting_temperature_never_sets_it():
    result = cool(gelatin_juice(), plan_of(kind=CoolerKind.COUNTER, air_c=35.0))
    stop = next(one for one in result.advice if one.code == "never_sets")
    assert stop.is_stop
    assert "it will never set here" in stop.text
    assert "35 °C (95 °F)" in stop.text
    assert result.moment("set").estimate is None
    assert "never" in result.moment("set").text
    assert result.advice[0].is_stop


def test_a_setting_temperature_around_the_air_may_not_set():
    result = cool(gelatin_juice(), plan_of(kind=CoolerKind.COUNTER, air_c=22.0))
    told = next(one for one in result.advice if one.code == "may_not_set")
    assert told.is_stop
    assert "may not set" in told.text
    colder = cool(gelatin_juice(), plan_of(air_c=4.0))
    assert not codes(colder) & {"may_not_set", "never_sets"}


def test_a_counter_never_gets_food_cold():
    result = cool(agar_milk(), plan_of(kind=CoolerKind.COUNTER, air_c=20.0))
    assert "never_cold" in codes(result)
    assert result.moment("5").estimate is None
    assert result.moment("set").estimate is not None
    assert result.moment("serve").estimate is None


def test_nothing_that_sets_is_said_and_still_gets_cold():
    result = cool(plain_milk(), plan_of())
    assert "nothing_sets" in codes(result)
    assert result.moment("set") is None
    assert result.moment("5").estimate is not None


@pytest.mark.parametrize(
    ("pour", "code", "is_stop"),
    [(30.0, "sets_before_pouring", True), (40.0, "sets_while_pouring", False)],
)
def test_a_pour_too_cold_is_told(pour, code, is_stop):
    result = cool(agar_milk(), plan_of(pour_c=pour))
    told = next(one for one in result.advice if one.code == code)
    assert told.is_stop is is_stop


@pytest.mark.parametrize(("pour", "is_told"), [(75.0, True), (85.0, False)])
def test_kappa_that_kitchens_see_set_warmer_than_computed_is_told(pour, is_told):
    lines = ("700 g whole milk", "150 g heavy cream", "4 g kappa carrageenan")
    bench = bench_build(formula_of(*lines, steps="Heat to 90 °C\nPour into molds\nChill"))
    told = [one for one in cool(bench, plan_of(pour_c=pour)).advice
            if one.code == "sets_while_pouring"]  # fmt: skip
    assert bool(told) is is_told
    if told:
        assert "Kitchens see" in told[0].text


def test_a_thick_mold_cools_too_slowly_and_a_thin_one_does_not():
    assert "cools_slowly" in codes(cool(agar_milk(), plan_of(JAR)))
    thin = TRAY.model_copy(update={"height_mm": 8.0})
    quick = cool(agar_milk(), plan_of(thin, kind=CoolerKind.BLAST_CHILLER, air_c=-2.0))
    assert "cools_slowly" not in codes(quick)


def test_a_chiller_just_below_freezing_is_followed_down_to_the_first_ice():
    result = cool(agar_milk(), plan_of(kind=CoolerKind.BLAST_CHILLER, air_c=-1.2))
    assert "freezes" in codes(result)
    assert result.core.celsius.min() == pytest.approx(-0.55, abs=0.05)
    assert result.moment("frozen") is None


def test_a_freezer_holds_the_core_at_its_freezing_point_for_hours():
    result = cool(agar_milk(), plan_of(kind=CoolerKind.FREEZER, air_c=-18.0))
    assert "freezes" in codes(result)
    cold, hard = result.moment("5").estimate, result.moment("frozen").estimate
    assert hard.value > 2.5 * cold.value
    assert hard.low < hard.value < hard.high
    core = result.core
    slow = (core.celsius > -1.5) & (core.celsius < 0.0)
    assert np.ptp(core.seconds[slow]) > 3600.0
    assert core.celsius[-1] < -15.0
    assert (np.diff(core.celsius) < 0.2).all()


def test_a_measured_air_above_freezing_keeps_a_freezer_from_freezing_it():
    seconds = np.linspace(0.0, 4 * 3600.0, 50)
    warm = np.full(50, 3.0)
    air = Course("air", seconds, warm, warm, warm, is_measured=True)
    result = cool(agar_milk(), plan_of(kind=CoolerKind.FREEZER, air_c=-18.0), air=air)
    assert result.moment("frozen") is None
    assert result.core.celsius[-1] == pytest.approx(3.0, abs=0.3)


def test_an_hour_on_the_counter_comes_before_the_freezer():
    freezer = {"kind": CoolerKind.FREEZER, "air_c": -18.0}
    straight = cool(agar_milk(), plan_of(**freezer)).moment("frozen").estimate
    rested = cool(agar_milk(), plan_of(**freezer, counter_min=60.0)).moment("frozen").estimate
    assert straight.value < rested.value < straight.value + 60.0


def test_a_gel_that_may_not_set_at_all_says_so():
    weak = bench_build(formula_of("500 g whole milk", "0.8 g agar", steps=HOT_POUR))
    assert "cannot be told" in cool(weak, plan_of()).moment("set").text
    boiled = "Whisk the agar into the milk\nBoil 3 min, stirring constantly\nPour into molds\nChill"
    firm = bench_build(formula_of("500 g whole milk", "5 g agar", steps=boiled))
    assert "cannot be told" not in cool(firm, plan_of()).moment("set").text


def test_assumptions_are_said():
    other = MoldForm(shape=MoldShape.OTHER, volume_ml=120)
    result = cool(plain_milk(), plan_of(other))
    assert "shape_assumed" in codes(result)
    assert any("shape assumed" in flag for flag in result.moment("5").estimate.flags)


def test_a_silicone_wall_sets_the_pace_in_an_ice_bath():
    ball = MoldForm(shape=MoldShape.SPHERE, diameter_mm=60, wall=WallMaterial.SILICONE)
    bath = plan_of(ball, kind=CoolerKind.ICE_BATH, air_c=1.0)
    assert "wall_holds_back" in codes(cool(agar_milk(), bath))
    bare = plan_of(ball.model_copy(update={"wall": None}), kind=CoolerKind.ICE_BATH, air_c=1.0)
    assert cool(agar_milk(), bare).moment("5").estimate.value * 1.5 < (
        cool(agar_milk(), bath).moment("5").estimate.value
    )


def test_minutes_on_the_counter_come_first():
    straight, rested = cool(agar_milk(), plan_of()), cool(agar_milk(), plan_of(counter_min=60.0))
    assert rested.moment("5").estimate.value > straight.moment("5").estimate.value + 10.0
    assert (
        rested.core.at(np.array([3600.0])).celsius[0]
        > straight.core.at(np.array([3600.0])).celsius[0]
    )


def test_a_measured_course_of_the_air_counts_instead_of_the_setting():
    seconds = np.linspace(0.0, 6 * 3600.0, 100)
    warm = np.full(100, 12.0)
    air = Course("air", seconds, warm, warm - 0.5, warm + 0.5, is_measured=True)
    result = cool(agar_milk(), plan_of(), air=air)
    assert result.moment("5").estimate is None
    assert result.core.celsius[-1] == pytest.approx(12.0, abs=0.5)


def test_many_molds_warm_a_fridge_of_known_size():
    fridge = {"inside_l": 300.0}
    one = cool(agar_milk(), plan_of(cooler=fridge))
    many = cool(agar_milk(), plan_of(cooler=fridge, count=60))
    assert "cold_place_full" in codes(many)
    assert many.moment("5").estimate.value > one.moment("5").estimate.value + 20.0
    assert one.most_molds is not None
    assert 1.0 <= one.most_molds.value < 60.0


def test_many_molds_in_a_place_of_unknown_size_are_said():
    result = cool(agar_milk(), plan_of(count=60))
    assert "many_molds" in codes(result)
    assert result.most_molds is None


def test_nothing_passes_on_a_fridge_that_may_get_warmer_than_computed():
    small = MoldForm(shape=MoldShape.CUP, diameter_mm=50, height_mm=30)

    def rulings(**fields):
        result = cool(agar_milk(), plan_of(small, air_c=1.0, **fields))
        return [one.ruling for one in cooling_checks(agar_milk(), result.courses)], result

    few, _ = rulings(count=4)
    many, crowded = rulings(count=60)
    assert few == [Ruling.PASS, Ruling.PASS]
    assert many == [Ruling.CANNOT_TELL, Ruling.CANNOT_TELL]
    told = cooling_checks(agar_milk(), crowded.courses)[0]
    assert "60 molds are" in told.text
    assert "inside volume" in told.text
    assert "probe in the warmest spot" in told.action
    # With its size known the warmer air is counted, and it is judged as computed.
    known, _ = rulings(count=60, cooler={"inside_l": 900.0, "cooling_w": 1_500.0})
    assert Ruling.CANNOT_TELL not in known


@pytest.mark.parametrize(
    ("step", "is_foam"),
    [
        ("Whip the cream and fold it in", True), ("Fold in the whipped whites", True),
        ("Whisk to stiff peaks", True), ("Fill a siphon", True),
        ("Stir in the heavy whipping cream", False), ("Skim off the foam", False),
        ("Whisk the powder in", False),
    ],
)  # fmt: skip
def test_no_cooling_of_a_foam_passes_as_computed(step, is_foam):
    steps = f"Heat to 90 °C, hold 2 min\n{step}\nPour into molds\nChill"
    bench = bench_build(formula_of("500 g whole milk", "4 g agar", steps=steps))
    small = MoldForm(shape=MoldShape.CUP, diameter_mm=50, height_mm=30)
    result = cool(bench, plan_of(small, air_c=1.0, pour_c=70.0))
    rulings = {one.ruling for one in cooling_checks(bench, result.courses)}
    assert rulings == {Ruling.CANNOT_TELL if is_foam else Ruling.PASS}


def test_an_ice_bath_says_how_much_ice_it_takes():
    result = cool(agar_milk(), plan_of(kind=CoolerKind.ICE_BATH, air_c=1.0, count=10))
    told = next(one for one in result.advice if one.code == "ice_needed")
    assert "kg of ice" in told.text


@pytest.mark.parametrize(
    ("fields", "field"),
    [({"kind": CoolerKind.ICE_BATH, "air_c": 40.0}, "air_c"), ({"pour_c": -10.0}, "pour_c")],
)
def test_temperatures_that_cannot_be_are_refused(fields, field):
    with pytest.raises(InputError) as refused:
        cool(agar_milk(), plan_of(**fields))
    assert refused.value.field == field


def test_the_core_curve_of_one_coefficient_is_that_of_a_measured_place():
    seconds = np.linspace(0.0, 4 * 3600.0, 50)
    curve = core_curve(agar_milk(), plan_of(JAR), seconds, coefficient=12.0)
    told = cool(agar_milk(), plan_of(JAR, coefficient=12.0)).core
    assert curve == pytest.approx(told.at(seconds).celsius, abs=0.1)
    faster = core_curve(agar_milk(), plan_of(JAR), seconds, coefficient=20.0)
    assert (faster <= curve + 1e-9).all()


def test_figures_say_what_was_counted():
    figures = {one.key: one for one in cool(agar_milk(), plan_of(JAR)).figures}
    assert figures["mold_volume"].estimate.value == pytest.approx(346.4, abs=0.1)
    passed = figures["coefficient"].estimate
    assert passed.low < passed.value < passed.high
    assert {"pour", "thickness", "conductivity", "heat_capacity", "density"} <= set(figures)


def test_the_method_says_how_it_was_computed():
    assert "wall and headspace" in cool(agar_milk(), plan_of(JAR)).method
    assert "each direction" in cool(agar_milk(), plan_of(CUP)).method
    assert "as measured" in cool(agar_milk(), plan_of(CUP, coefficient=12.0)).method


@pytest.mark.parametrize("air_c", [3.0, 21.0, 60.0])
def test_how_many_molds_fit_lies_within_its_range(air_c):
    plan = plan_of(JAR, kind=CoolerKind.VENTILATED_FRIDGE, air_c=air_c)
    cooler = plan.cooler.model_copy(update={"inside_l": 400.0, "cooling_w": 300.0})
    most = cool(agar_milk(), plan.model_copy(update={"cooler": cooler})).most_molds
    assert most is None or most.low <= most.value <= most.high
