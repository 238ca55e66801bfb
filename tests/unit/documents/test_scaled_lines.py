"""Lines of a scaled batch: no amount of the formula as written is left beside the new weight."""

import pytest
from builders_engine import formula_of

from setwell.documents.bench_sheet import bench_sheet_build
from setwell.documents.bench_sheet_pdf import bench_sheet_pdf
from setwell.documents.bench_sheet_text import bench_sheet_text
from setwell.documents.card import card_build
from setwell.documents.card_pdf import card_pdf
from setwell.documents.card_text import card_text
from setwell.documents.scaled_lines import scaled_name
from setwell.domain.pantry import Kitchen
from setwell.engine.assess import assess, bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.scaled_batch import assessment_at
from setwell.engine.scaling import scale
from setwell.engine.timeline.build import timeline

FORMULA = formula_of(
    "500 g whole milk, cold", "2 large eggs", "0.6% agar", "salt to taste", "zorg 5 g"
).revised(steps="Heat to 90 °C.\nStir in 20 g sugar.\nServe.")


def card_of(grams, step=0.1, formula=FORMULA):
    scaled = scale(formula, catalog=catalog_build(), batch_g=grams, readability_g=step)
    told = assessment_at(assess(formula), scaled)
    return card_build(told, version_label="version 1", kitchen=Kitchen(), scaled=scaled), told


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("500 g whole milk, cold", "whole milk, cold"),
        ("60 g (about 1/4 cup) sugar, sifted", "sugar, sifted"),
        ("1 1/2 cups (340 g) coconut milk", "coconut milk"),
        ("2 large eggs", "eggs, about 4 large"),
        ("3 sheets gelatin", "gelatin, about 6 sheets"),
        ("0.6% agar", "0.6% agar"),
        ("salt to 0.8%", "salt to 0.8%"),
        ("water to make 600 g", "water"),
    ],
)
def test_an_amount_as_typed_is_left_out_and_a_share_stays(typed, shown):
    assert scaled_name(typed, 2.0) == shown


def test_the_card_says_for_what_it_weighs_and_from_what():
    card, told = card_of(1207.2)
    assert card.batch_line == "For 1,207 g, scaled from 604 g"
    lines = [line for phase in card.phases for line in phase.lines]
    assert [(line.weight, line.name) for line in lines] == [
        ("1,000.0 g", "whole milk, cold"),
        ("200.0 g", "eggs, about 4 large"),
        ("7.2 g", "0.6% agar"),
        ("not read", "salt to taste"),
        ("not read", "zorg 5 g (as typed, for 604 g)"),
    ]
    assert sum(line.grams or 0 for line in told.lines) == pytest.approx(1207.2, abs=0.2)


def test_what_stays_as_typed_and_what_is_weighed_coarsely_is_told():
    card, _ = card_of(1207.2, step=1.0)
    told = {point.title: point.action for point in card.open_points}
    assert "Use a finer scale" in told["Agar, 7 g"]
    assert told["Not everything is scaled"].startswith("2 lines could not be read")
    assert "Step 2 names amounts as typed, for 604 g" in told["Amounts in the steps"]
    assert "take 2 times as much" in told["Amounts in the steps"]


def test_steps_without_amounts_need_no_remark():
    plain = FORMULA.revised(steps="Heat to 90 °C.\nHold 5 min.", ingredients="500 g milk\n2% agar")
    card, _ = card_of(1000.0, formula=plain)
    assert not any("Amounts" in point.title for point in card.open_points)


def test_the_batch_stands_on_text_sheet_and_files():
    card, told = card_of(1207.2)
    sheet = bench_sheet_build(told, card, timeline(bench_build(FORMULA)), remarks=("Too full.",))
    assert sheet.batch_line == card.batch_line
    assert sheet.open_points[0] == "Too full."
    for text in (card_text(card), bench_sheet_text(sheet)):
        assert "For 1,207 g, scaled from 604 g." in text
        assert "1,000.0 g" in text
    assert bench_sheet_pdf(sheet).startswith(b"%PDF")
    assert card_pdf(card).startswith(b"%PDF")


def test_a_card_of_the_batch_as_written_says_nothing_of_scaling():
    card = card_build(assess(FORMULA), version_label="version 1", kitchen=Kitchen())
    assert card.batch_line == ""
    assert "scaled" not in card_text(card)
