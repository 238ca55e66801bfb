"""What the kitchen has of its own changes the result: lots, agents, foods, prices."""

import numpy as np
import pytest
from builders_engine import HOT, assess_of, finding_of

from setwell.domain.pantry import Lot, OwnAgent, OwnFood, Pantry, Price
from setwell.engine.assessment import Verdict
from setwell.engine.catalog import catalog_build

MILK = "500 g whole milk"
KAPPA = "2.5 g kappa carrageenan"
GELATIN = ("600 g water", "12 g gelatin")
WARM = "Bloom the gelatin\nWarm to 60 °C, stirring\nChill"


def lot(**fields: object) -> Pantry:
    return Pantry(lots=(Lot(agent="kappa carrageenan", lot_code="K-7", **fields),))


def test_a_strong_lot_in_use_gives_a_firmer_gel():
    plain = assess_of(MILK, KAPPA, steps=HOT).agents[0]
    strong = assess_of(MILK, KAPPA, steps=HOT, pantry=lot(strength_factor=1.5, in_use=True)).agents[
        0
    ]
    # The power law of the dose, 1.5 squared, and a little more as the critical dose is farther.
    assert strong.modulus_kpa.value == pytest.approx(plain.modulus_kpa.value * 2.25, rel=0.05)
    assert strong.dose_pct.value == plain.dose_pct.value
    assert strong.lot == "K-7"


def test_a_lot_on_the_shelf_changes_nothing():
    plain = assess_of(MILK, KAPPA, steps=HOT).agents[0]
    idle = assess_of(MILK, KAPPA, steps=HOT, pantry=lot(strength_factor=1.5)).agents[0]
    assert (idle.modulus_kpa, idle.lot) == (plain.modulus_kpa, "")


def test_the_bloom_of_the_lot_in_use_counts():
    def gel(bloom: float | None):
        stock = Lot(agent="gelatin", lot_code="G-1", bloom=bloom, in_use=True)
        return assess_of(*GELATIN, steps=WARM, pantry=Pantry(lots=(stock,))).agents[0]

    weak, strong = gel(140), gel(250)
    # In the fridge, off the 10 °C of the Bloom test, the higher melting point counts as well.
    assert strong.modulus_kpa.value == pytest.approx(weak.modulus_kpa.value * 250 / 140, rel=0.05)
    assert strong.melt_temperature_c.value > weak.melt_temperature_c.value


def test_a_bloom_written_on_the_line_wins_over_the_lot():
    stock = Pantry(lots=(Lot(agent="gelatin", lot_code="G-1", bloom=140, in_use=True),))
    written = assess_of("600 g water", "12 g gelatin, 250 bloom", steps=WARM, pantry=stock)
    plain = assess_of("600 g water", "12 g gelatin, 250 bloom", steps=WARM)
    assert written.agents[0].modulus_kpa.value == plain.agents[0].modulus_kpa.value


def test_the_price_of_the_lot_in_use_counts():
    found = assess_of(MILK, KAPPA, pantry=lot(price_per_kg=40.0, in_use=True))
    assert found.cost.batch.value == pytest.approx(0.0025 * 40)


def test_an_own_agent_follows_its_base():
    own = OwnAgent(name="House kappa", based_on="kappa carrageenan", strength_factor=0.5)
    pantry = Pantry(agents=(own,))
    found = assess_of(MILK, "5 g House kappa", steps=HOT, pantry=pantry).agents[0]
    plain = assess_of(MILK, "5 g kappa carrageenan", steps=HOT).agents[0]
    assert found.name == "House kappa"
    assert found.key == "kappa_carrageenan"
    # Half the strength is half the dose: a quarter, and a little less near the critical dose.
    assert found.modulus_kpa.value == pytest.approx(plain.modulus_kpa.value / 4, rel=0.05)


def test_an_own_agent_of_unknown_kind_is_not_found():
    pantry = Pantry(agents=(OwnAgent(name="Mystery powder", based_on="moon dust"),))
    assert assess_of("5 g Mystery powder", pantry=pantry).lines[0].problem


def test_a_copy_adjusts_without_touching_the_original():
    own = OwnFood(
        name="Farm milk", based_on="milk_whole", nutrients={"fat_g": 4.2}, ph=6.7,
        aliases=("barn milk",),
    )  # fmt: skip
    catalog = catalog_build(Pantry(foods=(own,)))
    copy, table = catalog.find("barn milk").material, catalog.find("whole milk").material
    fresh = catalog_build().find("whole milk").material
    assert not np.shares_memory(copy.nutrients, table.nutrients)
    assert (table.nutrients == fresh.nutrients)[~np.isnan(fresh.nutrients)].all()
    found = assess_of("100 g barn milk", pantry=Pantry(foods=(own,)))
    assert found.nutrient("fat_g").per_batch.value == pytest.approx(4.2)
    assert found.nutrient("protein_g").per_batch.value == pytest.approx(3.15)
    assert found.figure("ph").estimate.value == pytest.approx(6.7)
    assert [tag.allergen for tag in found.allergens] == ["milk"]
    assert assess_of("100 g whole milk").nutrient("fat_g").per_batch.value == pytest.approx(3.25)


def test_a_food_from_nothing_leaves_the_rest_unknown():
    own = OwnFood(name="Koji paste", nutrients={"protein_g": 12}, allergens=("soy",))
    found = assess_of("50 g Koji paste", "50 g water", pantry=Pantry(foods=(own,)))
    assert found.nutrient("protein_g").per_batch.value == pytest.approx(6)
    assert found.nutrient("fat_g").unknown_in == ("Koji paste",)
    assert found.nutrient("fat_g").per_batch.is_lower_bound
    assert found.allergens[0].allergen == "soy"
    assert "not known" in found.figure("ph").remark
    verdicts = {diet.diet: diet.verdict for diet in found.diets}
    assert verdicts["vegan"] is Verdict.CANNOT_TELL
    assert {"this_kitchen"} <= {citation.source for citation in found.evidence}


def test_an_own_name_wins_over_the_tables():
    own = OwnFood(name="Whole milk", based_on="milk_whole", nutrients={"fat_g": 5})
    found = assess_of("100 g whole milk", pantry=Pantry(foods=(own,)))
    assert found.nutrient("fat_g").per_batch.value == pytest.approx(5)
    assert found.lines[0].assumptions == ()


def test_cost_is_a_lower_bound_while_prices_lack():
    pantry = Pantry(prices=(Price(material="whole milk", price_per_kg=1.2),))
    found = assess_of(MILK, "50 g honey", "100 g water", portions=4, loss_pct=10, pantry=pantry)
    cost = found.cost
    assert cost.batch.value == pytest.approx(0.6)
    assert (cost.batch.low, cost.batch.high) == (cost.batch.value, None)
    assert cost.per_portion.value == pytest.approx(0.15)
    assert cost.per_100g.value == pytest.approx(100 * 0.6 / (650 * 0.9))
    assert (cost.unpriced, cost.driver) == (("Honey",), "Milk, whole 3.25%")


def test_cost_is_exact_when_all_prices_are_known():
    prices = (Price(material="milk_whole", price_per_kg=1), Price(material="honey", price_per_kg=9))
    cost = assess_of(MILK, "50 g honey", "100 g water", pantry=Pantry(prices=prices)).cost
    assert cost.batch.high == cost.batch.value == pytest.approx(0.95)
    assert cost.unpriced == ()
    # 500 g at 1 costs more than 50 g at 9.
    assert cost.driver == "Milk, whole 3.25%"


def test_cost_without_any_price_names_what_lacks():
    cost = assess_of(MILK).cost
    assert (cost.batch, cost.unpriced) == (None, ("Milk, whole 3.25%",))


def test_a_price_of_an_unknown_material_is_ignored():
    pantry = Pantry(prices=(Price(material="moon dust", price_per_kg=5),))
    assert assess_of(MILK, pantry=pantry).cost.batch is None


def test_a_price_goes_to_what_the_name_means_on_a_line():
    pantry = Pantry(prices=(Price(material="cornstarch", price_per_kg=3),))
    assert assess_of("20 g cornstarch", pantry=pantry).cost.batch.value == pytest.approx(0.06)


def test_dose_advice_is_in_grams_of_this_batch():
    told = finding_of(assess_of("1000 g water", "60 g agar"), "dose_high")
    # 3 % of 1060 g.
    assert "31.8 g" in told.action
