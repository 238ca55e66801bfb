"""Tables of surfaces, walls, hobs and cold places: a row for every kind, and what is refused."""

import pytest
from builders_tables import damage, tables_copied

from setwell.domain.equipment import CoolerKind, HobKind, WallMaterial
from setwell.errors import TableError
from setwell.tables.heat.cold_places import QUANTITIES, cold_place_rows
from setwell.tables.heat.hobs import hob_rows
from setwell.tables.heat.surfaces import surface_rows
from setwell.tables.heat.walls import wall_rows

NO_MACHINE = {CoolerKind.ICE_BATH, CoolerKind.COUNTER}


def test_every_wall_material_of_the_documents_has_a_row_and_no_other():
    assert set(wall_rows()) == {material.value for material in WallMaterial}


def test_every_kind_of_hob_has_a_row_and_no_other():
    assert set(hob_rows()) == {kind.value for kind in HobKind}


def test_every_cold_place_with_a_machine_has_its_figures():
    with_machine = {kind.value for kind in CoolerKind if kind not in NO_MACHINE}
    assert set(cold_place_rows()) == {(k, q) for k in with_machine for q in QUANTITIES}


def test_metals_conduct_and_foam_insulates():
    found = wall_rows()
    by_conduction = sorted(found, key=lambda name: found[name].conductivity)
    assert by_conduction[0] == "foamed polystyrene"
    assert set(by_conduction[-5:]) == {
        "stainless steel", "carbon steel", "cast iron", "aluminum", "copper",
    }  # fmt: skip


def test_a_wall_holds_the_heat_of_a_solid():
    # Solids hold 1 to 4 MJ per cubic meter and degree; foam is mostly gas.
    for name, row in wall_rows().items():
        if name != "foamed polystyrene":
            assert 0.9e6 < row.density * row.heat_capacity < 4.2e6, name


@pytest.mark.parametrize(
    ("name", "load", "old", "new", "message"),
    [
        ("surfaces", surface_rows, "plate_freezer,,50,500", "plate_freezer,40,50,500", "rise"),
        ("surfaces", surface_rows, "shelf_contact,30,10,100,W/m2K",
         "shelf_contact,30,10,100,W", "not one of"),
        ("walls", wall_rows, "PET,0.2,0.15", "PET,0.2,0.25", "outside its own range"),
        ("hobs", hob_rows, "gas,0.4,0.28,0.45", "gas,0.4,0.28,1.45", "between 0 and 1"),
        ("hobs", hob_rows, "gas,", "steam,", "twice"),
        ("cold_places", cold_place_rows, "freezer,power_per_liter,0.3,0.15",
         "freezer,power_per_liter,0.3,0.35", "rise"),
        ("cold_places", cold_place_rows, "power_per_liter", "power", "not one of"),
    ],
)  # fmt: skip
def test_a_broken_table_is_named(tmp_path, name, load, old, new, message):
    damage(tables_copied("heat", tmp_path) / f"{name}.csv", old, new)
    with pytest.raises(TableError, match=message):
        load(tmp_path)


def test_a_surface_too_shiny_is_refused(tmp_path):
    damage(tables_copied("heat", tmp_path) / "walls.csv", "1170,0.5,0.9,", "1170,0.5,1.9,")
    with pytest.raises(TableError, match="no wall can have"):
        wall_rows(tmp_path)
