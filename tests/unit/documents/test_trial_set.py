"""The sheet of a trial set: weights, blanks and predictions on paper, and blind tasters."""

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from setwell.documents.trial_set import trial_rows, trial_sheet_build
from setwell.documents.trial_set_pdf import trial_set_pdf
from setwell.documents.trial_set_text import trial_set_text
from setwell.domain.brief import brief_make
from setwell.engine.blend_formula import agent_named
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.trials import trials_around
from setwell.errors import InputError

CATALOG = catalog_build()
MILKY = "850 g milk\n100 g sugar\n50 g raspberries"


def trials(keys=("agar", "xanthan"), percents=(0.5, 0.1), lines=MILKY, title="Rose milk", **more):
    brief = brief_make(title=title, base=lines)
    base = base_read(brief, catalog=CATALOG)
    agents = tuple(agent_named(CATALOG.materials[f"agent:{key}"], CATALOG) for key in keys)
    return trials_around(base, brief, agents, percents, (("potassium chloride", 0.1),), **more)


def pages(sheet, paper="A4"):
    return PdfReader(BytesIO(trial_set_pdf(sheet, paper=paper))).pages


def squeezed(text):
    return re.sub(r"\s+", "", text)


def test_every_cup_has_its_code_its_weights_and_blanks_to_fill_in():
    found = trials()
    sheet = trial_sheet_build(found, kitchen_name="North bench")
    assert [cup.code for cup in sheet.cups] == list(found.codes)
    for cup, origin in zip(sheet.cups, found.cups, strict=True):
        shown = sum(float(one.weight.removesuffix(" g")) for one in cup.amounts)
        assert shown == pytest.approx(found.start_g, abs=0.1)
        assert cup.question == origin.question
        assert {"Load g", "pH", "Words"} <= set(cup.blanks)


def test_what_is_computed_stands_with_its_range():
    cup = trial_sheet_build(trials()).cups[0]
    told = dict(cup.expected)
    assert told["Sets"] == "yes"
    assert re.fullmatch(r"[\d.,]+ kPa \([\d.,]+–[\d.,]+ kPa\)", told["Stiffness"])
    assert "°C" in told["Sets from"]
    assert "°F" in told["Sets from"]


def test_a_low_end_next_to_nothing_is_printed_as_nothing():
    sheet = trial_sheet_build(trials(("gelatin",), (1.0,), lines="900 g apple juice\n60 g sugar"))
    printed = " ".join(text for cup in sheet.cups for _, text in cup.expected)
    assert "(0–" in printed
    assert "0.000" not in printed


def test_a_liquid_has_blanks_of_a_liquid():
    cup = trial_sheet_build(trials(("xanthan",), (0.3,))).cups[0]
    assert "Thickness" in cup.blanks
    assert "Unmolds" not in cup.blanks
    assert "Thickness" in dict(cup.expected)


def test_a_stock_is_weighed_as_a_stock_and_says_what_it_holds():
    sheet = trial_sheet_build(trials())
    stock = next(one for one in sheet.cups[0].amounts if one.name == "xanthan gum stock")
    assert stock.note == "holds 0.1 g"
    assert any("xanthan gum" in text for text in sheet.stocks)


def test_a_finer_scale_shows_its_digits():
    sheet = trial_sheet_build(trials(scale_g=0.001))
    assert [one.weight for one in sheet.cups[0].amounts if one.name == "agar"] == ["0.500 g"]


def test_the_text_holds_boxes_codes_and_cautions_within_its_width():
    sheet = trial_sheet_build(trials(), kitchen_name="North bench")
    text = trial_set_text(sheet)
    assert max(len(line) for line in text.splitlines()) <= 80
    assert "[ ]" in text
    assert "Allergens: milk" in text
    for cup in sheet.cups:
        assert f"code {cup.code}" in text
    assert all(caution.title in text for caution in sheet.cautions)
    assert "Local food code" in text


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_tasters_page_tells_codes_and_allergens_but_no_agent(paper):
    sheet = trial_sheet_build(trials(), kitchen_name="North bench")
    found = [squeezed(page.extract_text()) for page in pages(sheet, paper)]
    assert len(found) <= 4
    assert all(code in found[-1] for code in sheet.tasting)
    assert "milk" in found[-1]
    assert "agar" not in found[-1].lower()
    assert "xanthan" not in found[-1].lower()
    makers = "".join(found[:-1])
    for cup in sheet.cups:
        assert squeezed(cup.question) in makers
    for line in sheet.remarks:
        assert squeezed(line) in makers


def test_codes_for_tasters_come_in_an_order_that_tells_nothing():
    sheet = trial_sheet_build(trials())
    assert list(sheet.tasting) == sorted(cup.code for cup in sheet.cups)


def test_marks_of_a_page_language_are_printed_as_typed():
    sheet = trial_sheet_build(trials(title="Rose #strong[x] $1$"))
    text = "".join(page.extract_text() for page in pages(sheet))
    assert squeezed("#strong[x] $1$") in squeezed(text)


def test_an_unknown_paper_is_refused():
    with pytest.raises(InputError) as caught:
        trial_set_pdf(trial_sheet_build(trials()), paper="A5")
    assert caught.value.field == "paper"


def test_the_table_has_a_row_for_each_cup_and_empty_columns_for_readings():
    found = trials()
    head, *rows = trial_rows(found)
    assert len(rows) == len(found.cups)
    assert {len(row) for row in rows} == {len(head)}
    assert [row[1] for row in rows] == list(found.codes)
    assert all(cell == "" for row in rows for cell in row[-len(found.measure) :])
    column = head.index("agar g")
    doses = [float(row[column]) for row in rows]
    wanted = [cup.amounts[0].grams for cup in found.cups]
    assert doses == pytest.approx(wanted, abs=0.0051)
