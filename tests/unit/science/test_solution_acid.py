"""pH from acids and strong ions: limits with a closed form, shapes, and refusals."""

import numpy as np
import pytest

from setwell.errors import OutOfRangeError
from setwell.science.solution import charge_search
from setwell.science.solution.charge_balance import (
    ph_charge_balance,
    strong_ion_difference_for_ph,
)
from setwell.science.solution.charge_search import Water
from setwell.science.solution.dissociation import pk_at_temperature
from setwell.science.solution.protonation import AcidSystems, Prepared

NAN = np.nan
# No activity correction, so that textbook formulas hold to the last digits.
IDEAL = Water(pkw=14.0, debye_huckel=0.0)
REAL = Water(pkw=13.995, debye_huckel=0.5115)
ACETIC = AcidSystems(pk=[[4.756, NAN, NAN, NAN]], top_charge=[0])
CITRIC_AND_SITES = AcidSystems(
    pk=[[3.128, 4.761, 6.396, NAN], [4.5, NAN, NAN, NAN], [6.5, NAN, NAN, NAN]],
    top_charge=[0, 0, 1],
)


def test_pure_water_is_neutral():
    found = ph_charge_balance([[0.0]], [0.0], acids=ACETIC, water=IDEAL)
    assert found.ph[0] == pytest.approx(7.0, abs=1e-12)
    assert found.buffer_capacity[0] == pytest.approx(np.log(10) * 2e-7, rel=1e-9)


def test_weak_acid_solves_its_cubic():
    # h^3 + K h^2 − (K T + Kw) h − K Kw = 0
    constant, total, ion_product = 10**-4.756, 0.02, 1e-14
    roots = np.roots([1, constant, -(constant * total + ion_product), -constant * ion_product])
    found = ph_charge_balance([[total]], [0.0], acids=ACETIC, water=IDEAL)
    assert 10 ** -found.ph[0] == pytest.approx(roots[roots > 0][0], rel=1e-9)


@pytest.mark.parametrize(("difference", "ph"), [(-0.01, 2.0), (0.01, 12.0), (-1.0, 0.0)])
def test_strong_acid_and_base_have_the_ph_of_their_amount(difference, ph):
    found = ph_charge_balance([[0.0]], [difference], acids=ACETIC, water=IDEAL)
    assert found.ph[0] == pytest.approx(ph, abs=1e-9)


def test_ph_is_the_activity_of_hydrogen():
    # 0.1 mol/kg strong acid, gamma = 10^−0.1075 after Davies.
    found = ph_charge_balance([[0.0]], [-0.1], acids=ACETIC, water=REAL)
    assert found.ionic_strength[0] == pytest.approx(0.1, rel=1e-9)
    assert found.ph[0] == pytest.approx(1.0 + 0.1075, abs=1e-4)


def test_sites_with_a_positive_top_are_bases():
    found = ph_charge_balance([[0.0, 0.0, 0.05]], [0.0], acids=CITRIC_AND_SITES, water=REAL)
    # The bare base takes its proton from water.
    assert 9 < found.ph[0] < 11
    assert 0 < found.mean_charge[0, 2] < 0.01


def test_buffer_capacity_is_the_slope_of_the_titration():
    totals = np.repeat([[0.05, 0.03, 0.02]], 2, axis=0)
    # Without activities, since the capacity is taken at a fixed ionic strength.
    found = ph_charge_balance(totals, [0.07, 0.07 + 1e-7], acids=CITRIC_AND_SITES, water=IDEAL)
    slope = 1e-7 / (found.ph[1] - found.ph[0])
    assert found.buffer_capacity[0] == pytest.approx(slope, rel=1e-5)


def test_hill_slope_narrows_the_change_of_a_site():
    site = AcidSystems(pk=[[5.2, NAN, NAN, NAN]], top_charge=[0], slope=[1.5], is_apparent=[True])
    found = strong_ion_difference_for_ph([[1e-3]] * 2, [5.2, 6.2], acids=site, water=IDEAL)
    lost = found.difference / 1e-3 + 1e3 * (10.0 ** -np.array([5.2, 6.2]))
    assert lost == pytest.approx([0.5, 1 / (1 + 10**-1.5)], abs=2e-5)


def test_apparent_sites_leave_the_ionic_strength_alone():
    site = AcidSystems(pk=[[4.5, NAN, NAN, NAN]], top_charge=[0], is_apparent=[True])
    found = ph_charge_balance(
        [[0.05]], [0.03], acids=site, water=REAL, strong_ionic_strength=[0.08]
    )
    assert found.ionic_strength[0] == pytest.approx(0.08, abs=1e-4)
    assert found.ph[0] == pytest.approx(4.5 + np.log10(0.03 / 0.02), abs=2e-3)


def test_ionic_strength_counts_triple_charges():
    # Trisodium citrate: 3 Na+ and, at this pH nearly all, citrate3−.
    found = ph_charge_balance([[0.01, 0, 0]], [0.03], acids=CITRIC_AND_SITES, water=REAL)
    assert found.ionic_strength[0] == pytest.approx(0.06, rel=0.01)
    assert found.mean_charge[0, 0] == pytest.approx(-3.0, abs=0.02)


def test_constants_of_each_mixture_are_used():
    pk = [[[4.0, NAN, NAN, NAN]], [[5.0, NAN, NAN, NAN]]]
    found = ph_charge_balance([[0.1], [0.1]], [0.05, 0.05], acids=AcidSystems(pk, [0]), water=IDEAL)
    assert found.ph == pytest.approx([4.0, 5.0], abs=2e-3)


def test_a_site_that_another_mixture_splits_further_is_the_same_site():
    # The first mixture's system has one step, the second's two: both go the longer way.
    pk = np.array([[[4.0, NAN, NAN, NAN]], [[4.0, 6.0, NAN, NAN]]])
    both = ph_charge_balance([[0.1], [0.1]], [0.05, 0.15], acids=AcidSystems(pk, [0]), water=REAL)
    alone = ph_charge_balance([[0.1]], [0.05], acids=AcidSystems(pk[0], [0]), water=REAL)
    assert both.ph[0] == pytest.approx(alone.ph[0], abs=1e-12)
    assert both.ph[1] > 5


def test_strong_solutions_are_flagged_not_refused():
    found = ph_charge_balance([[0.1], [0.1]], [0.05, 1.2], acids=ACETIC, water=REAL)
    assert found.is_beyond_model.tolist() == [False, True]
    assert np.isfinite(found.ph).all()


def test_unheard_of_amounts_end_at_the_limit_with_a_flag():
    found = ph_charge_balance([[0.0]], [-1e4], acids=ACETIC, water=REAL)
    assert found.ph[0] == pytest.approx(charge_search.PH_LEAST)
    assert found.is_beyond_model[0]


def test_bisection_agrees_with_newton():
    rng = np.random.default_rng(11)
    totals = 10 ** rng.uniform(-5, -0.5, (200, 3))
    prepared = Prepared.of(totals, CITRIC_AND_SITES)
    fixed = rng.uniform(-0.2, 0.3, 200) + prepared.top
    mixtures = charge_search.Mixtures(
        prepared.protonation, fixed, np.full(200, 0.1), np.full(200, -32.2), np.full(200, 0.5)
    )
    quick, strength = mixtures.balanced()
    slow, slow_strength = charge_search._bisected(mixtures, strength)
    assert slow == pytest.approx(quick, abs=1e-9)
    assert slow_strength == pytest.approx(strength, rel=1e-9)


def test_newton_settles_everything_in_the_kitchen_and_beyond():
    rng = np.random.default_rng(5)
    totals = 10 ** rng.uniform(-7, 0.3, (5000, 3)) * (rng.random((5000, 3)) < 0.6)
    prepared = Prepared.of(totals, CITRIC_AND_SITES)
    difference = rng.choice([-1, 0, 1], 5000) * 10 ** rng.uniform(-8, 0.3, 5000)
    fixed = difference + prepared.top
    mixtures = charge_search.Mixtures(
        prepared.protonation, fixed, 0.5 * np.abs(difference),
        np.full(5000, -32.2), np.full(5000, 0.5),
    )  # fmt: skip
    *_, is_stuck = charge_search._newton(mixtures, np.full(5000, 11.5), mixtures.strong + 1e-4)
    assert is_stuck.sum() == 0


def test_nan_stays_in_its_own_mixture():
    found = ph_charge_balance([[NAN], [0.1]], [0.0, 0.05], acids=ACETIC, water=REAL)
    assert np.isnan(found.ph[0])
    assert found.ph[1] == pytest.approx(4.756 - 0.0858, abs=1e-3)


def test_no_mixtures_give_no_results():
    assert ph_charge_balance(np.empty((0, 1)), [], acids=ACETIC, water=REAL).ph.shape == (0,)


@pytest.mark.parametrize(
    ("totals", "difference", "acids", "words"),
    [
        ([[-0.1]], [0.0], ACETIC, "A total of -0.1 mol/kg is below zero. Give zero or more."),
        ([[0.1, 0.1]], [0.0], ACETIC, "do not fit totals of shape (1, 2)"),
        ([[0.1]], [0.0, 0.0], ACETIC, "2 values of strong_ion_difference do not fit 1 mixtures"),
        ([[0.1]], [0.0], AcidSystems([[NAN, 4.0, NAN, NAN]], [0]), "has no first step"),
        ([[0.1]], [0.0], AcidSystems([[3, 4, NAN, NAN]], [0], slope=[0.8]), "one step"),
    ],
)
def test_what_does_not_fit_is_said(totals, difference, acids, words):
    with pytest.raises(OutOfRangeError) as refusal:
        ph_charge_balance(totals, difference, acids=acids, water=REAL)
    assert words in str(refusal.value)


def test_constants_move_with_temperature_by_enthalpy_and_heat_capacity():
    args = {"enthalpy": 20e3, "heat_capacity": 0.0}
    kelvin = np.array([298.15, 313.15])
    found = pk_at_temperature(5.0, temperature=kelvin, **args)
    # van 't Hoff by hand: 20000 / (8.314463 ln 10) (1/298.15 − 1/313.15) = 0.16783.
    assert found == pytest.approx([5.0, 5.0 - 0.16783], abs=1e-5)
    # d(dH)/dT = dCp: the slope at 35 °C is that of an enthalpy ten degrees on.
    near = pk_at_temperature(5.0, enthalpy=20e3, heat_capacity=-200.0, temperature=[308.14, 308.16])
    slope = -(20e3 - 200 * 10) / (8.314462618 * np.log(10) * 308.15**2)
    assert (near[1] - near[0]) / 0.02 == pytest.approx(slope, rel=1e-6)


def test_a_missing_step_stays_missing_at_any_temperature():
    found = pk_at_temperature([4.0, NAN], enthalpy=0.0, heat_capacity=0.0, temperature=350.0)
    assert found[0] == 4.0
    assert np.isnan(found[1])


def test_twenty_sites_give_the_same_bits_alone_and_in_a_batch():
    # From eight on, a sum may be taken in pairs, which changes its last bits.
    rng = np.random.default_rng(8)
    pk = np.full((20, 4), NAN)
    pk[:, 0] = rng.uniform(2, 10, 20)
    sites = AcidSystems(pk, rng.integers(0, 2, 20))
    totals, difference = rng.uniform(0, 0.02, (40, 20)), rng.uniform(-0.05, 0.05, 40)
    batch = ph_charge_balance(totals, difference, acids=sites, water=REAL)
    for row in range(40):
        one = slice(row, row + 1)
        alone = ph_charge_balance(totals[one], difference[one], acids=sites, water=REAL)
        assert alone.ph[0] == batch.ph[row]
        assert alone.ionic_strength[0] == batch.ionic_strength[row]


def test_slopes_of_the_sums_are_their_differences():
    # A base with two steps, a charged site, one with a Hill slope, and a bound one.
    systems = AcidSystems(
        pk=[[2.35, 9.78, NAN, NAN], [3.1, 4.8, 6.4, NAN], [6.5, NAN, NAN, NAN],
            [5.2, NAN, NAN, NAN], [4.5, 6.0, NAN, NAN]],
        top_charge=[1, -1, 1, 0, 2], slope=[1, 1, 1, 1.5, 1], is_apparent=[0, 0, 0, 0, 1],
    )  # fmt: skip
    prepared = Prepared.of([[0.01, 0.02, 0.03, 0.04, 0.05]], systems)

    def at(x, phi):
        return prepared.protonation.loss(np.array([x]), np.array([phi]))

    step = 1e-5
    for x in (4.0, 10.0, 14.5, 22.0):
        here = at(x, 0.2)
        by_x = [
            (b - a) / (2 * step) for a, b in zip(at(x - step, 0.2), at(x + step, 0.2), strict=True)
        ]
        by_phi = [
            (b - a) / (2 * step) for a, b in zip(at(x, 0.2 - step), at(x, 0.2 + step), strict=True)
        ]
        assert here.protons_by_x == pytest.approx(by_x[0], rel=1e-6, abs=1e-12)
        assert here.protons_by_phi == pytest.approx(by_phi[0], rel=1e-6, abs=1e-12)
        assert here.squares_by_x == pytest.approx(by_x[3], rel=1e-6, abs=1e-12)
        assert here.squares_by_phi == pytest.approx(by_phi[3], rel=1e-6, abs=1e-12)


def test_an_amino_acid_has_its_isoelectric_point_between_its_constants():
    # Glycine, (2.35 + 9.78) / 2 = 6.065, from textbooks.
    glycine = AcidSystems(pk=[[2.35, 9.78, NAN, NAN]], top_charge=[1])
    found = ph_charge_balance([[0.1]], [0.0], acids=glycine, water=IDEAL)
    assert found.ph[0] == pytest.approx(6.065, abs=0.02)
    assert found.mean_charge[0, 0] == pytest.approx(0.0, abs=1e-4)
    # The ion without net charge does not count.
    assert found.ionic_strength[0] < 1e-4


def test_constants_far_out_of_reach_of_few_digits_are_solved():
    # Sixty powers of ten between the forms of the first, whose single digits would overflow.
    acids = AcidSystems(pk=[[-6, -3, -2, -1], [0.91, 2.10, 6.70, 9.32]], top_charge=[0, 0])
    totals = np.full((5, 2), 0.02)
    found = ph_charge_balance(totals, [0.0, 0.08, 0.12, 0.159, 0.2], acids=acids, water=REAL)
    assert np.abs(found.residual).max() < 1e-10
    assert (np.diff(found.ph) > 0).all()
    assert found.ph[-1] > 12


def test_constants_of_its_own_give_a_mixture_the_same_bits_alone_and_in_a_batch():
    rng = np.random.default_rng(5)
    pk = np.array([[2.148, 7.198, 12.35, NAN], [4.756, NAN, NAN, NAN]])
    pk = pk + rng.normal(0.0, 0.2, (60, 2, 1))
    pkw = 13.995 + rng.normal(0.0, 0.2, 60)
    totals, difference = rng.uniform(0, 0.05, (60, 2)), rng.uniform(-0.02, 0.1, 60)
    batch = ph_charge_balance(
        totals, difference, acids=AcidSystems(pk, [0, 0]), water=Water(pkw, 0.5115)
    )
    for row in range(60):
        one = slice(row, row + 1)
        alone = ph_charge_balance(
            totals[one], difference[one], acids=AcidSystems(pk[one], [0, 0]),
            water=Water(pkw[one], 0.5115),
        )  # fmt: skip
        for part, whole in zip(alone, batch, strict=True):
            assert np.array_equal(part[0], whole[row])
