import math
import re
from xml.etree import ElementTree as ET

import pytest

from setwell.documents.label_places import box_around
from setwell.documents.log_axis import LogAxis
from setwell.documents.texture_map import (
    TextureMap,
    TexturePoint,
    TextureRegion,
    texture_map_svg,
    texture_map_table,
)
from setwell.documents.texture_point import POINT_KINDS, ellipse
from setwell.errors import InputError

REGIONS = (
    TextureRegion("brittle", "brittle", 0.1, 0.5, 20.0, 300.0),
    TextureRegion("elastic", "elastic", 0.5, 1.5, 10.0, 100.0),
)
NOW = TexturePoint("this one", 0.9, 14.0, 0.12, 0.25, 0.5, "this", "from the model")


def chart(*points: TexturePoint, regions=REGIONS) -> TextureMap:
    return TextureMap("Map of textures", points or (NOW,), regions)


def found(one: TextureMap, kind: str) -> list[ET.Element]:
    root = ET.fromstring(texture_map_svg(one))  # noqa: S314 - our own drawing
    return [e for e in root.iter() if kind in e.get("class", "").split()]


def texts(one: TextureMap, kind: str) -> list[str]:
    return [element.text for element in found(one, kind)]


def test_a_reader_hears_title_and_where_the_points_lie():
    root = ET.fromstring(texture_map_svg(chart()))  # noqa: S314 - our own drawing
    title, said = root[0], root[1]
    assert (title.text, title.get("id")) == ("Map of textures", root.get("aria-labelledby"))
    assert said.get("id") == root.get("aria-describedby")
    assert "a, this one: strain 0.9, stress 14 kPa, elastic." in said.text


def test_nothing_in_the_drawing_breaks_the_policy_of_the_page_and_words_are_escaped():
    text = texture_map_svg(chart(TexturePoint("<script>", 0.9, 14.0, kind="this")))
    assert "style=" not in text
    assert "href" not in text
    assert "<script" not in text


def test_kinds_differ_by_shape_and_stand_in_the_legend():
    points = [
        TexturePoint(kind, 0.3 + 0.3 * n, 5.0, kind=kind) for n, kind in enumerate(POINT_KINDS)
    ]
    one = chart(*points)
    assert texts(one, "key") == list(POINT_KINDS.values())
    shapes = set()
    for kind in POINT_KINDS:
        mark = found(one, f"point-{kind}")[0]
        shapes.add((mark.tag, mark.get("d", "").count("L")))
    # The open diamond and the square have four corners each; the square has upright edges.
    assert len(shapes) == len(POINT_KINDS) - 1
    assert len({found(one, f"point-{kind}")[0].get("d") for kind in POINT_KINDS}) == 5


def test_the_ellipse_reaches_two_deviations_on_each_axis():
    axis_x, axis_y = LogAxis(0.1, 10.0, 0.0, 200.0), LogAxis(1.0, 100.0, 200.0, 0.0)
    edge = ellipse(TexturePoint("p", 1.0, 10.0, 0.1, 0.3, 0.6), axis_x, axis_y)
    unit = 200.0 / math.log(100.0)
    assert max(x for x, _ in edge) - 100.0 == pytest.approx(2 * 0.1 * unit, rel=1e-6)
    assert 100.0 - min(y for _, y in edge) == pytest.approx(2 * 0.3 * unit, rel=1e-2)


def test_the_ellipse_is_turned_by_the_correlation():
    # On the edge the squared distance with the inverse covariance is 4 = 2 deviations squared.
    sd_x, sd_y, rho = 0.2, 0.4, -0.7
    axis = LogAxis(math.exp(-5.0), math.exp(5.0), -5.0, 5.0)
    for x, y in ellipse(TexturePoint("p", 1.0, 1.0, sd_x, sd_y, rho), axis, axis):
        u, v = x / sd_x, y / sd_y
        assert (u * u - 2 * rho * u * v + v * v) / (1 - rho**2) == pytest.approx(4.0)


def test_a_range_on_one_side_is_a_bar_with_ends():
    flat = chart(TexturePoint("cup", 0.8, 12.0, 0.1, 0.0, 0.0, "trial"))
    upright = chart(TexturePoint("cup", 0.8, 12.0, 0.0, 0.1, 0.0, "trial"))
    assert not found(flat, "doubt")
    assert "H" in found(flat, "bar")[0].get("d")
    assert "H" not in found(upright, "bar")[0].get("d")
    assert not found(chart(TexturePoint("cup", 0.8, 12.0, kind="trial")), "bar")


def test_an_unknown_strain_is_a_line_at_its_stress():
    one = chart(TexturePoint("probe", None, 10.0, kind="trial"), NOW)
    (level,) = found(one, "level")
    (dot, _) = found(one, "point-trial")
    y = float(re.match(r"M[\d.]+ ([\d.]+)H", level.get("d"))[1])
    corners = [float(p.split()[1]) for p in dot.get("d")[1:-1].split("L")]
    assert y == pytest.approx(sum(corners) / 4, abs=0.1)
    assert level.get("stroke-dasharray")


def test_points_outside_extend_the_limits():
    far = chart(NOW, TexturePoint("far", 0.06, 800.0))
    assert "1000" in texts(far, "tick")
    assert "1000" not in texts(chart(), "tick")


def test_thirty_points_have_letters_that_do_not_overlap():
    points = [TexturePoint(f"n{n}", 0.6 + 0.1 * (n % 6), 8.0 * 1.25 ** (n // 6)) for n in range(30)]
    letters = found(chart(*points), "letter")
    assert [letter.text for letter in letters][24:28] == ["y", "z", "aa", "ab"]
    boxes = [
        box_around(float(one.get("x")), float(one.get("y")), 9.8 * len(one.text), 18.0)
        for one in letters
    ]
    # The boxes are taller than the letters in them: a fiftieth of one is air.
    for number, box in enumerate(boxes):
        assert all(box.overlap(other) < 0.02 * box.area for other in boxes[:number])


def test_the_table_gives_ranges_regions_and_notes():
    one = chart(NOW, TexturePoint("probe", None, 8.0), TexturePoint("soft", 0.2, 1.0))
    table = texture_map_table(one)
    assert len(table.header) == len(table.rows[0]) == 7
    # Two deviations: 0.9 · exp(±0.24) and 14 · exp(±0.5).
    assert table.rows[0] == (
        "a", "this one", "this formula", "0.9 (0.71–1.1)", "14 (8.5–23)", "elastic",
        "from the model",
    )  # fmt: skip
    assert table.rows[1][3:6] == ("not known", "8", "")
    assert table.rows[2][5] == "between regions"


def test_a_map_without_points_still_has_axes_and_regions():
    one = TextureMap("Empty", (), REGIONS)
    assert texts(one, "part") == ["brittle", "elastic"]
    assert len(texts(one, "label")) == 2


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: TexturePoint("p", 0.0, 1.0), "strain of “p” is 0"),
        (lambda: TexturePoint("p", 1.0, math.nan), "stress of “p” is nan"),
        (lambda: TexturePoint("p", 1.0, 1.0, correlation=1.2), "correlation of “p” is 1.2"),
        (lambda: TexturePoint("p", 1.0, 1.0, kind="odd"), "“odd” of point is not known"),
    ],
)
def test_a_point_that_cannot_be_drawn_is_refused(make, said):
    with pytest.raises(InputError, match=said):
        make()


def test_what_is_asked_for_has_a_broken_edge_and_is_told():
    asked = TextureRegion("asked", "asked for", 0.5, math.inf, 5.0, 50.0)
    one = TextureMap("Map", (NOW,), REGIONS, asked=asked)
    (box,) = found(one, "asked")
    assert box.get("stroke-dasharray")
    assert texts(one, "wanted") == ["asked for"]
    root = ET.fromstring(texture_map_svg(one))  # noqa: S314 - our own drawing
    assert "Asked for: the part with the broken edge." in root[1].text
    assert found(chart(), "asked") == []


def test_numbers_can_stand_for_letters_in_drawing_and_table():
    one = TextureMap("Map", (NOW, NOW), REGIONS, marks=("4", "like"))
    assert texts(one, "letter") == ["4", "like"]
    table = texture_map_table(one)
    assert table.header[0] == "Number"
    assert [row[0] for row in table.rows] == ["4", "like"]
