"""The shelves of the pantry, and that what is computed follows them."""

import pytest
from builders_kitchen import agent_of, food_of, formula_of, lot_of

from setwell.domain.equipment import Cooler, CoolerKind, Hob, HobKind, WallMaterial
from setwell.domain.pantry import Kitchen, Mold, OwnFood, Pantry, Price, Vessel
from setwell.domain.reading import IngredientReading
from setwell.errors import ConflictError, InputError, NotFoundError, UnknownNameError
from setwell.services import pantry
from setwell.services.assessment import formula_assess
from setwell.services.kitchen import kitchen_settings_get, kitchen_settings_save
from setwell.services.materials import kitchen_catalog
from setwell.services.pantry_checks import OwnNames, faults, pantry_warnings
from setwell.store.transactions import writing
from setwell.tables.foods import food_rows

pytestmark = pytest.mark.django_db

SHELVES = [
    (pantry.food_list, pantry.food_get, pantry.food_save, pantry.food_delete,
     food_of(), food_of(note="changed")),
    (pantry.agent_list, pantry.agent_get, pantry.agent_save, pantry.agent_delete,
     agent_of(), agent_of(strength_factor=1.2)),
    (pantry.lot_list, pantry.lot_get, pantry.lot_save, pantry.lot_delete,
     lot_of(), lot_of(supplier="Skerry Ingredients")),
    (pantry.price_list, pantry.price_get, pantry.price_save, pantry.price_delete,
     Price(material="whole milk", price_per_kg=1.2), Price(material="sugar", price_per_kg=1.0)),
    (pantry.mold_list, pantry.mold_get, pantry.mold_save, pantry.mold_delete,
     Mold(name="Frame", volume_ml=900), Mold(name="Frame", volume_ml=950, count=2)),
    (pantry.vessel_list, pantry.vessel_get, pantry.vessel_save, pantry.vessel_delete,
     Vessel(name="Pot", volume_ml=4000), Vessel(name="Tall pot", volume_ml=4000, lid=True)),
    (pantry.hob_list, pantry.hob_get, pantry.hob_save, pantry.hob_delete,
     Hob(name="Ring"), Hob(name="Left ring", kind=HobKind.GAS, power_w=3500)),
    (pantry.cooler_list, pantry.cooler_get, pantry.cooler_save, pantry.cooler_delete,
     Cooler(name="Fridge"), Cooler(name="Fridge", kind=CoolerKind.VENTILATED_FRIDGE, air_c=2)),
    (pantry.reading_list, pantry.reading_get, pantry.reading_save, pantry.reading_delete,
     IngredientReading(material="lime juice", ph=2.4),
     IngredientReading(material="lime juice", ph=2.5, lot_code="L-2")),
]  # fmt: skip
NAMES = ["food", "agent", "lot", "price", "mold", "vessel", "hob", "cooler", "reading"]


@pytest.mark.parametrize(("every", "get", "save", "delete", "first", "second"), SHELVES, ids=NAMES)
def test_a_thing_is_added_changed_and_taken_off(every, get, save, delete, first, second) -> None:
    row_id = save(id=None, document=first)
    assert get(row_id).document == first
    assert save(id=row_id, document=second) == row_id
    assert [(row.id, row.document) for row in every()] == [(row_id, second)]
    delete(id=row_id)
    assert every() == ()


@pytest.mark.parametrize("missing", [404, -1, 10**30])
@pytest.mark.parametrize(("every", "get", "save", "delete", "first", "second"), SHELVES, ids=NAMES)
def test_what_is_not_there_is_said_not_to_be_there(
    every, get, save, delete, first, second, missing
) -> None:
    for ask in (
        lambda: get(missing),
        lambda: save(id=missing, document=first),
        lambda: delete(id=missing),
    ):
        with pytest.raises(NotFoundError, match=f"{missing} in this kitchen"):
            ask()
    assert every() == ()


def test_a_name_is_taken_whatever_its_case_and_spacing() -> None:
    pantry.food_save(id=None, document=food_of("Pear juice"))
    with pytest.raises(ConflictError, match=r"There already is a food called “PEAR  JUICE|PEAR"):
        pantry.food_save(id=None, document=food_of("  PEAR  juice "))
    other = pantry.food_save(id=None, document=food_of("Apple must"))
    with pytest.raises(ConflictError, match="Give this one another name"):
        pantry.food_save(id=other, document=food_of("pear juice"))
    assert [row.food.name for row in pantry.food_list()] == ["Apple must", "Pear juice"]


def test_names_are_kept_with_single_spaces_and_aliases_once() -> None:
    row_id = pantry.food_save(
        id=None, document=food_of("  Pear \n juice ", aliases=("perry", " perry ", "  "))
    )
    food = pantry.food_get(row_id).food
    assert (food.name, food.aliases) == ("Pear juice", ("perry",))


@pytest.mark.parametrize(
    ("document", "field", "message"),
    [
        (food_of("?!"), "name", "no letter or digit"),
        (food_of(based_on="unicorn milk"), "based_on", "not the key of a table food"),
        (food_of(nutrients={"magic_g": 1.0}), "nutrients", "not a nutrient"),
        (food_of(nutrients={"water_g": 90.0, "fat_g": 30.0}), "nutrients", "add up to 120 g"),
        (food_of(ph=3.0, ph_low=3.5), "ph", "lowest pH must not be above"),
        (food_of(ph_low=3.5), "ph", "usual pH is missing"),
    ],
)
def test_a_food_that_cannot_be_is_refused_at_its_field(
    document: OwnFood, field: str, message: str
) -> None:
    with pytest.raises(InputError, match=message) as caught:
        pantry.food_save(id=None, document=document)
    assert caught.value.field == field
    assert pantry.food_list() == ()


def test_an_unknown_agent_offers_the_nearest_names() -> None:
    with pytest.raises(UnknownNameError, match="not in the agent table") as caught:
        pantry.agent_save(id=None, document=agent_of(based_on="kapa carageenan powdr"))
    assert any("kappa" in name for name in caught.value.nearest)
    with pytest.raises(UnknownNameError, match="neither in the agent table nor one of your"):
        pantry.lot_save(id=None, document=lot_of(agent="kapa powder"))


def test_a_food_is_no_agent_to_base_one_on() -> None:
    with pytest.raises(InputError, match="Pick the agent it behaves like"):
        pantry.agent_save(id=None, document=agent_of(based_on="whole milk"))


def test_doses_the_wrong_way_round_are_refused() -> None:
    with pytest.raises(InputError, match="lowest dose, 2 %, is above the highest, 1 %"):
        pantry.agent_save(id=None, document=agent_of(dose_low_pct=2, dose_high_pct=1))


def test_a_food_and_an_agent_cannot_share_a_name() -> None:
    pantry.food_save(id=None, document=food_of("Sea blend"))
    with pytest.raises(InputError, match="already is one of your foods"):
        pantry.agent_save(id=None, document=agent_of("sea blend"))


def test_the_price_of_an_own_food_belongs_to_the_food() -> None:
    pantry.food_save(id=None, document=food_of("Pear juice"))
    with pytest.raises(InputError, match="write its price there"):
        pantry.price_save(id=None, document=Price(material="pear juice", price_per_kg=2))


def test_one_lot_of_an_agent_is_in_use_at_a_time() -> None:
    for code, name in (("A", "kappa carrageenan"), ("B", "kappa"), ("C", "agar")):
        pantry.lot_save(id=None, document=lot_of(code, agent=name, in_use=True))
    in_use = {row.lot.lot_code for row in pantry.lot_list() if row.lot.in_use}
    assert in_use == {"B", "C"}


def test_lots_follow_an_agent_to_its_new_name_and_hold_it_on_the_shelf() -> None:
    agent_id = pantry.agent_save(id=None, document=agent_of("Old name"))
    lot_id = pantry.lot_save(id=None, document=lot_of("L7", agent="old name", in_use=True))
    pantry.agent_save(id=agent_id, document=agent_of("New name"))
    assert pantry.lot_get(lot_id).lot.agent == "New name"
    with pytest.raises(ConflictError, match="still 1 lots of this agent: L7"):
        pantry.agent_delete(id=agent_id)
    pantry.lot_delete(id=lot_id)
    pantry.agent_delete(id=agent_id)


def test_the_same_lot_code_may_belong_to_two_agents() -> None:
    pantry.lot_save(id=None, document=lot_of("7", agent="agar"))
    pantry.lot_save(id=None, document=lot_of("7", agent="gelatin"))
    with pytest.raises(ConflictError, match="agar · 7"):
        pantry.lot_save(id=None, document=lot_of("7", agent="agar"))


def test_a_table_food_is_copied_with_its_nutrients_and_a_free_name() -> None:
    copy = pantry.food_copy(key="milk_whole")
    assert copy.based_on == "milk_whole"
    assert copy.nutrients["water_g"] == pytest.approx(88.1, abs=1.0)
    pantry.food_save(id=None, document=copy)
    assert pantry.food_copy(key="milk_whole").name == f"{copy.name} 2"
    with pytest.raises(NotFoundError, match="no food “agent:agar”"):
        pantry.food_copy(key="agent:agar")


def test_every_table_food_can_be_copied_and_saved() -> None:
    wrong = {
        key: [fault.message for fault in faults(pantry.food_copy(key=key), OwnNames())]
        for key in food_rows()
    }
    assert {key: said for key, said in wrong.items() if said} == {}


def test_what_is_computed_follows_the_pantry_at_once() -> None:
    formula = formula_of(ingredients="500 g pear juice must\n0.4% kappa carrageenan\n")
    assert not formula_assess(formula=formula).is_complete
    row_id = pantry.food_save(id=None, document=food_of("Pear juice must", price_per_kg=2.0))
    assert formula_assess(formula=formula).is_complete
    pantry.food_save(id=row_id, document=food_of("Pear juice must", price_per_kg=4.0))
    assert formula_assess(formula=formula).cost.batch.value == pytest.approx(2.0, rel=0.01)
    kitchen_settings_save(kitchen=Kitchen(currency="EUR"))
    assert formula_assess(formula=formula).cost.currency == "EUR"
    pantry.food_delete(id=row_id)
    assert not formula_assess(formula=formula).is_complete


def test_a_change_that_is_rolled_back_leaves_no_trace_in_what_is_computed() -> None:
    pantry.food_save(id=None, document=food_of("Pear juice must"))
    kitchen_catalog()

    def interrupted() -> None:
        with writing():
            pantry.food_save(id=None, document=food_of("Quince must"))
            assert kitchen_catalog().find("quince must")
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        interrupted()
    assert kitchen_catalog().find("quince must") is None
    assert kitchen_catalog().find("pear juice must")


def test_the_catalog_is_built_once_for_one_state_of_the_pantry(query_counter) -> None:
    pantry.food_save(id=None, document=food_of())
    first = kitchen_catalog()
    with query_counter() as queries:
        assert kitchen_catalog() is first
    assert len(queries) == 1


def test_a_thing_the_tables_no_longer_support_is_warned_about() -> None:
    stale = food_of("Stale", based_on="a_food_of_an_older_edition")
    lots = (lot_of(agent="kappa carrageenan"), lot_of(agent="an agent of old"))
    warnings = pantry_warnings(Pantry(foods=(stale, food_of("Fine")), lots=lots))
    assert len(warnings) == 2
    assert "“a_food_of_an_older_edition” is not the key of a table food" in warnings[0]
    assert "“an agent of old” is neither" in warnings[1]


def test_settings_are_kept() -> None:
    assert kitchen_settings_get() == Kitchen()
    mine = Kitchen(name="Quay", currency="SEK", scale_readability_g=0.01)
    kitchen_settings_save(kitchen=mine)
    assert kitchen_settings_get() == mine == pantry.pantry_get().kitchen


def test_reading_the_pantry_takes_the_same_queries_however_full_it_is(query_counter) -> None:
    with query_counter() as before:
        pantry.pantry_get()
    for number in range(5):
        pantry.food_save(id=None, document=food_of(f"Juice {number}"))
        pantry.lot_save(id=None, document=lot_of(f"L{number}"))
    with query_counter() as after:
        pantry.pantry_get()
    assert len(after) == len(before) == 10


def test_lengths_that_do_not_make_the_volume_are_refused() -> None:
    mold = Mold(name="Frame", shape="frame", volume_ml=1_000, length_mm=20, width_mm=20,
                height_mm=3)  # fmt: skip
    with pytest.raises(InputError, match=r"lengths make 1 mL, the volume is 1,000 mL") as caught:
        pantry.mold_save(id=None, document=mold)
    assert caught.value.field == "volume_ml"
    pot = Vessel(name="Pot", volume_ml=400, diameter_mm=160, height_mm=200)
    with pytest.raises(InputError, match=r"lengths make 4,021 mL"):
        pantry.vessel_save(id=None, document=pot)


def test_a_range_of_a_hob_or_cold_place_lies_around_its_middle() -> None:
    with pytest.raises(InputError, match="must not be above") as caught:
        pantry.hob_save(id=None, document=Hob(name="Ring", efficiency=0.5, efficiency_low=0.6))
    assert caught.value.field == "efficiency_low"
    with pytest.raises(InputError, match="middle value is missing") as caught:
        pantry.cooler_save(id=None, document=Cooler(name="Fridge", coefficient_high=9))
    assert caught.value.field == "coefficient_w_m2k"


def test_what_was_stored_before_equipment_had_lengths_still_loads() -> None:
    old = '{"count":1,"name":"Frame","note":"","shape":"block","volume_ml":1100.0}'
    assert Mold.model_validate_json(old).form().volume_ml == 1_100
    old = '{"name":"Pot","note":"","volume_ml":4000.0}'
    assert Vessel.model_validate_json(old).wall is None
    assert Vessel(name="Pot", volume_ml=1, wall=WallMaterial.COPPER).wall == "copper"
