import math
from xml.etree import ElementTree as ET

import pytest

from setwell.documents.outcome_strip import (
    OutcomeStrip,
    outcome_said,
    outcome_strip_svg,
    outcome_table,
)
from setwell.errors import InputError

SVG = "{http://www.w3.org/2000/svg}"
FIVE = ((0.05, 2.0), (0.25, 4.0), (0.5, 5.0), (0.75, 6.0), (0.95, 10.0))


def chart(quantiles=FIVE, **more) -> OutcomeStrip:
    return OutcomeStrip("Stiffness", "Stiffness", "kPa", quantiles, **more)


def found(one: OutcomeStrip, kind: str, tag: str = "rect") -> list[ET.Element]:
    root = ET.fromstring(outcome_strip_svg(one))  # noqa: S314 - our own drawing
    return [e for e in root.iter(f"{SVG}{tag}") if e.get("class") == kind]


def widths(one: OutcomeStrip, kind: str) -> list[float]:
    return [float(e.get("width")) for e in found(one, kind)]


def test_bars_are_as_long_as_their_ranges_and_the_inner_one_is_taller():
    outer, inner = found(chart(), "inside")
    long, short = widths(chart(), "inside")
    assert long == pytest.approx(4 * short, rel=0.01)
    assert float(inner.get("height")) > float(outer.get("height"))
    (half,) = found(chart(), "half", "path")
    x = float(half.get("d")[1:].split()[0])
    assert float(inner.get("x")) < x < float(inner.get("x")) + short


def test_the_window_cuts_the_bars():
    one = chart(low=4.0, high=8.0)
    # Of the 8 kPa of the long bar, 4 lie in the window; of the short one all.
    inside, outside = widths(one, "inside"), widths(one, "outside")
    assert inside[0] == pytest.approx(sum(outside), rel=0.01)
    assert len(inside) == 2


@pytest.mark.parametrize(("low", "high"), [(20.0, 30.0), (None, 1.0), (20.0, None)])
def test_a_window_beyond_all_batches_leaves_them_outside(low, high):
    one = chart(low=low, high=high)
    assert found(one, "inside") == []
    assert len(found(one, "window")) == 1


def test_without_a_window_all_is_inside():
    assert found(chart(), "outside") == []
    assert found(chart(), "window") == []


def test_a_reader_hears_where_the_batches_lie():
    assert outcome_said(chart(low=4.0)) == (
        "Stiffness: 90 of 100 batches 2 to 10 kPa; 50 of 100 batches 4 to 6 kPa; half of the "
        "batches below 5 kPa. Wanted: 4 kPa or more."
    )


def test_the_table_has_the_same_numbers():
    rows = outcome_table(chart(low=4.0, high=8.0)).rows
    assert rows[0] == ("5 of 100", "2 kPa or less")
    assert rows[-1] == ("wanted", "4 to 8 kPa")


def test_batches_without_a_number_are_left_out_and_none_at_all_is_said():
    assert len(found(chart((*FIVE, (0.99, math.inf))), "inside")) > 0
    nothing = chart(((0.5, math.nan),))
    assert "No batch has" in outcome_strip_svg(nothing)
    assert "No batch has" in outcome_said(nothing)
    assert outcome_table(nothing).rows == ()


def test_all_batches_alike_still_show():
    assert len(found(chart(tuple((share, 5.0) for share, _ in FIVE)), "inside")) == 2


def test_values_over_decades_get_an_axis_of_ratios():
    wide = chart(((0.05, 1.0), (0.25, 10.0), (0.5, 100.0), (0.75, 1000.0), (0.95, 10000.0)))
    long, short = widths(wide, "inside")
    assert long == pytest.approx(2 * short, rel=0.01)


def test_a_window_without_room_is_refused():
    with pytest.raises(InputError, match="no room"):
        chart(low=5.0, high=5.0)


def test_words_are_escaped():
    text = outcome_strip_svg(OutcomeStrip("<b>", "<i>", "", FIVE, typical=3.0))
    assert "<b>" not in text
    assert "<i>" not in text
    assert "as written" in text
