"""Times as a kitchen clock tells them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setwell.units import duration_parse, time_print, time_range_print


@pytest.mark.parametrize(
    ("minutes", "text"),
    [(0.2, "0 s"), (0.4, "30 s"), (44.6, "45 min"), (107.0, "1 h 45 min"), (726.0, "12 h"),
     (3.4, "3.5 min"), (5.2, "5 min")],
)  # fmt: skip
def test_times_are_printed_no_closer_than_they_are_known(minutes, text):
    assert time_print(minutes) == text


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [(35.0, 70.0, "35 min to 1 h 10 min"), (35.0, None, "35 min, or never"),
     (35.2, 35.3, "35 min to 36 min"), (None, None, "open"), (2.8, 3.6, "2.5 min to 4 min")],
)  # fmt: skip
def test_ranges_are_printed_with_their_open_ends(low, high, text):
    assert time_range_print(low, high) == text


@given(low=st.floats(0.6, 3000.0), width=st.floats(0.0, 3000.0))
def test_a_printed_range_is_never_narrower_than_the_range(low, width):
    high = low + width
    first, _, last = time_range_print(low, high).partition(" to ")
    assert duration_parse(first) <= low + 1e-3
    assert duration_parse(last or first) >= high - 1e-3
