"""The label in a real browser."""

import re

from playwright.sync_api import Page, expect


def address(ids: dict[str, int]) -> str:
    return f"/formulas/{ids['formula']}/label/"


def test_another_market_is_shown_at_once_and_the_address_follows(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(address(formula_id))
    expect(tablet.locator("#us-title")).to_have_text("Nutrition Facts")
    tablet.select_option("#id_market", "eu")
    expect(tablet.locator("#eu-title")).to_have_text("Nutrition declaration")
    expect(tablet).to_have_url(re.compile("market=eu"))


def test_a_wrong_weight_is_told_beside_it_and_stays_as_typed(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(address(formula_id))
    tablet.fill("#id_container_g", "much")
    expect(tablet.locator("#problem-container_g")).to_contain_text("“much” is not a number")
    assert tablet.input_value("#id_container_g") == "much"
    tablet.fill("#id_container_g", "500")
    expect(tablet.locator("#problem-container_g")).to_be_empty()
    expect(tablet.locator(".us-panel .servings")).to_have_text("about 4 servings per container")


def test_a_box_beside_a_share_changes_the_list(tablet: Page, formula_id: dict[str, int]) -> None:
    tablet.goto(f"{address(formula_id)}?market=eu&emphasized=sugar")
    statement = tablet.locator(".statement .list")
    expect(statement).not_to_contain_text(re.compile(r"\d\s%"))
    tablet.locator('input[name="shares"]').first.check()
    expect(statement).to_contain_text(re.compile(r"\d\s%"))
    expect(tablet).to_have_url(re.compile("shares="))


def test_without_scripts_the_button_shows_the_label(
    no_scripts: Page, formula_id: dict[str, int]
) -> None:
    no_scripts.goto(address(formula_id))
    no_scripts.select_option("#id_market", "eu")
    no_scripts.get_by_role("button", name="Show label").click()
    expect(no_scripts.locator("#eu-title")).to_be_visible()
    assert no_scripts.locator("#id_market").input_value() == "eu"


def test_on_paper_only_the_label_stands(tablet: Page, formula_id: dict[str, int]) -> None:
    tablet.goto(f"{address(formula_id)}?container_g=500")
    tablet.emulate_media(media="print")
    expect(tablet.locator(".label-form")).to_be_hidden()
    expect(tablet.locator(".us-panel")).to_be_visible()
    expect(tablet.locator("#label")).to_contain_text("Draft, to be checked by a qualified person")
    expect(tablet.locator(".tabs")).to_be_hidden()


def test_nothing_is_wider_than_a_phone(phone: Page, formula_id: dict[str, int]) -> None:
    for asked in ("", "?market=eu&serving_g=90", "?container_g=300"):
        phone.goto(address(formula_id) + asked)
        assert phone.evaluate("document.documentElement.scrollWidth") <= 390
    expect(phone.locator(".live")).to_contain_text("Not final")


def test_a_panel_is_whole_on_a_tablet_and_its_unknowns_keep_their_size(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    path = f"/formulas/{formula_id['formula']}/label/"
    tablet.goto(f"{path}?market=eu&category=set_dessert&serving_g=90")
    panel = tablet.locator(".eu-panel .scroll")
    assert panel.evaluate("one => one.scrollWidth - one.clientWidth") == 0
    tablet.goto(path)
    size = "one => getComputedStyle(one).fontSize"
    unknown = tablet.locator(".us-panel th .unknown").first
    assert unknown.evaluate(size) == unknown.locator("..").evaluate(size)


def test_links_to_lines_are_wide_and_high_enough_for_a_finger(
    phone: Page, formula_id: dict[str, int]
) -> None:
    phone.goto(f"{address(formula_id)}?market=eu&category=set_dessert")
    links = phone.locator("#additives .at a")
    assert links.count() > 0
    for box in [one.bounding_box() for one in links.all()]:
        assert box is not None
        assert box["width"] >= 44
        assert box["height"] >= 32
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
