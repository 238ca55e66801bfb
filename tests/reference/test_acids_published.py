"""Acids of lemon juice and buffers of milk against published figures."""

import numpy as np
import pytest

from setwell import catalog_build
from setwell.engine.acid_side import system_index, systems_at, water_at
from setwell.engine.acidity import acidity
from setwell.engine.material import NUTRIENT_INDEX
from setwell.science.solution.charge_balance import ph_charge_balance
from setwell.tables.solution import acid_systems, food_acids

CATALOG = catalog_build()
# Standard atomic weights, IUPAC 2021 (abridged), with the charge of the ion.
IONS = {"sodium": (22.990, 1), "potassium": (39.098, 1), "calcium": (40.078, 2),
        "magnesium": (24.305, 2)}  # fmt: skip


def test_lemon_juice_has_its_published_ph_from_composition_alone():
    # Acids from the table of food acids, minerals from the food composition table; its own pH
    # is not used. Published: 2.00 to 2.60 (fda_ph_2003, "Lemon juice").
    juice = CATALOG.find("lemon juice").material
    water = juice.nutrients[NUTRIENT_INDEX["water_g"]] / 100.0
    totals = np.zeros((1, len(systems_at(25.0).top_charge)))
    for acid in food_acids()[juice.table_key]:
        molar = acid_systems()[acid.acid].molar_mass
        totals[0, system_index()[acid.acid]] = 1000.0 * acid.mass_fraction / molar / water
    strong = sum(
        charge * juice.nutrients[NUTRIENT_INDEX[f"{ion}_mg"]] / 100.0 / molar / water
        for ion, (molar, charge) in IONS.items()
    )
    found = ph_charge_balance(totals, [strong], acids=systems_at(25.0), water=water_at(25.0))
    assert 2.0 <= found.ph[0] <= 2.6
    # Without its potassium and calcium the juice would be clearly more sour.
    bare = ph_charge_balance(totals, [0.0], acids=systems_at(25.0), water=water_at(25.0))
    assert bare.ph[0] < found.ph[0] - 0.2


def test_milk_buffers_most_where_its_colloidal_phosphate_dissolves():
    # Maximum 33 mmol/(L pH) in skim milk (dairy course text) at pH 5.1 (Advanced Dairy Chemistry
    # vol. 3, fig. 9.2) or 5.05 (Tomasula et al. 1999). The groups of the model were chosen with
    # an eye on these two figures, so this checks the bookkeeping, not the choice.
    milk = CATALOG.find("skim milk").material
    acid = CATALOG.find("citric acid").material
    water = milk.nutrients[NUTRIENT_INDEX["water_g"]] / 100.0
    found = acidity(np.array([[1000.0, 0.0]]), (milk, acid), np.array([1000.0 * water]))
    ph = np.arange(4.0, 6.6, 0.02)
    base = np.array([found.strong_at(float(at))[0] for at in ph])
    capacity = 1000.0 * np.gradient(base, ph) * water * 1.034
    top = int(capacity.argmax())
    assert ph[top] == pytest.approx(5.1, abs=0.15)
    assert capacity[top] == pytest.approx(33.3, rel=0.1)
    assert capacity[0] < 0.8 * capacity[top]
    assert capacity[-1] < 0.6 * capacity[top]
