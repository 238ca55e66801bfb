import re
from xml.etree import ElementTree as ET

import pytest

from setwell.documents.ternary_chart import (
    BlendCategory,
    TernaryCell,
    TernaryChart,
    TernaryMark,
    ternary_chart_svg,
)
from setwell.documents.ternary_grid import (
    Triangle,
    boundary,
    cell_corners,
    connected,
    divisions,
    middle_cell,
)
from setwell.errors import InputError

SVG = "{http://www.w3.org/2000/svg}"
AGENTS = ("agar", "low acyl gellan", "locust bean gum")
KINDS = (BlendCategory("brittle", "brittle"), BlendCategory("soft", "soft"))


def blends(count: int) -> list[tuple[float, float, float]]:
    return [
        (i / count, j / count, (count - i - j) / count)
        for i in range(count + 1)
        for j in range(count + 1 - i)
    ]


def chart(count: int = 10, label: str = "", **more) -> TernaryChart:
    cells = tuple(
        TernaryCell(one, "brittle" if one[0] > 0.55 else "soft", label) for one in blends(count)
    )
    return TernaryChart("Blends", AGENTS, cells, KINDS, **more)


def drawn(one: TernaryChart) -> ET.Element:
    return ET.fromstring(ternary_chart_svg(one))  # noqa: S314 - our own drawing


def found(one: TernaryChart, kind: str) -> list[ET.Element]:
    return [e for e in drawn(one).iter() if kind in e.get("class", "").split()]


def area(corners) -> float:
    points = [Triangle(0.0, 0.0, 1.0).at(one) for one in corners]
    return abs(
        sum(points[n - 1][0] * y - x * points[n - 1][1] for n, (x, y) in enumerate(points)) / 2
    )


@pytest.mark.parametrize("count", [1, 4, 10, 15])
def test_the_cells_fill_the_triangle_without_gap_or_overlap(count):
    total = sum(area(cell_corners(one, count)) for one in blends(count))
    assert total == pytest.approx(3**0.5 / 4)


def test_corners_of_the_triangle_belong_to_one_agent_each():
    triangle = Triangle(100.0, 20.0, 200.0)
    assert triangle.at((1.0, 0.0, 0.0)) == pytest.approx((200.0, 20.0))
    assert triangle.at((0.0, 1.0, 0.0)) == pytest.approx((100.0, 20.0 + triangle.height))
    assert triangle.at((0.0, 0.0, 1.0)) == pytest.approx((300.0, 20.0 + triangle.height))


def test_the_outline_of_all_cells_is_the_triangle():
    cells = [cell_corners(one, 10) for one in blends(10)]
    edges = boundary(cells, 10)
    assert all(any(abs(a[n]) < 1e-9 and abs(b[n]) < 1e-9 for n in range(3)) for a, b in edges)


def test_groups_of_neighbors_are_found_and_the_letter_lies_inside():
    keys = {(4, 0, 0): "x", (3, 1, 0): "x", (0, 4, 0): "x", (0, 0, 4): "y"}
    groups = connected(keys)
    assert sorted(len(group) for group in groups) == [1, 1, 2]
    assert all(middle_cell(group) in group for group in groups)
    # Of a row and a cell wrapped in others, the wrapped one is better.
    disk = [(2, 2, 2), (3, 1, 2), (3, 2, 1), (2, 3, 1), (1, 3, 2), (1, 2, 3), (2, 1, 3)]
    assert middle_cell([*disk, (4, 0, 2), (5, 0, 1), (6, 0, 0)]) == (2, 2, 2)


def test_each_category_has_an_area_a_pattern_and_a_letter():
    one = chart()
    assert len(found(one, "category-1")) == len(found(one, "category-2")) == 2  # with the legend
    (pattern,) = drawn(one).iter(f"{SVG}pattern")
    assert {e.get("fill") for e in found(one, "hatched")} == {f"url(#{pattern.get('id')})"}
    assert sorted(e.text for e in found(one, "letter")) == ["A", "B"]
    assert [e.text for e in found(one, "key")] == ["A  brittle", "B  soft"]


def test_all_cells_of_a_category_are_drawn():
    brittle, soft = (found(chart(), f"category-{n}")[0].get("d").count("M") for n in (1, 2))
    assert (brittle, soft) == (15, 51)


def test_labels_take_the_place_of_letters_where_all_have_room():
    labelled = chart(label="12")
    assert [e.text for e in found(labelled, "reading")] == ["12"] * 66
    assert not found(labelled, "letter")
    assert not found(chart(label="12.34"), "reading")
    assert found(chart(label="12.34"), "letter")


def test_percent_rises_towards_the_corner_of_its_agent():
    ticks = found(chart(), "tick")
    left = [t for t in ticks if t.get("text-anchor") == "end"]
    heights = {t.text: float(t.get("y")) for t in left}
    assert heights["80"] < heights["20"]
    base = {t.text: float(t.get("x")) for t in ticks if t.get("text-anchor") == "middle"}
    assert base["80"] < base["20"]
    right = {t.text: float(t.get("y")) for t in ticks if t.get("text-anchor") == "start"}
    assert right["80"] > right["20"]


def test_names_stand_at_corners_and_sides():
    assert [e.text for e in found(chart(), "name")] == list(AGENTS)
    labels = [e.text for e in found(chart(), "label")]
    assert all(any(agent in label for label in labels) for agent in AGENTS)


def test_the_current_blend_is_a_star_and_marks_are_numbered():
    one = chart(current=(0.5, 0.25, 0.25), marks=(TernaryMark("firmest", (0.8, 0.1, 0.1)),))
    star = found(one, "point-this")[0]
    assert star.get("d").count("L") == 9
    (apex, left, right) = (
        tuple(map(float, p.split())) for p in found(one, "outline")[2].get("d")[1:-1].split("L")
    )
    xs = [float(p.split()[0]) for p in star.get("d")[1:-1].split("L")]
    center = 0.5 * apex[0] + 0.25 * left[0] + 0.25 * right[0]
    assert (min(xs) + max(xs)) / 2 == pytest.approx(center, abs=0.1)
    assert [e.text for e in found(one, "number")] == ["1", "1"]
    assert [e.text for e in found(one, "key")][2:] == ["this formula", "firmest"]


def test_a_reader_hears_how_much_each_category_takes():
    text = ternary_chart_svg(chart(current=(0.5, 0.25, 0.25)))
    assert "brittle: 15 of 66 blends." in text
    assert "this formula: 50 % agar, 25 % low acyl gellan, 25 % locust bean gum." in text
    assert "style=" not in text
    assert not re.search(r"(?<!xmlns=.)https?:", text.replace("http://www.w3.org/2000/svg", ""))


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: TernaryCell((0.5, 0.5, 0.5), "soft"), "do not make a whole"),
        (lambda: TernaryMark("m", (1.2, -0.2, 0.0)), "do not make a whole"),
        (lambda: divisions([(0.3, 0.7, 0.0), (0.5, 0.5, 0.0)]), "grid of 3 even steps"),
        (
            lambda: ternary_chart_svg(
                TernaryChart("t", AGENTS, (TernaryCell((1.0, 0.0, 0.0), "odd"),), KINDS)
            ),
            "“odd” of a blend is not known",
        ),
        (
            lambda: ternary_chart_svg(
                TernaryChart("t", AGENTS, (), tuple(BlendCategory(str(n), "n") for n in range(9)))
            ),
            "8 categories apart, not 9",
        ),
    ],
)
def test_a_triangle_that_cannot_be_drawn_is_refused(make, said):
    with pytest.raises(InputError, match=said):
        make()
