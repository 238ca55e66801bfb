"""Other kitchens in a real browser."""

import re

from playwright.sync_api import Page, expect


def address(ids: dict[str, int]) -> str:
    return f"/formulas/{ids['formula']}/strangers/"


def test_another_kitchen_is_counted_at_once_and_the_address_follows(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(address(formula_id))
    expect(tablet.locator("#chance-title")).to_contain_text("home kitchens")
    tablet.select_option("#id_profile", "pro")
    expect(tablet.locator("#chance-title")).to_contain_text("pro kitchens")
    expect(tablet).to_have_url(re.compile("profile=pro"))


def test_a_window_without_room_is_told_beside_it_and_stays_as_typed(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(address(formula_id))
    tablet.fill("#id_high", "2")
    tablet.fill("#id_low", "9")
    expect(tablet.locator("#problem-low")).to_contain_text("Right from 9 to 2 leaves no room")
    assert tablet.input_value("#id_low") == "9"
    tablet.fill("#id_high", "90")
    expect(tablet.locator("#problem-low")).to_be_empty()
    expect(tablet.locator("#chance-title")).to_contain_text("what you want")


def test_a_change_opens_the_editor_and_saves_nothing(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(f"{address(formula_id)}?low=9")
    button = tablet.locator(".better .go button").first
    change = button.locator(".visually-hidden").inner_text().removeprefix(": ")
    button.click()
    expect(tablet.locator("#id_version_note")).to_have_value(re.compile(re.escape(change.strip())))
    tablet.goto(f"/formulas/{formula_id['formula']}/history/")
    expect(tablet.locator("main")).not_to_contain_text("version 3")


def test_nothing_is_wider_than_a_phone(phone: Page, formula_id: dict[str, int]) -> None:
    phone.goto(address(formula_id))
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
    expect(phone.locator(".live")).to_contain_text("kitchens get it")
