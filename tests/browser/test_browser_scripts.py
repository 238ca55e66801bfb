"""The bench with scripts, in a real browser, against the real server."""

import os
import re
import subprocess
import sys

import pytest
from playwright.sync_api import expect

START = (
    "from setwell.services.kitchen import kitchen_open; kitchen_open(load_demo=False); "
    "from setwell.web.server import serve; serve(host='127.0.0.1', port=0, open_browser=False)"
)
# Newer writing takes the place of a request on its way, and the library notes it as an error.
OVERTAKEN = ("htmx:sendAbort", "htmx:afterRequest")
TEXT = "700 g whole milk\n4 g kapa carrageenan"


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    """The address of a server with an empty kitchen."""
    environment = {**os.environ, "SETWELL_HOME": str(tmp_path_factory.mktemp("kitchen"))}
    environment["DJANGO_SETTINGS_MODULE"] = "setwell.web.settings"
    process = subprocess.Popen(
        [sys.executable, "-c", START], stdout=subprocess.PIPE, text=True, env=environment
    )
    try:
        yield re.search(r"http://\S+/", process.stdout.readline()).group()
    finally:
        process.terminate()
        process.communicate(timeout=60)


@pytest.fixture
def faults():
    """What went wrong in the browser."""
    return []


def is_fault(said):
    """Whether a line on the console is an error of ours."""
    return said.type == "error" and not said.text.startswith(OVERTAKEN)


@pytest.fixture
def page(chromium, address, faults):
    """A page that fails the test on any error or any request that leaves the machine."""
    context = chromium.new_context(viewport={"width": 1024, "height": 768})
    opened = context.new_page()
    opened.on("pageerror", lambda error: faults.append(str(error)))
    opened.on("console", lambda said: faults.append(said.text) if is_fault(said) else None)
    opened.on(
        "request",
        lambda asked: None if asked.url.startswith(address) else faults.append(asked.url),
    )
    opened.on("dialog", lambda asked: asked.accept())
    opened.goto(f"{address}formulas/new/")
    yield opened
    context.close()
    assert faults == []


def write(page, text):
    page.locator("#id_ingredients").press_sequentially(text, delay=2)


def test_results_follow_the_writing_and_the_caret_stays(page):
    write(page, "700 g whole milk\n5 g agar")
    page.get_by_role("heading", name="How each line was read").wait_for()
    page.locator("#line-2").get_by_text("Agar").first.wait_for()
    assert page.evaluate("document.activeElement.id") == "id_ingredients"
    write(page, "\n50 g sugar")
    page.locator("#line-3").wait_for()
    assert page.locator("#id_ingredients").input_value().endswith("5 g agar\n50 g sugar")
    assert page.url.endswith("/formulas/new/")


def test_a_nearest_name_replaces_the_wrong_one_in_place(page):
    write(page, TEXT)
    page.get_by_role("button", name="kappa carrageenan", exact=True).click()
    page.locator("tr:not(.problem)#line-2").wait_for()
    assert page.locator("#id_ingredients").input_value().endswith("4 g kappa carrageenan")


def test_a_line_is_corrected_in_place_with_the_enter_key(page):
    write(page, TEXT)
    field = page.locator("#line-text-2")
    field.fill("6 g agar")
    field.press("Enter")
    page.locator("tr:not(.problem)#line-2").wait_for()
    assert page.locator("#id_ingredients").input_value() == "700 g whole milk\n6 g agar"


def test_opened_parts_stay_open_while_writing(page):
    write(page, "700 g whole milk\n5 g agar")
    part = page.locator(".agent details.where")
    part.locator("summary").click()
    write(page, "\n50 g sugar")
    page.locator("#line-3").wait_for()
    assert page.locator(".agent details.where").get_attribute("open") is not None


def test_a_wrong_number_is_said_at_once_and_saving_works_after(page, address):
    write(page, "700 g whole milk\n5 g agar")
    page.get_by_text("Batch, molds, serving, diets").click()
    page.get_by_label("Evaporates, %").fill("200")
    page.locator("#results").get_by_text("200 is not possible here").wait_for()
    page.get_by_label("Evaporates, %").fill("5")
    page.locator("#verdict-title").wait_for()
    page.get_by_label("Name").fill("Milk blocks")
    page.get_by_role("button", name="Save version").click()
    page.get_by_text("Saved as version 1.").wait_for()
    assert re.fullmatch(rf"{re.escape(address)}formulas/\d+/", page.url)


def test_going_back_brings_the_typed_text_and_its_results(page, address):
    write(page, "700 g whole milk\n5 g agar")
    page.locator("#line-2").wait_for()
    page.goto(f"{address}limits/")
    page.go_back()
    page.locator("#line-2").wait_for()
    assert page.locator("#id_ingredients").input_value().endswith("5 g agar")


def test_the_same_journey_works_with_scripts_off(chromium, address):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}formulas/new/")
    page.get_by_label("Name").fill("Plain milk blocks")
    page.get_by_label("Ingredients, one on each line").fill(TEXT)
    page.get_by_label("Steps, one on each line").fill("Heat to 90 °C")
    page.get_by_role("button", name="Compute").click()
    page.locator("#line-text-2").fill("4 g kapa, sifted")
    page.get_by_role("button", name="Use").last.click()
    assert page.get_by_label("Ingredients, one on each line").input_value().endswith("kapa, sifted")
    page.locator("#line-text-2").fill(TEXT.splitlines()[1])
    page.locator("#line-text-2").press("Enter")
    page.get_by_role("button", name="kappa carrageenan", exact=True).click()
    text = page.get_by_label("Ingredients, one on each line").input_value()
    assert text == "700 g whole milk\n4 g kappa carrageenan"
    assert page.get_by_label("Steps, one on each line").input_value() == "Heat to 90 °C"
    page.get_by_role("button", name="Save version").click()
    page.get_by_text("Saved as version 1.").wait_for()
    context.close()


def test_the_look_changes_without_losing_the_text(page):
    write(page, "5 g agar")
    page.get_by_role("button", name="Dark colors").click()
    # A polled expression would need eval, which the pages forbid.
    expect(page.locator("html")).to_have_attribute("data-look", "dark")
    assert page.locator("#id_ingredients").input_value() == "5 g agar"
    page.reload()
    assert page.evaluate("document.documentElement.dataset.look") == "dark"


def test_a_server_that_is_gone_leaves_the_text_and_says_that_results_are_old(page, faults):
    write(page, "5 g agar")
    page.locator("#line-1").wait_for()
    page.route("**/formulas/preview/", lambda route: route.abort())
    write(page, "\n60 g sugar")
    page.get_by_text("the results are older than the text").wait_for()
    assert page.locator("#id_ingredients").input_value() == "5 g agar\n60 g sugar"
    page.unroute("**/formulas/preview/")
    write(page, "s")
    page.locator("#line-2").wait_for()
    assert page.locator("#stale").is_hidden()
    faults.clear()


def test_a_fault_of_the_server_is_said_in_place_of_the_results(page, faults):
    page.route("**/formulas/preview/", lambda route: route.fulfill(status=500, body="<p>Sorry</p>"))
    write(page, "5 g agar")
    page.locator("#results").get_by_text("Sorry").wait_for()
    assert page.locator("#id_ingredients").input_value() == "5 g agar"
    faults.clear()


@pytest.mark.parametrize("path", ["", "formulas/new/", "pantry/lots/", "agents/", "foods/"])
def test_no_page_scrolls_sideways_on_a_phone(page, address, path):
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(address + path)
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
