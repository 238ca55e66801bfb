"""A formula made large with what stands in the pantry."""

import dataclasses

import pytest
from builders_kitchen import formula_of

from setwell.domain.equipment import Cooler, CoolerKind, Hob
from setwell.domain.pantry import Kitchen, Mold, Vessel
from setwell.errors import InputError
from setwell.services import pantry
from setwell.services.kitchen import kitchen_settings_save
from setwell.services.scale_up import ScaleUpAsk, scale_up_of, shopping_of

pytestmark = pytest.mark.django_db

CUP = {
    "ingredients": "80 g whole milk\n14 g heavy cream\n6 g sugar\n0.6 g kappa carrageenan",
    "steps": "Mix powder and sugar\nHeat to 90 °C and hold 2 min\nPour into molds\nChill at 4 °C",
    "goal": "slice",
    "molds": {"count": 1, "volume_ml": 100},
}
CROWD = ScaleUpAsk(portions_of=(200, 100.0))


@pytest.fixture
def equipped():
    pantry.vessel_save(id=None, document=Vessel(name="Butter pan", volume_ml=500, diameter_mm=100))
    pot = Vessel(name="Stock pot", volume_ml=12_000, diameter_mm=260, height_mm=230)
    pantry.vessel_save(id=None, document=pot)
    pantry.hob_save(id=None, document=Hob(name="Ring", power_w=3500))
    pantry.mold_save(id=None, document=Mold(name="Cup", volume_ml=100, count=60))
    fridge = Cooler(name="Walk-in", kind=CoolerKind.VENTILATED_FRIDGE, inside_l=900, cooling_w=900)
    pantry.cooler_save(id=None, document=fridge)


def row(made, label):
    return next(one for one in made.rows if one.label.startswith(label))


def test_a_cup_becomes_two_hundred_portions(equipped):
    made = scale_up_of(formula=formula_of(**CUP), ask=CROWD)
    assert made.whole.usable_g == pytest.approx(20_000)
    assert made.split.vessel.name == "Stock pot"
    assert made.split.count * made.each.usable_g == pytest.approx(20_000)
    assert made.molds_total == 200
    assert row(made, "In the pot").before != row(made, "In the pot").after


def test_heating_is_recomputed_and_not_multiplied(equipped):
    made = scale_up_of(formula=formula_of(**CUP), ask=CROWD)
    small, large = (
        next(m.estimate.value for m in one.pot.moments if m.key == "reads")
        for one in (made.before, made.after)
    )
    ratio = made.split.each_g / 100.6
    # More food on the same hob takes longer, but by far not in proportion to the weight of a cup.
    assert small < large < 0.9 * ratio * small
    alone = scale_up_of(formula=formula_of(**CUP), ask=dataclasses.replace(CROWD, batches=4))
    assert alone.split.each_g < made.split.each_g
    assert next(m for m in alone.after.pot.moments if m.key == "reads").estimate.value < large


def test_a_full_fridge_is_told_and_rounds_are_planned(equipped):
    made = scale_up_of(formula=formula_of(**CUP), ask=CROWD)
    most = made.after.cooling.most_molds
    assert made.chill_rounds > 1
    assert made.after.plan.plan.cooling.count <= most.value
    assert made.after.plan.plan.cooling.count * made.chill_rounds >= 200


def test_steam_of_a_large_pot_is_less_and_water_is_told(equipped):
    made = scale_up_of(formula=formula_of(**CUP), ask=CROWD)
    assert made.steam.startswith("A larger pot steams less")
    assert "in each batch" in made.steam


def test_a_heavy_line_is_weighed_in_shares(equipped):
    kitchen_settings_save(kitchen=Kitchen(scale_most_g=3000))
    made = scale_up_of(formula=formula_of(**CUP), ask=CROWD)
    milk = made.heavy[0]
    assert milk.name.startswith("Milk")
    assert milk.shares * 3000 >= milk.grams > (milk.shares - 1) * 3000


def test_the_premix_is_for_all_batches(equipped):
    made = scale_up_of(formula=formula_of(**CUP), ask=CROWD)
    (premix,) = made.premixes
    assert premix.batches == made.split.count
    assert premix.parts[0].grams == pytest.approx(0.6 * made.whole.factor)


def test_without_pots_the_rest_is_still_told():
    made = scale_up_of(formula=formula_of(**CUP), ask=CROWD)
    assert made.split.vessel is None
    assert made.after.pot is None
    assert any("No pot with a diameter" in remark for remark in made.remarks)
    assert made.shopping.items


def test_a_vessel_without_a_diameter_heats_nothing(equipped):
    pantry.vessel_save(id=None, document=Vessel(name="Bucket", volume_ml=20_000))
    made = scale_up_of(formula=formula_of(**CUP), ask=dataclasses.replace(CROWD, vessel="bucket"))
    assert made.split.count == 2
    assert made.after.pot is None
    assert any("Bucket has no diameter" in remark for remark in made.remarks)


def test_portions_of_another_size_are_cut_from_the_molds_of_the_plan(equipped):
    made = scale_up_of(formula=formula_of(**CUP), ask=ScaleUpAsk(portions_of=(400, 50.0)))
    # 20 kg in molds of 100 mL at about 1.04 g/mL.
    assert 180 <= made.molds_total <= 200
    assert any("one portion takes" in remark for remark in made.remarks)


def test_shopping_alone_computes_no_heat(equipped):
    alone = shopping_of(formula=formula_of(**CUP), ask=CROWD)
    assert alone == scale_up_of(formula=formula_of(**CUP), ask=CROWD).shopping


def test_two_targets_are_refused():
    with pytest.raises(InputError, match="one size"):
        scale_up_of(formula=formula_of(**CUP), ask=ScaleUpAsk())
