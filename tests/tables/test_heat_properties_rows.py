"""Tables of components, water, spirits and mixing rules: files, rows and what is refused."""

import csv
import hashlib
import re
import shutil
import tomllib

import numpy as np
import pytest

from setwell.errors import TableError
from setwell.provenance import Grade
from setwell.tables.heat import component_densities
from setwell.tables.heat.components import FOLDER, component_properties
from setwell.tables.heat.mixing_rules import mixing_rules
from setwell.tables.heat.spirit_excess import spirit_excesses
from setwell.tables.heat.water import water_rows
from setwell.tables.sources import sources

# Recalled figures, counted so that none slips in or turns into a finding unnoticed.
RECALLED = {"components": 1, "mixing_rules": 7, "spirit_excess": 4, "water": 0}
every_file = pytest.mark.parametrize("name", sorted(RECALLED))


def lines(name: str) -> list[dict[str, str]]:
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def sidecar(name: str) -> dict:
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


@every_file
def test_the_card_of_a_heat_table_matches_it(name):
    told, rows = sidecar(name), lines(name)
    data = (FOLDER / f"{name}.csv").read_bytes()
    assert told["rows"] == len(rows)
    assert told["sha256"] == hashlib.sha256(data).hexdigest()
    assert b"\r" not in data
    assert list(told["columns"]) == list(rows[0])
    assert all(told["columns"].values())
    for entry in ("title", "purpose", "missing_values", "license", "compiled"):
        assert told[entry]


@every_file
def test_keys_of_a_heat_table_are_unique(name):
    keys = [tuple(row[column] for column in sidecar(name)["key"]) for row in lines(name)]
    assert len(set(keys)) == len(keys)


@every_file
def test_recalled_heat_figures_are_marked_and_counted(name):
    rows = lines(name)
    for row in rows:
        assert row["source"] in sources(), row
        assert row["grade"] in set(Grade), row
        assert ("recalled" in row["locator"]) == (row["grade"] == Grade.UNVERIFIED), row
        assert not re.search(r"fibre|colour|sulph", " ".join(row.values())), row
    assert sum(row["grade"] == Grade.UNVERIFIED for row in rows) == RECALLED[name]


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
    for name in RECALLED:
        shutil.copy(FOLDER / f"{name}.csv", tmp_path)
    return tmp_path


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
    path = folder / f"{name}.csv"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(TableError, match=told):
        load(folder)
