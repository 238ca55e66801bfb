"""One way to write a day on screens and on paper."""

import datetime as dt

import pytest

from setwell.units import date_print


@pytest.mark.parametrize(("day", "said"), [
    (dt.date(2026, 12, 7), "7 Dec 2026"), (dt.date(2027, 5, 31), "31 May 2027"),
    (dt.datetime(2026, 1, 1, 23, 59, tzinfo=dt.UTC), "1 Jan 2026"),
])  # fmt: skip
def test_the_month_stands_in_letters(day, said):
    assert date_print(day) == said
