"""The label page, with scripts off and as its own script asks; its PDF and text."""

from html import unescape

import pytest

pytestmark = pytest.mark.django_db


@pytest.fixture
def path(saved):
    return f"/formulas/{saved().formula_id}/label/"


@pytest.fixture
def page_of(bench, path):
    def page(*, is_part=False, **asked):
        headers = {"hx-request": "true"} if is_part else {}
        answer = bench.get(path, asked, headers=headers)
        assert answer.status_code == 200
        return answer.content.decode()

    return page


def problem(page, field):
    return unescape(page[page.index(f'id="problem-{field}"') :].split("</div>")[0])


def test_the_page_shows_panel_list_and_that_it_is_a_draft(page_of):
    page = page_of()
    assert 'aria-current="page">Label</a>' in page
    assert "Draft, to be checked by a qualified person" in page
    assert ">Nutrition Facts</h3>" in page
    assert "Ingredients: milk" in page
    assert "Contains: milk." in page
    assert "What stands against final" in page


def test_the_eu_page_has_the_table_and_emphasizes(page_of):
    page = page_of(market="eu", category="set_dessert")
    assert ">Nutrition declaration</h3>" in page
    assert 'class="allergen"' in page
    assert "Nutrition Facts" not in page


def test_an_unknown_amount_stands_as_unknown(page_of):
    page = page_of(container_g="500", category="set_dessert")
    assert 'class="unknown">unknown' in page
    assert "Not final: " in page


def test_values_before_rounding_come_with_range_and_source(page_of):
    page = page_of()
    fold = page[page.index('data-keep="unrounded"') :].split('data-keep="label-items"')[0]
    assert "<summary>Values before rounding</summary>" in fold
    assert fold.count("Where from") == fold.count('class="from"') > 10
    assert "unknown in " in fold


def test_findings_on_additives_carry_rule_and_grade(page_of):
    page = page_of(market="eu", category="mini_cups")
    part = page[page.index('id="additives"') :].split("</section>")[0]
    assert "not allowed" in part
    assert "1333/2008" in part
    assert 'class="grade grade-' in part


def test_the_own_note_is_printed_as_typed_and_escaped(page_of):
    page = page_of(may_contain="<b>hazelnut</b>")
    assert "May contain: &lt;b&gt;hazelnut&lt;/b&gt;." in page
    assert "<b>hazelnut" not in page


def test_final_is_refused_at_its_field_and_the_draft_stays_in_sight(page_of):
    page = page_of(stage="final")
    assert "It cannot be final yet" in problem(page, "stage")
    assert ">Nutrition Facts</h3>" in page


def test_a_question_is_settled_by_its_box_and_stays_so(bench, saved):
    made = saved(ingredients="700 g whole milk\n60 g dark chocolate\n4 g kappa carrageenan")
    path = f"/formulas/{made.formula_id}/label/"
    page = bench.get(path).content.decode()
    box = page[page.index('name="cleared" value="') :].split('value="')[1]
    key = unescape(box.split('"')[0])
    again = bench.get(path, {"cleared": key}).content.decode()
    assert "Settled by the kitchen" in again
    assert f'value="{box.split(chr(34))[0]}" form="label-form" checked' in again


def test_the_part_has_no_form_and_the_messages_of_all_fields(page_of):
    part = page_of(is_part=True, market="eu")
    assert "<html" not in part
    assert 'id="label-form"' not in part
    assert 'id="problem-market" hx-swap-oob="true"' in part
    assert "Nutrition declaration" in part


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("market", "moon", "There is no market"),
        ("category", "moon cake", "There is no kind of food"),
        ("reference", "lots", "There is no reference amount"),
        ("serving_g", "much", "“much” is not a number"),
        ("serving_g", "-3", "-3 is not possible here"),
        ("container_g", "0", "0 is not possible here"),
        ("density", "40", "40 is not possible here"),
        ("form", "tiny", "tiny"),
        ("minor", "3", "3"),
        ("may_contain", "nuts " * 100, "This has 499 characters"),
        ("analyzed", "luck 3", "names nothing that a panel has"),
        ("species", "cod", "has no name and colon in front"),
        ("wordings", "oats", "has no name and colon in front"),
    ],
)
def test_what_is_wrong_is_told_at_its_field_and_nothing_is_lost(page_of, field, value, said):
    page = page_of(**{field: value})
    assert said in problem(page, field)
    assert said in problem(page_of(is_part=True, **{field: value}), field)
    assert "Nothing you typed was lost." in page
    assert value.strip() in page or field in {"form", "minor"}


def test_long_and_odd_input_never_breaks_the_page(page_of):
    names = (
        "market", "category", "reference", "serving_g", "container_g", "may_contain", "analyzed",
        "wordings", "species", "emphasized", "cleared", "shares", "stage",
    )  # fmt: skip
    for odd in ("x" * 5000, "\x00", "1e999", "nan", "١", "0", ":", "<script>"):
        for name in names:
            page = page_of(**{name: odd})
            assert "<script>x" not in page


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_each_paper_has_its_print_style_and_pdf(bench, path, paper):
    page = bench.get(path, {"paper": paper}).content.decode()
    assert f"css/paper-{paper}.css" in page
    answer = bench.get(f"{path}label.pdf", {"paper": paper, "market": "eu"})
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    assert 'filename="milk-blocks-label-eu-draft.pdf"' in answer["Content-Disposition"]


def test_the_label_as_text_has_the_values_before_rounding(bench, path):
    answer = bench.get(f"{path}label.txt")
    assert answer["Content-Type"].startswith("text/plain")
    assert "Before rounding" in answer.content.decode()


def test_a_file_of_what_cannot_be_is_refused_in_words(bench, path):
    for asked, said in (
        ({"paper": "napkin"}, "There is no paper “napkin”"),
        ({"market": "moon"}, "This label cannot be given as a file"),
        ({"stage": "final"}, "It cannot be final yet"),
        ({"version": "x"}, "is not the number of a version"),
    ):
        answer = bench.get(f"{path}label.pdf", asked)
        assert answer.status_code == 400
        assert said in unescape(answer.content.decode())


def test_a_version_keeps_its_number_and_a_wrong_one_is_not_found(bench, path, page_of):
    assert 'name="version" value="1"' in page_of(version="1")
    assert bench.get(path, {"version": "9"}).status_code == 404
    assert bench.get("/formulas/99/label/").status_code == 404
    assert bench.post(path).status_code == 405


def test_a_formula_with_nothing_to_weigh_is_a_draft_with_reasons(bench, saved):
    made = saved(ingredients="some luck", steps="")
    page = bench.get(f"/formulas/{made.formula_id}/label/").content.decode()
    assert "Not final" in page
    assert "some luck" in unescape(page)


def test_choices_are_kept_and_stand_there_when_the_page_is_opened_again(bench, path, page_of):
    chosen = {"market": "eu", "category": "set_dessert", "may_contain": "May contain nuts",
              "serving_g": "120,5", "cleared": ["a:b", "c:d"]}  # fmt: skip
    page = page_of(**chosen)
    assert "No choices are kept with this formula yet" in page
    assert 'value="May contain nuts"' in page
    said = bench.post(f"{path}keep/", chosen, follow=True).content.decode()
    assert "These choices are kept with version 1." in said
    page = page_of()
    assert ">Nutrition declaration</h3>" in page
    assert "May contain nuts</textarea>" in page
    assert 'value="120.5"' in page
    assert "Its published page goes by them" in page
    assert "Keep these choices" not in page
    assert "MAY CONTAIN NUTS" in bench.get(f"{path}label.txt").content.decode().upper()


def test_trying_something_else_leaves_what_was_kept(bench, path, page_of):
    bench.post(f"{path}keep/", {"market": "eu", "may_contain": "May contain nuts"})
    page = page_of(market="eu", may_contain="Nothing")
    assert "These choices differ from those kept with version 1" in page
    assert "May contain nuts</textarea>" in page_of(market="eu")
    assert "May contain nuts</textarea>" in page_of(stage="final")
    assert "May contain nuts" not in page_of(category="other")


def test_what_is_wrong_is_not_kept_and_stays_in_its_field(bench, path):
    page = bench.post(f"{path}keep/", {"market": "eu", "serving_g": "much"}).content.decode()
    assert "“much” is not a number" in page
    assert 'value="much"' in page
    assert "No choices are kept" in bench.get(path).content.decode()


def test_the_card_carries_the_note_on_traces(bench, path):
    bench.post(f"{path}keep/", {"market": "eu", "may_contain": "May contain <nuts>"})
    page = bench.get(path.replace("/label/", "/card/")).content.decode()
    assert "May contain &lt;nuts&gt;.</strong>" in page
