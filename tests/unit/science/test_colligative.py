"""Boiling and freezing points: inverses, limits, dilute solutions and bad input."""

import numpy as np
import pytest

from setwell.errors import OutOfRangeError
from setwell.science.solution.colligative import (
    boiling_point_rise_ideal,
    boiling_temperature,
    freezing_point_fall_ideal,
    freezing_temperature,
    vapor_pressure_wagner_pruss_1993,
    water_activity_ice,
)
from setwell.science.solution.water_activity import water_activity_osmotic

ONE_ATMOSPHERE = 101325.0


def test_boiling_undoes_the_vapor_pressure():
    activity = np.linspace(0.3, 1.0, 15)[:, None]
    pressure = np.array([60e3, 80e3, ONE_ATMOSPHERE, 200e3])
    boiling = boiling_temperature(activity, pressure=pressure)
    assert boiling.shape == (15, 4)
    back = activity * vapor_pressure_wagner_pruss_1993(boiling)
    assert back == pytest.approx(np.broadcast_to(pressure, back.shape), rel=1e-10)


@pytest.mark.parametrize("pressure", [700.0, 5e6, 1.9e7])
def test_boiling_is_found_far_from_the_kitchen_too(pressure):
    boiling = boiling_temperature(1.0, pressure=pressure)
    assert vapor_pressure_wagner_pruss_1993(boiling) == pytest.approx(pressure, rel=1e-10)


def test_freezing_undoes_the_activity_of_ice():
    activity = np.linspace(0.42, 1.0, 30)
    assert water_activity_ice(freezing_temperature(activity)) == pytest.approx(activity, rel=1e-12)


def test_less_water_activity_boils_higher_and_freezes_lower():
    activity = np.linspace(1.0, 0.6, 20)
    assert np.all(np.diff(boiling_temperature(activity, pressure=ONE_ATMOSPHERE)) > 0)
    assert np.all(np.diff(freezing_temperature(activity)) < 0)


def test_both_routes_agree_when_dilute():
    activity = water_activity_osmotic(0.01, osmotic_coefficient=1.0)
    rise = boiling_temperature(activity, pressure=ONE_ATMOSPHERE) - boiling_temperature(
        1.0, pressure=ONE_ATMOSPHERE
    )
    # Steam at one atmosphere is 1.5 % off an ideal gas, which the vapor pressure route leaves out.
    assert rise == pytest.approx(boiling_point_rise_ideal(0.01) * 0.985, rel=0.003)
    fall = 273.15 - freezing_temperature(activity)
    assert fall == pytest.approx(freezing_point_fall_ideal(0.01), rel=0.001)


@pytest.mark.parametrize("activity", [0.0, -0.2, 1.01])
def test_impossible_activities_are_refused(activity):
    with pytest.raises(OutOfRangeError, match="above 0 and reach 1 at most"):
        boiling_temperature(activity, pressure=ONE_ATMOSPHERE)
    with pytest.raises(OutOfRangeError, match="above 0 and reach 1 at most"):
        freezing_temperature(activity)


@pytest.mark.parametrize(("activity", "pressure"), [(1.0, 101.325), (0.004, ONE_ATMOSPHERE)])
def test_no_boiling_is_told_with_the_unit_to_use(activity, pressure):
    with pytest.raises(OutOfRangeError, match="Give the air pressure in pascal"):
        boiling_temperature(activity, pressure=pressure)


def test_syrup_too_thick_to_freeze_is_refused():
    with pytest.raises(OutOfRangeError, match=r"below 0\.4 has no freezing point"):
        freezing_temperature([0.9, 0.3])


@pytest.mark.parametrize("kelvin", [100.0, 274.0])
def test_ice_outside_its_range_is_refused(kelvin):
    with pytest.raises(OutOfRangeError, match="−100 °C"):
        water_activity_ice(kelvin)


@pytest.mark.parametrize("kelvin", [20.0, 650.0])
def test_vapor_pressure_outside_its_range_is_refused(kelvin):
    with pytest.raises(OutOfRangeError, match="known from 0 °C"):
        vapor_pressure_wagner_pruss_1993(kelvin)
