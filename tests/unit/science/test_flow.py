"""Laws of flow at their ends and joints."""

import numpy as np
import pytest

from setwell.science.flow.bench_tests import bostwick_reading_huppert, line_spread_radius
from setwell.science.flow.coils import (
    build_share,
    intrinsic_viscosity_mark_houwink,
    viscosity_overlap_law,
)
from setwell.science.flow.shear import (
    half_rate_of_coils,
    viscosity_carreau_yasuda,
    viscosity_cross,
    viscosity_power_law,
)
from setwell.science.flow.syrup import (
    crowding_krieger_dougherty,
    sucrose_viscosity_genotelle_1978,
)
from setwell.science.flow.temperature import arrhenius_flow_factor, water_viscosity

RATES = np.geomspace(0.01, 1000, 20)


def test_the_branches_of_the_overlap_law_meet():
    below, above = viscosity_overlap_law(
        [0.002 * (1 - 1e-9), 0.002 * (1 + 1e-9)],
        overlap_dose=0.002,
        overlap_specific_viscosity=5.0,
        solvent_viscosity=0.001,
        exponents=(1.4, 4.5),
    )
    assert above == pytest.approx(below, rel=1e-6)
    assert below == pytest.approx(0.006, rel=1e-6)


def test_cross_falls_from_one_plateau_to_the_other():
    found = viscosity_cross(
        [0.0, 4.0, 1e12],
        zero_shear_viscosity=3.0,
        high_shear_viscosity=1.0,
        half_rate=4.0,
        exponent=0.76,
    )
    assert found[0] == 3.0
    assert found[1] == pytest.approx(2.0)
    assert found[2] == pytest.approx(1.0, abs=1e-6)


def test_carreau_yasuda_runs_into_a_power_law():
    found = viscosity_carreau_yasuda(
        [1e4, 1e5],
        zero_shear_viscosity=2.0,
        high_shear_viscosity=0.0,
        time_constant=1.0,
        flow_index=0.4,
        exponent=0.7,
    )
    assert np.diff(np.log10(found))[0] == pytest.approx(-0.6, abs=0.002)


def test_a_sharper_bend_stays_longer_on_the_plateau():
    soft, sharp = (
        float(
            viscosity_carreau_yasuda(
                0.5,
                zero_shear_viscosity=2.0,
                high_shear_viscosity=0.0,
                time_constant=1.0,
                flow_index=0.4,
                exponent=bend,
            )
        )
        for bend in (0.7, 4.0)
    )
    assert soft < sharp < 2.0


def test_a_flow_index_of_one_does_not_thin():
    assert viscosity_power_law(RATES, consistency=0.3, flow_index=1.0) == pytest.approx(0.3)


def test_thicker_coils_thin_at_slower_shear():
    assert half_rate_of_coils([1.0, 10.0], half_stress=10.0).tolist() == [10.0, 1.0]


def test_arrhenius_is_one_at_its_own_temperature_and_without_energy():
    for kelvin, energy in ((298.15, 2e4), (350.0, 0.0)):
        found = arrhenius_flow_factor(
            kelvin, activation_energy=energy, reference_temperature=298.15
        )
        assert float(found) == pytest.approx(1.0)


def test_a_syrup_without_sugar_is_water_at_any_temperature():
    kelvin = np.linspace(273.15, 373.15, 11)
    found = sucrose_viscosity_genotelle_1978(0.0, temperature=kelvin)
    assert found == pytest.approx(water_viscosity(kelvin))


def test_every_gram_of_sugar_thickens_also_across_the_joint_with_water():
    sugar = np.linspace(0.0, 0.7, 701)
    for celsius in (0, 20, 60, 95):
        found = sucrose_viscosity_genotelle_1978(sugar, temperature=celsius + 273.15)
        assert (np.diff(found) > 0).all(), celsius


def test_a_few_droplets_thicken_as_einstein_says():
    found = crowding_krieger_dougherty([0.0, 1e-5], packing=0.64)
    assert (found[1] - 1.0) / 1e-5 == pytest.approx(2.5, rel=1e-4)
    assert found[0] == 1.0


def test_nothing_is_built_before_mixing_and_all_of_it_in_the_end():
    found = build_share([-60.0, 0.0, 660.0, 1e6], build_time=660.0)
    assert found == pytest.approx([0.0, 0.0, 1 - np.exp(-1), 1.0])


def test_mark_houwink_doubles_by_its_power():
    one, two = intrinsic_viscosity_mark_houwink([1e5, 2e5], prefactor=3e-3, exponent=0.95)
    assert two / one == pytest.approx(2**0.95)


def test_very_thick_food_stays_behind_the_gate_and_in_its_ring():
    assert float(bostwick_reading_huppert(1e5, density=1000.0, time=30.0)) == 0.0
    assert float(line_spread_radius(1e9, intercept=0.05, slope=-0.01)) == 0.0


def test_four_times_thinner_runs_as_far_in_a_quarter_of_the_time():
    thick = bostwick_reading_huppert(40.0, density=1000.0, time=40.0)
    thin = bostwick_reading_huppert(10.0, density=1000.0, time=10.0)
    assert float(thick) == pytest.approx(float(thin))


GRID = np.array([[0.01, 0.02, np.nan], [0.1, 0.4, 0.6]])
LAWS = {
    "mark-houwink": lambda x: intrinsic_viscosity_mark_houwink(x, prefactor=1.0, exponent=0.8),
    "build": lambda x: build_share(x, build_time=0.3),
    "cross": lambda x: viscosity_cross(
        x, zero_shear_viscosity=2.0, high_shear_viscosity=0.1, half_rate=0.2, exponent=0.76
    ),
    "carreau": lambda x: viscosity_carreau_yasuda(
        x, zero_shear_viscosity=2.0, high_shear_viscosity=0.1, time_constant=3.0, flow_index=0.4
    ),
    "half rate": lambda x: half_rate_of_coils(x, half_stress=10.0),
    "power": lambda x: viscosity_power_law(x, consistency=2.0, flow_index=0.3),
    "arrhenius": lambda x: arrhenius_flow_factor(
        300 + 10 * x, activation_energy=2e4, reference_temperature=298.15
    ),
    "water": lambda x: water_viscosity(280 + 100 * x),
    "syrup": lambda x: sucrose_viscosity_genotelle_1978(x, temperature=293.15),
    "crowding": lambda x: crowding_krieger_dougherty(x, packing=0.64),
    "bostwick": lambda x: bostwick_reading_huppert(100 * x, density=1000.0, time=30.0),
    "line spread": lambda x: line_spread_radius(x, intercept=0.05, slope=-0.01),
}


@pytest.mark.parametrize("law", LAWS.values(), ids=LAWS.keys())
def test_arrays_keep_their_shape_their_gaps_and_their_rows(law):
    found = law(GRID)
    assert found.shape == GRID.shape
    assert np.isnan(found).tolist() == np.isnan(GRID).tolist()
    assert float(law(np.array(0.02))) == pytest.approx(found[0, 1])
