from xml.etree import ElementTree as ET

import pytest

from setwell.documents.blend_categories import BlendCategory
from setwell.documents.ratio_band import (
    RatioBand,
    RatioCell,
    RatioLine,
    RatioMark,
    ratio_band_svg,
)
from setwell.errors import InputError

SHARES = tuple(n / 10 for n in range(11))
CELLS = tuple(RatioCell(share, "firm" if share < 0.45 else "soft") for share in SHARES)
KINDS = (BlendCategory("firm", "firm"), BlendCategory("soft", "soft"))
MODULUS = RatioLine("Modulus", "kPa", SHARES, tuple(10.0 + 40.0 * s * (1 - s) for s in SHARES))
STRAIN = RatioLine(
    "Strain at fracture", "", SHARES, SHARES, tuple(0.9 * s for s in SHARES),
    tuple(1.1 * s for s in SHARES),
)  # fmt: skip
MARKS = (RatioMark("best at small strain", 0.4), RatioMark("best at large strain", 0.5))


def band(**more) -> RatioBand:
    given = {"lines": (MODULUS, STRAIN), "marks": MARKS, "current": 0.3, **more}
    return RatioBand("Two agents", ("agar", "locust bean gum"), CELLS, KINDS, **given)


def found(one: RatioBand, kind: str) -> list[ET.Element]:
    root = ET.fromstring(ratio_band_svg(one))  # noqa: S314 - our own drawing
    return [e for e in root.iter() if kind in e.get("class", "").split()]


def texts(one: RatioBand, kind: str) -> list[str]:
    return [element.text for element in found(one, kind)]


def test_stretches_change_halfway_between_blends_and_carry_letters():
    first, second = (
        float(e.get("d").split("H")[1].split("V")[0]) for e in found(band(), "cell")[:2]
    )
    start = float(found(band(), "cell")[0].get("d")[1:].split()[0])
    assert (first - start) / (second - start) == pytest.approx(0.45, abs=1e-3)
    assert texts(band(), "letter") == ["A", "B"]
    assert len(found(band(), "hatched")) == 2  # the second category and its swatch


def test_each_line_has_a_panel_with_its_span_in_words():
    assert texts(band(), "reading") == ["Modulus: 10–20 kPa", "Strain at fracture: 0–1"]
    assert len(found(band(), "line")) == 2
    assert len(found(band(), "range")) == 1


def test_a_line_is_drawn_from_zero_to_its_highest_value():
    (line,) = found(band(lines=(MODULUS,)), "line-1")
    (grid,) = found(band(lines=(MODULUS,)), "grid")
    ys = [float(p.split()[1]) for p in line.get("d")[1:].split("L")]
    zero = float(grid.get("d").split()[1].split("H")[0])
    # 10 at the ends and 20 in the middle.
    assert (zero - ys[0]) / (zero - min(ys)) == pytest.approx(0.5, abs=0.01)


def test_marks_say_their_ratio_and_the_current_one_is_solid():
    assert texts(band(), "note") == ["best at small strain 60:40", "best at large strain 50:50"]
    assert "this formula 70:30" in texts(band(), "name")
    assert [e.get("stroke-dasharray") for e in found(band(), "mark")] == ["3 4", "3 4", None]
    assert not found(band(current=None), "mark-now")


def test_the_ends_name_both_agents():
    assert texts(band(current=None), "name") == ["100 % agar", "100 % locust bean gum"]
    assert texts(band(), "tick") == ["100:0", "75:25", "50:50", "25:75", "0:100"]


def test_a_reader_hears_the_stretches_and_the_most_of_each_line():
    text = ratio_band_svg(band())
    assert "firm: 0 % to 45 % locust bean gum." in text
    assert "Modulus: 10 to 10 kPa, most 20 at 50 % locust bean gum." in text
    assert "Strain at fracture: 0 to 1, most 1 at 100 %" in text
    assert "style=" not in text


def test_missing_values_leave_the_line_out_without_a_fault():
    nan = float("nan")
    one = band(lines=(RatioLine("Strain", "", (0.0, 1.0), (nan, nan)),))
    assert texts(one, "reading") == ["Strain: cannot tell"]
    assert not found(one, "line")


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: band(current=1.5), "share 1.5 of locust bean gum"),
        (lambda: RatioLine("l", "", (0.0,), (1.0, 2.0)), "1 shares and 2 values"),
        (lambda: RatioLine("l", "", (0.0,), (1.0,), (1.0,)), "only one side"),
    ],
)
def test_a_band_that_cannot_be_drawn_is_refused(make, said):
    with pytest.raises(InputError, match=said):
        make()
