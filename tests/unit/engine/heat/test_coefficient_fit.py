"""Fits to logs with noise and a known truth, and logs that tell nothing."""

import numpy as np
import pytest

from setwell.engine.heat.coefficient_fit import (
    EFFICIENCY,
    FEWEST_POINTS,
    LEAST_SPREAD,
    fit_coefficient,
    thinned,
)
from setwell.engine.heat.course import Course
from setwell.errors import InputError

AT = np.arange(0.0, 4 * 3600.0, 120.0)
TRUE = 9.0


def lump(coefficient: float, at: np.ndarray = AT) -> np.ndarray:
    """Return a lump of jelly in air of 4 °C."""
    return 4.0 + 76.0 * np.exp(-at * coefficient / 54_000.0)


def log(celsius: np.ndarray, at: np.ndarray = AT, probe_k: float = 0.0) -> Course:
    return Course("core", at, celsius, celsius - probe_k, celsius + probe_k, is_measured=True)


def noise(seed: int, alike: float, size: int = len(AT)) -> np.ndarray:
    """Return noise of unit spread in which neighbors resemble each other."""
    fresh = np.random.default_rng(seed).normal(size=size)
    found = np.empty(size)
    found[0] = fresh[0]
    for n in range(1, size):
        found[n] = alike * found[n - 1] + np.sqrt(1.0 - alike**2) * fresh[n]
    return found


def fit(course: Course, bounds: tuple[float, float] = (1.0, 200.0)):
    return fit_coefficient(course, lambda value: lump(value, course.seconds), 12.0, bounds)


def test_a_clean_log_gives_the_truth_and_never_less_than_the_least_doubt():
    found = fit(log(lump(TRUE)))
    assert found.value == pytest.approx(TRUE, rel=1e-4)
    assert np.log(found.high / found.low) / 2.0 == pytest.approx(LEAST_SPREAD, rel=1e-3)
    assert found.rms_k < 1e-3
    assert found.used_points == len(AT)
    assert found.curve.celsius == pytest.approx(lump(TRUE), abs=1e-2)


@pytest.mark.parametrize(("alike", "spread_k"), [(0.0, 6.0), (0.7, 3.0), (0.9, 3.0), (0.95, 3.0)])
def test_the_range_holds_the_truth_in_nine_of_ten_logs(alike, spread_k):
    # The noise is so strong that the least doubt alone would not do.
    results = [fit(log(lump(TRUE) + spread_k * noise(seed, alike))) for seed in range(120)]
    held = np.mean([one.low <= TRUE <= one.high for one in results])
    spread = np.std([np.log(one.value / TRUE) for one in results])
    half = np.median([np.log(one.high / one.low) / 2.0 for one in results])
    assert held >= 0.90
    assert 2.0 * spread > LEAST_SPREAD
    # Wide enough, and not so wide that it says nothing.
    assert half < 5.0 * spread


def test_noise_that_is_alike_widens_the_range():
    calm, drifting = (
        np.median([
            np.log(one.high / one.low)
            for seed in range(20)
            for one in [fit(log(lump(TRUE) + 3.0 * noise(seed, alike)))]
        ])
        for alike in (0.0, 0.9)
    )  # fmt: skip
    assert drifting > 2.0 * calm


def test_the_error_of_the_probe_widens_the_range():
    exact, doubtful = (fit(log(lump(TRUE), probe_k=probe)) for probe in (0.0, 2.0))
    assert doubtful.value == pytest.approx(exact.value)
    assert np.log(doubtful.high / doubtful.low) > 1.5 * np.log(exact.high / exact.low)
    # A probe that reads 2 K high all along stays inside.
    shifted = fit(log(lump(TRUE) + 2.0, probe_k=2.0))
    assert shifted.low <= TRUE <= shifted.high


def test_a_log_with_too_few_readings_is_refused():
    with pytest.raises(InputError, match=f"has 7 readings; at least {FEWEST_POINTS}"):
        fit(log(lump(TRUE)[:7], AT[:7]))


def test_a_log_that_hardly_changes_is_refused():
    with pytest.raises(InputError, match=r"changes by 0.* only; at least 5 °C \(9 °F\)"):
        fit(log(5.0 + 0.1 * noise(1, 0.0)))


def test_a_log_that_leaves_everything_open_is_refused():
    # Nothing of this model depends on the figure.
    flat = log(np.linspace(40.0, 20.0, len(AT)))
    with pytest.raises(InputError, match="could be anything"):
        fit_coefficient(flat, lambda _: np.full(len(AT), 30.0), 12.0, (1.0, 200.0))


def test_pure_noise_is_refused():
    with pytest.raises(InputError, match=r"could be anything|would have to be"):
        fit(log(20.0 + 8.0 * noise(3, 0.0)))


@pytest.mark.parametrize(("truth", "word"), [(60.0, "above 30.0"), (2.0, "below 4.0")])
def test_a_figure_at_the_edge_is_refused(truth, word):
    with pytest.raises(InputError, match=word):
        fit(log(lump(truth)), bounds=(4.0, 30.0))


def test_a_first_guess_outside_the_bounds_is_refused():
    with pytest.raises(InputError, match="first guess"):
        fit_coefficient(log(lump(TRUE)), lump, 300.0, (1.0, 200.0))


def test_a_log_of_something_else_is_told():
    # The door stood open for the second half.
    celsius = lump(TRUE)
    celsius[60:] += np.linspace(0.0, 10.0, 60)
    found = fit(log(celsius))
    assert [one.code for one in found.advice] == ["fit_poor"]
    assert "door" in found.advice[0].action
    assert "on average" in found.advice[0].text


def test_a_share_is_told_in_percent():
    heated = log(20.0 + AT * 0.004 * 0.8)
    found = fit_coefficient(
        heated, lambda share: 20.0 + AT * 0.004 * share, 0.5, (0.05, 1.0), EFFICIENCY
    )
    assert found.value == pytest.approx(0.8, rel=1e-4)
    assert found.text.startswith("The share of the power that reaches the food is 80 % (78 to 82)")


def test_a_long_log_is_thinned_by_means():
    at = np.arange(0.0, 14_400.0, 1.0)
    course = log(lump(TRUE, at), at, probe_k=0.5)
    found = thinned(course)
    assert 100 <= len(found.seconds) <= 200
    assert found.celsius == pytest.approx(lump(TRUE, found.seconds), abs=0.02)
    assert found.high_c - found.celsius == pytest.approx(0.5)


def test_missing_readings_are_left_out():
    celsius = lump(TRUE)
    celsius[5] = np.nan
    assert len(thinned(log(celsius)).seconds) == len(AT) - 1
    assert len(thinned(log(np.full(len(AT), np.nan))).seconds) == 0
