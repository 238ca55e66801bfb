"""How cold a portion is some hours after pouring."""

from math import inf, pi

import pytest

from setwell.engine.proposals.setting_time import (
    SLOW_C,
    core_c,
    hours_to_stand,
    least_setting_c,
    slow_hours,
)
from setwell.science.heat.series import cylinder_temperature, slab_temperature


def test_a_cup_starts_as_a_hot_fill_and_ends_in_the_fridge():
    assert core_c(0.0, 100.0) == pytest.approx(80.0)
    assert core_c(0.0, 100.0, hottest_c=50.0) == pytest.approx(50.0)
    assert core_c(48.0, 100.0) == pytest.approx(4.0, abs=0.01)


def test_the_core_cools_as_cylinder_times_slab():
    # 100 g of water at 40 °C: 0.6285 W/mK, 4179 J/kgK, 992 kg/m3; still fridge 10 W/m2K.
    radius = (0.1 / 992.2 / (2.0 * pi)) ** (1.0 / 3.0)
    fourier = 0.6285 / (992.2 * 4179.0) * 7200.0 / radius**2
    biot = 10.0 * radius / 0.6285
    left = cylinder_temperature(fourier, biot=biot, position=0.0) * slab_temperature(
        fourier, biot=biot, position=0.0
    )
    assert core_c(2.0, 100.0) == pytest.approx(4.0 + 76.0 * float(left), abs=0.2)


def test_a_larger_portion_cools_more_slowly():
    assert core_c(2.0, 50.0) < core_c(2.0, 100.0) < core_c(2.0, 1000.0)


def test_gelatin_counts_only_after_its_shortest_stay():
    assert slow_hours() == 4.0
    assert least_setting_c(3.9, 50.0) == SLOW_C
    assert least_setting_c(4.0, 50.0) < 10.0
    assert hours_to_stand(20.0, 50.0) == slow_hours()


def test_what_sets_warm_stands_early_and_what_sets_below_the_fridge_never():
    assert hours_to_stand(90.0, 100.0) == 0.5
    assert hours_to_stand(40.0, 100.0) == 1.0
    assert hours_to_stand(4.0, 100.0) == inf
