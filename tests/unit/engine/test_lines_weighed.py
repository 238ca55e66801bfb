"""From a kitchen line to grams: volumes, pieces, sheets, and what to do when it cannot be."""

from math import log10

import pytest
from builders_engine import assess_of

from setwell.domain.pantry import OwnFood, Pantry, Price


def line_of(text: str):
    return assess_of(text).lines[0]


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("250 g whole milk", 250),
        ("1 kg water", 1000),
        ("1 cup whole milk", 244),  # USDA SR28, NDB 01077: one cup weighs 244 g
        ("1 lb butter", 453.59237),
        ("2 large egg yolks", 34),  # USDA SR28, NDB 01125: one large yolk weighs 17 g
        ("1 large egg white", 33),  # USDA SR28, NDB 01124
    ],
)
def test_a_line_weighs_what_it_should(text, grams):
    assert line_of(text).grams == pytest.approx(grams, rel=0.015)


def test_a_stated_weight_wins_over_the_measure():
    found = line_of("1 cup (230 g) whole milk")
    assert found.grams == 230
    assert "weight you gave" in found.assumptions[-1]


def test_an_assumed_weight_says_so():
    assert "g/mL" in " ".join(line_of("1 cup whole milk").assumptions)


def test_an_agent_by_the_spoon_is_refused():
    found = line_of("2 tsp agar")
    assert found.grams is None
    assert "weighed" in found.problem
    assert "2 tsp (4 g)" in found.problem
    assert line_of("2 tsp (4 g) agar").grams == 4


def test_a_piece_of_unknown_weight_asks_for_it():
    found = line_of("3 pieces of honey")
    assert found.grams is None
    assert "weight in parentheses" in found.problem


def test_a_food_without_density_asks_for_its_weight():
    pantry = Pantry(foods=(OwnFood(name="Koji crumble"),))
    found = assess_of("1 cup koji crumble", "20 g koji crumble", pantry=pantry)
    assert found.lines[0].grams is None
    assert "No weight per volume is known for Koji crumble" in found.lines[0].problem
    assert found.lines[1].grams == 20


def test_an_unknown_name_offers_the_nearest():
    found = line_of("100 g whole mlik")
    assert found.grams is None
    assert "not in the tables or the pantry" in found.problem
    assert "whole milk" in found.nearest
    assert len(found.nearest) <= 5


def test_a_line_without_amount_says_what_to_write():
    found = line_of("sugar")
    assert found.grams is None
    assert "amount" in found.problem.casefold()


# Food-technology sheet of 2012: grams and Bloom of one sheet.
@pytest.mark.parametrize(
    ("text", "grams", "bloom"),
    [
        ("6 sheets bronze gelatin", 19.8, 140),
        ("6 sheets silver gelatin", 15.0, 160),
        ("6 sheets gelatin, gold", 12.0, 205),
        ("6 platinum gelatin sheets", 10.2, 250),
        ("6 sheets gelatin", 12.0, 205),
        ("12 g gelatin, 180 bloom", 12.0, 180),
        ("12 g gelatin (200 g bloom)", 12.0, 200),
        ("12 g gelatin", 12.0, 225),
    ],
)
def test_gelatin_has_the_bloom_of_its_line(text, grams, bloom):
    found = assess_of("600 g water", text, steps="Bloom the gelatin\nWarm to 60 °C, stirring")
    assert found.lines[1].grams == pytest.approx(grams)
    melt = found.agents[0].melt_temperature_c.value
    # The melting line: 27 °C at 100 g Bloom and 6.67 %, 0.025 °C per g and 6 °C per tenfold dose.
    line = 27 + 0.025 * (bloom - 100) + 6 * log10(100 * grams / (600 + grams) / 6.67)
    assert melt == pytest.approx(line, abs=0.05)
    assert f"{bloom}" in " ".join(found.lines[1].assumptions)


def test_bloom_as_a_verb_is_no_strength():
    found = assess_of("600 g water", "12 g gelatin (bloom 10 min)")
    assert "225" in " ".join(found.lines[1].assumptions)


def test_grades_of_one_formula_are_both_counted_and_priced():
    pantry = Pantry(prices=(Price(material="gelatin", price_per_kg=20),))
    found = assess_of("600 g water", "6 g gelatin, 160 bloom", "6 g gelatin, 250 bloom",
                      pantry=pantry)  # fmt: skip
    assert found.agents[0].dose_pct.value == pytest.approx(100 * 12 / 612)
    assert found.agents[0].lines == (2, 3)
    assert found.cost.batch.value == pytest.approx(0.24)
