from xml.etree import ElementTree as ET

from setwell.documents.flow_chart import Landmark
from setwell.documents.thickness_axis import (
    ThicknessAxis,
    ThicknessPoint,
    thickness_axis_svg,
    thickness_table,
)

THIN = ThicknessPoint("1", "guar gum", 40.0, 20.0, 80.0)
THICK = ThicknessPoint("2", "xanthan gum", 400.0, 200.0, 800.0)
KNOWN = (Landmark("milk", 3.0), Landmark("thin cream", 30.0), Landmark("cream", 32.0),
         Landmark("custard", 900.0), Landmark("tar", 9e7))  # fmt: skip


def chart(**fields) -> ThicknessAxis:
    return ThicknessAxis("How thick they are", (THIN, THICK), **fields)


def found(one: ThicknessAxis, kind: str) -> list[ET.Element]:
    root = ET.fromstring(thickness_axis_svg(one))  # noqa: S314 - our own drawing
    return [e for e in root.iter() if kind in e.get("class", "").split()]


def test_thicker_stands_farther_right_each_in_a_row_of_its_own():
    first, second = found(chart(), "disc")
    assert float(first.get("cx")) < float(second.get("cx"))
    assert float(first.get("cy")) < float(second.get("cy"))


def test_what_is_asked_is_marked_and_an_open_side_reaches_the_end():
    box = found(chart(asked_low=100.0, asked_high=500.0), "asked")[0]
    left, width = float(box.get("x")), float(box.get("width"))
    first, second = (float(e.get("cx")) for e in found(chart(), "disc"))
    assert first < left < second < left + width
    wider = found(chart(asked_low=100.0), "asked")[0]
    assert float(wider.get("width")) > width
    assert found(chart(), "asked") == []


def test_only_known_liquids_on_the_axis_and_apart_are_named():
    words = [e.text for e in found(chart(landmarks=KNOWN), "note")]
    assert words == ["milk", "thin cream", "custard"]


def test_the_table_has_the_same_numbers_with_their_ranges():
    table = thickness_table(chart())
    assert table.rows[0] == ("1", "guar gum", "40 (20 to 80)")
    assert table.rows[1][2] == "400 (200 to 800)"
