"""On a phone: whole tables, fields on one line, and scaled weights taken along."""

from itertools import pairwise

import pytest
from playwright.sync_api import Page, expect

ASKED = "target=grams&readability_g=0.1&to_grams=1200"
TOPS = """rows => [...rows.querySelectorAll(':scope > .field')]
  .map(one => one.querySelector('input, select'))
  .map(one => { const box = one.getBoundingClientRect(); return [box.top, box.bottom]; })"""
CUT = "one => one.scrollWidth - one.clientWidth"


def uneven(rows):
    """Return fields that stand beside each other, but not on one line."""
    placed = sorted(tuple(round(end) for end in row) for row in rows)
    return [(one, other) for one, other in pairwise(placed) if other[0] < one[1] and other != one]


@pytest.mark.parametrize("path", [f"scale/?{ASKED}", f"scale/large/?{ASKED}0"])
def test_scaled_weights_are_whole(phone: Page, formula_id: dict[str, int], path: str) -> None:
    phone.goto(f"/formulas/{formula_id['formula']}/{path}")
    tables = phone.locator(".scroll:has(.stacked)")
    assert tables.count() >= 1
    assert [one.evaluate(CUT) for one in tables.all()] == [0] * tables.count()
    expect(tables.first.locator("td[data-head='Share']").first).to_be_visible()


def test_doses_of_another_lot_are_whole(phone: Page, formula_id: dict[str, int]) -> None:
    phone.goto(f"/formulas/{formula_id['formula']}/card/?strength_kappa_carrageenan=0.85")
    doses = phone.locator(".doses")
    assert doses.count() == 1
    assert doses.evaluate(CUT) == 0
    width = phone.evaluate("document.documentElement.clientWidth")
    assert all(
        box["x"] >= 0 and box["x"] + box["width"] <= width
        for box in (one.bounding_box() for one in doses.locator("dd").all())
    )


@pytest.mark.parametrize("screen", ["phone", "tablet"])
def test_fields_beside_each_other_stand_on_one_line(
    screen: str, request: pytest.FixtureRequest, formula_id: dict[str, int]
) -> None:
    page: Page = request.getfixturevalue(screen)
    for path in ("process/", f"scale/large/?{ASKED}", "card/?batch=900"):
        page.goto(f"/formulas/{formula_id['formula']}/{path}")
        groups = [one for one in page.locator(".even").all() if one.is_visible()]
        assert groups
        assert [uneven(one.evaluate(TOPS)) for one in groups] == [[]] * len(groups)


def test_scaled_weights_are_taken_to_the_sheet_and_back(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(f"/formulas/{formula_id['formula']}/scale/")
    tablet.get_by_label("Portions", exact=True).first.check()
    tablet.get_by_label("Portions", exact=True).last.fill("12")
    tablet.get_by_label("Weight of one, g").fill("90")
    tablet.get_by_role("link", name="Bench sheet of this batch").click()
    expect(tablet.locator(".bench-sheet")).to_contain_text("12 portions of 90 g")
    expect(tablet.locator(".bench-sheet")).to_contain_text("scaled from")
    tablet.get_by_role("link", name="Back to Scale").click()
    expect(tablet.get_by_label("Weight of one, g")).to_have_value("90")
    tablet.get_by_role("link", name="Card of this batch").click()
    expect(tablet.locator("article.card")).to_contain_text("12 portions of 90 g")
