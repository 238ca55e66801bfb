from xml.etree import ElementTree as ET

import pytest

from setwell.documents.temperature_strip import (
    StripBar,
    StripRow,
    TemperatureStrip,
    temperature_strip_svg,
    temperature_strip_table,
)
from setwell.errors import InputError

AGAR = StripRow(
    "Agar",
    (
        StripBar("hydrates", 85.0, 90.0, 95.0),
        StripBar("sets", 32.0, 36.0, 40.0),
        StripBar("melts", 82.0, 86.0, 92.0),
        StripBar("practice", None, 38.0, None),
    ),
)


def strip(*rows: StripRow, serving: float | None = 12.0) -> TemperatureStrip:
    return TemperatureStrip("Temperatures", rows or (AGAR,), serving)


def found(one: TemperatureStrip, kind: str) -> list[ET.Element]:
    root = ET.fromstring(temperature_strip_svg(one))  # noqa: S314 - our own drawing
    return [e for e in root.iter() if kind in e.get("class", "").split()]


def texts(one: TemperatureStrip, kind: str) -> list[str]:
    return [element.text for element in found(one, kind)]


def test_the_axis_has_celsius_with_fahrenheit_beneath():
    ticks = found(strip(), "tick")
    heights = {tick.text: float(tick.get("y")) for tick in ticks}
    assert heights["°F"] > heights["°C"]
    assert [t.text for t in ticks if float(t.get("y")) == heights["°C"]] == [
        "0", "20", "40", "60", "80", "100", "°C",
    ]  # fmt: skip
    assert [t.text for t in ticks if float(t.get("y")) == heights["°F"]] == [
        "32", "68", "104", "140", "176", "212", "°F",
    ]  # fmt: skip


def test_bars_lie_where_their_temperatures_say():
    (bar,) = found(strip(), "bar-sets")
    start, width = float(bar.get("x")), float(bar.get("width"))
    places = {tick.text: float(tick.get("x")) for tick in found(strip(), "tick")}
    degree = (places["100"] - places["0"]) / 100.0
    assert start == pytest.approx(places["0"] + 32.0 * degree, abs=0.2)
    assert width == pytest.approx(8.0 * degree, abs=0.2)


def test_kinds_differ_by_shape_and_say_their_name():
    (melts,), (hydrates,) = found(strip(), "bar-melts"), found(strip(), "bar-hydrates")
    assert melts.get("stroke-dasharray")
    assert not hydrates.get("stroke-dasharray")
    assert found(strip(), "tip-practice")[0].get("d").endswith("Z")
    assert "sets 36 (32–40) °C" in texts(strip(), "reading")
    assert "usual practice 38 °C" in texts(strip(), "reading")


def test_marks_of_mouth_fridge_and_serving_stand_in_both_scales():
    assert texts(strip(), "note") == ["fridge 4 °C (39 °F)", "mouth 35 °C (95 °F)"]
    assert texts(strip(), "reading")[0] == "served 12 °C (54 °F)"
    dashes = [mark.get("stroke-dasharray") for mark in found(strip(), "mark")]
    assert dashes.count(None) == 1
    assert not [t for t in texts(strip(serving=None), "reading") if t.startswith("served")]


def test_words_never_leave_the_drawing():
    rows = [
        StripRow("r", (StripBar("hydrates", low, low + 5, low + 60),)) for low in range(0, 45, 5)
    ]
    rows.append(StripRow("r", (StripBar("practice", 100.0, 101.0, 104.0),)))
    for text in found(strip(*rows), "reading")[1:]:
        x, width = float(text.get("x")), 9.8 * len(text.text)
        left = x - width if text.get("text-anchor") == "end" else x
        assert left >= 0.0
        assert left + width <= 480.0


def test_a_temperature_beyond_the_ends_moves_them():
    hot = StripRow("Gellan", (StripBar("melts", 90.0, 120.0, 140.0),))
    assert "120" in texts(strip(hot), "tick")
    cold = StripRow("Ice", (StripBar("practice", None, -18.0, None),))
    assert "-20" in texts(strip(cold), "tick")


def test_the_table_has_every_bar_and_mark_in_both_scales():
    table = temperature_strip_table(strip())
    assert table.rows[1] == (
        "Agar", "sets", "36 °C (97 °F)", "32 °C (90 °F) to 40 °C (104 °F)",
    )  # fmt: skip
    assert table.rows[3][3] == ""
    assert [row[1] for row in table.rows[4:]] == ["fridge", "served", "mouth"]
    assert {len(row) for row in table.rows} == {len(table.header)}


def test_words_are_escaped_and_nothing_breaks_the_policy():
    text = temperature_strip_svg(strip(StripRow("<b>&", AGAR.bars)))
    assert "<b>" not in text
    assert "style=" not in text


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: StripBar("boils", 1.0, 2.0, 3.0), "“boils” of temperature is not known"),
        (lambda: StripBar("sets", 40.0, 36.0, 45.0), "36 °C outside its range 40 to 45"),
        (lambda: StripBar("sets", None, float("nan"), None), "is not a number"),
    ],
)
def test_a_bar_that_cannot_be_drawn_is_refused(make, said):
    with pytest.raises(InputError, match=said):
        make()
