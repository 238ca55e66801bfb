import math
import re
from xml.etree import ElementTree as ET

from setwell.documents.front_chart import FrontChart, FrontPoint, front_chart_svg, front_said

POINTS = (
    FrontPoint("1", "agar", 0.2, 0.3, "×1", is_best=True),
    FrontPoint("2", "iota <and> konjac", 0.1, 1.2, "×2", is_best=False),
)


def chart(*points: FrontPoint) -> FrontChart:
    return FrontChart("How near, at what cost", points or POINTS, "Cost of a portion, USD")


def found(one: FrontChart, kind: str) -> list[ET.Element]:
    root = ET.fromstring(front_chart_svg(one))  # noqa: S314 - our own drawing
    return [e for e in root.iter() if kind in e.get("class", "").split()]


def numbers(one: FrontChart) -> dict[str, tuple[float, float]]:
    return {
        str(e.text): (float(e.get("x", "nan")), float(e.get("y", "nan")))
        for e in found(one, "number")
    }


def test_cheaper_is_farther_left_and_nearer_to_the_wish_is_lower():
    places = numbers(chart())
    assert places["2"][0] < places["1"][0]
    assert places["1"][1] > places["2"][1]


def test_what_nothing_beats_is_filled_and_the_legend_says_so():
    discs = [e for e in found(chart(), "disc") if e.tag.endswith("circle") and e.get("r") == "13"]
    assert sorted("best" in e.get("class", "").split() for e in discs) == [False, True]
    words = [e.text for e in found(chart(), "key")]
    assert words == ["none is better in every way", "another is as good or better, as far as known"]


def test_discs_at_the_same_place_stand_apart_with_a_line_to_their_place():
    same = [FrontPoint(str(n), "agar", 0.2, 0.0, f"×{n}", is_best=False) for n in range(1, 6)]
    places = list(numbers(chart(*same)).values())
    apart = [math.dist(a, b) for n, a in enumerate(places) for b in places[:n]]
    assert min(apart) >= 26.0
    assert len(found(chart(*same), "leader")) >= 4
    # A small mark stays where each disc that moved away belongs.
    assert len(found(chart(*same), "spot")) == len(same) - 1
    assert found(chart(), "spot") == []


def test_a_cost_that_is_not_known_is_told_in_words_alone():
    one = chart(*POINTS, FrontPoint("3", "xanthan gum", None, 0.5, "×1", is_best=False))
    assert set(numbers(one)) == {"1", "2"}
    assert "3, xanthan gum: not known, off by 0.5" in front_said(one)


def test_nothing_breaks_the_policy_of_the_page_and_words_are_escaped():
    text = front_chart_svg(chart())
    assert not re.search(r"style=|href|<and>", text)


def test_a_hopeless_proposal_still_has_a_place():
    one = chart(*POINTS, FrontPoint("3", "gum", 0.1, math.inf, "×1", is_best=False))
    assert math.isfinite(numbers(one)["3"][1])
