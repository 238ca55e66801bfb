"""The page that makes a formula large."""

import csv
import io
import math

import pytest

from setwell.domain.pantry import Price, Vessel
from setwell.services import pantry

pytestmark = pytest.mark.django_db

STEPS = "Mix powder and sugar\nHeat to 90 °C and hold 2 min\nPour into molds\nChill at 4 °C"
CROWD = {"target": "portions", "portion_count": "200", "portion_g": "100"}


@pytest.fixture
def page(saved):
    return f"/formulas/{saved(steps=STEPS, goal='slice').formula_id}/scale/large/"


@pytest.fixture
def pot(db):
    document = Vessel(name="Stock pot", volume_ml=12_000, diameter_mm=260)
    pantry.vessel_save(id=None, document=document)


def test_an_empty_page_asks_for_a_size(bench, page):
    text = bench.get(page).content.decode()
    assert "Compute" in text
    assert "What changes" not in text


def test_a_crowd_is_divided_heated_cooled_and_bought_for(bench, page, pot):
    pantry.price_save(id=None, document=Price(material="sugar", pack_g=1000, pack_price=2))
    text = bench.get(page, CROWD).content.decode().replace("\xa0", " ")
    assert "200 portions of 100 g: 2 batches in Stock pot" in text
    assert "each of 2 batches" in text
    assert "What changes with the size" in text
    assert "One premix for all batches" in text
    assert "No price is known for Milk, whole 3.25%, Kappa carrageenan" in text
    assert "Safety of one batch" in text


def test_without_a_pot_no_heat_is_made_up(bench, page):
    text = bench.get(page, CROWD).content.decode()
    assert "No pot with a diameter is in the pantry" in text
    assert "no vessel known" in text


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ({"portion_count": "0"}, "0 is not possible here"),
        ({"portion_g": ""}, "Fill in"),
        ({"vessel": "Bathtub"}, "There is no vessel “Bathtub” in the pantry."),
        ({"hob": "Sun"}, "“Sun” is not in the pantry."),
        ({"cooler": "Snow"}, "“Snow” is not in the pantry."),
        ({"batches": "1"}, "1 batches fill Stock pot to"),
        ({"fill_pct": "120"}, "120 is not possible here"),
        ({"portion_count": "99000"}, "1000 kg is possible"),
    ],
)
def test_what_cannot_be_is_told_and_kept(bench, page, pot, given, message):
    asked = {**CROWD, **given}
    text = bench.get(page, asked).content.decode()
    assert message in text
    assert "What changes with the size" not in text
    assert all(str(value) in text for value in asked.values())


def test_the_scale_page_leads_there(bench, saved):
    formula = saved().formula_id
    text = bench.get(f"/formulas/{formula}/scale/").content.decode()
    assert f'formaction="/formulas/{formula}/scale/large/"' in text


def test_the_shopping_list_leaves_as_a_table(bench, page):
    pantry.price_save(id=None, document=Price(
        material="sugar", pack_g=1000, pack_price=2, stock_g=500, supplier="=Dry goods",
    ))  # fmt: skip
    text = bench.get(page, CROWD).content.decode()
    assert "shopping.csv?target=portions&amp;portion_count=200&amp;portion_g=100" in text
    answer = bench.get(f"{page}shopping.csv", CROWD)
    assert answer["Content-Disposition"].endswith('-shopping.csv"')
    rows = {row["name"]: row for row in csv.DictReader(io.StringIO(answer.content.decode()))}
    sugar = rows["Sugar, granulated"]
    assert (sugar["supplier"], sugar["on_the_shelf_g"]) == ("'=Dry goods", "500.0")
    left = float(sugar["needed_g"]) - 500
    assert int(sugar["packs"]) == math.ceil(left / 1000)
    assert float(sugar["cost"]) == 2 * int(sugar["packs"])
    assert rows["Milk, whole 3.25%"]["cost"] == ""


def test_a_list_for_no_size_is_refused_with_the_reason(bench, page):
    answer = bench.get(f"{page}shopping.csv", {"target": "portions", "portion_count": "0"})
    assert answer.status_code == 400
    assert "There is no list to buy from" in answer.content.decode()
