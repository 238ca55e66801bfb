"""The process page while it is typed into: live answers, kept address, the plan put to use."""

import re

from playwright.sync_api import Page, expect


def test_the_answer_follows_the_form(tablet: Page, formula_id: dict[str, int]) -> None:
    tablet.goto(f"/formulas/{formula_id['formula']}/process/")
    expect(tablet.locator("#timeline-title")).to_be_visible()
    before = tablet.locator("#cooling .moments").inner_text()
    tablet.get_by_label("Cold place").select_option("Blast chiller")
    expect(tablet.locator("#cooling .moments")).not_to_have_text(before)
    assert "cooler=Blast" in tablet.url
    table = tablet.locator("details[data-keep=table-cooling]")
    table.locator("summary").click()
    tablet.get_by_label("Serve at").fill("18:30")
    expect(tablet.locator("#timeline .callout").first).to_contain_text("Start at")
    # What was opened stays open while the answer is drawn again.
    expect(table).to_have_attribute("open", "")


def test_a_problem_stands_at_its_field_while_typing(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(f"/formulas/{formula_id['formula']}/process/")
    tablet.get_by_label("Heated until the probe reads, °C").fill("hot")
    expect(tablet.locator("#problem-target")).to_contain_text("“hot” is not a number")
    tablet.get_by_label("Heated until the probe reads, °C").fill("92")
    expect(tablet.locator("#problem-target")).to_have_text("")


def test_the_plan_on_the_page_is_the_plan_that_is_used(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(f"/formulas/{formula_id['formula']}/process/")
    tablet.get_by_label("Heated until the probe reads, °C").fill("93")
    expect(tablet.locator(".plan")).to_contain_text("This is a trial")
    tablet.get_by_role("button", name=re.compile("Use this plan")).click()
    expect(tablet.get_by_text("This plan now counts for version 2.")).to_be_visible()
    expect(tablet.get_by_label("Heated until the probe reads, °C")).to_have_value("93")
    expect(tablet.locator(".plan")).to_contain_text("This plan counts for version 2")
    tablet.get_by_role("link", name="Bench sheet").click()
    expect(tablet.get_by_text("to 93 °C (199 °F)")).to_be_visible()
