"""The science functions broadcast, keep NaN where it was, and stay inside their bounds."""

import numpy as np
import pytest

from setwell.science.flow.coils import viscosity_overlap_law
from setwell.science.gels.hydration import hydrated_fraction
from setwell.science.gels.setting import (
    counter_ion_concentration,
    setting_temperature_iota_calcium,
    setting_temperature_kappa_rochas_1984,
)
from setwell.science.gels.strength import (
    bloom_at_dose,
    dose_equivalent_bloom,
    modulus_from_flat_punch,
    modulus_power_law,
    potassium_factor,
)
from setwell.science.solution.mixture import (
    alcohol_by_volume,
    degrees_brix,
    density_additive,
    molality,
)

GRID = np.array([[0.01, 0.02], [0.03, np.nan]])
LAWS = {
    "dissolving": lambda x: hydrated_fraction([60.0, 20.0], rate=x),
    "counter ions": lambda x: counter_ion_concentration(x, equivalent_weight=0.4),
    "kappa": lambda x: setting_temperature_kappa_rochas_1984(x, intercept=11.0, slope=-3900.0),
    "iota": lambda x: setting_temperature_iota_calcium(
        x, reference_temperature=328.0, rise_per_decade=12.0, limits=(308.0, 348.0)
    ),
    "power law": lambda x: modulus_power_law(
        x, modulus_at_reference=1.0, reference_dose=0.01, exponent=2.0
    ),
    "potassium": lambda x: potassium_factor(x, optimum=0.2, decades=0.45, floor=0.4),
    "bloom": lambda x: bloom_at_dose(x, bloom=200.0, exponent=1.85),
    "punch": lambda x: modulus_from_flat_punch(x, radius=0.00635, depth=0.004),
    "equivalent": lambda x: dose_equivalent_bloom(x, bloom=200.0, wanted_bloom=160.0),
    "overlap": lambda x: viscosity_overlap_law(
        x, overlap_dose=0.002, overlap_specific_viscosity=10.0, solvent_viscosity=0.001,
        exponents=(1.4, 3.3),
    ),
    "brix": lambda x: degrees_brix(x, 1.0 - x),
    "abv": lambda x: alcohol_by_volume(x, 950.0),
    "molality": lambda x: molality(x, 1.0, molar_mass=0.04),
}  # fmt: skip
every_law = pytest.mark.parametrize("law", LAWS.values(), ids=LAWS.keys())


@every_law
def test_the_shape_is_that_of_the_input(law):
    assert law(GRID).shape == GRID.shape
    assert law(np.array(0.02)).shape == ()


@every_law
def test_nan_stays_where_it_was(law):
    assert np.isnan(law(GRID)).tolist() == np.isnan(GRID).tolist()


@every_law
def test_rows_are_computed_alone(law):
    assert law(GRID)[0, 1] == pytest.approx(float(law(np.array(0.02))))


def test_iota_is_held_between_its_limits():
    found = setting_temperature_iota_calcium(
        [1e-9, 1.0], reference_temperature=328.0, rise_per_decade=12.0, limits=(308.0, 348.0)
    )
    assert found.tolist() == [308.0, 348.0]


def test_more_potassium_sets_kappa_warmer():
    found = setting_temperature_kappa_rochas_1984(
        [0.005, 0.02, 0.1, 0.2], intercept=11.091, slope=-3883.2
    )
    assert (np.diff(found) > 0).all()


def test_potassium_factor_falls_on_both_sides_to_its_floor():
    found = potassium_factor([1e-9, 0.02, 0.2, 2.0, 1e9], optimum=0.2, decades=0.45, floor=0.4)
    assert found[2] == 1.0
    assert found[1] == pytest.approx(found[3])
    assert found[0] == pytest.approx(0.4)
    assert found[4] == pytest.approx(0.4)


def test_no_gum_is_water_and_no_gel():
    assert float(
        viscosity_overlap_law(
            0.0, overlap_dose=0.002, overlap_specific_viscosity=10.0, solvent_viscosity=0.001,
            exponents=(1.4, 3.3),
        )
    ) == 0.001  # fmt: skip
    assert (
        float(modulus_power_law(0.0, modulus_at_reference=5.0, reference_dose=0.01, exponent=2.0))
        == 0.0
    )


def test_unknown_water_is_not_taken_for_none():
    assert np.isnan(molality(1.0, np.nan, molar_mass=1.0))
    assert np.isnan(degrees_brix(1.0, np.nan))


def test_where_there_is_nothing_the_answer_is_zero_not_a_warning():
    assert degrees_brix(0.0, 0.0) == 0.0
    assert molality([1.0, 1.0], [0.0, 2.0], molar_mass=1.0).tolist() == [0.0, 0.5]


def test_density_of_a_mixture_lies_between_its_parts():
    found = density_additive([[0.3, 0.7], [1.0, 0.0]], [800.0, 1200.0])
    assert 800 < found[0] < 1200
    assert found[1] == 800
