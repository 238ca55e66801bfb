"""Mixing rules and component equations on arrays."""

import numpy as np
import pytest

from setwell.science.heat.components import (
    component_property,
    mixture_density,
    mixture_heat_capacity,
    thermal_diffusivity,
    volume_fractions,
)
from setwell.science.heat.liquid_mixture import conductivity_filippov
from setwell.science.heat.mixing import (
    conductivity_kopelman_across,
    conductivity_kopelman_along,
    conductivity_kopelman_isotropic,
    conductivity_levy,
    conductivity_maxwell_eucken,
    conductivity_parallel,
)
from setwell.science.heat.water import water_property

TWO_PHASE = (
    conductivity_maxwell_eucken,
    conductivity_kopelman_isotropic,
    conductivity_kopelman_along,
    conductivity_kopelman_across,
)


@pytest.mark.parametrize("rule", TWO_PHASE, ids=lambda rule: rule.__name__)
def test_rules_take_many_foods_at_once(rule):
    shares = np.linspace(0.0, 1.0, 5)
    many = rule(0.6, 0.2, dispersed_fraction=shares)
    assert many.shape == (5,)
    for row, share in enumerate(shares):
        assert many[row] == pytest.approx(float(rule(0.6, 0.2, dispersed_fraction=share)))
    grid = rule(np.array([[0.6], [0.5]]), 0.2, dispersed_fraction=shares)
    assert grid.shape == (2, 5)


def test_kopelman_with_a_poor_conductor_inside_becomes_the_short_form():
    # Where k_c is far above k_d: k = k_c (1 - L^2) / (1 - L^2 (1 - L)).
    side = np.cbrt(0.3)
    short = 0.6 * (1 - side**2) / (1 - side**2 * (1 - side))
    found = conductivity_kopelman_isotropic(0.6, 1e-9, dispersed_fraction=0.3)
    assert float(found) == pytest.approx(short, rel=1e-6)


def test_fibers_conduct_better_along_than_across():
    shares = np.linspace(0.05, 0.95, 10)
    along = conductivity_kopelman_along(0.6, 0.2, dispersed_fraction=shares)
    across = conductivity_kopelman_across(0.6, 0.2, dispersed_fraction=shares)
    assert (along > across).all()
    parallel = conductivity_parallel([0.6, 0.2], fractions=np.stack([1 - shares, shares], axis=-1))
    assert along == pytest.approx(parallel)


def test_levys_rule_as_printed_where_its_divisor_is_not_zero():
    first, second, share = 0.6, 0.2, 0.75
    ratio = first / second
    spread = (ratio - 1) ** 2 / ((ratio + 1) ** 2 + ratio / 2)
    whole = 2 / spread - 1 + 2 * share
    f = (whole - np.sqrt(whole**2 - 8 * share / spread)) / 2
    printed = second * (2 + ratio + 2 * (ratio - 1) * f) / (2 + ratio - (ratio - 1) * f)
    found = conductivity_levy(first, second, first_fraction=share)
    assert float(found) == pytest.approx(printed, rel=1e-12)
    assert float(conductivity_levy(0.4, 0.4, first_fraction=0.3)) == pytest.approx(0.4)


def test_liquids_that_mix_conduct_worse_than_their_mean():
    found = conductivity_filippov(0.6, 0.17, second_mass_fraction=[0.0, 0.5, 1.0])
    assert found[[0, 2]] == pytest.approx([0.6, 0.17])
    assert found[1] == pytest.approx(0.385 - 0.72 * 0.25 * 0.43)


def test_a_foam_conducts_far_worse_and_ends_as_air():
    shares = np.array([0.0, 0.5, 0.9, 1.0])
    found = conductivity_maxwell_eucken(0.5, 0.025, dispersed_fraction=shares)
    assert (np.diff(found) < 0).all()
    assert found[-1] == pytest.approx(0.025)


def test_component_equations_take_temperatures_of_any_shape():
    coefficients = [[1.0, 2.0, 3.0], [10.0, 0.0, 0.0]]
    found = component_property([[0.0, 1.0], [2.0, 3.0]], coefficients=coefficients)
    assert found.shape == (2, 2, 2)
    assert found[1, 0].tolist() == [17.0, 10.0]


def test_mixtures_take_a_density_for_each_batch():
    shares = np.array([[0.8, 0.2], [0.5, 0.5]])
    densities = np.array([[1000.0, 1600.0], [980.0, 1580.0]])
    volumes = volume_fractions(shares, densities=densities)
    assert volumes.sum(axis=1) == pytest.approx([1.0, 1.0])
    found = mixture_density(shares, densities=densities, porosity=[0.0, 0.25])
    assert found[1] == pytest.approx(0.75 / (0.5 / 980 + 0.5 / 1580))
    capacity = mixture_heat_capacity(shares, heat_capacities=[4180.0, 1590.0])
    assert capacity == pytest.approx([3662.0, 2885.0])
    spread = thermal_diffusivity([0.5, 0.4], density=found, heat_capacity=capacity)
    assert spread[0] == pytest.approx(0.5 / (found[0] * 3662.0))


def test_water_stays_at_the_ends_of_its_table():
    rows, figures = [0.0, 10.0, 20.0, 30.0], [1.0, 2.0, 4.0, 8.0]
    found = water_property([-5.0, 0.0, 30.0, 99.0], temperatures=rows, values=figures)
    assert found == pytest.approx([1.0, 1.0, 8.0, 8.0])


def test_water_takes_several_properties_side_by_side():
    rows = [0.0, 10.0, 20.0, 30.0]
    figures = np.array([[1.0, 4.0], [2.0, 3.0], [4.0, 2.0], [8.0, 1.0]])
    found = water_property([[5.0, 15.0]], temperatures=rows, values=figures)
    assert found.shape == (1, 2, 2)
    assert found[..., 1] == pytest.approx(np.array([[3.5, 2.5]]))


def test_the_cubic_between_the_rows_is_the_usual_one():
    spline = pytest.importorskip("scipy.interpolate").CubicSpline
    rows = np.array([0.0, 5.0, 10.0, 20.0, 25.0, 40.0, 60.0])
    figures = np.stack([np.exp(-rows / 30.0), np.sin(rows / 9.0)], axis=1)
    at = np.linspace(0.0, 60.0, 97).reshape(1, -1)
    found = water_property(at, temperatures=rows, values=figures)
    assert found == pytest.approx(spline(rows, figures)(at), abs=1e-12)
