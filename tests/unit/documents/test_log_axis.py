import math

import pytest

from setwell.documents.log_axis import LogAxis, log_limits
from setwell.errors import InputError


def test_equal_ratios_are_equal_steps():
    axis = LogAxis(0.1, 1000.0, 0.0, 400.0)
    assert [axis.at(value) for value in (0.1, 1.0, 10.0, 100.0, 1000.0)] == pytest.approx(
        [0.0, 100.0, 200.0, 300.0, 400.0]
    )


def test_the_middle_is_the_geometric_mean():
    axis = LogAxis(2.0, 50.0, 300.0, 20.0)
    assert axis.at(10.0) == pytest.approx(160.0)


def test_zero_lies_below_the_axis_and_is_not_infinite():
    axis = LogAxis(1.0, 10.0, 0.0, 100.0)
    assert -1000.0 < axis.at(0.0) < 0.0


@pytest.mark.parametrize("ends", [(0.0, 1.0), (-1.0, 1.0), (2.0, 2.0), (3.0, 1.0), (1.0, math.inf)])
def test_ends_that_cannot_be_ratios_are_refused(ends):
    with pytest.raises(InputError, match="axis of ratios"):
        LogAxis(*ends, 0.0, 1.0)


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        (0.1, 3.0, (0.1, 0.2, 0.5, 1.0, 2.0)),
        (1.0, 10000.0, (1.0, 10.0, 100.0, 1000.0, 10000.0)),
        (2.0, 6.0, (2.0, 3.0, 4.0, 5.0, 6.0)),
    ],
)
def test_ticks_are_round_for_any_number_of_decades(low, high, expected):
    assert LogAxis(low, high, 0.0, 1.0).ticks() == expected


def test_an_axis_within_two_numbers_still_has_ticks():
    ticks = LogAxis(1.2, 1.7, 0.0, 1.0).ticks()
    assert len(ticks) >= 2
    assert all(1.2 <= tick <= 1.7 for tick in ticks)


def test_limits_grow_to_round_numbers_around_far_values():
    assert log_limits([0.07, 5.5], 0.1, 3.0) == (0.05, 10.0)
    assert log_limits([0.5, math.nan, 0.0], 0.1, 3.0) == (0.1, 3.0)


def test_a_value_on_the_end_gets_room_unless_no_margin_is_wanted():
    assert log_limits([0.1], 0.1, 3.0)[0] < 0.1
    assert log_limits([0.1, 3.0], 0.1, 3.0, margin=1.0) == (0.1, 3.0)
