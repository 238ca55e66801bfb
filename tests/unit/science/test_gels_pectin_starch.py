"""Laws of calcium gels, pectin, cellulose ethers and starch against their own algebra."""

import numpy as np
import pytest

from setwell.science.gels.heat_gel import gelation_temperature, viscosity_of_grade
from setwell.science.gels.ion_gel import (
    calcium_per_gum,
    calcium_stoichiometric,
    dose_tied,
    skin_thickness,
)
from setwell.science.gels.pectin import dose_of_graded_gel, setting_temperature_sugar_acid
from setwell.science.gels.starch import paste_viscosity, salt_left

SETTING = {
    "reference_temperature": 358.15, "reference_solids": 0.65, "reference_ph": 3.1,
    "rise_per_solids": 100.0, "rise_per_ph": -25.0, "limits": (278.15, 378.15),
}  # fmt: skip


def test_one_calcium_for_two_charges():
    assert calcium_stoichiometric(0.1) == pytest.approx(0.040078 / 0.2)
    assert calcium_stoichiometric([0.1, 0.2]) == pytest.approx([0.20039, 0.100195])


def test_calcium_per_gum_without_gum_is_zero_and_no_warning():
    assert calcium_per_gum([0.0, 0.01], [0.0, 0.0]).tolist() == [0.0, 0.0]
    assert calcium_per_gum(0.01, 0.004) == pytest.approx(0.100195)


def test_the_gum_or_the_calcium_runs_out_first():
    need = 0.04
    plenty, scarce = dose_tied(0.01, [1.0, 0.005], need=need)
    assert plenty == 0.01
    assert scarce == pytest.approx(0.005 * 0.040078 / need)
    assert dose_tied(0.01, 0.0, need=need) == 0.0


def test_four_times_as_long_in_the_bath_doubles_the_skin():
    times = np.array([30.0, 120.0])
    skin = skin_thickness(times, 0.09, 0.0126, diffusion=1e-9)
    assert skin[1] == pytest.approx(2.0 * skin[0])
    assert skin_thickness(60.0, 0.0, 0.0126, diffusion=1e-9) == 0.0


def test_a_skin_takes_no_more_calcium_than_crossed_it():
    """Uptake of the front equals the flux through the skin, summed by small steps."""
    bath, gum, diffusion, step = 0.09, 0.0126, 1e-9, 1e-3
    thick = 1e-6
    for _ in range(60_000):
        thick += diffusion * bath / thick / gum * step
    found = skin_thickness(60.0, bath, gum, diffusion=diffusion)
    assert found == pytest.approx(thick, rel=1e-3)


def test_a_grade_is_grams_of_sugar_per_gram():
    assert dose_of_graded_gel(0.65, sag_grade=[100.0, 200.0]) == pytest.approx([0.0065, 0.00325])


def test_sourer_and_sweeter_sets_warmer_within_the_limits():
    def at(solids: float, ph: float) -> float:
        return float(setting_temperature_sugar_acid(solids, ph, **SETTING))

    assert at(0.70, 3.1) == pytest.approx(at(0.65, 3.1) + 5.0)
    assert at(0.65, 3.3) == pytest.approx(at(0.65, 3.1) - 5.0)
    assert at(0.65, 7.0) == 278.15
    assert at(0.80, 2.0) == 378.15


def test_salt_and_sugar_lower_the_gelling_temperature_of_ethers():
    def at(salt: float, sugar: float) -> float:
        found = gelation_temperature(
            salt, sugar, reference_temperature=330.0, rise_per_salt=-125.0, rise_per_sugar=-20.0
        )
        return float(found)

    assert at(0.0, 0.0) == 330.0
    assert at(0.02, 0.25) == pytest.approx(330.0 - 2.5 - 5.0)


def test_the_grade_comes_back_at_its_own_dose_and_nothing_is_water():
    grades = np.array([0.015, 4.0, 100.0])
    found = viscosity_of_grade(
        0.02, grade_viscosity=grades, reference_dose=0.02, solvent_viscosity=0.001
    )
    assert found == pytest.approx(grades)
    nothing = viscosity_of_grade(
        0.0, grade_viscosity=grades, reference_dose=0.02, solvent_viscosity=0.001
    )
    assert nothing == pytest.approx(0.001)


def test_a_paste_follows_its_two_powers():
    law = {"consistency": 6.0, "reference_dose": 0.05, "exponent": 3.0, "flow_index": 0.4}
    found = paste_viscosity([0.05, 0.1], [1.0, 10.0], **law)
    assert found.shape == (2, 2)
    assert found[1] == pytest.approx(8.0 * found[0])
    assert found[0, 1] == pytest.approx(6.0 * 10.0**-0.6)
    assert paste_viscosity(0.0, [1.0], **law) == pytest.approx([0.0])


def test_salt_takes_half_of_what_it_can_at_the_half():
    left = salt_left([0.0, 0.03, 1e6], half=0.03, floor=0.4)
    assert left == pytest.approx([1.0, 0.7, 0.4], rel=1e-6)
