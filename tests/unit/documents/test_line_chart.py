from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from setwell.documents.chart_axis import Axis, limits_around, nice_step
from setwell.documents.line_chart import (
    Band,
    LineChart,
    Mark,
    Series,
    description,
    line_chart_svg,
)
from setwell.errors import InputError

SVG = "{http://www.w3.org/2000/svg}"
FALLING = Series("late", (0.0, 10.0, 20.0), (100.0, 90.0, 80.0))


def chart(*series: Series, **more) -> LineChart:
    lines = series or (FALLING,)
    return LineChart("Strength", "Minutes", "Kept, %", lines, **more)


def drawn(one: LineChart) -> ET.Element:
    return ET.fromstring(line_chart_svg(one))  # noqa: S314 - our own drawing


def found(one: LineChart, kind: str) -> list[ET.Element]:
    return [e for e in drawn(one).iter() if kind in e.get("class", "").split()]


def texts(one: LineChart, kind: str) -> list[str]:
    return [element.text for element in found(one, kind)]


def test_a_reader_hears_title_and_description():
    root = drawn(chart())
    assert root.get("role") == "img"
    title, described = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert (title.text, title.get("id")) == ("Strength", root.get("aria-labelledby"))
    assert described.get("id") == root.get("aria-describedby")
    assert described.text == "Kept, % against Minutes. late: 100 at 0, 80 at 20."


def test_the_description_names_bands_and_marks():
    one = chart(bands=(Band(3.0, 4.0, "weak"),), marks=(Mark(5.0, "now"),))
    assert description(one).endswith("weak: 3 to 4. now: 5.")


def test_nothing_in_the_drawing_breaks_the_policy_of_the_page():
    text = line_chart_svg(chart(bands=(Band(85, 95, "b"),), marks=(Mark(5.0, "m"),)))
    assert "style=" not in text
    assert "<script" not in text
    assert "href" not in text


def test_words_are_escaped():
    one = LineChart("<b>", 'x "&"', "y<", (Series("a & <i>", (0.0, 1.0), (0.0, 1.0)),))
    text = line_chart_svg(one)
    assert "<b>" not in text
    assert "<i>" not in text
    assert drawn(one).find(f"{SVG}title").text == "<b>"
    assert texts(one, "name") == ["a & <i>"]


def test_points_lie_where_their_values_say():
    one = chart(x_limits=(0.0, 20.0), y_limits=(0.0, 100.0))
    (line,) = found(one, "line")
    points = [tuple(map(float, p.split())) for p in line.get("d")[1:].split("L")]
    (x0, y0), (x1, y1), (x2, y2) = points
    assert x1 - x0 == pytest.approx(x2 - x1)
    assert y1 - y0 == pytest.approx(y2 - y1)
    grid = [float(e.get("d").split()[1].split("H")[0]) for e in found(one, "grid")]
    assert y0 == pytest.approx(min(grid))
    # Bottom and top of the plot are 0 and 100: a tenth of it per 10 %.
    assert y1 - y0 == pytest.approx((max(grid) - min(grid)) / 10, abs=0.1)


def test_lines_differ_by_more_than_color():
    one = chart(
        Series("a", (0.0, 1.0), (0.0, 1.0)),
        Series("b", (0.0, 1.0), (0.0, 2.0), "dashed"),
        Series("c", (0.0, 1.0), (0.0, 3.0), "dotted"),
    )
    dashes = [line.get("stroke-dasharray") for line in found(one, "line")]
    assert dashes[0] is None
    assert len(set(dashes)) == 3


def test_a_range_is_closed_around_its_line():
    one = chart(Series("a", (0.0, 1.0), (5.0, 6.0), "solid", (4.0, 5.0), (7.0, 8.0)))
    (area,) = found(one, "range")
    assert area.get("d").endswith("Z")
    assert area.get("d").count("L") == 3


def test_a_missing_value_leaves_a_gap():
    nan = float("nan")
    one = chart(Series("a", (0.0, 1.0, 2.0, 3.0, 4.0), (1.0, 2.0, nan, 3.0, 4.0)))
    assert len(found(one, "line")) == 2


def test_names_at_one_height_are_moved_apart():
    one = chart(*(Series(n, (0.0, 1.0), (0.0, 1.0)) for n in ("first", "second", "third")))
    heights = [float(name.get("y")) for name in found(one, "name")]
    assert all(b - a >= 18 for a, b in pairwise(heights))


def test_a_number_stays_with_its_degrees():
    one = chart(Series("acid after cooling to 60 °C", (0.0, 1.0), (0.0, 1.0)))
    assert all(not row.startswith("°") for row in texts(one, "name"))


def test_bands_are_cut_at_the_limits_and_dropped_outside():
    one = chart(
        bands=(Band(50.0, 1000.0, "in"), Band(200.0, 300.0, "out"), Band(-5.0, 10.0, "early", "x")),
        y_limits=(0.0, 100.0),
    )
    assert texts(one, "note") == ["in", "early"]
    tall, wide = found(one, "band")
    assert float(wide.get("height")) == pytest.approx(2 * float(tall.get("height")), abs=0.2)


def test_a_mark_outside_the_limits_is_not_drawn():
    one = chart(marks=(Mark(10.0, "in"), Mark(99.0, "out"), Mark(85.0, "level", "y")))
    assert texts(one, "note") == ["in", "level"]
    assert len(found(one, "mark")) == 2


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Series("a", (0.0,), (1.0, 2.0)), "1 x values and 2 y values"),
        (lambda: Series("a", (0.0,), (1.0,), "solid", (1.0, 2.0), (1.0,)), "2 low values"),
        (lambda: Series("a", (0.0,), (1.0,), "solid", (1.0,)), "only one side"),
        (lambda: Series("a", (0.0,), (1.0,), "wavy"), "“wavy” is not known"),
    ],
)
def test_a_line_that_does_not_fit_is_refused(make, said):
    with pytest.raises(InputError, match=said):
        make()


def test_a_chart_without_points_still_has_its_axes():
    one = LineChart("Empty", "x", "y", ())
    assert texts(one, "label") == ["x", "y"]
    assert not found(one, "line")


def test_a_flat_line_has_room_above_and_below():
    low, high = limits_around([7.0, 7.0])
    assert low < 7.0 < high


def test_ticks_are_round_and_inside():
    assert Axis(0.13, 0.92, 0.0, 1.0).ticks() == (0.2, 0.4, 0.6, 0.8)
    assert nice_step(30.0, 5) == 5.0
    assert limits_around([61.0, 97.0]) == (60.0, 100.0)
