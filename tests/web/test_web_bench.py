"""Computing while writing: corrections, nearest names, and input of every kind."""

import pytest

from setwell.domain.formula import INGREDIENTS_LIMIT
from setwell.services import assessment as assessments

pytestmark = pytest.mark.django_db

PREVIEW = "/formulas/preview/"


def test_the_preview_is_only_the_results(bench, sheet):
    page = bench.part(PREVIEW, sheet()).content.decode()
    assert "<html" not in page
    assert 'id="verdict-title"' in page
    assert 'id="live"' in page
    assert "<textarea" not in page


def test_the_verdict_names_the_set_temperature_in_both_scales(bench, sheet):
    page = bench.part(PREVIEW, sheet(steps="Heat to 90 °C and hold 5 min")).content.decode()
    verdict = page[: page.index("How each line was read")]
    assert "sets at" in verdict
    assert "°C" in verdict
    assert "°F" in verdict


def test_a_line_that_cannot_be_read_offers_names_that_replace_it(bench, sheet):
    text = "700 g whole milk\n4 g kapa carrageenan"
    page = bench.post("/formulas/new/", sheet(ingredients=text, compute="1")).content.decode()
    assert "Did you mean" in page
    start = page.index('name="replace" value="') + len('name="replace" value="')
    value = page[start : page.index('"', start)]
    assert value.startswith("2|kapa carrageenan|")
    posted = sheet(ingredients=text, replace=value)
    corrected = bench.post("/formulas/new/", posted).content.decode()
    assert "4 g kapa carrageenan</textarea>" not in corrected
    assert f"4 g {value.split('|')[2]}</textarea>" in corrected


def test_the_script_gets_the_corrected_text_beside_the_results(bench, sheet):
    posted = sheet(ingredients="5 g agr", replace="1|agr|agar")
    page = bench.part(PREVIEW, posted).content.decode()
    assert 'id="ingredients-field" hx-swap-oob="true"' in page
    assert "5 g agar</textarea>" in page


def test_one_line_can_be_corrected_in_place(bench, sheet):
    posted = sheet(
        line=["1", "3"],
        line_was=["700 g whole milk", "4 g kappa carrageenan"],
        line_text=["700 g whole milk", "6 g kappa carrageenan"],
        correct="3",
    )
    page = bench.post("/formulas/new/", posted).content.decode()
    assert "60 g sugar\n6 g kappa carrageenan</textarea>" in page


def test_a_line_edited_in_the_text_meanwhile_is_left_alone(bench, sheet):
    posted = sheet(
        ingredients="1 l oat drink", line=["1"], line_was=["1 l milk"], line_text=["1 l soy drink"]
    )
    page = bench.post("/formulas/new/", posted).content.decode()
    assert "1 l oat drink</textarea>" in page


@pytest.mark.parametrize(
    "pick", ["9|agr|agar", "x|agr|agar", "1|nothing|agar", "||", "1|a", "²|a|b"]
)
def test_a_pick_that_fits_no_line_changes_nothing(bench, sheet, pick):
    page = bench.part(PREVIEW, sheet(ingredients="5 g agr", replace=pick)).content.decode()
    assert "5 g agr</textarea>" in page


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("evaporation_pct", "200", "200 is not possible here: write a number from 0 to 90 %."),
        ("evaporation_pct", "1e400", "1e400 is not possible here"),
        ("evaporation_pct", "nan", "nan is not possible here"),
        ("loss_pct", "much", "“much” is not a number"),
        ("portions", "2.5", "2.5 is not a whole number"),
        ("portions", "0", "0 is not possible here: write a number from 1 to 100,000."),
        ("mold_count", "4", "Give both the number of molds and the volume of one."),
        ("mold_volume_ml", "0", "0 is not possible here: write a number above 0"),
        ("goal", "levitate", "levitate"),
        ("title", "x" * 130, "The name has 130 characters"),
        ("notes", "a\x00b", "Null characters are not allowed"),
    ],
)
def test_a_wrong_value_is_explained_and_everything_typed_is_kept(bench, sheet, field, value, said):
    answer = bench.post("/formulas/new/", sheet(**{field: value, "save": "1"}))
    page = answer.content.decode()
    assert answer.status_code == 200
    assert said in page
    assert "Please correct this first" in page
    assert "4 g kappa carrageenan" in page


def test_the_preview_explains_a_wrong_value_too(bench, sheet):
    answer = bench.part(PREVIEW, sheet(evaporation_pct="-3"))
    assert answer.status_code == 200
    assert b"-3 is not possible here" in answer.content


def test_a_decimal_comma_and_a_thousands_comma_are_told_apart(bench, sheet):
    posted = sheet(evaporation_pct="2,5", portions="1,200", save="1")
    page = bench.get(bench.post("/formulas/new/", posted).url).content.decode()
    assert 'name="evaporation_pct" value="2.5"' in page
    assert 'name="portions" value="1200"' in page


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        '" onfocus="alert(1)',
        "500 غرام حليب\n٥ جم أجار",
        "1e400 g milk\n-5 g sugar\n0 g salt",
        "🥛" * 200,
        "\n\n\n",
        "{{ secret }} {% now %}",
        "9" * 5000,
    ],
)
def test_junk_never_breaks_the_page_and_is_kept_as_text(bench, sheet, text):
    answer = bench.post("/formulas/new/", sheet(ingredients=text, compute="1"))
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "<script>alert" not in page
    assert '" onfocus="' not in page
    assert 'id="id_ingredients"' in page


def test_more_text_than_a_formula_holds_is_refused_with_the_text_kept(bench, sheet):
    text = "1 g salt\n" * (INGREDIENTS_LIMIT // 9 + 10)
    page = bench.post("/formulas/new/", sheet(ingredients=text, save="1")).content.decode()
    assert "Please correct this first" in page
    assert page.count("1 g salt") > INGREDIENTS_LIMIT // 9


def test_many_lines_stay_within_what_a_form_may_post(bench, sheet):
    text = "\n".join(["1 g salt"] * 480)
    page = bench.post("/formulas/new/", sheet(ingredients=text, compute="1")).content.decode()
    assert page.count('name="line_text"') == 400


def test_a_fault_in_computing_keeps_the_text(bench, sheet, monkeypatch, caplog):
    def broken(**_):
        raise ZeroDivisionError

    monkeypatch.setattr(assessments, "formula_assess", broken)
    answer = bench.post("/formulas/new/", sheet(compute="1"))
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "a fault on our side" in page
    assert "4 g kappa carrageenan</textarea>" in page
    assert "The assessment failed." in caplog.text


def test_every_finding_has_a_word_beside_its_color(bench, sheet):
    page = bench.part(PREVIEW, sheet(ingredients="700 g milk\n3 g mystery powder")).content.decode()
    assert 'class="finding' in page
    assert page.count('<span class="severity">') == page.count('class="finding ')


def test_unknown_values_are_at_least_and_name_the_food(bench, sheet):
    text = "500 g whole milk\n100 g coconut sugar\n4 g kappa carrageenan"
    computed = bench.part(PREVIEW, sheet(ingredients=text)).content.decode()
    assert "at least" in computed
    assert "not known for" in computed
