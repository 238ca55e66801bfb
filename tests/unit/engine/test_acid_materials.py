"""Acids of a formula are told by the pH of a food and by the formula of a chemical."""

import numpy as np
import pytest
from builders_engine import formula_of

from setwell import catalog_build
from setwell.engine.acid_materials import Dissolving, acid_columns, dissolving, is_clearly_acid
from setwell.engine.acid_order import acid_order
from setwell.engine.assess import bench_build
from setwell.tables.solution import chemicals

MATERIALS = catalog_build().materials
ACIDS = {
    "acetic_acid",
    "ascorbic_acid",
    "citric_acid",
    "citric_acid_monohydrate",
    "cream_of_tartar",
    "glucono_delta_lactone",
    "lactic_acid",
    "malic_acid",
    "potassium_bitartrate",
    "tartaric_acid",
}


def test_the_acids_among_the_chemicals_are_known_without_a_ph():
    assert {key for key in chemicals() if is_clearly_acid(MATERIALS[key])} == ACIDS
    assert {MATERIALS[key].ph for key in chemicals()} == {None}


@pytest.mark.parametrize(
    ("key", "does"),
    [
        ("citric_acid", Dissolving.GIVES_ACID),
        ("sodium_citrate_dihydrate", Dissolving.TAKES_UP_ACID),
        ("potassium_sorbate", Dissolving.TAKES_UP_ACID),
        ("baking_soda", Dissolving.TAKES_UP_ACID),
        ("disodium_phosphate", Dissolving.TAKES_UP_ACID),
        ("monosodium_phosphate", Dissolving.HOLDS_BETWEEN),
        ("salt_table", Dissolving.NEITHER),
        ("calcium_chloride_dihydrate", Dissolving.NEITHER),
        ("juice_lemon", None),
        ("milk_whole", None),
    ],
)
def test_a_chemical_is_judged_by_its_formula(key, does):
    assert dissolving(MATERIALS[key]) is does


def test_foods_are_acid_by_their_own_ph_and_buffering():
    keys = ("juice_lemon", "milk_whole", "vinegar_cider", "oil_olive", "citric_acid")
    found = acid_columns(tuple(MATERIALS[key] for key in keys))
    assert np.array_equal(found, [True, False, True, False, True])


@pytest.mark.parametrize(("line", "is_acid"), [("2 g citric acid", True), ("2 g salt", False)])
def test_citric_acid_in_a_formula_makes_an_order_to_choose(line, is_acid):
    steps = "Mix the powder with the sugar\nHeat to 85 °C, hold 10 min\nCool to 60 °C\nPour\nChill"
    lines = ("400 g water", "60 g sugar", "5 g kappa carrageenan", line)
    bench = bench_build(formula_of(*lines, steps=steps))
    assert bench.state.process.has_acid is is_acid
    order = acid_order(bench)
    assert (order is not None) is is_acid
    if order is not None:
        assert order.acids == ("Citric acid, anhydrous",)
        assert order.ph_before.value > order.ph.value + 1.0
