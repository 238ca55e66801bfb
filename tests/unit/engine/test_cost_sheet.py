"""What a batch costs: computed by hand in each test."""

import pytest
from builders_engine import formula_of
from pydantic import ValidationError

from setwell.domain.buying import Bought
from setwell.domain.pantry import Kitchen, Lot, OwnFood, Pantry, Price
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.cost_results import CostAsk
from setwell.engine.cost_sheet import cost_sheet
from setwell.errors import InputError, OutOfRangeError

PRICES = (
    Price(material="whole milk", pack_g=1000, pack_price=1.2),
    Price(material="sugar", price_per_kg=1.0),
    Price(material="lemon juice", price_per_kg=4.0, waste_pct=20),
)
LINES = ("800 g whole milk", "100 g sugar", "100 g lemon juice")


def sheet_of(*lines, ask=None, prices=PRICES, kitchen=None, lots=(), foods=(), **fields):
    pantry = Pantry(prices=prices, lots=lots, foods=foods, kitchen=kitchen or Kitchen())
    catalog = catalog_build(pantry)
    parts = fields.pop("parts", {})
    bench = bench_build(formula_of(*(lines or LINES), **fields), catalog=catalog, parts=parts)
    return cost_sheet(bench, kitchen=catalog.kitchen, ask=ask)


def test_packs_waste_and_yield_count():
    sheet = sheet_of(portions=4, loss_pct=10)
    # 0.8 kg at 1.20, 0.1 kg at 1.00, 0.1 kg at 4.00 of which a fifth is lost.
    assert [line.paid for line in sheet.lines] == pytest.approx([0.96, 0.10, 0.50])
    assert sheet.lines[2].bought_g == pytest.approx(125.0)
    assert sheet.batch.value == sheet.batch.high == pytest.approx(1.56)
    assert sheet.per_portion.value == pytest.approx(0.39)
    assert sheet.per_100g.value == pytest.approx(1.56 / 9.0)
    assert (sheet.usable_g, sheet.yield_pct) == pytest.approx((900.0, 90.0))


def test_the_drivers_are_the_fewest_lines_that_make_most_of_it():
    sheet = sheet_of()
    assert [line.name for line in sheet.drivers] == ["Milk, whole 3.25%", "Lemon juice, raw"]
    shares = [line.share_pct for line in sheet.lines]
    assert sum(shares) == pytest.approx(100.0)
    assert shares[0] == pytest.approx(100 * 0.96 / 1.56)


def test_a_missing_price_is_told_with_its_share_of_the_weight():
    sheet = sheet_of(*LINES, "250 g honey")
    assert sheet.unpriced == ("Honey",)
    assert sheet.unpriced_pct == pytest.approx(20.0)
    assert (sheet.batch.value, sheet.batch.high) == (pytest.approx(1.56), None)
    assert sheet.per_100g.is_lower_bound
    assert sheet.lines[3].paid is None


def test_without_any_price_nothing_is_made_up():
    sheet = sheet_of("500 g whole milk", "500 g water", prices=())
    assert (sheet.ingredients, sheet.batch, sheet.per_100g) == (None, None, None)
    assert sheet.unpriced == ("Milk, whole 3.25%",)
    assert "Tap water is counted as free." in sheet.remarks


def test_hands_are_paid_by_the_hour():
    kitchen = Kitchen(labor_per_hour=30)
    sheet = sheet_of(ask=CostAsk(labor_min=20, portions=5), kitchen=kitchen)
    assert sheet.labor.value == pytest.approx(10.0)
    assert sheet.batch.value == pytest.approx(11.56)
    assert sheet.per_portion.value == pytest.approx(2.312)
    own = sheet_of(ask=CostAsk(labor_min=20, labor_per_hour=60), kitchen=kitchen)
    assert own.labor.value == pytest.approx(20.0)


def test_hands_alone_are_a_lower_bound():
    sheet = sheet_of(ask=CostAsk(labor_min=30, labor_per_hour=20), prices=())
    assert (sheet.ingredients, sheet.batch.value, sheet.batch.high) == (None, 10.0, None)


def test_a_portion_weight_makes_whole_portions_and_tells_the_rest():
    sheet = sheet_of(ask=CostAsk(portion_g=90))
    assert sheet.portions == 11
    assert sheet.per_portion.value == pytest.approx(1.56 / 11)
    assert sheet.remarks[0] == "10 g are left over; the portions pay for them."


def test_the_lot_in_use_costs_what_it_cost():
    prices = (Price(material="agar", price_per_kg=40),)
    lot = Lot(agent="agar", lot_code="A-1", pack_g=500, pack_price=30, in_use=True)
    assert sheet_of("10 g agar", prices=prices, lots=(lot,)).batch.value == pytest.approx(0.6)
    assert sheet_of("10 g agar", prices=prices).batch.value == pytest.approx(0.4)


def test_a_part_is_priced_by_what_is_in_it():
    syrup = formula_of("300 g sugar", "100 g lemon juice", title="Lemon syrup")
    sheet = sheet_of("200 g Lemon syrup", parts={"Lemon syrup": syrup}, title="Glaze")
    # 150 g of sugar and 50 g of juice, a fifth of which is lost.
    assert sheet.lines[0].paid == pytest.approx(0.15 + 0.25)
    assert sheet.lines[0].price is None


def test_steam_leaves_the_cost_and_takes_from_the_yield():
    sheet = sheet_of(evaporation_pct=20)
    assert sheet.batch.value == pytest.approx(1.56)
    assert sheet.finished_g == pytest.approx(800.0)
    assert sheet.yield_pct == pytest.approx(80.0)


def test_an_own_food_keeps_the_waste_of_what_it_is_a_copy_of():
    own = OwnFood(name="Winter juice", based_on="juice_lemon", price_per_kg=8)
    sheet = sheet_of("100 g Winter juice", foods=(own,))
    assert sheet.lines[0].price.waste_pct == 20
    assert sheet.batch.value == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (CostAsk(labor_min=-1), "labor_min"),
        (CostAsk(labor_min=float("nan")), "labor_min"),
        (CostAsk(labor_per_hour=-3), "labor_per_hour"),
        (CostAsk(portions=0), "portions"),
        (CostAsk(portion_g=0), "portion_g"),
        (CostAsk(portion_g=5000), "portion_g"),
    ],
)
def test_what_cannot_be_is_told_at_its_field(ask, field):
    with pytest.raises(OutOfRangeError) as told:
        sheet_of(ask=ask)
    assert told.value.field == field


def test_hands_without_a_rate_and_portions_told_twice_are_refused():
    with pytest.raises(InputError, match="no price of an hour"):
        sheet_of(ask=CostAsk(labor_min=10))
    with pytest.raises(InputError, match="both given"):
        sheet_of(ask=CostAsk(portions=4, portion_g=90))


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"pack_price": 4.0}, "needs the weight of the pack"),
        ({"pack_g": 500, "pack_price": 4.5, "price_per_kg": 12}, "is 9 per kg"),
        ({"price_per_kg": 2, "waste_pct": -3}, "greater than or equal to 0"),
        ({"price_per_kg": 2, "waste_pct": 100}, "less than or equal to 95"),
    ],
)
def test_a_pack_that_cannot_be_is_refused_at_its_field(fields, message):
    with pytest.raises(ValidationError, match=message) as told:
        Bought(**fields)
    assert told.value.errors()[0]["loc"][0] in {"pack_price", "waste_pct"}


def test_a_pack_and_a_price_per_kg_may_say_the_same():
    assert Bought(pack_g=500, pack_price=4.5, price_per_kg=9).per_kg == pytest.approx(9)


def test_an_own_food_with_its_own_price_has_packs_of_its_own():
    prices = (Price(material="sugar", pack_g=10_000, pack_price=10, supplier="Mill"),)
    own = OwnFood(name="Field sugar", based_on="sucrose", price_per_kg=2)
    priced = sheet_of("100 g Field sugar", prices=prices, foods=(own,)).lines[0].price
    assert priced.price_per_kg == 2
    catalog = catalog_build(Pantry(prices=prices, foods=(own,)))
    assert catalog.find("Field sugar").material.pack_g is None
    plain = own.model_copy(update={"price_per_kg": None})
    material = catalog_build(Pantry(prices=prices, foods=(plain,))).find("Field sugar").material
    assert (material.pack_g, material.supplier) == (10_000, "Mill")


def test_a_line_that_could_not_be_read_leaves_a_lower_bound_and_no_free_batch():
    sheet = sheet_of(*LINES, "30 g moonstone")
    assert (sheet.batch.value, sheet.batch.high) == (pytest.approx(1.56), None)
    assert sheet.per_100g.high is None
    assert "1 line could not be read and is not in the price." in sheet.remarks
    assert sheet_of("some moonstone").batch is None
