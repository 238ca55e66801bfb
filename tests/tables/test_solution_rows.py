"""What the solution tables give back."""

import pytest

from setwell.provenance import Grade
from setwell.tables.foods import food_rows
from setwell.tables.solution import (
    acid_systems,
    chemicals,
    complexes,
    food_acids,
    hardness_presets,
    hardness_units,
    milk_groups,
    milk_salts,
    solubilities,
    solutes,
    taste_limits,
    titratable_acids,
    water_constants,
)

KITCHEN_ACIDS = {
    *("acetic", "ascorbic", "benzoic", "carbonic", "citric", "gluconic", "lactic", "malic"),
    *("oxalic", "phosphoric", "sorbic", "succinic", "tartaric"),
}


def test_every_kitchen_acid_is_there_with_one_charge_more_than_steps():
    assert set(acid_systems()) >= KITCHEN_ACIDS
    for acid in acid_systems().values():
        assert len(acid.charges) == len(acid.steps) + 1
        assert list(acid.charges) == sorted(acid.charges, reverse=True)


def test_citric_acid_loses_three_protons():
    citric = acid_systems()["citric"]
    assert citric.charges == (0, -1, -2, -3)
    assert [step.pk25 for step in citric.steps] == [3.128, 4.761, 6.396]
    assert citric.steps[2].enthalpy == -3.38
    assert citric.steps[0].citation.grade is Grade.UNVERIFIED


def test_hydrogen_sulfate_starts_charged():
    assert acid_systems()["sulfuric"].charges == (-1, -2)


def test_a_missing_enthalpy_is_none_not_zero():
    assert acid_systems()["sorbic"].steps[0].enthalpy is None
    assert acid_systems()["benzoic"].steps[0].enthalpy == 0.0


def test_complexes_bind_a_form_that_the_acid_has():
    for pair in complexes():
        assert pair.charge in acid_systems()[pair.acid].charges
        assert pair.low < pair.log_k < pair.high
    found = {(pair.cation, pair.acid, pair.charge): pair.log_k for pair in complexes()}
    assert found["calcium", "citric", -3] == 4.87
    assert found["magnesium", "citric", -3] > found["sodium", "citric", -3]


def test_acids_of_foods_belong_to_foods_and_leave_chemicals_alone():
    assert set(food_acids()) <= set(food_rows())
    assert set(chemicals()) <= set(food_rows())
    assert set(food_acids()).isdisjoint(chemicals())


@pytest.mark.parametrize("group", ["juice", "vinegar", "fruit"])
def test_every_sour_food_of_a_group_has_acids(group):
    bare = {key for key, food in food_rows().items() if food.group == group} - set(food_acids())
    assert bare <= {"avocado", "date_medjool", "lemon_zest", "orange_zest"}


def test_lemon_juice_is_mostly_citric_acid():
    (citric,) = food_acids()["juice_lemon"]
    assert (citric.acid, citric.citation.grade) == ("citric", Grade.MEASURED)
    assert citric.low < 0.04656 < citric.high
    assert citric.mass_fraction == pytest.approx(0.04656)


def test_acids_of_a_food_fit_into_its_dry_matter():
    for key, acids in food_acids().items():
        water = food_rows()[key].nutrients["water_g"] or 0.0
        assert 100 * sum(acid.mass_fraction for acid in acids) <= 100.5 - water, key


def test_every_acid_and_salt_among_the_pure_foods_is_a_chemical():
    sugars = {
        *("erythritol", "ethanol", "fructose_pure", "glucose_anhydrous", "glucose_monohydrate"),
        *("glycerol", "isomalt", "lactose_monohydrate", "maltitol", "maltose_monohydrate"),
        *("mannitol", "sorbitol", "sucrose_pure", "trehalose_dihydrate", "water_pure", "xylitol"),
    }
    pure = {key for key, food in food_rows().items() if food.source == "iupac_2021"}
    assert set(chemicals()) == pure - sugars | {"baking_soda", "cream_of_tartar", "salt_table"}


def test_ions_of_chemicals_agree_with_the_minerals_of_the_composition_table():
    mass = {"sodium": 22.990, "potassium": 39.098, "calcium": 40.078, "magnesium": 24.305}
    for key, chemical in chemicals().items():
        food = food_rows()[key]
        if food.source != "iupac_2021":
            continue
        for ion, gram in mass.items():
            printed = food.nutrients[f"{ion}_mg"]
            expected = 1e5 * chemical.ions.get(ion, 0.0) * gram / chemical.molar_mass
            assert printed == pytest.approx(expected, rel=3e-4), (key, ion)


def test_milk_has_eleven_groups_one_of_them_dissolving_mineral():
    groups = milk_groups()
    assert len(groups) == 11
    assert groups["colloidal_phosphate"].slope == 1.5
    assert groups["colloidal_phosphate"].charge == 1
    assert groups["citrate_third"].charge == -2
    assert milk_salts()["calcium", "serum_per_free_below_ph_5"].value == 1.71


def test_water_reaches_from_the_freezing_to_the_boiling_point():
    water = water_constants()
    for curve in (water.davies_temperatures, water.pkw_temperatures):
        assert (curve[0], curve[-1]) == (0.0, 100.0)
    assert list(water.davies_a) == sorted(water.davies_a)
    assert list(water.pkw) == sorted(water.pkw, reverse=True)
    assert water.davies_linear == 0.3


def test_harder_water_holds_more_of_every_ion_and_more_cations_than_bicarbonate():
    presets = [hardness_presets()[name] for name in ("soft", "medium", "hard", "very_hard")]
    for ion in ("calcium", "magnesium", "bicarbonate"):
        values = [preset[ion].value for preset in presets]
        assert values == sorted(set(values))
    for ions in presets:
        hardness = ions["calcium"].value + ions["magnesium"].value
        assert ions["bicarbonate"].value <= 2 * hardness


def test_units_titrations_solutes_and_tastes_are_found_by_key():
    assert hardness_units()["german_degree"].symbol == "°dH"
    assert titratable_acids()["citric_anhydrous"].protons == 3
    assert solutes()["sucrose"].norrish_k.value == 6.47
    assert solutes()["sodium_chloride"].ions == 2
    assert solutes()["sodium_chloride"].norrish_k is None
    limits = taste_limits()
    assert limits["sodium"]["noticed"].value < limits["sodium"]["too_much"].value


def test_cold_water_holds_two_parts_of_sugar_and_a_third_of_salt():
    sugar, salt = solubilities()["sucrose"], solubilities()["sodium_chloride"]
    # Mohos 2010, Table A2.2: 203.9 g in 100 g of water at 20 °C.
    assert (sugar.value, sugar.citation.grade) == (203.9, Grade.COMPILED)
    assert salt.low < 35.9 < salt.high
    assert set(salt.materials) == {"salt_table", "sodium_chloride"}
    recalled = [s for s in solubilities().values() if s.citation.grade is Grade.UNVERIFIED]
    assert len(recalled) == len(solubilities()) - 1


def test_what_dissolves_are_foods_each_under_one_substance():
    named = [key for row in solubilities().values() for key in row.materials]
    assert len(named) == len(set(named))
    assert set(named) <= set(food_rows())
