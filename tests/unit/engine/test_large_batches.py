"""Batches, premixes and shopping for a crowd: numbers worked out by hand."""

import math

import numpy as np
import pytest
from builders_engine import formula_of

from setwell.domain.pantry import Kitchen, Pantry, Price, Vessel
from setwell.domain.steps import steps_parse
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.scale_up.batches import batches_split, usual_fill
from setwell.engine.scale_up.premix import grain_spread, large_premixes
from setwell.engine.scale_up.shopping import shopping_list
from setwell.errors import InputError, OutOfRangeError

SMALL = Vessel(name="Small pot", volume_ml=3000, diameter_mm=180)
LARGE = Vessel(name="Large pot", volume_ml=10_000, diameter_mm=280)
PITCHER = Vessel(name="Pitcher", volume_ml=50_000)


def bench_of(*lines, prices=(), **fields):
    catalog = catalog_build(Pantry(prices=prices, kitchen=Kitchen()))
    return bench_build(formula_of(*lines, **fields), catalog=catalog)


def split(total, vessels=(SMALL, LARGE, PITCHER), fill=0.8, **more):
    return batches_split(total, density=1.0, vessels=vessels, fill=fill, **more)


def test_the_fewest_batches_win_and_then_the_smaller_vessel():
    best, other = split(20_000)
    # 8 L a turn make 3 batches; 2.4 L a turn would make 9.
    assert (best.vessel, best.count, best.each_g) == (LARGE, 3, pytest.approx(20_000 / 3))
    assert best.fill_pct == pytest.approx(66.7, abs=0.1)
    assert (other.vessel, other.count) == (SMALL, 9)
    assert split(2_000)[0].vessel == SMALL


def test_a_full_vessel_is_not_split_by_a_rounding_error():
    assert split(8_000.0000001, vessels=(LARGE,))[0].count == 1
    assert split(8_001, vessels=(LARGE,))[0].count == 2


def test_what_boils_is_given_more_room():
    assert usual_fill(steps_parse("Bring to a boil")) < usual_fill(steps_parse("Heat to 80 °C"))


def test_a_pitcher_heats_nothing_unless_it_is_named():
    assert split(1_000, vessels=(PITCHER,))[0].vessel is None
    assert split(1_000, vessel_name="pitcher")[0].vessel == PITCHER


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"fill": 1.2}, "fill_pct"),
        ({"fill": -0.5}, "fill_pct"),
        ({"count": 0}, "batches"),
        ({"count": 1}, "batches"),
        ({"vessel_name": "Bath"}, "vessel"),
    ],
)
def test_what_cannot_be_is_told_at_its_field(more, field):
    with pytest.raises(InputError) as told:
        split(20_000, **more)
    assert told.value.field == field


def test_too_many_turns_of_a_pot_are_refused():
    with pytest.raises(InputError, match="batches in Small pot"):
        split(500_000, vessels=(SMALL,))
    with pytest.raises(OutOfRangeError):
        split(1_000, count=41)


def test_grains_are_counted():
    # Grains of 0.15 mm and 1.5 g/mL weigh 2.65 micrograms: 1 g has 377 256 of them.
    spread = grain_spread(1.0, 0.1)
    assert spread.value == pytest.approx(100 * math.sqrt(0.9 / 377_256), rel=1e-4)
    assert spread.low < spread.value < spread.high


def test_grains_drawn_at_random_spread_as_counted():
    # A binomial draw of so many grains is what the figure stands for.
    share, dose = 0.1, 0.01
    grains = dose / (1.5e-3 * math.pi / 6 * 0.15**3)
    draws = np.random.default_rng(3).binomial(round(grains / share), share, 20_000)
    assert grain_spread(dose, share).value == pytest.approx(
        100 * draws.std() / draws.mean(), rel=0.03
    )


def test_a_premix_doses_every_batch_as_the_formula_does():
    bench = bench_of("800 g whole milk", "100 g sugar", "4 g kappa carrageenan", "1 g iota")
    (premix,) = large_premixes(bench, factor=20.0, batches=4, readability_g=0.1)
    # 100 g of powders want 800 g of sugar, and there are 2000 g.
    assert [part.grams for part in premix.parts] == pytest.approx([80.0, 20.0])
    assert (premix.carrier_g, premix.whole_g, premix.take_g) == pytest.approx((800, 900, 225))
    # A share brings the dose of one batch, and the sugar left makes the line up.
    taken = premix.take_g / premix.whole_g
    assert [part.dose_g for part in premix.parts] == pytest.approx([80 * taken, 20 * taken])
    assert premix.carrier_left_g + 800 * taken == pytest.approx(100 * 20 / 4)
    assert premix.weighing_pct == pytest.approx(100 * 0.05 / 225)
    assert "then double the sugar each time" in premix.note


def test_without_dry_sugar_no_premix_is_told():
    bench = bench_of("800 g whole milk", "50 g honey", "4 g kappa carrageenan")
    assert large_premixes(bench, factor=5, batches=2, readability_g=0.1) == ()


def test_gelatin_is_soaked_and_goes_into_no_premix():
    bench = bench_of("800 g whole milk", "100 g sugar", "10 g gelatin")
    assert large_premixes(bench, factor=5, batches=2, readability_g=0.1) == ()


def test_packs_are_rounded_up_with_waste_and_by_supplier():
    prices = (
        Price(material="whole milk", pack_g=5000, pack_price=6, supplier="Dairy"),
        Price(material="lemon juice", price_per_kg=4, waste_pct=20),
        Price(material="sugar", pack_g=1000, pack_price=2, supplier="Dry goods"),
    )
    bench = bench_of("800 g whole milk", "100 g sugar", "40 g lemon juice", "60 g water",
                     prices=prices)  # fmt: skip
    found = shopping_list(bench, factor=20, currency="EUR")
    milk, sugar, juice = found.items
    assert [shelf.supplier for shelf in found.shelves] == ["Dairy", "Dry goods", ""]
    # 16 kg of milk are four packs; 2 kg of sugar are exactly two, not three.
    assert (milk.packs, milk.left_g, milk.paid) == pytest.approx((4, 4000, 24))
    assert (sugar.packs, sugar.left_g) == (2, pytest.approx(0, abs=1e-6))
    assert (juice.packs, juice.needed_g) == (None, pytest.approx(1000))
    assert found.paid.value == found.paid.high == pytest.approx(24 + 4 + 4)
    assert found.water_g == pytest.approx(1200)


def test_what_is_on_the_shelf_is_taken_off_before_packs_are_counted():
    prices = (
        Price(material="whole milk", pack_g=5000, pack_price=6, stock_g=1500),
        Price(material="sugar", pack_g=1000, pack_price=2, stock_g=2500),
        Price(material="lemon juice", waste_pct=20, stock_g=1000),
        Price(material="cream", price_per_kg=5),
    )
    bench = bench_of("800 g whole milk", "100 g sugar", "40 g lemon juice", "10 g cream",
                     prices=prices)  # fmt: skip
    found = shopping_list(bench, factor=20, currency="EUR")
    by_name = {item.name.split(",")[0]: item for item in found.items}
    # 16 kg less 1.5 kg of milk are three packs of 5 kg; 500 g of them are left.
    milk = by_name["Milk"]
    assert (milk.stock_g, milk.packs, milk.left_g, milk.paid) == pytest.approx((1500, 3, 500, 18))
    # There is more sugar than the 2 kg that are needed.
    assert (by_name["Sugar"].stock_g, by_name["Sugar"].packs) == (pytest.approx(2000), 0)
    assert by_name["Sugar"].paid == 0
    # 800 g of juice want 1000 g of lemons, and these are there: no price is missing.
    juice = by_name["Lemon juice"]
    assert (juice.bought_g, juice.paid) == (0, 0)
    assert by_name["Cream"].stock_g is None
    assert found.paid.value == found.paid.high == pytest.approx(18 + 1)
    assert any("as the pantry notes it" in remark for remark in found.remarks)


def test_two_grades_from_one_bag_share_its_stock():
    prices = (Price(material="gelatin", price_per_kg=20, stock_g=15),)
    bench = bench_of("1000 g water", "10 g gelatin", "10 g pork gelatin", prices=prices)
    items = shopping_list(bench, factor=1, currency="EUR").items
    assert sorted(item.stock_g for item in items) == pytest.approx([5, 10])
    assert sum(item.bought_g for item in items) == pytest.approx(5)


def test_a_list_without_a_price_is_a_lower_bound():
    prices = (Price(material="sugar", price_per_kg=1),)
    found = shopping_list(
        bench_of("900 g whole milk", "100 g sugar", prices=prices), factor=1, currency="USD"
    )
    assert (found.paid.value, found.paid.high) == (pytest.approx(0.1), None)
    assert any("No price is known for Milk" in remark for remark in found.remarks)
