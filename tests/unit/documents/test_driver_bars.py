from xml.etree import ElementTree as ET

import pytest

from setwell.documents.driver_bars import (
    DriverBar,
    DriverBars,
    driver_bars_said,
    driver_bars_svg,
    driver_bars_table,
    share_text,
)
from setwell.errors import InputError

SVG = "{http://www.w3.org/2000/svg}"
TWO = (DriverBar("How hot it got", 0.5, 0.75), DriverBar("The scale", 0.1, 0.1))


def chart(*bars: DriverBar) -> DriverBars:
    return DriverBars("What drives it", "the spread", bars or TWO)


def drawn(one: DriverBars) -> ET.Element:
    return ET.fromstring(driver_bars_svg(one))  # noqa: S314 - our own drawing


def widths(one: DriverBars, kind: str) -> list[float]:
    # The first one is the sample in the legend.
    found = [e for e in drawn(one).iter(f"{SVG}rect") if e.get("class") == kind]
    return [float(e.get("width")) for e in found][1:]


def test_bars_are_as_long_as_their_shares():
    alone, total = widths(chart(), "alone"), widths(chart(), "total")
    assert alone[0] == pytest.approx(5 * alone[1], rel=0.01)
    assert total[0] == pytest.approx(1.5 * alone[0], rel=0.01)


def test_shares_a_little_outside_of_0_to_1_stay_in_the_drawing():
    wild = chart(DriverBar("a", -0.02, 1.04))
    assert widths(wild, "alone") == [0.0]
    assert widths(wild, "total")[0] == pytest.approx(464.0)


def test_a_reader_hears_every_share():
    assert driver_bars_said(chart()) == (
        "Share of the spread. How hot it got: 50 % by itself, 75 % with others; "
        "The scale: 10 % by itself, 10 % with others."
    )
    assert driver_bars_said(DriverBars("t", "the spread", ())) == "Nothing drives the spread."
    assert drawn(chart()).find(f"{SVG}desc").text == driver_bars_said(chart())


def test_the_table_has_the_same_numbers():
    table = driver_bars_table(chart())
    assert table.rows[0] == ("How hot it got", "50 %", "75 %")
    assert {len(row) for row in table.rows} == {len(table.header)}


def test_names_are_escaped_and_long_ones_take_more_lines():
    text = driver_bars_svg(chart(DriverBar("<b> & " + "long " * 20, 0.2, 0.4)))
    assert "<b>" not in text
    assert text.count('class="name"') > 1
    assert "style=" not in text


def test_a_small_share_is_not_nothing():
    assert [share_text(one) for one in (0.0, 0.001, 0.01)] == ["0 %", "under 1 %", "1 %"]


def test_a_share_that_is_no_number_is_refused():
    with pytest.raises(InputError, match="not a number"):
        DriverBar("x", float("nan"), 0.5)
