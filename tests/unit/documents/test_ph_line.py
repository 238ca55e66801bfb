import re
from xml.etree import ElementTree as ET

from builders_engine import HOT, assess_of, formula_of

from setwell.documents.ph_line import PhLine, Reading, Window, description, ph_line, ph_line_svg
from setwell.engine.assess import assess
from setwell.engine.material import Span

COMPUTED = Reading("computed", 5.0, 4.5, 5.5)
MEASURED = Reading("measured", 4.2, 4.15, 4.25, is_measured=True)


def drawn(line: PhLine) -> ET.Element:
    return ET.fromstring(ph_line_svg(line))  # noqa: S314 - our own drawing


def kinds(line: PhLine) -> list[str]:
    return [element.get("class", "") for element in drawn(line).iter()]


def texts(line: PhLine) -> list[str]:
    return [element.text or "" for element in drawn(line).iter() if element.tag.endswith("text")]


def test_the_line_runs_from_two_to_nine():
    assert [t for t in texts(PhLine((COMPUTED,), (), has_casein=False)) if t.isdigit()] == [
        str(value) for value in range(2, 10)
    ]


def test_a_value_beyond_widens_the_line():
    ticks = texts(PhLine((Reading("computed", 1.4, 1.2, 1.6),), (), has_casein=False))
    assert "1" in ticks


def test_the_dot_lies_between_its_neighbors_in_proportion():
    root = drawn(PhLine((COMPUTED,), (), has_casein=False))
    (dot,) = [e for e in root.iter() if e.get("class") == "computed point"]
    (bar,) = [e for e in root.iter() if e.get("class") == "computed"]
    left, width = float(bar.get("x")), float(bar.get("width"))
    assert abs(float(dot.get("cx")) - (left + width / 2)) < 0.2


def test_measured_and_computed_differ_by_shape():
    found = kinds(PhLine((MEASURED, COMPUTED), (), has_casein=False))
    assert found.count("measured point") == 1
    assert found.count("computed point") == 1
    assert "Measured 4.20 (4.15 to 4.25)" in texts(PhLine((MEASURED,), (), has_casein=False))


def test_casein_is_marked_only_where_milk_is():
    assert "mark" in kinds(PhLine((COMPUTED,), (), has_casein=True))
    assert "mark" not in kinds(PhLine((COMPUTED,), (), has_casein=False))


def test_the_words_say_what_the_drawing_shows():
    line = PhLine((COMPUTED,), (Window("Agar", 2.5, 10.0),), has_casein=True)
    assert description(line) == (
        "Computed 5.0 (4.5 to 5.5). Agar works from 2.5 to 10. Milk protein curdles cold at 4.6."
    )


def test_names_are_escaped():
    line = PhLine((COMPUTED,), (Window("<b>&", 3.0, 5.0),), has_casein=False)
    assert "<b>" not in ph_line_svg(line)
    assert "<b>&: 3 to 5" in texts(line)


def test_a_formula_with_milk_and_agents_gives_all_of_it():
    line = ph_line(assess_of("400 g milk", "3 g kappa carrageenan", steps=HOT))
    assert line.has_casein
    assert [window.name for window in line.windows] == ["Kappa carrageenan"]
    assert [reading.label for reading in line.readings] == ["computed"]


def test_a_measured_formula_shows_both():
    found = assess(formula_of("400 g milk"), measured_ph=Span(6.6, 6.55, 6.65))
    assert [reading.label for reading in ph_line(found).readings] == ["measured", "computed"]


def test_without_water_there_is_no_line():
    assert ph_line(assess_of("100 g sugar")) is None


# A letter takes at most this much of the drawing at the largest size of the stylesheet, 18.
WIDEST, HIGH, DEEP = 11.2, 14.0, 5.0


def boxes(line: PhLine) -> list[tuple[float, float, float, float]]:
    found = []
    for label in drawn(line).iter():
        if not label.tag.endswith("text"):
            continue
        x, y, wide = float(label.get("x")), float(label.get("y")), WIDEST * len(label.text or "")
        left = x - wide / 2 if label.get("text-anchor") == "middle" else x
        found.append((left, y - HIGH, left + wide, y + DEEP))
    return found


def dashes(line: PhLine) -> list[tuple[float, float, float]]:
    marks = [e.get("d") for e in drawn(line).iter() if e.get("class") == "mark"]
    return [tuple(map(float, re.findall(r"[\d.]+", mark))) for mark in marks]


FULL = PhLine(
    (MEASURED, COMPUTED),
    (Window("Gelatin", 4.0, 10.0), Window("Low-methoxyl pectin", 2.6, 6.5)),
    has_casein=True,
)


def test_the_curdling_line_crosses_no_label():
    assert dashes(FULL)
    for x, top, bottom in dashes(FULL):
        for left, above, right, below in boxes(FULL):
            assert not (left < x < right and top < below and above < bottom)


def test_the_curdling_line_still_meets_the_scale_and_every_bar():
    places = [
        float(e.get("y")) + float(e.get("height")) / 2
        for e in drawn(FULL).iter() if e.tag.endswith("rect")
    ]  # fmt: skip
    for y in places:
        assert any(top <= y <= bottom for _, top, bottom in dashes(FULL)), y


def test_no_label_lies_on_another_or_below_the_drawing():
    found = boxes(FULL)
    for n, (left, top, right, bottom) in enumerate(found):
        for other in found[n + 1 :]:
            apart = other[0] >= right or other[2] <= left or other[1] >= bottom or other[3] <= top
            assert apart
    assert all(bottom <= float(drawn(FULL).get("viewBox").split()[3]) for *_, bottom in found)
