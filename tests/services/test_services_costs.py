"""The cost of saved formulas, and prices that are written down."""

import datetime as dt
import os
import subprocess
import sys

import pytest
from builders_kitchen import formula_of, lot_of
from django.db import IntegrityError, connection, transaction

from setwell.domain.pantry import Kitchen, Price
from setwell.services import pantry
from setwell.services.costs import CostAsk, cost_of, cost_view
from setwell.services.formulas import formula_create
from setwell.services.kitchen import kitchen_settings_save
from setwell.store.price_paid_rows import PricePaid, price_paid_add, price_paid_rows
from setwell.store.rows import PricePaidRow

pytestmark = pytest.mark.django_db

MILK = "1000 g whole milk"


def at(day: int) -> dt.datetime:
    return dt.datetime(2026, 3, day, 12, tzinfo=dt.UTC)


def history(name="whole milk", shelf="price"):
    return [one.document and one.document.per_kg for one in price_paid_rows([(shelf, name)])]


def test_every_change_of_a_price_is_written_down_once():
    row = pantry.price_save(id=None, document=Price(material="whole milk", price_per_kg=1.2))
    pantry.price_save(id=row, document=Price(material="whole milk", price_per_kg=1.2))
    pantry.price_save(id=row, document=Price(material="whole milk", pack_g=500, pack_price=0.7))
    pantry.price_delete(id=row)
    assert history() == [pytest.approx(1.2), pytest.approx(1.4), None]


def test_a_renamed_price_ends_under_its_old_name():
    row = pantry.price_save(id=None, document=Price(material="whole milk", price_per_kg=1.2))
    pantry.price_save(id=row, document=Price(material="skim milk", price_per_kg=1.2))
    assert history() == [1.2, None]
    assert history("skim milk") == [1.2]


def test_a_lot_and_a_csv_file_are_written_down_too():
    pantry.lot_save(id=None, document=lot_of("K-1", agent="agar", price_per_kg=60))
    pantry.pantry_import_csv(entity="price", data=b"material,pack_g,pack_price\nsugar,1000,1.1\n")
    assert history("agar · K-1", "lot") == [60]
    assert history("sugar") == [pytest.approx(1.1)]


def test_a_price_that_was_paid_never_changes():
    pantry.price_save(id=None, document=Price(material="sugar", price_per_kg=1))
    with pytest.raises(IntegrityError, match="never changes"), transaction.atomic():
        PricePaidRow.objects.update(currency="EUR")
    assert connection.vendor == "sqlite"


def test_the_batch_is_priced_at_the_prices_of_earlier_days():
    for day, price in ((1, 1.0), (5, 1.5)):
        document = Price(material="whole milk", price_per_kg=price)
        price_paid_add(PricePaid("price", "whole milk", "USD", document, at(day)))
    pantry.price_save(id=None, document=Price(material="whole milk", price_per_kg=1.8))
    answer = cost_of(formula=formula_of(ingredients=f"{MILK}\n100 g sugar"))
    told = [(day.ingredients, day.is_open) for day in answer.history]
    # Sugar never had a price; it is told as missing and has no part in the history.
    assert [amount for amount, _ in told] == pytest.approx([1.8, 1.5, 1.0])
    assert answer.history[1].changes[0].before_per_kg == 1.0
    assert all(is_open for _, is_open in told)


def test_prices_of_another_currency_are_left_out():
    pantry.price_save(id=None, document=Price(material="whole milk", price_per_kg=1.2))
    kitchen_settings_save(kitchen=Kitchen(currency="NOK"))
    answer = cost_of(formula=formula_of(ingredients=MILK))
    assert (answer.sheet.currency, answer.history) == ("NOK", ())


def test_a_saved_version_is_priced_with_what_is_asked():
    pantry.price_save(id=None, document=Price(material="whole milk", price_per_kg=1.2))
    saved = formula_create(formula=formula_of(ingredients=MILK))
    answer = cost_view(formula_id=saved.formula_id, ask=CostAsk(portions=10))
    assert answer.sheet.per_portion.value == pytest.approx(0.12)
    assert answer.number == 1


def test_a_price_without_any_number_is_refused_at_its_field():
    with pytest.raises(Exception, match="A price is missing") as told:
        pantry.price_save(id=None, document=Price(material="sugar"))
    assert told.value.field == "price_per_kg"


BEFORE_HISTORY = """
from setwell.store.home import home_make
from setwell.store.setup import store_ready
home_make()
store_ready()
from django.core.management import call_command
call_command("migrate", "store", "0009", verbosity=0)
from setwell.services.clock import now
from setwell.store.rows import PriceRow
PriceRow.objects.create(
    name="sugar", name_key="sugar", updated_at=now(),
    document='{"material":"sugar","price_per_kg":1.5}',
)
"""
AFTER = """
from setwell.services.kitchen import kitchen_open
kitchen_open(load_demo=False)
from setwell.services.pantry import price_list
from setwell.store.price_paid_rows import price_paid_rows
print([one.document.per_kg for one in price_paid_rows([("price", "sugar")])])
print(price_list()[0].price.per_kg)
"""


def test_the_prices_of_an_older_kitchen_begin_the_history(tmp_path):
    said = []
    for code in (BEFORE_HISTORY, AFTER):
        environment = {**os.environ, "SETWELL_HOME": str(tmp_path / "old")}
        environment["DJANGO_SETTINGS_MODULE"] = "setwell.store.settings"
        done = subprocess.run(
            [sys.executable, "-c", code], env=environment, capture_output=True, text=True,
            check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        said.append(done.stdout.split())
    assert said[1] == ["[1.5]", "1.5"]
