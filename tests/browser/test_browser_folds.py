"""Folded results at the bench: jumps open them, writing keeps them, paper shows them whole."""

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.django_db(transaction=True)

FOLD = "details[data-keep=composition-fold]"


@pytest.fixture
def formula(tablet: Page, formula_id: dict[str, int]) -> Page:
    tablet.goto(f"/formulas/{formula_id['formula']}/")
    return tablet


def test_a_jump_opens_the_folded_part_and_shows_its_heading(formula: Page) -> None:
    expect(formula.locator(f"{FOLD} table")).not_to_be_visible()
    formula.get_by_role("navigation", name="Results on this page").get_by_role(
        "link", name="Composition"
    ).click()
    expect(formula.locator(f"{FOLD} table")).to_be_visible()
    expect(formula.locator("#composition-title")).to_be_in_viewport()


def test_an_opened_part_stays_open_while_writing(formula: Page) -> None:
    formula.locator(f"{FOLD} > summary").click()
    formula.evaluate("document.getElementById('composition').dataset.old = '1'")
    formula.locator("#id_ingredients").press_sequentially("\n20 g sugar", delay=2)
    expect(formula.locator("#composition:not([data-old])")).to_be_visible()
    expect(formula.locator(FOLD)).to_have_attribute("open", "")


def test_what_is_folded_is_whole_on_paper(formula: Page) -> None:
    table = formula.locator(f"{FOLD} table")
    expect(table).not_to_be_visible()
    formula.emulate_media(media="print")
    box = table.bounding_box()
    assert box is not None
    assert box["height"] > 200
    expect(table).to_be_visible()


def test_the_page_is_not_endless_on_a_tablet(formula: Page) -> None:
    assert formula.evaluate("document.documentElement.scrollHeight") < 10_000
