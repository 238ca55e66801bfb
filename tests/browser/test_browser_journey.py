"""The whole journey of a chef: write, correct, see the warning, save, scale, print the card."""

import io

import pypdf
from playwright.sync_api import Page, expect

from browser.shots import shoot

INGREDIENTS = """Base:
400 g whole milk
100 g hevy cream
Agents:
40 g sugar (with the agent, to disperse)
0.4% kappa carrageenan
"""
STEPS = "Whisk the kappa with the sugar into the cold milk\nHeat to 70 °C, stirring constantly\n"


def write(page: Page) -> None:
    page.goto("/formulas/new/")
    page.get_by_label("Name").fill("Journey Slice")
    page.get_by_label("Ingredients, one on each line").fill(INGREDIENTS)
    page.get_by_label("Steps, one on each line").fill(STEPS)
    page.get_by_label("goal", exact=False).first.select_option("slice")


def test_write_correct_save_scale_and_print(tablet: Page) -> None:
    page = tablet
    write(page)
    results = page.locator("#results")
    expect(results).to_contain_text("hevy cream")
    expect(results).to_contain_text("not hot enough")
    shoot(page, "journey-1-warnings")

    results.get_by_role("button", name="heavy cream", exact=True).click()
    expect(page.get_by_label("Ingredients, one on each line")).to_have_value(
        INGREDIENTS.replace("hevy", "heavy")
    )
    expect(results).not_to_contain_text("hevy")

    page.get_by_label("Steps, one on each line").fill(STEPS.replace("70 °C", "90 °C"))
    expect(results).not_to_contain_text("not hot enough")
    expect(results.get_by_role("heading").first).to_contain_text("Sets from about")
    shoot(page, "journey-2-corrected")

    page.get_by_role("button", name="Save version").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Journey Slice")
    expect(page.locator("body")).to_contain_text("Version 1")

    page.get_by_role("link", name="Scale").click()
    page.get_by_role("radio", name="Molds").check()
    page.locator("#id_mold_count").fill("12")
    page.get_by_label("Volume of one, mL").fill("80")
    page.get_by_label("Scale shows").select_option("1")
    page.get_by_role("button", name="Scale").click()
    expect(page.locator("main")).to_contain_text("Kappa carrageenan")
    expect(page.locator("main")).to_contain_text("finer scale")
    shoot(page, "journey-3-scaled")

    page.get_by_role("link", name="Card", exact=True).click()
    expect(page.locator("main")).to_contain_text("Journey Slice")
    shoot(page, "journey-4-card")
    with page.expect_download() as download:
        page.get_by_role("link", name="PDF A5").click()
    text = "".join(
        part.extract_text()
        for part in pypdf.PdfReader(io.BytesIO(download.value.path().read_bytes())).pages
    )
    assert "Journey Slice" in text
    assert "kappa carrageenan" in text.lower()


def test_editing_a_line_recomputes_at_once(tablet: Page) -> None:
    page = tablet
    write(page)
    results = page.locator("#results")
    expect(results).to_contain_text("hevy cream")
    text = page.get_by_label("Ingredients, one on each line")
    for grams in ("401", "402", "403", "404", "405"):
        text.fill(INGREDIENTS.replace("400 g", f"{grams} g"))
        expect(results).to_contain_text(f"{grams} g")


def test_the_journey_works_without_scripts(no_scripts: Page) -> None:
    page = no_scripts
    write(page)
    page.get_by_role("button", name="Compute").last.click()
    expect(page.locator("#results")).to_contain_text("not hot enough")
    expect(page.get_by_label("Ingredients, one on each line")).to_have_value(INGREDIENTS)
    page.locator("#results").get_by_role("button", name="heavy cream", exact=True).click()
    expect(page.get_by_label("Ingredients, one on each line")).to_have_value(
        INGREDIENTS.replace("hevy", "heavy")
    )
    page.get_by_role("button", name="Save version").click()
    expect(page.locator("body")).to_contain_text("Version 1")


def test_two_tabs_keep_both_works(tablet: Page, formula_id: dict[str, int]) -> None:
    path = f"/formulas/{formula_id['formula']}/"
    first = tablet
    first.goto(path)
    second = first.context.new_page()
    second.goto(path)
    label = "Ingredients, one on each line"
    first.get_by_label(label).fill("500 g water\n1% agar")
    first.get_by_role("button", name="Save version").click()
    expect(first.locator("body")).to_contain_text("Version 3")
    second.get_by_label(label).fill("600 g water\n1% agar")
    second.get_by_role("button", name="Save version").click()
    expect(second.locator("body")).to_contain_text("Version 4")
    second.goto(f"{path}history/")
    expect(second.locator("main")).to_contain_text("Version 3")
    expect(second.locator("main")).to_contain_text("Version 4")
    second.close()


def test_leaving_with_unsaved_typing_asks_first(tablet: Page, formula_id: dict[str, int]) -> None:
    page = tablet
    page.goto(f"/formulas/{formula_id['formula']}/")
    page.get_by_label("Ingredients, one on each line").fill("777 g water\n1% agar")
    expect(page.locator("#results")).to_contain_text("777 g")
    page.on("dialog", lambda dialog: dialog.dismiss())
    page.get_by_role("link", name="Pantry").click(no_wait_after=True)
    page.wait_for_timeout(300)
    expect(page.get_by_label("Ingredients, one on each line")).to_have_value("777 g water\n1% agar")
