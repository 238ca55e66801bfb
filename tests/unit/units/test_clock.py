"""Times of the day."""

import pytest

from setwell.errors import InputError
from setwell.units import clock_parse


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("18:30", 1110), ("6:30 pm", 1110), ("6.30 PM", 1110), ("6:30p.m.", 1110), ("7 am", 420),
        ("12 am", 0), ("12:15 pm", 735), ("0:05", 5), ("23:59", 1439), ("9", 540), ("18h30", 1110),
    ],
)  # fmt: skip
def test_a_time_is_minutes_after_midnight(text, minutes):
    assert clock_parse(text) == minutes


@pytest.mark.parametrize(
    "text", ["", "late", "24:00", "12:60", "13 pm", "0 am", "6:3", "-1:00", "18:30:15"]
)
def test_what_is_no_time_says_how_to_write_one(text):
    with pytest.raises(InputError, match=r"is not a time of the day.*18:30 or 6:30 pm") as caught:
        clock_parse(text, field="serve")
    assert caught.value.field == "serve"
