"""What needs heat never passes because nobody looked at its heat, or because it took all day."""

import numpy as np
import pytest

from setwell import formula_make
from setwell.engine.assess import bench_build
from setwell.engine.heat.course import Course
from setwell.engine.safety import (
    Basis,
    Ruling,
    cooling_checks,
    heating_checks,
    unheated_checks,
    verdict_overall,
)


def bench_of(lines, steps="Mix and chill"):
    return bench_build(formula_make(title="Test", ingredients=lines, steps=steps))


def course_of(*points, is_measured=True):
    seconds, celsius = (np.array(part, dtype=float) for part in zip(*points, strict=True))
    return Course("core", seconds, celsius, celsius - 0.5, celsius + 0.5, is_measured=is_measured)


COOLED = course_of((0, 80), (3_600, 15), (7_200, 3))


@pytest.mark.parametrize(
    ("lines", "key"),
    [
        ("500 g milk\n100 g egg yolk", "egg"), ("500 g raw milk", "raw_milk"),
        ("500 g milk\nsome of the secret mix", "unread"),
    ],
)  # fmt: skip
def test_a_good_cooling_is_no_pass_for_food_whose_heating_is_not_known(lines, key):
    bench = bench_of(lines)
    open_ones = unheated_checks(bench)
    assert [check.key for check in open_ones] == [key]
    cooled = cooling_checks(bench, (COOLED,))
    assert verdict_overall(cooled) is Ruling.PASS
    assert verdict_overall((*open_ones, *cooled)) is Ruling.CANNOT_TELL


def test_an_oven_or_a_bath_is_named_as_what_nobody_computed():
    bench = bench_of("500 g milk\n100 g egg yolk", "Mix\nBake at 100 °C for 40 min\nChill")
    (egg,) = unheated_checks(bench)
    assert egg.ruling is Ruling.CANNOT_TELL
    assert "how hot its middle gets is not computed" in egg.text


def test_a_computed_pot_is_no_fail_where_an_oven_follows():
    lines = "500 g milk\n100 g egg yolk"
    warm = course_of((0, 20), (600, 50), (900, 50), is_measured=False)
    pot = "Heat to 50 °C, stirring constantly"

    def egg_of(steps):
        found = heating_checks(bench_of(lines, steps), (warm,))
        return next(check for check in found if check.key == "egg")

    assert egg_of(pot).ruling is Ruling.FAIL
    baked = egg_of(f"{pot}\nPour into cups\nBake at 100 °C for 40 min")
    assert baked.ruling is Ruling.CANNOT_TELL
    assert "there too" in baked.action


def test_milk_and_sugar_from_the_shop_leave_nothing_open():
    assert unheated_checks(bench_of("500 g milk\n60 g sugar")) == ()


def test_egg_stirred_in_after_the_heat_is_told_to_be_heated_itself():
    bench = bench_of(
        "500 g milk\n100 g egg yolk", "Heat the milk to 88 °C\nCool to 40 °C\nAdd egg yolk"
    )
    hot = course_of((0, 20), (1_200, 88), (1_800, 88), is_measured=False)
    egg = next(check for check in heating_checks(bench, (hot,)) if check.key == "egg")
    assert egg.ruling is Ruling.CANNOT_TELL
    assert "once the egg is in" in egg.action


def test_hours_on_the_way_up_are_told_and_minutes_are_not():
    bench = bench_of("500 g milk\n100 g egg yolk", "Heat to 88 °C")
    slow = heating_checks(bench, (course_of((0, 4), (6 * 3_600, 60), (7 * 3_600, 80)),))
    (told,) = [check for check in slow if check.key == "slow_warming"]
    assert told.ruling is Ruling.CANNOT_TELL
    assert told.basis is Basis.INFORMATION
    assert "survives the pot" in told.text
    quick = heating_checks(bench, (course_of((0, 4), (1_800, 60), (3_600, 80)),))
    assert "slow_warming" not in [check.key for check in quick]


def test_an_hour_at_60_cooks_no_egg_however_long():
    bench = bench_of("500 g milk\n100 g egg yolk", "Heat to 60 °C and hold 3 h")
    held = heating_checks(bench, (course_of((0, 20), (1_200, 60), (12_000, 60)),))
    assert next(check for check in held if check.key == "egg").ruling is Ruling.FAIL


def test_food_that_may_have_been_hot_before_the_record_is_no_pass():
    cold = course_of((0, 30), (3_600, 12), (7_200, 3))
    (unknown,) = cooling_checks(None, (cold,))
    assert unknown.ruling is Ruling.CANNOT_TELL
    (without_steps,) = cooling_checks(bench_of("500 g milk", ""), (cold,))
    assert without_steps.ruling is Ruling.CANNOT_TELL
    (never_hot,) = cooling_checks(bench_of("500 g milk"), (cold,))
    assert never_hot.ruling is Ruling.PASS
