"""Making it large, in a real browser."""

from playwright.sync_api import Page


def test_a_phone_shows_the_formula_and_the_batch_side_by_side(
    phone: Page, formula_id: dict[str, int]
) -> None:
    path = f"/formulas/{formula_id['formula']}/scale/large/"
    phone.goto(f"{path}?target=portions&portion_count=200&portion_g=100")
    table = phone.locator(".scroll:has(.sizes)")
    assert table.locator("tbody tr").count() > 5
    assert table.evaluate("one => one.scrollWidth - one.clientWidth") == 0
