"""A damaged table is refused on loading, with file and line."""

import pytest
from builders_tables import damage, tables_copied

from setwell.errors import TableError
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


@pytest.fixture
def folder(tmp_path):
    return tables_copied("solution", tmp_path)


@pytest.mark.parametrize(
    ("read", "file", "old", "new", "told"),
    [
        (acid_systems, "acids", "benzoic,", "acetic,", r"acids\.csv, line 4: acetic stands there"),
        (acid_systems, "acids", "60.052,0", "60.052,half", "charge is “half”, not a number"),
        (acid_systems, "acids", "60.052,0", "60.052,0.5", "0.5, not a whole number"),
        (acid_systems, "acids", "acetic,Acetic", "vinic,Acetic", "steps of vinic must count up"),
        (acid_systems, "dissociation", "fumaric,2,", "fumaric,4,", "fumaric must count up"),
        (acid_systems, "dissociation", "pk,4.756", "pk,sour", "value is “sour”, not a number"),
        (acid_systems, "dissociation", "pk,4.756", "pk,9.756", "lies outside its range"),
        (acid_systems, "dissociation", "kJ/mol", "kcal/mol", "unit of enthalpy must be kJ/mol"),
        (acid_systems, "dissociation", "acetic,1,pk", "vinic,1,pk", "a step of acetic has no pk"),
        (acid_systems, "dissociation", "citric,2,pk,4.761,4.751", "citric,2,pk,3,3", "must rise"),
        (complexes, "complexes", "calcium,acetic,", "calcium,vinic,", "no acid is called vinic"),
        (complexes, "complexes", "acetic,-1", "acetic,-2", "acetic has no anion of charge -2"),
        (complexes, "complexes", "calcium,", "cobalt,", "cation is “cobalt”"),
        (titratable_acids, "titratable", "acetic,acetic", "acetic,vinic", "no acid is called"),
        (food_acids, "food_acids", "apple,malic,0.6", "apple,malic,6", "outside its range"),
        (food_acids, "food_acids", "g/100 g", "g/L", "unit must be g/100 g"),
        (food_acids, "food_acids", "apple,malic", "apple,magic", "no acid is called magic"),
        (food_acids, "food_acids", "compiled", "certain", "“certain” is not a grade"),
        (chemicals, "chemicals", "freely", "maybe", "dissolves is “maybe”"),
        (chemicals, "chemicals", "acetic_acid,", "vinic_acid,", "no line for vinic_acid"),
        (chemicals, "chemical_parts", "acetic_acid,", "vinic_acid,", "no line for acetic_acid"),
        (chemicals, "chemical_parts", "ion,calcium", "ion,cobalt", "no ion is called cobalt"),
        (milk_groups, "milk_groups", "bicarbonate,pk", "carbonate,pk", "bicarbonate has no pk"),
        (milk_groups, "milk_groups", "amount,1.932", "amount,19.32", "lies outside its range"),
        (milk_groups, "milk_groups", ",slope,", ",tilt,", "property is “tilt”"),
        (milk_salts, "milk_salts", "calcium,range,29,", "calcium,range,92,", "outside its range"),
        (milk_salts, "milk_salts", "calcium,total", "calcium,colloidal", "colloidal stands there"),
        (water_constants, "water", "pkw,005", "pkw,000", "temperatures of pkw must rise"),
        (water_constants, "water", "davies_linear,", "pkw,", "one line of davies_linear"),
        (hardness_presets, "hardness", "hard,calcium", "hardest,calcium", "hard must have"),
        (hardness_units, "hardness_units", "°dH", "", "symbol is blank"),
        (solutes, "water_activity", "sucrose,molar_mass", "sucrose,ions", "sucrose has no molar"),
        (solutes, "water_activity", "sucrose,norrish_k", "sucrose,ions", "needs norrish_k or"),
        (solubilities, "solubility", "35.9,35.5", "35.9,36.1", "lies outside its range"),
        (solubilities, "solubility", "9.6,9,", "9.6,0,", "must lie above zero"),
        (solubilities, "solubility", "g/100 g water", "g/L", "unit must be g/100 g water"),
        (solubilities, "solubility", ",salt_table;", ",lactose_monohydrate;", "stands there twice"),
        (taste_limits, "taste", "noticed", "loved", "effect is “loved”"),
    ],
)
def test_damaged_tables_are_refused(folder, read, file, old, new, told):
    damage(folder / f"{file}.csv", old, new)
    with pytest.raises(TableError, match=told):
        read(folder)


def test_a_part_of_a_chemical_that_is_not_listed_is_refused(folder):
    with (folder / "chemical_parts.csv").open("a", encoding="utf-8") as file:
        file.write("vinic_acid,acid,acetic,1,mol/mol,standard,iupac_2021,C2H4O2,\n")
    with pytest.raises(TableError, match="no chemical is called vinic_acid"):
        chemicals(folder)


def test_a_step_of_an_unknown_acid_is_refused(folder):
    with (folder / "dissociation.csv").open("a", encoding="utf-8") as file:
        file.write("vinic,1,pk,4,3,5,1,standard,iupac_2021,x,\n")
    with pytest.raises(TableError, match="no acid is called vinic"):
        acid_systems(folder)


def test_a_missing_table_is_named(folder):
    (folder / "water.csv").unlink()
    with pytest.raises(TableError, match=r"water\.csv cannot be read"):
        water_constants(folder)
