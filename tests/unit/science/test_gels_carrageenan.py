"""Ions, pH and sugar on carrageenan gels, and water given off with time: shapes and limits."""

import numpy as np
import pytest

from setwell.science.gels.carrageenan import (
    calcium_excess,
    calcium_share,
    fracture_strain_kappa,
    setting_shift_ph,
    setting_temperature_kappa_root,
    sodium_share,
)
from setwell.science.gels.strength import potassium_factor
from setwell.science.gels.syneresis import syneresis_share

WIDE = {"optimum": 1.0, "decades": 0.45, "floor": 0.4}
STRAIN = {
    "strain_at_reference": 0.5, "reference_dose": 0.01, "dose_exponent": -0.1, "fall": 0.3,
}  # fmt: skip


def test_four_times_the_cations_rise_by_one_root():
    found = setting_temperature_kappa_root([0.0, 0.01, 0.04], intercept=283.0, slope=120.0)
    assert found == pytest.approx([283.0, 295.0, 307.0])


def test_ph_moves_the_set_only_between_its_limits():
    shift = setting_shift_ph(
        [1.0, 3.0, 7.0, 8.0, 11.0], rise_per_ph=1.0, reference_ph=7.0, limits=(3.0, 8.0)
    )
    assert shift.tolist() == [-4.0, -4.0, 0.0, 1.0, 1.0]


def test_sodium_rises_with_the_root_and_never_beats_potassium():
    assert sodium_share([0.0, 0.16, 0.64, 6.4], full=0.64).tolist() == [0.0, 0.5, 1.0, 1.0]


def test_the_floor_of_the_bell_may_differ_from_batch_to_batch():
    found = potassium_factor([1e-6, 1e-6], optimum=0.2, decades=0.4, floor=np.array([0.1, 0.3]))
    assert found == pytest.approx([0.1, 0.3], abs=1e-6)


def test_calcium_ties_up_to_its_best_and_takes_beyond():
    ratio = np.array([0.0, 0.5, 1.0, 2.0, 1e6])
    assert calcium_share(ratio, optimum=1.0).tolist() == [0.0, 0.5, 1.0, 1.0, 1.0]
    left = calcium_excess(ratio, **WIDE)
    assert left[:3].tolist() == [1.0, 1.0, 1.0]
    assert 0.4 < left[3] < 1.0
    assert left[4] == pytest.approx(0.4, abs=1e-6)


def test_another_optimum_moves_both_sides():
    assert calcium_share(0.25, optimum=0.5) == 0.5
    assert calcium_excess(0.5, optimum=0.5, decades=0.45, floor=0.4) == 1.0
    assert calcium_excess(0.6, optimum=0.5, decades=0.45, floor=0.4) < 1.0


def test_kappa_breaks_shorter_with_more_gum_and_more_potassium():
    dose = fracture_strain_kappa([0.005, 0.01, 0.02], ion_share=0.5, **STRAIN)
    assert dose[1] == 0.5
    assert dose[0] > dose[1] > dose[2]
    ions = fracture_strain_kappa(0.01, ion_share=[0.0, 0.5, 1.0], **STRAIN)
    assert ions == pytest.approx([0.575, 0.5, 0.425])


def test_water_starts_at_nothing_and_ends_whole():
    hours = np.array([0.0, 1.0, 24.0, 168.0, 1e6]) * 3600
    found = syneresis_share(
        hours, shrink_rate=0.035 / 3600, yield_rate=0.2 / 3600, shrink_share=0.5
    )
    assert found[0] == 0.0
    assert (np.diff(found) > 0).all()
    assert found[-1] == pytest.approx(1.0)


def test_the_first_water_comes_at_the_mean_of_the_two_rates():
    slow, quick = 1e-5, 6e-5
    first = syneresis_share(1.0, shrink_rate=slow, yield_rate=quick, shrink_share=0.25)
    assert first == pytest.approx(0.25 * slow + 0.75 * quick, rel=1e-3)
