"""Gellan and gelatin laws: direction, limits and shapes."""

import numpy as np
import pytest

from setwell.science.gels.gelatin import (
    full_strength_time,
    maturing_share,
    melting_temperature_gelatin,
)
from setwell.science.gels.gellan import (
    gellan_cations,
    gellan_ion_share,
    setting_temperature_gellan,
)

BEST = (0.002, 0.006)
COLD, COOL = (278.15, 6.5 * 3600), (283.15, 17.5 * 3600)


def set_k(cations, **more):
    figures = {"anchor_cations": 0.015, "anchor_temperature": 303.15, "slope": 3e-4, **more}
    return setting_temperature_gellan(cations, **figures)


def melt_k(dose, bloom=225.0):
    return melting_temperature_gelatin(
        dose, bloom=bloom, anchor_temperature=300.15, reference_bloom=100.0, bloom_slope=0.025,
        rise_per_decade=6.0,
    )  # fmt: skip


def test_gellan_sets_at_the_anchor_and_warmer_with_cations():
    assert set_k(0.015) == pytest.approx(303.15)
    assert (np.diff(set_k(np.geomspace(0.002, 0.3, 20))) > 0).all()


def test_one_decade_of_cations_lowers_the_inverse_temperature_by_the_slope():
    assert 1 / set_k(0.015) - 1 / set_k(0.15) == pytest.approx(3e-4)


def test_a_divalent_ion_counts_for_several_and_the_gum_only_by_its_counter_ions():
    assert gellan_cations(0.01, 0.0, divalent_weight=4.5) == pytest.approx(0.01)
    assert gellan_cations(0.0, 0.002, divalent_weight=4.5) == pytest.approx(0.009)


def test_gellan_is_whole_between_its_best_ions_and_weaker_on_both_sides():
    inside = gellan_ion_share([0.002, 0.004, 0.006], best=BEST, decades=0.4, floor=0.1)
    assert inside == pytest.approx(1.0)
    few, many = gellan_ion_share([0.0005, 0.024], best=BEST, decades=0.4, floor=0.1)
    # As many decades below as above, so the same share.
    assert few == pytest.approx(many)
    assert few < 0.5


def test_gellan_without_ions_keeps_the_floor():
    assert gellan_ion_share(0.0, best=BEST, decades=0.4, floor=0.1) == pytest.approx(0.1, abs=1e-6)


def test_gelatin_melts_higher_with_dose_and_with_bloom():
    assert (np.diff(melt_k(np.array([0.01, 0.02, 0.0667, 0.1]))) > 0).all()
    assert melt_k(0.0667, bloom=250.0) - melt_k(0.0667, bloom=150.0) == pytest.approx(2.5)
    assert melt_k(0.0667, bloom=100.0) == pytest.approx(300.15)


def test_no_gelatin_at_all_still_gives_a_number():
    assert np.isfinite(melt_k(0.0))


def test_full_strength_takes_longer_where_it_is_warmer_and_never_leaves_the_line():
    hours = full_strength_time(np.array([260.0, 275.15, 278.15, 283.15, 288.15, 300.0]),
                               cold=COLD, cool=COOL)  # fmt: skip
    assert hours[0] == hours[1]
    assert hours[-1] == hours[-2]
    assert (np.diff(hours[1:-1]) > 0).all()
    assert hours[2:4] / 3600 == pytest.approx([6.5, 17.5])


def test_strength_grows_with_the_logarithm_of_time_and_stops_at_full():
    share = maturing_share([0.0, 0.01, 0.1, 1.0, 10.0], gain_per_decade=0.45)
    assert share == pytest.approx([0.0, 0.1, 0.55, 1.0, 1.0])


@pytest.mark.parametrize("shape", [(), (1,), (3,), (2, 3)])
def test_laws_keep_the_shape_they_are_given(shape):
    dose = np.full(shape, 0.02)
    assert melt_k(dose).shape == shape
    assert set_k(dose).shape == shape
    assert gellan_ion_share(dose, best=BEST, decades=0.4, floor=0.1).shape == shape
    assert maturing_share(dose, gain_per_decade=0.4).shape == shape
    assert full_strength_time(dose + 280.0, cold=COLD, cool=COOL).shape == shape
