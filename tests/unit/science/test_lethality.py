"""Lethality and clocks on courses that are easy to get wrong."""

import numpy as np
import pytest

from setwell.errors import InputError, OutOfRangeError
from setwell.science.lethality.clocks import (
    first_fall_below,
    highest_held,
    last_time_above,
    longest_hold,
    stretches_at_or_above,
    time_within,
)
from setwell.science.lethality.resistance import z_fitted
from setwell.science.lethality.segments import lethality, lethality_curve

AT = {"reference_temperature": 333.15, "z_value": 4.6}


def test_nearly_level_pieces_lose_no_digits():
    level = lethality([0, 100], [335.0, 335.0], **AT)
    for tilt in (1e-12, 1e-9, 1e-6, 1e-3):
        tilted = lethality([0, 100], [335.0, 335.0 + tilt], **AT)
        assert float(tilted / level) == pytest.approx(1 + tilt * np.log(10) / 9.2, rel=1e-7)


def test_steep_pieces_do_not_overflow():
    found = lethality([0, 60], [233.15, 413.15], **AT)
    assert np.isfinite(found)
    assert float(found) > 0


def test_a_piece_is_cut_exactly_at_the_lowest_temperature():
    # Ten kelvin in 100 s; the upper four count, from 40 s before the end.
    cut = lethality([0, 100], [325.0, 335.0], lowest=331.0, **AT)
    alone = lethality([0, 40], [331.0, 335.0], **AT)
    assert float(cut) == pytest.approx(float(alone), rel=1e-12)
    assert float(lethality([0, 100], [330.9, 330.9], lowest=331.0, **AT)) == 0.0
    assert float(lethality([0, 100], [331.0, 331.0], lowest=331.0, **AT)) > 0.0


def test_hotter_than_the_highest_counts_as_the_highest():
    held = lethality([0, 100], [343.15, 343.15], highest=338.71, **AT)
    assert float(held) == pytest.approx(100 * 10 ** (5.56 / 4.6), rel=1e-9)
    through = lethality([0, 100], [333.71, 343.71], highest=338.71, **AT)
    halves = lethality([0, 50], [333.71, 338.71], **AT), lethality([0, 50], [338.71] * 2, **AT)
    assert float(through) == pytest.approx(sum(map(float, halves)), rel=1e-9)


def test_two_z_join_at_the_reference_and_count_once():
    both = {"reference_temperature": 363.15, "z_value": 9.0, "z_value_above": 10.0}
    assert float(lethality([0, 60], [363.15] * 2, **both)) == pytest.approx(60.0)
    assert float(lethality([0, 60], [354.15] * 2, **both)) == pytest.approx(6.0)
    assert float(lethality([0, 60], [373.15] * 2, **both)) == pytest.approx(600.0)
    across = lethality([0, 120], [354.15, 372.15], **both)
    below = lethality([0, 60], [354.15, 363.15], reference_temperature=363.15, z_value=9.0)
    above = lethality([0, 60], [363.15, 372.15], reference_temperature=363.15, z_value=10.0)
    assert float(across) == pytest.approx(float(below + above), rel=1e-12)


def test_a_jump_in_no_time_counts_nothing():
    assert float(lethality([0, 0, 60, 60], [293.15, 333.15, 333.15, 293.15], **AT)) == 60.0


def test_one_point_is_worth_nothing():
    assert float(lethality([0], [360.0], **AT)) == 0.0
    assert lethality_curve([0], [360.0], **AT).tolist() == [0.0]


@pytest.mark.parametrize(
    ("times", "kelvin", "told"),
    [
        ([0, 1], [300.0], "as many times"),
        ([1, 0], [300.0, 300.0], "never fall"),
        ([0, 1], [300.0, np.nan], "gap"),
        ([0, np.inf], [300.0, 300.0], "gap"),
    ],
)
def test_broken_courses_are_refused(times, kelvin, told):
    for refuse in (lambda: lethality(times, kelvin, **AT),
                   lambda: longest_hold(times, kelvin, 300.0)):  # fmt: skip
        with pytest.raises(InputError, match=told):
            refuse()


def test_a_z_of_zero_is_refused():
    with pytest.raises(OutOfRangeError, match="above zero"):
        lethality([0, 1], [300.0, 300.0], reference_temperature=300.0, z_value=0.0)
    with pytest.raises(OutOfRangeError, match="two or more temperatures"):
        z_fitted([300.0, 300.0], [1.0, 2.0])


def test_a_touch_is_a_hold_of_no_time_and_a_miss_is_less():
    course = ([0, 60, 120], [330.0, 336.0, 330.0])
    assert longest_hold(*course, 336.0) == 0.0
    assert longest_hold(*course, 336.01) == -1.0
    assert stretches_at_or_above(*course, 400.0).begins.size == 0


def test_holds_at_the_ends_of_a_course_count():
    assert longest_hold([0, 60, 120], [340.0, 330.0, 340.0], 330.0) == 120.0
    assert longest_hold([0, 60, 120], [340.0, 330.0, 340.0], 335.0) == 30.0
    assert longest_hold([5.0], [340.0], 330.0) == 0.0


def test_the_highest_level_held():
    course = ([0, 60, 120], [330.0, 336.0, 330.0])
    assert highest_held(*course, 0.0) == 336.0
    assert highest_held(*course, 60.0) == pytest.approx(333.0, abs=1e-5)
    assert highest_held(*course, 120.0) == pytest.approx(330.0, abs=1e-5)
    assert highest_held(*course, 121.0) == -np.inf


def test_a_fall_needs_something_after_it():
    assert np.isnan(first_fall_below([0, 60], [340.0, 335.0], 335.0))
    assert first_fall_below([0, 60], [340.0, 330.0], 335.0) == 30.0
    assert first_fall_below([0, 60, 120, 180], [340.0, 330.0, 340.0, 330.0], 335.0,
                            since=60.0) == 150.0  # fmt: skip
    assert np.isnan(first_fall_below([0, 60], [300.0, 310.0], 335.0))


def test_arriving_is_being_at_the_level_or_below():
    assert last_time_above([0, 60], [288.15, 278.15], 278.15) == 60.0
    assert last_time_above([0, 60], [288.15, 278.16], 278.15) == np.inf
    assert last_time_above([0, 60], [278.15, 270.0], 278.15) == -np.inf
    assert last_time_above([0, 60, 90], [288.15, 268.15, 300.0], 278.15, until=45.0) == 30.0


def test_time_between_two_temperatures_takes_level_pieces_whole():
    assert time_within([0, 60], [300.0, 300.0], low=300.0, high=301.0) == 60.0
    assert time_within([0, 60], [300.0, 300.0], low=299.0, high=300.0) == 0.0


def test_a_long_log_of_four_probes_keeps_their_order():
    seconds = np.arange(100_000.0)
    probes = 330.0 + 8.0 * np.sin(seconds / 3000.0) + np.arange(4.0)[:, None]
    found = lethality(seconds, probes, lowest=331.0, **AT)
    holds = [longest_hold(seconds, probe, 336.0) for probe in probes]
    assert found.shape == (4,)
    assert np.all(np.diff(found) > 0)
    assert np.all(np.diff(holds) >= 0)
