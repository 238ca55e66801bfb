"""The label as PDF and as text: nothing of it is lost, on every paper."""

import re
from dataclasses import replace
from io import BytesIO

import pytest
from builders_labels import HEAD, eu_panel_make, statement_make, us_panel_make
from pypdf import PdfReader

from setwell.documents.label import Label, label_build
from setwell.documents.label_pdf import label_pdf
from setwell.documents.label_text import label_text
from setwell.domain.brief import Market
from setwell.engine.labels.statement_results import Run
from setwell.errors import InputError

LABELS = {
    "us": label_build(HEAD, us_panel_make(unknown=("iron",)), statement_make(may_contain="nuts")),
    "us columns": label_build(
        HEAD, us_panel_make(columns=2, unknown=("added_sugars",)), statement_make()
    ),
    "us short": label_build(HEAD, us_panel_make(), statement_make(), is_short=True),
    "eu": label_build(HEAD, eu_panel_make(unknown=("salt",)), statement_make(Market.EU)),
}


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def reader(label: Label, paper: str = "A4") -> PdfReader:
    return PdfReader(BytesIO(label_pdf(label, paper=paper)))


def text_of(label: Label, paper: str = "A4") -> str:
    return squeezed("\n".join(page.extract_text() for page in reader(label, paper).pages))


def wanted(label: Label) -> list[str]:
    """Return every word that has to be on paper."""
    panel = label.us or label.eu
    lines = [*panel.lines, *((label.us.calories, *label.us.minerals) if label.us else ())]
    found = [panel.title, *(label.us.columns if label.us and len(label.us.columns) > 1 else ())]
    found += [line.name or line.label for line in lines]
    found += [cell.amount for line in lines for cell in line.cells if not line.name]
    found += [cell.percent for line in lines for cell in line.cells]
    found += [*label.statement.lines, *label.statement.notes, *label.allergens, *label.thresholds]
    found += [one.text for one in label.quantities] + [*label.diets, *label.notes]
    for point in (*label.blocks, *label.additives, *label.findings):
        found += [point.title, point.text, point.action, point.rule]
    return [*found, label.title, label.banner, label.state, label.deferral, label.remark]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", list(LABELS))
def test_everything_on_the_label_is_in_the_file(name, paper):
    label = LABELS[name]
    text = text_of(label, paper)
    assert [part for part in wanted(label) if squeezed(part) not in text] == []
    for figure in label.figures:
        assert squeezed(figure.value) in text


@pytest.mark.parametrize("name", list(LABELS))
def test_everything_on_the_label_is_in_the_text_within_80_columns(name):
    label = LABELS[name]
    shown = label_text(label, has_figures=True)
    assert max(map(len, shown.splitlines())) <= 80
    text = squeezed(shown)
    parts = [part for part in wanted(label) if part != label.title]
    missing = [part for part in parts if squeezed(part.rstrip(".")) not in text]
    assert missing == []
    assert shown.startswith(label.title.upper())
    assert "Before rounding" in shown
    assert "Before rounding" not in label_text(label)


def test_every_page_says_draft_version_and_page():
    pages = reader(LABELS["us columns"]).pages
    for number, page in enumerate(pages, start=1):
        text = squeezed(page.extract_text())
        assert squeezed("Draft, to be checked by a qualified person") in text
        assert squeezed("version 3 · 0123456789") in text
        assert f"page{number}of{len(pages)}" in text


def test_markup_and_long_lists_stay_text():
    runs = (Run("Ingredients: #sys.inputs, *not bold* " + "oatlet, " * 400),)
    label = label_build(
        replace(HEAD, title="Set #{1+1} <b>"), us_panel_make(), statement_make(runs=runs)
    )
    text = text_of(label)
    assert squeezed("Set #{1+1} <b>") in text
    assert squeezed("#sys.inputs, *not bold*") in text
    assert text.count("oatlet,") == 400


def test_a_script_without_glyphs_prints_boxes_and_says_so():
    label = replace(LABELS["us"], title="燕麦布丁")
    assert squeezed("Some characters cannot be printed") in text_of(label)


def test_the_same_label_is_the_same_file_and_a_strange_paper_is_refused():
    assert label_pdf(LABELS["eu"]) == label_pdf(LABELS["eu"])
    with pytest.raises(InputError, match="not a paper size for labels"):
        label_pdf(LABELS["eu"], paper="A5")
