from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from setwell.documents.flow_chart import (
    FlowChart,
    FlowCurve,
    Landmark,
    flow_chart_svg,
    flow_chart_table,
    landmark_table,
)
from setwell.errors import InputError

# A power law with exponent 0.5: 1000 mPa·s at 1 1/s, 100 at 100 1/s.
RATES = (0.1, 1.0, 10.0, 100.0, 1000.0)
THICK = tuple(1000.0 * rate**-0.5 for rate in RATES)
COLD = FlowCurve(
    "at 20 °C (68 °F)", RATES, THICK, tuple(v / 2 for v in THICK), tuple(v * 2 for v in THICK)
)
WARM = FlowCurve("at 60 °C (140 °F)", RATES, tuple(v / 10 for v in THICK))
KNOWN = tuple(
    Landmark(name, value)
    for name, value in (
        ("water", 1.0), ("milk", 2.0), ("whipping cream", 2.2), ("syrup", 2.4), ("ketchup", 2000.0)
    )
)  # fmt: skip


def chart(**more) -> FlowChart:
    return FlowChart("Flow", (COLD, WARM), KNOWN, **more)


def found(one: FlowChart, kind: str) -> list[ET.Element]:
    root = ET.fromstring(flow_chart_svg(one))  # noqa: S314 - our own drawing
    return [e for e in root.iter() if kind in e.get("class", "").split()]


def test_a_power_law_is_a_straight_line():
    (line,) = found(chart(), "line-1")[:1]
    points = [tuple(map(float, p.split())) for p in line.get("d")[1:].split("L")]
    steps = [(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in pairwise(points)]
    assert all(step == pytest.approx(steps[0], abs=0.2) for step in steps)


def test_curves_differ_by_line_style_and_stand_in_the_legend():
    lines = [found(chart(), f"line-{n}")[0] for n in (1, 2)]
    samples = [found(chart(), f"line-{n}")[-1] for n in (1, 2)]
    dashes = [line.get("stroke-dasharray") for line in lines]
    assert dashes[0] != dashes[1]
    assert [sample.get("stroke-dasharray") for sample in samples] == dashes
    assert [e.text for e in found(chart(), "key")] == [COLD.name, WARM.name]
    assert len(found(chart(), "range")) == 1


def test_names_of_known_liquids_do_not_overlap():
    heights = sorted(float(e.get("y")) for e in found(chart(), "note") if e.text != "50 1/s")
    assert len(heights) == 6  # whipping cream takes two lines
    assert all(b - a >= 18.0 for a, b in pairwise(heights))


def test_the_marked_rate_has_a_line_and_a_dot_on_each_curve():
    (mark,) = found(chart(), "mark")
    x = float(mark.get("d")[1:].split()[0])
    dots = found(chart(), "crossing")
    assert [float(dot.get("cx")) for dot in dots] == pytest.approx([x, x])
    assert not found(chart(mark_rate=1e6), "mark")


def test_between_points_the_curve_is_straight_in_ratios():
    value, low, high = COLD.at(50.0)
    assert value == pytest.approx(1000.0 * 50.0**-0.5)
    assert (low, high) == (pytest.approx(value / 2), pytest.approx(value * 2))
    assert COLD.at(0.01) is None


def test_the_tables_give_round_rates_and_the_known_liquids():
    table = flow_chart_table(chart())
    rows = {row[0]: row[1:] for row in table.rows}
    assert rows["1 1/s"] == ("1000 (500–2000)", "100")
    assert rows["50 1/s"] == ("141 (71–283)", "14")
    assert "0.01 1/s" not in rows
    known = landmark_table(chart())
    assert known.header[1] == "mPa·s, as reported"
    assert [row[0] for row in known.rows] == ["ketchup", "syrup", "whipping cream", "milk", "water"]


def test_a_reader_hears_the_curves_and_nothing_breaks_the_policy():
    text = flow_chart_svg(FlowChart("F", (FlowCurve("<i>", RATES, THICK),)))
    assert "<i>" not in text
    assert "style=" not in text
    said = ET.fromstring(flow_chart_svg(chart()))[1].text  # noqa: S314 - our own drawing
    assert "at 60 °C (140 °F): 316 at 0.1" in said
    assert "water: 1." in said


def test_a_chart_without_curves_still_has_its_axes():
    assert len(found(FlowChart("Empty", ()), "label")) == 2


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: FlowCurve("c", (1.0, 2.0), (1.0,)), "2 shear rates and 1 viscosities"),
        (lambda: FlowCurve("c", (1.0,), (0.0,)), "“c” holds 0"),
        (lambda: FlowCurve("c", (2.0, 1.0), (1.0, 1.0)), "do not rise"),
        (lambda: FlowCurve("c", (1.0,), (1.0,), (1.0,)), "only one side"),
    ],
)
def test_a_curve_that_cannot_be_drawn_is_refused(make, said):
    with pytest.raises(InputError, match=said):
        make()
