"""Writing a brief in a real browser."""

from playwright.sync_api import Page, expect


def test_a_mistake_is_told_at_its_field_while_writing(
    tablet: Page, formula_id: dict[str, int]
) -> None:
    tablet.goto(f"/briefs/{formula_id['brief']}/")
    tablet.fill("#id_serving_c", "3O")
    expect(tablet.locator("#problem-serving_c")).to_contain_text("“3O” is not a number")
    assert tablet.input_value("#id_serving_c") == "3O"
    tablet.fill("#id_serving_c", "7,5")
    expect(tablet.locator("#problem-serving_c")).to_be_empty()
    expect(tablet.locator("#id_serving_c_helptext")).to_have_text("7.5 °C (45.5 °F)")


def test_a_message_inside_a_folded_part_opens_that_part(tablet: Page) -> None:
    tablet.goto("/briefs/new/")
    part = tablet.locator("form details", has=tablet.locator("#id_texture__modulus_low"))
    # As if it had been folded away again before it was checked.
    tablet.locator("#id_texture__modulus_low").evaluate("one => { one.value = 'abc'; }")
    assert not part.evaluate("one => one.open")
    tablet.fill("#id_title", "Plum slice")
    expect(tablet.locator("#problem-texture__modulus_low")).to_contain_text("“abc” is not a number")
    expect(tablet.locator("#id_texture__modulus_low")).to_be_visible()


def test_a_version_is_asked_for_once_a_formula_is_chosen(tablet: Page) -> None:
    tablet.goto("/briefs/new/")
    expect(tablet.locator("#id_texture__like_number")).to_be_hidden()
    tablet.select_option("#id_texture__like", "Malted Milk Slice")
    expect(tablet.locator("#id_texture__like_number")).to_be_visible()


def test_only_the_chosen_way_to_tell_the_base_is_shown(tablet: Page) -> None:
    tablet.goto("/briefs/new/")
    tablet.fill("#id_base", "500 g plum juice")
    tablet.get_by_label("What it is made of").check()
    expect(tablet.locator("#id_base")).to_be_hidden()
    expect(tablet.locator("#id_composition__sugar_g")).to_be_visible()
    tablet.get_by_label("Kitchen lines").check()
    assert tablet.input_value("#id_base") == "500 g plum juice"


def test_the_shelf_is_searched_and_what_is_ticked_stays(tablet: Page) -> None:
    tablet.goto("/briefs/new/")
    tablet.locator("summary", has_text="On the shelf").click()
    boxes = tablet.locator("#shelf-boxes label")
    tablet.fill("#id_find", "gellan")
    expect(boxes).to_have_count(2)
    boxes.first.locator("input").check()
    tablet.fill("#id_find", "agar")
    expect(boxes).to_have_count(2)
    expect(tablet.locator("#shelf-boxes input:checked")).to_have_count(1)


def test_a_brief_is_written_shown_and_saved_without_scripts(no_scripts: Page) -> None:
    no_scripts.goto("/briefs/new/")
    no_scripts.fill("#id_title", "Plum slice")
    no_scripts.fill("#id_base", "500 g plum juice")
    no_scripts.fill("#id_serving_c", "none")
    no_scripts.locator(".save button[name=show]").click()
    expect(no_scripts.locator(".refused")).to_contain_text("“none” is not a number")
    assert no_scripts.input_value("#id_base") == "500 g plum juice"
    no_scripts.fill("#id_serving_c", "4")
    no_scripts.locator(".save button[name=save]").click()
    expect(no_scripts.locator(".messages")).to_contain_text("Saved as version 1.")
