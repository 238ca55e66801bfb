"""The food tables against published values, energy factors and the laws of stoichiometry."""

import csv
import re
from collections import Counter
from pathlib import Path

import pytest

from setwell.tables.foods import FoodRow, food_rows

CASES = Path(__file__).parent / "cases"
# IUPAC conventional atomic masses, g/mol.
ATOM = {
    "H": 1.008,
    "C": 12.011,
    "O": 15.999,
    "Na": 22.990,
    "Mg": 24.305,
    "P": 30.974,
    "S": 32.06,
    "Cl": 35.45,
    "K": 39.098,
    "Ca": 40.078,
}
MINERAL = {
    "sodium_mg": "Na",
    "potassium_mg": "K",
    "calcium_mg": "Ca",
    "magnesium_mg": "Mg",
    "phosphorus_mg": "P",
}


def cases(name: str) -> list[dict[str, str]]:
    with (CASES / f"{name}.csv").open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


def analyzed() -> list[FoodRow]:
    rows = [f for f in food_rows().values() if f.source.startswith("usda_")]
    return [f for f in rows if f.nutrients["energy_kcal"] is not None]


def pure() -> list[FoodRow]:
    return [f for f in food_rows().values() if f.source == "iupac_2021"]


def amount(food: FoodRow, nutrient: str) -> float:
    return food.nutrients[nutrient] or 0.0


def atoms(formula: str) -> Counter[str]:
    """Count the atoms of a formula such as Ca(C3H5O3)2·5H2O."""
    total: Counter[str] = Counter()
    for part in formula.split("·"):
        times, body = re.fullmatch(r"(\d*)(.*)", part).groups()
        while group := re.search(r"\(([^()]*)\)(\d*)", body):
            body = body.replace(group[0], group[1] * int(group[2] or 1), 1)
        for symbol, count in re.findall(r"([A-Z][a-z]?)(\d*)", body):
            total[symbol] += int(count or 1) * int(times or 1)
    return total


def molar_mass(formula: str) -> float:
    return sum(ATOM[symbol] * count for symbol, count in atoms(formula).items())


def energy(food: FoodRow, protein: float, fat: float, carbohydrate: float, alcohol: float) -> float:
    parts = ("protein_g", "fat_g", "carbohydrate_g", "alcohol_g")
    factors = (protein, fat, carbohydrate, alcohol)
    return sum(f * amount(food, part) for part, f in zip(parts, factors, strict=True))


def test_the_formula_reader_of_this_test_knows_known_molar_masses():
    assert molar_mass("NaCl") == pytest.approx(58.44, abs=0.005)
    assert molar_mass("Ca(C3H5O3)2·5H2O") == pytest.approx(308.29, abs=0.01)


@pytest.mark.parametrize("case", cases("foods_published"), ids=lambda c: c["key"] + c["nutrient"])
def test_the_table_holds_the_published_value(case):
    decimals = len(case["printed"].partition(".")[2])
    found = food_rows()[case["key"]].nutrients[case["nutrient"]]
    assert found == pytest.approx(float(case["printed"]), abs=0.5 * 10**-decimals)
    assert food_rows()[case["key"]].locator == case["locator"]


def test_energy_follows_from_the_parts():
    factors = {(c["scope"], c["name"]): c for c in cases("foods_energy_factors")}
    off = set()
    for food in analyzed():
        guesses = [energy(food, 4, 9, 4, 7)]
        chosen = factors.get(("key", food.key)) or factors.get(("group", food.group))
        if chosen:
            three = (float(chosen[part]) for part in ("protein", "fat", "carbohydrate"))
            guesses.append(energy(food, *three, 6.93))
        usda = amount(food, "energy_kcal")
        if min(abs(guess - usda) for guess in guesses) > max(5, 0.05 * usda):
            off.add(food.key)
    assert off == {case["key"] for case in cases("foods_energy_exceptions")}


def test_no_food_has_more_energy_than_its_parts_can_give():
    for food in analyzed():
        if food.group == "vinegar":
            continue
        most = energy(food, 4.4, 9.05, 4.2, 7)
        assert amount(food, "energy_kcal") <= most + 5, food.key


def test_the_parts_sum_to_the_whole():
    parts = ("water_g", "protein_g", "fat_g", "carbohydrate_g", "ash_g", "alcohol_g")
    off = {f.key for f in analyzed() if not 98 <= sum(amount(f, p) for p in parts) <= 102}
    vinegars = {f.key for f in analyzed() if f.group == "vinegar"}
    assert off == vinegars | {"pepper_black", "baking_soda"}


@pytest.mark.parametrize("food", pure(), ids=lambda f: f.key)
def test_pure_chemicals_hold_the_minerals_of_their_formula(food):
    count, mass = atoms(food.locator), molar_mass(food.locator)
    for nutrient, symbol in MINERAL.items():
        expected = 1e5 * count[symbol] * ATOM[symbol] / mass
        assert food.nutrients[nutrient] == pytest.approx(expected, rel=2e-4), nutrient


@pytest.mark.parametrize("food", [f for f in pure() if "·" in f.locator], ids=lambda f: f.key)
def test_hydrates_hold_the_water_of_their_formula(food):
    water = food.locator.partition("·")[2]
    expected = 100 * molar_mass(water) / molar_mass(food.locator)
    assert food.nutrients["water_g"] == pytest.approx(expected, rel=2e-4)


def test_analyzed_salt_and_soda_agree_with_the_pure_chemicals():
    rows = food_rows()
    sodium = {key: rows[key].nutrients["sodium_mg"] for key in ("salt_table", "baking_soda")}
    # Table salt carries anti-caking agents and iodide, so it may hold 2 % less.
    assert sodium["salt_table"] == pytest.approx(
        rows["sodium_chloride"].nutrients["sodium_mg"], rel=0.02
    )
    pure_soda = rows["sodium_bicarbonate"].nutrients["sodium_mg"]
    assert sodium["baking_soda"] == pytest.approx(pure_soda, rel=0.001)
