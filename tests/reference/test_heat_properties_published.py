"""Heat properties of food against printed and recalled figures; misses are told as such."""

import csv
from pathlib import Path

import numpy as np
import pytest
from builders_engine import formula_of
from chemicals.iapws import (
    iapws95_P,
    iapws95_properties,
    iapws95_Psat,
    iapws95_Tc,
)
from chemicals.thermal_conductivity import k_IAPWS
from chemicals.viscosity import mu_IAPWS

from setwell.engine.assess import bench_build
from setwell.engine.heat.foodstuff import foodstuff_of
from setwell.engine.heat.liquid_water import water_at
from setwell.engine.heat.mixing_rules import RULES
from setwell.science.heat.components import (
    component_property,
    mixture_density,
    mixture_heat_capacity,
    volume_fractions,
)
from setwell.science.heat.mixing import (
    conductivity_maxwell_eucken,
    conductivity_parallel,
    conductivity_series,
)
from setwell.tables.heat.components import component_properties
from setwell.tables.heat.mixing_rules import mixing_rules
from setwell.tables.heat.water import water_rows

CASES = Path(__file__).parent / "cases"
PARTS = ("water", "protein", "fat", "carbohydrate", "ash")


def cases(name: str) -> list[dict[str, str]]:
    with (CASES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


CONDUCTIVITIES = cases("heat_conductivity")


def row_id(row):
    return f"{row['food']} {row['water']} at {row['temperature_c']}"


def shares(row):
    return np.array([float(row[part]) for part in PARTS])


def values(name, celsius, *, is_steam_table=False):
    rows = component_properties()
    found = component_property(celsius, coefficients=[rows[name, p].coefficients for p in PARTS])
    if is_steam_table:
        found[0] = getattr(water_at(celsius), name)
    return found


def by_rule(rule, row, *, is_steam_table=False):
    """Return the conductivity of water with all solids side by side as the other phase."""
    celsius = float(row["temperature_c"])
    k = values("conductivity", celsius, is_steam_table=is_steam_table)
    volumes = volume_fractions(
        shares(row), densities=values("density", celsius, is_steam_table=is_steam_table)
    )
    solid = 1.0 - volumes[0]
    return float(RULES[rule](k[0], (volumes[1:] * k[1:]).sum() / solid, solid))


def errors(rule, *, is_steam_table=False):
    """Return computed over measured less one, in percent."""
    found = [by_rule(rule, row, is_steam_table=is_steam_table) for row in CONDUCTIVITIES]
    return 100 * (np.array(found) / [float(row["printed"]) for row in CONDUCTIVITIES] - 1)


# Components.


@pytest.mark.parametrize(
    "row",
    [row for row in cases("heat_components") if row["property"] != "diffusivity"],
    ids=lambda row: f"{row['property']} of {row['component']}",
)
def test_component_equations_are_the_printed_ones(row):
    ours = component_properties()[row["property"], row["component"]]
    assert ours.coefficients == tuple(float(row[name]) for name in ("c0", "c1", "c2"))
    assert (ours.low_c, ours.high_c) == (float(row["low_c"]), float(row["high_c"]))


@pytest.mark.parametrize(
    "row",
    [row for row in cases("heat_components") if row["property"] == "diffusivity"],
    ids=lambda row: row["component"],
)
def test_printed_diffusivities_follow_from_the_other_three(row):
    # Separate fits of the same authors: within 6 % from freezing to 90 °C, fiber within 9 %.
    celsius = np.linspace(float(row["low_c"]), min(float(row["high_c"]), 90.0), 27)
    celsius = celsius[celsius >= (0.0 if row["component"] != "ice" else -40.0)]
    printed = component_property(
        celsius, coefficients=[float(row[name]) for name in ("c0", "c1", "c2")]
    )
    k, rho, cp = (
        component_property(
            celsius, coefficients=component_properties()[name, row["component"]].coefficients
        )
        for name in ("conductivity", "density", "heat_capacity")
    )
    assert printed == pytest.approx(
        k / (rho * cp), rel=0.09 if row["component"] == "fiber" else 0.06
    )


def test_the_misprinted_slope_of_fat_would_turn_its_conductivity_negative():
    row = component_properties()["conductivity", "fat"]
    constant, slope, square = row.coefficients
    at = np.array([65.0, 66.0, 100.0])
    assert (component_property(at, coefficients=[row.coefficients])[:, 0] > 0.14).all()
    wrong = component_property(at, coefficients=[(constant, 10 * slope, square)])[:, 0]
    assert wrong[0] > 0 > wrong[1] > wrong[2]


def test_the_equation_of_water_is_off_the_steam_table_as_told():
    rows = component_properties()
    for name, celsius, percent in (
        ("conductivity", 1.0, 2.6),
        ("conductivity", 20.0, 0.9),
        ("heat_capacity", 1.0, -1.0),
        ("density", 1.0, -0.3),
    ):
        ours = component_property(celsius, coefficients=[rows[name, "water"].coefficients])[0]
        off = 100 * (ours / float(getattr(water_at(celsius), name)) - 1)
        assert off == pytest.approx(percent, abs=0.06), (name, celsius)


@pytest.mark.parametrize(
    ("celsius", "capacity"),
    [(0.0, 2248.5), (20.0, 2392.1), (40.0, 2572.3), (60.0, 2785.9), (80.0, 3028.6)],
)
def test_alcohol_follows_the_curves_it_was_fitted_to(celsius, capacity):
    # VDI Heat Atlas 2010: straight line and four-term density, their printed coefficients.
    # Zabransky and others 2001: their curve at constant pressure, read from the chemicals library.
    kelvin, rows = celsius + 273.15, component_properties()
    k, rho, cp = (
        component_property(celsius, coefficients=[rows[name, "alcohol"].coefficients])[0]
        for name in ("conductivity", "density", "heat_capacity")
    )
    assert k == pytest.approx(0.2467 - 0.0002636 * kelvin, abs=1e-4)
    depth = 1.0 - kelvin / 513.9
    terms = ((748.617, 0.35), (-412.3622, 2 / 3), (776.4394, 1.0), (-436.6757, 4 / 3))
    printed = 276.0 + sum(factor * depth**power for factor, power in terms)
    assert rho == pytest.approx(printed, abs=0.1)
    assert cp == pytest.approx(capacity, rel=1e-3)


def test_alcohol_lies_near_other_figures_for_it():
    # OIML R 22: 789.24 kg/m3 at 20 °C; 2.44 kJ/kg/K at 25 °C in common tables, recalled.
    rows = component_properties()
    rho, cp = (
        component_property(celsius, coefficients=[rows[name, "alcohol"].coefficients])[0]
        for name, celsius in (("density", 20.0), ("heat_capacity", 25.0))
    )
    assert rho == pytest.approx(789.24, rel=0.0015)
    assert cp == pytest.approx(2440, rel=0.01)


# Water.


def steam(celsius):
    """Return conductivity, heat capacity, density, viscosity and expansion by the releases."""
    kelvin = celsius + 273.15
    pascal = 101325.0 if celsius < 99.97 else iapws95_Psat(kelvin) * (1 + 1e-9)
    found = iapws95_properties(kelvin, pascal)
    rho, cv, cp, slope = found[0], found[4], found[5], found[10]
    far = 1.5 * iapws95_Tc
    far_slope = iapws95_properties(far, iapws95_P(far, rho))[10]
    mu = mu_IAPWS(kelvin, rho, slope, far_slope)
    step, above = 0.05, pascal * (1.0 if celsius < 99.97 else 1.01)
    warm, cold = (iapws95_properties(kelvin + s, above)[0] for s in (step, -step))
    return (
        k_IAPWS(kelvin, rho, cp, cv, mu, slope, far_slope),
        cp,
        rho,
        mu,
        -(warm - cold) / (2 * step) / rho,
    )


@pytest.mark.parametrize("row", water_rows(), ids=lambda row: f"{row.temperature_c:g} °C")
def test_every_row_of_water_meets_the_equations_of_the_releases(row):
    k, cp, rho, mu, expansion = steam(row.temperature_c)
    assert row.conductivity == pytest.approx(k, abs=6e-6)
    assert row.heat_capacity == pytest.approx(cp, abs=6e-3)
    assert row.density == pytest.approx(rho, abs=6e-4)
    assert row.viscosity == pytest.approx(mu, abs=6e-9)
    assert row.expansion == pytest.approx(expansion, abs=1e-8)


@pytest.mark.parametrize("celsius", [2.5, 3.98, 12.3, 37.0, 62.5, 85.4, 97.0, 104.0, 121.1, 145.0])
def test_water_between_the_rows_meets_the_equations(celsius):
    ours, theirs = water_at(celsius), steam(celsius)
    assert ours[:4] == pytest.approx(theirs[:4], rel=2e-4)
    assert ours.expansion == pytest.approx(theirs[4], abs=1.5e-6)


# Mixtures.


@pytest.mark.parametrize("row", CONDUCTIVITIES, ids=row_id)
def test_measured_conductivities_are_met_within_the_stated_error(row):
    # Maxwell and Eucken with the steam table: 5.5 %, and 8 % more for the fat of a yolk.
    allowed = mixing_rules()["maxwell_eucken"].half_width / 100 + 0.25 * float(row["fat"])
    found = by_rule("maxwell_eucken", row, is_steam_table=True)
    assert found == pytest.approx(float(row["printed"]), rel=allowed)


@pytest.mark.parametrize("rule", sorted(mixing_rules()))
def test_errors_of_the_rules_are_what_the_table_says(rule):
    told, found = mixing_rules()[rule], errors(rule, is_steam_table=True)
    assert len(found) == told.values == 31
    assert found.mean() == pytest.approx(told.bias, abs=0.006)
    assert np.abs(found).mean() == pytest.approx(told.mean_error, abs=0.006)
    assert np.abs(found).max() == pytest.approx(told.largest_error, abs=0.006)
    assert 2 * np.sqrt((found**2).mean()) <= told.half_width + 0.05


@pytest.mark.parametrize(
    ("rule", "bias", "mean", "largest"),
    [
        # An independent comparison with the equation of water; its split of milk and egg into
        # protein, sugar and ash is not ours, which moves a mean by up to 0.1.
        ("parallel", 2.57, 2.79, 6.65),
        ("kopelman", 1.07, 1.98, 8.11),
        ("maxwell_eucken", -0.17, 1.74, 9.85),
        ("levy", -1.48, 2.09, 13.83),
    ],
)
def test_rules_rank_as_in_an_independent_comparison(rule, bias, mean, largest):
    found = errors(rule)
    assert found.mean() == pytest.approx(bias, abs=0.1)
    assert np.abs(found).mean() == pytest.approx(mean, abs=0.1)
    assert np.abs(found).max() == pytest.approx(largest, abs=0.1)


def test_all_components_in_series_come_out_as_in_an_independent_comparison():
    # Mean -10.92 %, largest 32.13 %, with every solid a layer of its own.
    off = []
    for row in CONDUCTIVITIES:
        celsius = float(row["temperature_c"])
        v = volume_fractions(shares(row), densities=values("density", celsius))
        found = conductivity_series(values("conductivity", celsius), fractions=v)
        off.append(100 * (float(found) / float(row["printed"]) - 1))
    assert np.mean(off) == pytest.approx(-10.92, abs=0.1)
    assert max(np.abs(off)) == pytest.approx(32.13, abs=0.1)


@pytest.mark.parametrize(
    "row", [row for row in CONDUCTIVITIES if row["food"] == "sucrose solution"], ids=row_id
)
def test_riedels_equation_gives_the_rows_of_sugar_within_a_hundredth(row):
    # Riedel 1949, as quoted by Choi and Okos 1983, recalled.
    celsius, percent = float(row["temperature_c"]), 100 * float(row["water"])
    warm = 326.58 + 1.0412 * celsius - 0.00337 * celsius**2
    found = warm * (0.796 + 0.009346 * percent) * 1e-3
    assert found == pytest.approx(float(row["printed"]), rel=0.01)


@pytest.mark.parametrize("row", cases("heat_mass"), ids=lambda r: f"{row_id(r)} {r['property']}")
def test_densities_and_heat_capacities_are_met_within_the_observed_error(row):
    name, celsius = row["property"], float(row["temperature_c"])
    part = values(name, celsius)
    whole = (
        mixture_density(shares(row), densities=part)
        if name == "density"
        else mixture_heat_capacity(shares(row), heat_capacities=part)
    )
    assert float(whole) == pytest.approx(float(row["printed"]), rel=float(row["tolerance"]))


def test_sugar_syrups_come_out_with_too_much_heat_capacity():
    # A known miss: 1 % high at 20 % sugar, 5 % at 60 %; the engine widens its range downward.
    rows = [r for r in cases("heat_mass") if r["property"] == "heat_capacity"][:3]
    off = [
        float(mixture_heat_capacity(shares(r), heat_capacities=values("heat_capacity", 20.0)))
        / float(r["printed"])
        - 1
        for r in rows
    ]
    assert [round(100 * x, 1) for x in off] == [1.0, 2.7, 5.1]


def test_solids_of_milk_conduct_as_in_a_probe_of_skim_milk():
    # Hori 1983, J. Food Sci., abstract: solids 0.346 W/m/K in the series rule, 60 to 95 % water,
    # 30 °C. The same milk by the equations and Maxwell and Eucken.
    for water in (0.6, 0.7, 0.8, 0.9, 0.95):
        solids = 1.0 - water
        x = np.array([water, 0.38 * solids, 0.0, 0.54 * solids, 0.08 * solids])
        k = values("conductivity", 30.0, is_steam_table=True)
        v = volume_fractions(x, densities=values("density", 30.0, is_steam_table=True))
        measured = conductivity_series([k[0], 0.346], fractions=[v[0], 1.0 - v[0]])
        inside = (v[1:] * k[1:]).sum() / (1.0 - v[0])
        ours = conductivity_maxwell_eucken(k[0], inside, dispersed_fraction=1.0 - v[0])
        assert float(ours) == pytest.approx(float(measured), rel=0.04 if water < 0.7 else 0.02)


def test_the_line_of_twenty_eight_dairy_products_runs_below_other_milks():
    # Sweat and Parmelee 1978, in Tavman and Tavman 1999: 0.141 + 0.00412 per % water, r = 0.93,
    # 0 to 40 °C. A known disagreement: Riedel's skim milk lies a tenth above the line, and so do
    # our figures; those of rich cream and cheese come closer.
    skim_milk = 0.566
    assert skim_milk / (0.141 + 0.412 * 0.9) == pytest.approx(1.106, abs=0.001)
    for water in (0.5, 0.6, 0.7, 0.8, 0.9):
        for fat, most in ((0.0, 0.23), (0.3, 0.15), (0.8, 0.07)):
            solids = np.array([0.5 * (1 - fat), fat, 0.4 * (1 - fat), 0.1 * (1 - fat)])
            row = dict(zip(PARTS, [water, *(solids * (1 - water))], strict=True))
            found = by_rule("maxwell_eucken", {**row, "temperature_c": "20"}, is_steam_table=True)
            assert 0.0 < found / (0.141 + 0.412 * water) - 1 < most, (water, fat)


# Foods as a cook writes them.


def food(*lines, at_c):
    return foodstuff_of(bench_build(formula_of(*lines)), at_c=at_c)


@pytest.mark.parametrize(
    ("lines", "at_c", "printed"),
    [
        # Riedel 1949, recalled: sugar in water; then milk. Sweat and Parmelee 1978: pudding 0.54.
        (("200 g sugar", "800 g water"), 20, 0.535),
        (("200 g sugar", "800 g water"), 80, 0.600),
        (("600 g sugar", "400 g water"), 20, 0.404),
        (("600 g sugar", "400 g water"), 80, 0.454),
        (("1000 g skim milk",), 20, 0.566),
        (("1000 g skim milk",), 80, 0.635),
        (("800 g whole milk", "120 g sugar", "40 g cornstarch"), 40, 0.54),
        (("1000 g evaporated milk",), 20, 0.504),
        (("100 g egg yolk",), 31, 0.420),
        (("100 g egg white",), 36, 0.577),
    ],
)
def test_measured_conductivities_lie_in_the_range_of_the_engine(lines, at_c, printed):
    found = food(*lines, at_c=at_c)
    low, high = found.conductivity_range
    assert low <= printed <= high
    assert found.conductivity == pytest.approx(printed, rel=0.09)


@pytest.mark.parametrize(
    ("lines", "printed"),
    [
        # Bubnik and others 1995, simplified, recalled; dairy handbooks, recalled.
        (("200 g sugar", "800 g water"), 3623),
        (("400 g sugar", "600 g water"), 3059),
        (("600 g sugar", "400 g water"), 2495),
        (("1000 g whole milk",), 3900),
    ],
)
def test_measured_heat_capacities_lie_in_the_range_of_the_engine(lines, printed):
    low, high = food(*lines, at_c=20).heat_capacity_range
    assert low <= printed <= high


def test_melting_cream_lies_in_the_range_of_the_engine():
    # Dairy handbooks, recalled: cream of 20 % fat 3500 to 3600 J/kg/K, over 4000 while fat melts.
    cream = ("500 g heavy cream", "400 g whole milk")
    low, high = food(*cream, at_c=18).heat_capacity_range
    assert low <= 3500
    assert high >= 4000
    assert food(*cream, at_c=60).heat_capacity_range[1] < 3800


def test_some_measured_values_lie_above_the_bound_of_all_mixing_rules():
    # Known misses that no rule can mend: the components or the recalled values are off.
    above = {}
    for row in CONDUCTIVITIES:
        celsius = float(row["temperature_c"])
        k = values("conductivity", celsius)
        v = volume_fractions(shares(row), densities=values("density", celsius))
        printed = float(row["printed"])
        assert printed > float(conductivity_series(k, fractions=v))
        over = printed / float(conductivity_parallel(k, fractions=v)) - 1
        if over > 0:
            above[row["food"]] = max(above.get(row["food"], 0.0), round(100 * over, 1))
    assert above == {"egg yolk": 3.0, "whole milk, concentrated": 0.2}
