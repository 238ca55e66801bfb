"""When a course passes a temperature."""

import numpy as np
import pytest

from setwell.engine.heat.course import Course
from setwell.engine.heat.passing_times import passed_s, passing_minutes
from setwell.engine.material import Span

SECONDS = np.array([0.0, 600.0, 1200.0, 1800.0])


def falling(middle, low, high):
    return Course("core", SECONDS, np.array(middle), np.array(low), np.array(high))


def test_a_crossing_is_read_between_two_points():
    assert passed_s(SECONDS, np.array([80.0, 60.0, 40.0, 20.0]), 50.0) == pytest.approx(900.0)


def test_never_and_always():
    celsius = np.array([80.0, 60.0, 40.0, 20.0])
    assert passed_s(SECONDS, celsius, 10.0) is None
    assert passed_s(SECONDS, celsius, 90.0) == 0.0


def test_the_last_time_down_counts():
    assert passed_s(SECONDS, np.array([80.0, 40.0, 60.0, 20.0]), 50.0) == pytest.approx(1350.0)


def test_two_doubts_are_put_together_by_their_squares():
    course = falling([80, 60, 40, 20], [70, 50, 30, 10], [90, 70, 50, 30])
    middle, low, high = passing_minutes(course, Span(50.0, 40.0, 60.0))
    assert middle == pytest.approx(15.0)
    # Each doubt alone gives 10 and 20 minutes.
    assert low == pytest.approx(15.0 / (15.0 / 10.0) ** np.sqrt(2))
    assert high == pytest.approx(15.0 * (20.0 / 15.0) ** np.sqrt(2))


def test_an_end_that_never_comes_is_open():
    course = falling([80, 60, 40, 20], [70, 50, 30, 10], [90, 80, 70, 60])
    assert passing_minutes(course, Span(50.0, 50.0, 50.0))[2] is None
    course = falling([80, 70, 60, 55], [70, 50, 30, 10], [90, 80, 70, 60])
    middle, low, high = passing_minutes(course, Span(50.0, 50.0, 50.0))
    assert middle is None
    assert low == pytest.approx(10.0)
    assert high is None
