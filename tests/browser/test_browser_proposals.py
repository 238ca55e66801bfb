"""What meets a brief, in a real browser: single agents at once, then everything."""

import re

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.test_browser_pages import serious

# A whole search takes a few seconds; a busy machine takes longer.
PATIENCE = 60_000


def asked(page: Page, *, base: str = "900 g apple juice\n100 g sugar") -> None:
    """Write a brief with few agents, so that it is searched quickly."""
    page.goto("/briefs/new/?shelf=agar&shelf=gelatin&shelf=iota+carrageenan&shelf=xanthan+gum")
    page.fill("#id_title", "Apple slice")
    page.fill("#id_base", base)
    page.select_option("#id_texture__word", "elastic")


def shown(page: Page) -> None:
    expect(page.locator(".searching")).to_contain_text("candidates judged", timeout=PATIENCE)


class Searches:
    """The page's requests for proposals; whole searches wait until they are let go.

    A quick whole search would take the place of first results before anyone has looked at them.
    """

    def __init__(self, page: Page) -> None:
        self.stages: list[str] = []
        self._waiting: list[Route] = []
        page.route("**/briefs/proposals/", self._came)

    def _came(self, route: Route) -> None:
        sent = (route.request.post_data or "").replace("brief_id=", "")
        is_whole = "brief=" in sent
        self.stages.append("whole" if is_whole else "form")
        if is_whole:
            self._waiting.append(route)
        else:
            route.continue_()

    def let_go(self, page: Page) -> None:
        """Send every whole search on; the page asks for one as soon as first results are in."""
        while not self._waiting:
            page.wait_for_timeout(20)
        while self._waiting:
            self._waiting.pop().continue_()


def test_single_agents_come_first_and_the_whole_answer_takes_their_place(tablet: Page) -> None:
    searches = Searches(tablet)
    asked(tablet)
    expect(tablet.locator(".searching")).to_contain_text("Judging pairs", timeout=PATIENCE)
    tablet.evaluate("window.scrollTo(0, 500)")
    searches.let_go(tablet)
    shown(tablet)
    assert tablet.evaluate("window.scrollY") == pytest.approx(500, abs=2)
    assert searches.stages[-2:] == ["form", "whole"]
    assert tablet.locator(".proposal").count() >= 2
    assert serious(tablet) == []


def test_what_is_opened_stays_open_while_the_rest_is_judged(tablet: Page) -> None:
    searches = Searches(tablet)
    asked(tablet)
    expect(tablet.locator(".searching")).to_contain_text("Judging", timeout=PATIENCE)
    searches.let_go(tablet)
    why = tablet.locator("details.why-out")
    shown(tablet)
    why.locator("summary").click()
    tablet.fill("#id_title", "Apple block")
    expect(tablet.locator(".searching")).to_contain_text("Judging", timeout=PATIENCE)
    searches.let_go(tablet)
    shown(tablet)
    assert why.evaluate("one => one.open")


def test_one_press_makes_it_a_formula_and_another_lays_out_trials(tablet: Page) -> None:
    asked(tablet)
    shown(tablet)
    tablet.get_by_role("button", name=re.compile("Lay out a first trial set")).first.click()
    expect(tablet.get_by_role("heading", level=1)).to_have_text("First trials for Apple slice")
    assert tablet.locator(".trial-table tbody tr").count() >= 7
    assert serious(tablet) == []
    tablet.get_by_role("button", name="Back to the brief").click()
    assert tablet.input_value("#id_title") == "Apple slice"
    tablet.get_by_role("button", name=re.compile("Make it a formula")).first.click()
    tablet.wait_for_url(re.compile(r"/formulas/\d+/$"))
    assert "apple juice" in tablet.locator("textarea[name=ingredients]").input_value()


def test_everything_works_without_scripts(no_scripts: Page) -> None:
    asked(no_scripts)
    no_scripts.locator(".save button[name=show]").click()
    shown(no_scripts)
    no_scripts.get_by_role("button", name=re.compile("Lay out a first trial set")).first.click()
    assert no_scripts.locator(".trial-table tbody tr").count() >= 7


def test_a_phone_shows_cards_and_drawings_without_scrolling_sideways(phone: Page) -> None:
    asked(phone)
    phone.locator(".save button[name=show]").click()
    shown(phone)
    for summary in phone.locator("#proposals details > summary").all():
        summary.click()
    wide = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert phone.evaluate(wide) <= 0
    small = phone.evaluate(
        "[...document.querySelectorAll('#proposals button')]"
        ".filter(b => b.getBoundingClientRect().height < 44).length"
    )
    assert small == 0
    assert serious(phone) == []
