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
EVEN = tuple(float(n) for n in range(1, 101))


def chart(values=EVEN, **more) -> OutcomeStrip:
    return OutcomeStrip("Stiffness", "Stiffness", "kPa", values, **more)


def bars(one: OutcomeStrip, kind: str) -> list[ET.Element]:
    root = ET.fromstring(outcome_strip_svg(one))  # noqa: S314 - our own drawing
    return [e for e in root.iter(f"{SVG}rect") if e.get("class") == kind]


def area(found: list[ET.Element]) -> float:
    # Each bar has a gap of 1.6 to its neighbors, which belongs to it.
    return sum((float(e.get("width")) + 1.6) * float(e.get("height")) for e in found)


@pytest.mark.parametrize(("low", "high"), [(20.5, 60.5), (None, 60.5), (20.5, None)])
def test_areas_inside_and_outside_are_the_counts(low, high):
    one = chart(low=low, high=high)
    inside, outside = area(bars(one, "inside")), area(bars(one, "outside"))
    right = sum((low or 0) < value < (high or math.inf) for value in EVEN)
    assert inside / (inside + outside) == pytest.approx(right / 100, abs=0.03)


def test_without_a_window_all_is_inside():
    assert bars(chart(), "outside") == []
    assert bars(chart(), "window") == []


def test_a_window_beyond_all_batches_leaves_them_outside():
    one = chart(low=200.0, high=300.0)
    assert bars(one, "inside") == []
    assert area(bars(one, "outside")) > 0


def test_a_reader_hears_where_the_batches_lie():
    assert outcome_said(chart(low=20.5, high=60.5)) == (
        "Stiffness: half of the batches below 51 kPa, nine of ten from 6 to 96 kPa. "
        "Wanted: 20.5 to 60.5 kPa. Too low 20 %, right 40 %, too high 40 %."
    )


def test_the_table_counts_the_same():
    rows = outcome_table(chart(low=20.5, high=60.5)).rows
    assert rows[-3:] == (
        ("20 %", "too low"),
        ("40 %", "wanted: 20.5 to 60.5 kPa"),
        ("40 %", "too high"),
    )
    assert rows[2] == ("50 of 100", "51 kPa or less")


def test_batches_without_a_number_are_left_out_and_none_at_all_is_said():
    assert area(bars(chart((*EVEN, math.nan, math.inf)), "inside")) > 0
    nothing = chart((math.nan,))
    assert "No batch has" in outcome_strip_svg(nothing)
    assert "No batch has" in outcome_said(nothing)
    assert outcome_table(nothing).rows == ()


def test_all_batches_alike_are_one_bar():
    assert len(bars(chart((5.0,) * 50), "inside")) == 1


def test_values_over_decades_get_an_axis_of_ratios():
    wide = chart(tuple(10 ** (n / 50) for n in range(101)))
    widest = [float(e.get("width")) for e in bars(wide, "inside")]
    assert max(widest) == pytest.approx(min(widest), abs=0.2)
    assert "100" in outcome_strip_svg(wide)


def test_a_window_without_room_is_refused():
    with pytest.raises(InputError, match="no room"):
        chart(low=5.0, high=5.0)


def test_words_are_escaped():
    text = outcome_strip_svg(OutcomeStrip("<b>", "<i>", "", EVEN, typical=3.0))
    assert "<b>" not in text
    assert "<i>" not in text
    assert "as written" in text
