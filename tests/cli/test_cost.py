"""`setwell cost`."""

import json

import pytest

from setwell.domain.pantry import Price
from setwell.services import pantry


@pytest.fixture
def priced(db):
    for name, price in (("whole milk", 1.0), ("heavy cream", 5.0), ("sugar", 1.0)):
        pantry.price_save(id=None, document=Price(material=name, price_per_kg=price))


def test_text_tells_the_least_it_can_cost_and_what_lacks(run, priced):
    result = run("cost", "cream.txt", "--portions", "6")
    assert result.exit_code == 0, result.stderr
    # 0.40 of milk, 1.00 of cream and 0.06 of sugar.
    assert "at least 1.46 USD" in result.stdout
    assert "at least 0.24 USD (6 of" in result.stdout
    assert "No price for Kappa carrageenan, Lime juice" in " ".join(result.stderr.split())


def test_json_has_every_line(run, priced):
    result = run("cost", "cream.txt", "--json")
    sheet = json.loads(result.stdout)["cost"]["sheet"]
    assert [line["paid"] for line in sheet["lines"]] == pytest.approx([0.4, 1.0, 0.06, None, None])
    assert sheet["portions"] == 8


def test_hands_need_a_rate(run):
    result = run("cost", "cream.txt", "--labor-minutes", "30")
    assert result.exit_code == 1
    assert "no price of an hour" in result.stderr


def test_a_number_that_is_none_is_told(run):
    result = run("cost", "cream.txt", "--labor-minutes", "half")
    assert result.exit_code == 1
    assert "half" in result.stderr
