"""Sliders of a blend in a real browser."""

import re

from playwright.sync_api import Page, expect


def slide(page: Page, field: str, share: float) -> None:
    box = page.locator(f"input[data-slides={field}]").bounding_box()
    page.mouse.click(box["x"] + share * box["width"], box["y"] + box["height"] / 2)


def test_two_agents_share_100_parts_and_the_address_follows(tablet: Page) -> None:
    tablet.goto("/blends/")
    before = tablet.locator("#verdict-title").inner_text()
    slide(tablet, "id_part_1", 0.2)
    expect(tablet).to_have_url(re.compile(r"part_1=\d+&agent_2=.*part_2=\d+"))
    parts = [int(tablet.input_value(f"#id_part_{number}")) for number in (1, 2)]
    assert sum(parts) == 100
    assert parts[0] < 40
    expect(tablet.locator("#verdict-title")).not_to_have_text(before)


def test_a_number_moves_its_slider_and_a_wrong_one_is_told_beside_it(tablet: Page) -> None:
    tablet.goto("/blends/")
    tablet.fill("#id_dose", "1,5")
    expect(tablet.locator("input[data-slides=id_dose]")).to_have_value("1.5")
    tablet.fill("#id_dose", "70")
    expect(tablet.locator("#problem-dose")).to_contain_text("70 is not possible here")
    assert tablet.input_value("#id_dose") == "70"
    tablet.fill("#id_dose", "1")
    expect(tablet.locator("#problem-dose")).to_be_empty()


def test_an_opened_table_stays_open_while_sliding(tablet: Page) -> None:
    tablet.goto("/blends/")
    table = tablet.locator("details[data-keep=table-ratio]")
    table.locator("summary").click()
    slide(tablet, "id_dose", 0.5)
    expect(tablet).to_have_url(re.compile("dose="))
    expect(tablet.locator("details[data-keep=table-ratio]")).to_have_attribute("open", "")


def test_nothing_is_wider_than_a_phone(phone: Page) -> None:
    phone.goto("/blends/?agent_3=Konjac+gum&dose=1")
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
    expect(phone.locator(".live")).to_be_visible()
