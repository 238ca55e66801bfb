"""Replacing an agent in a real browser: choosing computes, and the swap opens as a formula."""

from playwright.sync_api import Page


def test_choosing_an_agent_computes_and_opens_as_a_formula(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(f"/formulas/{formula_id['formula']}/substitute/")
    tablet.get_by_label("What comes instead").select_option("Agar")
    tablet.get_by_role("heading", name="Texture before and after").wait_for()
    assert "by=Agar" in tablet.url
    tablet.get_by_role("button", name="Use in a formula").click()
    tablet.wait_for_url("**/formulas/new/")
    assert "g agar" in tablet.get_by_label("Ingredients").input_value()


def test_a_mistake_is_told_at_its_field_while_typing(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(f"/formulas/{formula_id['formula']}/substitute/?by=Gelatin")
    tablet.get_by_text("Grade, lot and target").click()
    tablet.get_by_label("Bloom of the new gelatin").fill("9")
    told = tablet.locator("#problem-bloom .errorlist")
    told.wait_for()
    assert "from 30 to 400" in told.inner_text()
