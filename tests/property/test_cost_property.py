"""Cost, packs and premixes for any batch."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setwell.domain.formula import formula_make
from setwell.domain.pantry import Pantry, Price
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.cost_sheet import cost_sheet
from setwell.engine.scale_up.premix import large_premixes
from setwell.engine.scale_up.shopping import shopping_list

GRAMS = st.floats(1, 5_000).map(lambda grams: round(grams, 1))
PRICE = st.floats(0, 200).map(lambda price: round(price, 2))
WASTE = st.floats(0, 90).map(lambda share: round(share, 1))
PACK = st.floats(5, 20_000).map(lambda grams: round(grams, 1))


def bench_of(milk, sugar, agar, prices=()):
    catalog = catalog_build(Pantry(prices=prices))
    lines = f"{milk} g whole milk\n{sugar} g sugar\n{agar} g agar"
    return bench_build(formula_make(title="Any", ingredients=lines), catalog=catalog), catalog


@given(GRAMS, GRAMS, PRICE, PRICE, WASTE)
def test_the_cost_is_the_sum_of_what_is_bought(milk, sugar, first, second, waste):
    prices = (
        Price(material="whole milk", price_per_kg=first),
        Price(material="sugar", price_per_kg=second, waste_pct=waste),
        Price(material="agar", price_per_kg=0),
    )
    bench, catalog = bench_of(milk, sugar, 1, prices)
    sheet = cost_sheet(bench, kitchen=catalog.kitchen)
    expected = milk / 1000 * first + sugar / (1 - waste / 100) / 1000 * second
    assert sheet.batch.value == sheet.batch.high == pytest.approx(expected, abs=1e-9)
    shares = [line.share_pct for line in sheet.lines if line.share_pct is not None]
    assert not shares or sum(shares) == pytest.approx(100)


@given(GRAMS, PACK, WASTE, st.floats(0.1, 300))
def test_packs_are_enough_and_not_one_too_many(milk, pack, waste, factor):
    prices = (Price(material="whole milk", price_per_kg=1, pack_g=pack, waste_pct=waste),)
    bench, _ = bench_of(milk, 10, 1, prices)
    found = shopping_list(bench, factor=factor, currency="USD")
    (item,) = [one for one in found.items if one.packs is not None]
    assert item.needed_g == pytest.approx(milk * factor / (1 - waste / 100))
    assert item.packs * pack >= item.needed_g * (1 - 1e-9)
    assert item.packs == 1 or (item.packs - 1) * pack < item.needed_g


@given(GRAMS, st.floats(0.2, 50), st.integers(1, 40), st.floats(0, 0.5))
def test_a_share_of_the_premix_brings_each_batch_its_dose(sugar, agar, batches, spare):
    agar = round(agar, 2)
    bench, _ = bench_of(1000, sugar, agar)
    for premix in large_premixes(
        bench, factor=batches, batches=batches, readability_g=0.1, spare=spare
    ):
        brought = premix.take_g * premix.parts[0].grams / premix.whole_g
        carried = premix.take_g * premix.carrier_g / premix.whole_g
        assert brought == pytest.approx(agar)
        assert carried + premix.carrier_left_g == pytest.approx(sugar)
        assert math.isfinite(premix.parts[0].spread_pct.value)
