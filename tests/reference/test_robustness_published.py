"""Draws and indices against closed forms and the guides on uncertainty."""

import numpy as np
import pytest
from scipy.stats import norm, t

from setwell.errors import OutOfRangeError
from setwell.science.designs.quasi_random import (
    lognormal_draws,
    normal_draws,
    scale_draws,
    sobol_points,
)
from setwell.science.designs.sensitivity import crossed_points, sobol_indices

SEED = 20260512


def rectangular(points, middle, half):
    return middle + half * (2.0 * points - 1.0)


def doubtful(points, limits, half, half_doubt):
    """Return a rectangle around 0 whose limits are not known well, JCGM 101:2008, 6.4.3."""
    return rectangular(points, 0.0, 1.0) * rectangular(limits, half, half_doubt)


def shortest(values, share):
    """Return the shortest interval that holds a share of the values."""
    ordered = np.sort(values)
    inside = int(share * len(ordered))
    widths = ordered[inside:] - ordered[: len(ordered) - inside]
    start = int(np.argmin(widths))
    return ordered[start], ordered[start + inside]


def test_chance_in_a_window_meets_the_log_normal_closed_form():
    # Strength 100 · lot · C^2.2 · exp(-0.02 (T - 20)); log deviations 0.08, 2.2 · 0.02 and
    # 0.02 · 1.5; window 85 to 115. Closed form with the normal distribution function.
    deviation = np.sqrt(0.08**2 + (2.2 * 0.02) ** 2 + (0.02 * 1.5) ** 2)
    exact = norm.cdf(np.log(1.15) / deviation) - norm.cdf(np.log(0.85) / deviation)
    assert exact == pytest.approx(0.88165, abs=5e-6)
    u = sobol_points(3, doublings=9, scrambles=8, seed=SEED)
    strength = (
        100.0
        * lognormal_draws(u[:, 0], log_deviation=0.08)
        * lognormal_draws(u[:, 1], log_deviation=0.02) ** 2.2
        * np.exp(-0.02 * 1.5 * normal_draws(u[:, 2]))
    )
    hits = ((strength >= 85.0) & (strength <= 115.0)).reshape(8, -1).mean(axis=1)
    error = hits.std(ddof=1) / np.sqrt(8)
    assert error < 0.005
    assert abs(hits.mean() - exact) < 4.0 * error


def test_the_error_of_the_chance_shrinks_faster_than_by_chance_alone():
    # Plain draws: 0.0059 at 4,096, from sqrt(p (1 - p) / n).
    deviation = np.sqrt(0.08**2 + 0.044**2 + 0.03**2)
    found = []
    for seed in range(20):
        z = normal_draws(sobol_points(3, doublings=12, scrambles=1, seed=seed))
        log = z @ [0.08, 0.044, 0.03]
        found.append(((log > np.log(0.85)) & (log < np.log(1.15))).mean())
    exact = norm.cdf(np.log(1.15) / deviation) - norm.cdf(np.log(0.85) / deviation)
    assert np.sqrt(np.mean((np.array(found) - exact) ** 2)) < 0.5 * 0.0051


def test_gum_end_gauge_as_draws():
    # JCGM 100:2008, H.1: l = l_s + d - l_s (delta_alpha theta + alpha_s delta_theta), in nm.
    u = sobol_points(11, doublings=18, scrambles=1, seed=SEED)
    length = 50_000_623.0 + 25.0 * t.ppf(u[:, 0], 18)
    difference = (
        215.0 + 5.8 * t.ppf(u[:, 1], 24) + 3.9 * t.ppf(u[:, 2], 5) + 6.7 * t.ppf(u[:, 3], 8)
    )
    alpha = rectangular(u[:, 4], 11.5e-6, 2e-6)
    # Mean temperature off by -0.1, 0.2 K of standard uncertainty; the bath swings by 0.5 K.
    theta = -0.1 + 0.2 * normal_draws(u[:, 5]) + 0.5 * np.sin(2.0 * np.pi * u[:, 6])
    off_alpha = doubtful(u[:, 7], u[:, 9], 1e-6, 0.1e-6)
    off_theta = doubtful(u[:, 8], u[:, 10], 0.05, 0.025)
    values = length + difference - length * (off_alpha * theta + alpha * off_theta)
    assert values.mean() == pytest.approx(50_000_838.0, abs=0.5)
    # JCGM 101:2008, 9.5 prints 36 nm (recalled); the first order of H.1 gives 32, H.1.7 34.
    assert round(float(values.std())) == 36


def test_jcgm_101_mass_calibration():
    # JCGM 101:2008, 9.3 (recalled): 1.2341 mg, u 0.0754 mg, shortest 95 % 1.0834 to 1.3825 mg;
    # the first order gives 0.0539 mg.
    u = sobol_points(5, doublings=19, scrambles=1, seed=SEED)
    reference = 100_000.0 + 0.050 * normal_draws(u[:, 0])
    added = 1.234 + 0.020 * normal_draws(u[:, 1])
    air = rectangular(u[:, 2], 1.20, 0.10)
    weight, standard = rectangular(u[:, 3], 8000.0, 1000.0), rectangular(u[:, 4], 8000.0, 50.0)
    buoyancy = 1.0 + (air - 1.2) * (1.0 / weight - 1.0 / standard)
    values = (reference + added) * buoyancy - 100_000.0
    assert values.mean() == pytest.approx(1.2341, abs=0.0003)
    assert values.std() == pytest.approx(0.0754, abs=0.0002)
    low, high = shortest(values, 0.95)
    assert low == pytest.approx(1.0834, abs=0.002)
    assert high == pytest.approx(1.3825, abs=0.002)


def test_jcgm_101_sum_of_rectangles():
    # JCGM 101:2008, 9.2.3 (recalled): u 2.00 and ±3.88; exact ±3.87941 (Irwin and Hall).
    u = sobol_points(4, doublings=17, scrambles=1, seed=SEED)
    values = rectangular(u, 0.0, np.sqrt(3.0)).sum(axis=1)
    assert values.std() == pytest.approx(2.0, abs=0.001)
    assert np.quantile(values, 0.975) == pytest.approx(3.87941, abs=0.005)


def ishigami(points):
    x = np.pi * (2.0 * points - 1.0)
    return np.sin(x[:, 0]) + 7.0 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])


def test_indices_of_the_ishigami_function():
    # a = 7, b = 0.1: V = a^2/8 + b pi^4/5 + b^2 pi^8/18 + 1/2; S 0.3139, 0.4424, 0;
    # T 0.5576, 0.4424, 0.2437.
    groups = [[0], [1], [2]]
    cases = crossed_points(sobol_points(6, doublings=14, scrambles=1, seed=SEED), groups=groups)
    found = sobol_indices(ishigami(cases), groups=3)
    assert found.first == pytest.approx([0.3139, 0.4424, 0.0], abs=0.005)
    assert found.total == pytest.approx([0.5576, 0.4424, 0.2437], abs=0.005)
    assert ((found.first_error > 0) & (found.first_error < 0.02)).all()


def test_indices_of_a_group_count_what_its_inputs_do_together():
    # Inputs 1 and 3 of the function stand apart from input 2: 0.5576 as one group.
    cases = crossed_points(
        sobol_points(6, doublings=13, scrambles=1, seed=SEED), groups=[[0, 2], [1]]
    )
    found = sobol_indices(ishigami(cases), groups=2)
    assert found.first == pytest.approx([0.5576, 0.4424], abs=0.01)
    assert found.total == pytest.approx([0.5576, 0.4424], abs=0.01)


def test_the_stated_error_covers_indices_from_few_points():
    exact = np.array([0.5576, 0.4424, 0.2437])
    off = []
    for seed in range(30):
        points = sobol_points(6, doublings=9, scrambles=1, seed=seed)
        found = sobol_indices(ishigami(crossed_points(points, groups=[[0], [1], [2]])), groups=3)
        off.append((found.total - exact) / found.total_error)
    assert (np.abs(np.array(off)) < 2.0).mean() > 0.9


def test_an_outcome_that_never_changes_has_no_drivers():
    found = sobol_indices(np.ones(40), groups=3)
    assert found.first.tolist() == found.total.tolist() == [0.0, 0.0, 0.0]


def test_resolution_of_a_display_is_a_rectangle_of_one_step():
    # JCGM 100:2008, F.2.2.1: u = 0.29 steps.
    u = sobol_points(1, doublings=12, scrambles=1, seed=SEED)[:, 0]
    masses = scale_draws(u, target_mass=20.0, readability=1.0)
    assert masses.std() == pytest.approx(0.29, abs=0.002)
    assert masses.mean() == pytest.approx(20.0, abs=0.001)


def test_a_pinch_below_the_first_step_may_be_anything_up_to_a_step():
    u = np.linspace(0.0, 1.0, 5)
    assert scale_draws(u, target_mass=0.3, readability=1.0).tolist() == u.tolist()


def test_nothing_weighed_stays_nothing():
    assert scale_draws([0.1, 0.9], target_mass=0.0, readability=1.0).tolist() == [0.0, 0.0]


def test_a_scale_without_steps_is_refused():
    with pytest.raises(OutOfRangeError, match="shows nothing"):
        scale_draws([0.5], target_mass=1.0, readability=0.0)


def test_the_same_seed_draws_the_same_points():
    one, again, other = (sobol_points(3, doublings=5, scrambles=2, seed=seed) for seed in (1, 1, 2))
    assert np.array_equal(one, again)
    assert not np.array_equal(one, other)
    assert not np.array_equal(one[:32], one[32:])
