"""Tables of components, water, spirits and mixing rules: rows, and what is refused."""

import numpy as np
import pytest
from builders_tables import damage, tables_copied

from setwell.errors import TableError
from setwell.tables.heat import component_densities
from setwell.tables.heat.components import component_properties
from setwell.tables.heat.mixing_rules import mixing_rules
from setwell.tables.heat.spirit_excess import spirit_excesses
from setwell.tables.heat.water import water_rows


def test_every_component_has_all_three_properties_and_bubbles_one():
    rows = component_properties()
    components = {"water", "ice", "alcohol", "protein", "fat", "carbohydrate", "fiber", "ash"}
    for name in ("conductivity", "density", "heat_capacity"):
        own = {component for prop, component in rows if prop == name}
        assert own - {"air"} == components
    assert [key for key in rows if key[1] == "air"] == [("conductivity", "air")]


@pytest.mark.parametrize(
    "component", ["alcohol", "ash", "carbohydrate", "fat", "fiber", "protein", "water"]
)
def test_densities_at_20_degrees_are_those_of_the_density_table(component):
    # Two tables, one truth: the equations at 20 °C meet the figures that volume goes by.
    constant, slope, square = component_properties()["density", component].coefficients
    at_20 = constant + 20 * slope + 400 * square
    # Water comes from its own equation here, ethanol from another handbook.
    allowed = 3.0 if component == "water" else 1.0 if component == "alcohol" else 0.06
    assert at_20 == pytest.approx(component_densities()[component].value, abs=allowed)


def test_water_is_heaviest_near_4_degrees_and_thins_all_the_way():
    rows = water_rows()
    assert max(rows, key=lambda row: row.density).temperature_c == 5
    assert [row.expansion > 0 for row in rows] == [False] + [True] * (len(rows) - 1)
    assert (np.diff([row.viscosity for row in rows]) < 0).all()
    assert (rows[0].temperature_c, rows[-1].temperature_c) == (0, 150)
    assert np.diff([row.temperature_c for row in rows]).max() == 10


def test_spirits_gain_heat_capacity_in_the_middle_only():
    rows = spirit_excesses()
    assert [row.value for row in rows][:1] + [row.value for row in rows][-1:] == [0, 0]
    assert all(row.low < row.value < row.high for row in rows[1:-1])


@pytest.fixture
def folder(tmp_path):
    return tables_copied("heat", tmp_path)


@pytest.mark.parametrize(
    ("name", "old", "new", "load", "told"),
    [
        ("components", "-0.00027604", "-0.0027604", component_properties, "falls to zero at 150"),
        ("components", "conductivity,fat", "conductivity,ash", component_properties, "twice"),
        ("components", ",W/m/K,", ",W/m/C,", component_properties, "unit of conductivity"),
        ("components", "0,-40,150,W", "0,150,150,W", component_properties, "rise from low to high"),
        ("components", "conductivity,ash", "whiteness,ash", component_properties, "property is"),
        ("water", "\n5,", "\n0,", water_rows, "rise in temperature"),
        ("water", "0.56779", "0", water_rows, "only expansion"),
        ("spirit_excess", "100,0,0,0", "99,0,0,0", spirit_excesses, "from 0 to 100"),
        ("spirit_excess", "25,570,", "25,200,", spirit_excesses, "outside its range"),
        ("spirit_excess", "J/kg/K", "cal/g", spirit_excesses, "unit must be"),
        ("mixing_rules", "maxwell_eucken", "levy", mixing_rules, "twice"),
        ("mixing_rules", "10.17,5.5", "1.17,5.5", mixing_rules, "do not fit"),
    ],
)
def test_damaged_heat_tables_are_refused(folder, name, old, new, load, told):
    damage(folder / f"{name}.csv", old, new)
    with pytest.raises(TableError, match=told):
        load(folder)
