"""Updating normal estimates, and whether measurements agree."""

import numpy as np
import pytest

from setwell.errors import OutOfRangeError
from setwell.science.inference.agreement import birge_ratio, chi_squared_limit, repeat_scatter
from setwell.science.inference.linear_gaussian import normal_update
from setwell.science.inference.plunger import load_stress

# Two unknowns in four measurements of different weight and doubt.
DESIGN = np.array([[1.0, 1.0], [1.0, 0.0], [0.3, 0.7], [0.0, 1.0]])
OBSERVED = np.array([0.5, -0.2, 0.9, 0.4])
VARIANCE = np.array([0.04, 0.09, 0.01, 0.25])
PRIOR = np.array([0.1, -0.3])
SPREAD = np.array([[0.5, 0.1], [0.1, 0.8]])


def update(design=DESIGN, observed=OBSERVED, variance=VARIANCE):
    return normal_update(PRIOR, SPREAD, design=design, observed=observed, variance=variance)


def test_one_unknown_follows_the_closed_form():
    # Precision adds up, and the mean is weighted by it.
    after = normal_update(
        [2.0], [[0.25]], design=[[1.0], [1.0]], observed=[3.0, 3.4], variance=[0.1, 0.2]
    )
    precision = 1 / 0.25 + 1 / 0.1 + 1 / 0.2
    assert after.covariance[0, 0] == pytest.approx(1 / precision, rel=1e-12)
    expected = (2.0 / 0.25 + 3.0 / 0.1 + 3.4 / 0.2) / precision
    assert after.mean[0] == pytest.approx(expected, rel=1e-12)


def test_a_prior_is_as_good_as_rows_of_measurements():
    root = np.linalg.cholesky(np.linalg.inv(SPREAD)).T
    weight = 1.0 / np.sqrt(VARIANCE)
    rows = np.vstack([root, DESIGN * weight[:, None]])
    right = np.concatenate([root @ PRIOR, OBSERVED * weight])
    by_lstsq, *_ = np.linalg.lstsq(rows, right, rcond=None)
    after = update()
    np.testing.assert_allclose(after.mean, by_lstsq, rtol=1e-10)
    np.testing.assert_allclose(after.covariance, np.linalg.inv(rows.T @ rows), rtol=1e-10)


def test_three_points_and_a_line_as_worked_out_by_hand():
    # Normal equations of a published teaching example (kircerta.com, "Bayesian linear
    # regression": points 0, 1.2; 1, 2.8; 2, 4.1; noise 1, prior 2 I): [3.5 3; 3 5.5] m = [8.1 11].
    after = normal_update(
        np.zeros(2),
        2.0 * np.eye(2),
        design=[[1, 0], [1, 1], [1, 2]],
        observed=[1.2, 2.8, 4.1],
        variance=np.ones(3),
    )
    np.testing.assert_allclose(np.array([[3.5, 3.0], [3.0, 5.5]]) @ after.mean, [8.1, 11.0])
    assert after.mean == pytest.approx([11.55 / 10.25, 14.2 / 10.25])


def test_a_weighted_mean_agrees_with_the_printed_one():
    # 10 ± 4 and 30 ± 5 give 17.80 ± 3.12 (T. Dorigo, "What PDG weighted average means").
    after = normal_update(
        [0.0], [[1e9]], design=[[1.0], [1.0]], observed=[10.0, 30.0], variance=[16.0, 25.0]
    )
    assert after.mean[0] == pytest.approx(17.80, abs=0.005)
    assert np.sqrt(after.covariance[0, 0]) == pytest.approx(3.12, abs=0.005)


def test_leave_one_out_is_what_leaving_one_out_gives():
    after = update()
    for n in range(len(OBSERVED)):
        rest = [k for k in range(len(OBSERVED)) if k != n]
        without = update(DESIGN[rest], OBSERVED[rest], VARIANCE[rest])
        expected = DESIGN[n] @ without.mean
        spread = DESIGN[n] @ without.covariance @ DESIGN[n] + VARIANCE[n]
        z = (OBSERVED[n] - expected) / np.sqrt(spread)
        assert after.leave_one_out_z[n] == pytest.approx(z, rel=1e-9)


def test_the_distance_from_the_prior_is_that_of_the_joint_covariance():
    after = update()
    joint = DESIGN @ SPREAD @ DESIGN.T + np.diag(VARIANCE)
    missed = OBSERVED - DESIGN @ PRIOR
    assert after.chi_squared == pytest.approx(missed @ np.linalg.solve(joint, missed))
    np.testing.assert_allclose(after.predictive_z, missed / np.sqrt(np.diag(joint)))
    np.testing.assert_allclose(after.residuals, OBSERVED - DESIGN @ after.mean)


def test_nothing_measured_leaves_the_prior_as_it_is():
    after = update(np.zeros((0, 2)), [], [])
    assert np.array_equal(after.mean, PRIOR)
    assert np.array_equal(after.covariance, SPREAD)
    assert after.chi_squared == 0.0


@pytest.mark.parametrize("variance", [0.0, -1.0, float("nan")])
def test_a_measurement_without_doubt_is_refused(variance):
    with pytest.raises(OutOfRangeError, match="variance above zero"):
        normal_update([0.0], [[1.0]], design=[[1.0]], observed=[1.0], variance=[variance])


@pytest.mark.parametrize(
    ("degrees", "printed", "tolerance"),
    # Upper 1 % points as tables of chi-squared print them.
    [(1, 6.6349, 0.01), (2, 9.2103, 0.003), (3, 11.3449, 0.003), (5, 15.0863, 0.003),
     (10, 23.2093, 0.003), (30, 50.8922, 0.003)],
)  # fmt: skip
def test_the_limit_of_chance_is_that_of_the_tables(degrees, printed, tolerance):
    assert float(chi_squared_limit(degrees)) == pytest.approx(printed, rel=tolerance)


def test_repeats_scatter_around_their_own_mean_only():
    # All far from zero, yet equal: they agree.
    found = repeat_scatter(np.ones((3, 1)), observed=[5.0, 5.0, 5.0], variance=[0.1, 0.1, 0.1])
    assert found.chi_squared == pytest.approx(0.0, abs=1e-20)
    assert found.degrees == 2
    apart = repeat_scatter(np.ones((2, 1)), observed=[10.0, 30.0], variance=[16.0, 25.0])
    assert apart.chi_squared == pytest.approx(400 / 41)


def test_two_unknowns_always_measured_together_leave_one_degree():
    found = repeat_scatter(np.ones((2, 2)), observed=[0.0, 1.0], variance=[0.5, 0.5])
    assert found.degrees == 1
    assert found.chi_squared == pytest.approx(1.0)


def test_two_masses_that_disagree_widen_as_the_particle_data_group_does():
    # 6054.4 ± 6.8 ± 0.9 and 6165 ± 10 ± 13 MeV are "about six" deviations apart (T. Dorigo,
    # "Weighted averages a la PDG"), and doubts grow by as much.
    variance = np.array([6.8**2 + 0.9**2, 10.0**2 + 13.0**2])
    found = repeat_scatter(np.ones((2, 1)), observed=[6054.4, 6165.0], variance=variance)
    ratio = float(birge_ratio(found.chi_squared, degrees=found.degrees))
    assert ratio == pytest.approx(6.2, abs=0.05)


def test_a_scale_under_a_plunger_reads_stress():
    # 10.2 kg on 10 cm2 is one kilogram-force per square centimeter and a bit: 100 kPa.
    radius = np.sqrt(10e-4 / np.pi)
    assert float(load_stress(10.197, radius=radius)) == pytest.approx(1e5, rel=1e-4)
