"""The page about cost, and prices by the pack."""

import pytest

from setwell.domain.pantry import Price
from setwell.services import pantry

pytestmark = pytest.mark.django_db


def test_the_page_tells_batch_portion_driver_and_what_lacks(bench, saved):
    pantry.price_save(id=None, document=Price(material="whole milk", price_per_kg=2))
    text = bench.get(f"/formulas/{saved(portions=7).formula_id}/cost/").content.decode()
    assert "At least 1.40" in text.replace("\xa0", " ")
    assert "at least 0.20" in text.replace("\xa0", " ")
    assert "No price for Sugar, granulated, Kappa carrageenan" in text
    assert "<strong>Milk, whole 3.25%</strong>" in text


def test_without_prices_the_page_says_so_and_leads_to_the_pantry(bench, saved):
    text = bench.get(f"/formulas/{saved().formula_id}/cost/").content.decode()
    assert "No price is known yet" in text
    assert 'href="/pantry/prices/"' in text


def test_what_cannot_be_is_told_at_its_field_and_kept(bench, saved):
    page = f"/formulas/{saved().formula_id}/cost/"
    text = bench.get(page, {"labor_min": "-5", "portions": "0"}).content.decode()
    assert "-5 is not possible here" in text
    assert "0 is not possible here" in text
    assert 'value="-5"' in text
    text = bench.get(page, {"labor_min": "30"}).content.decode()
    assert "no price of an hour" in text
    assert 'aria-invalid="true"' in text


def test_a_part_of_the_page_answers_the_form(bench, saved):
    page = f"/formulas/{saved().formula_id}/cost/"
    text = bench.get(page, {"portions": "3"}, headers={"hx-request": "true"}).content.decode()
    assert "<h1" not in text
    assert "cost-title" in text


def test_a_price_is_entered_by_the_pack(bench):
    fields = {"material": "sugar", "pack_g": "1000", "pack_price": "1,25", "waste_pct": "2"}
    assert bench.post("/pantry/prices/new/", fields).status_code == 302
    assert pantry.price_list()[0].price.per_kg == pytest.approx(1.25)
    text = bench.get("/pantry/prices/").content.decode().replace("\xa0", " ")
    assert "1.25" in text


def test_a_price_that_says_two_things_is_refused_at_its_field(bench):
    fields = {"material": "sugar", "pack_g": "500", "pack_price": "4.5", "price_per_kg": "12"}
    text = bench.post("/pantry/prices/new/", fields).content.decode()
    assert "4.5 for 500 g is 9 per kg" in text
    assert 'value="4.5"' in text
    text = bench.post("/pantry/prices/new/", {"material": "sugar"}).content.decode()
    assert "A price is missing" in text
