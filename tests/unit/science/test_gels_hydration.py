"""Dissolving as kinetics: exposure in closed form, classes of particles, lumps, bad input."""

import numpy as np
import pytest

from setwell.errors import InputError, OutOfRangeError
from setwell.science.gels.hydration import class_thresholds, exposure_above, hydrated_fraction

KELVIN = 273.15
REFERENCE = KELVIN + 85


def exposure(minutes, celsius, above, *, q10=2.0):
    """Return minutes at 85 °C, from minutes and °C."""
    found = exposure_above(
        60 * np.asarray(minutes, float), KELVIN + np.asarray(celsius, float),
        KELVIN + np.asarray(above, float), q10=q10, reference_temperature=REFERENCE,
    )  # fmt: skip
    return found / 60


@pytest.mark.parametrize("q10", [1.0, 1.3, 2.0, 4.0])
@pytest.mark.parametrize("above", [10.0, 55.0, 72.5, 84.9])
def test_the_closed_form_is_the_fine_sum(q10, above):
    minutes, celsius = [0, 13, 15, 45, 60], [20, 85, 85, 30, 65]
    # The fine sum is off by half a slice at each of four crossings.
    fine = np.unique(np.concatenate([np.linspace(0, 60, 600_001), minutes]))
    heat = np.interp(fine, minutes, celsius)
    speed = np.where(heat >= above, q10 ** ((heat - 85) / 10), 0.0)
    expected = np.sum(np.diff(fine) * (speed[1:] + speed[:-1]) / 2)
    assert exposure(minutes, celsius, [above], q10=q10)[0] == pytest.approx(
        expected, rel=1e-6, abs=2e-4
    )


def test_ten_degrees_cooler_counts_half_and_below_the_threshold_nothing():
    assert exposure([0, 6], [75, 75], [60.0, 75.0, 75.1]) == pytest.approx([3, 3, 0])


@pytest.mark.parametrize("nearly", [1e-12, 1e-9, 1e-6, 1e-3])
def test_a_nearly_flat_stretch_is_as_good_as_flat(nearly):
    flat = exposure([0, 20], [80, 80], [60.0])
    assert exposure([0, 20], [80, 80 + nearly], [60.0]) == pytest.approx(flat, rel=nearly + 1e-12)


def test_the_way_down_counts_as_much_as_the_way_up():
    up = exposure([0, 10], [40, 90], [60.0, 80.0])
    assert exposure([0, 10], [90, 40], [60.0, 80.0]) == pytest.approx(up)


def test_a_step_without_time_adds_nothing():
    stepped = exposure([0, 5, 5, 10], [60, 60, 80, 80], [50.0])
    joined = exposure([0, 5], [60, 60], [50.0]) + exposure([0, 5], [80, 80], [50.0])
    assert stepped == pytest.approx(joined)


def test_zones_ride_along_in_front():
    zones = np.stack([np.array([20.0, 85.0]) - lag for lag in (0, 2, 5)])
    together = exposure_above(
        [0, 600], KELVIN + zones, KELVIN + np.array([60.0, 80.0]), q10=2,
        reference_temperature=REFERENCE,
    )  # fmt: skip
    assert together.shape == (3, 2)
    for row, zone in zip(together, zones, strict=True):
        assert row == pytest.approx(60 * exposure([0, 10], zone, [60.0, 80.0]))


def test_one_time_constant_dissolves_sixty_three_percent():
    assert hydrated_fraction([180.0], rate=1 / 180) == pytest.approx(1 - np.exp(-1))


def test_half_of_the_particles_never_warm_enough_leave_half():
    assert hydrated_fraction([1e9, 0.0], rate=1.0) == pytest.approx(0.5)


def test_lumps_hold_their_powder_back():
    loose = hydrated_fraction([600.0], rate=1 / 60)
    lumpy = hydrated_fraction([600.0], rate=1 / 60, clumped_share=0.3, clump_rate_share=0.03)
    assert lumpy == pytest.approx(0.7 * loose + 0.3 * (1 - np.exp(-0.3)))


def test_lumps_as_fast_as_loose_powder_are_no_lumps():
    found = hydrated_fraction([90.0, 20.0], rate=0.01, clumped_share=0.4, clump_rate_share=1.0)
    assert found == pytest.approx(hydrated_fraction([90.0, 20.0], rate=0.01))


def test_hydration_never_falls_with_time_heat_or_rate():
    classes = class_thresholds(60.0, 82.0)
    peaks = np.arange(50.0, 100.0)
    by_heat = [
        hydrated_fraction(exposure([0, 8, 30], [20, p, 20], classes), rate=0.5) for p in peaks
    ]
    holds = np.linspace(0, 20, 21)
    by_time = [
        hydrated_fraction(exposure([0, 8, 8 + h, 30 + h], [20, 75, 75, 20], classes), rate=0.5)
        for h in holds
    ]
    rates = np.linspace(0, 5, 50)[:, None] * np.ones((1, 1))
    by_rate = hydrated_fraction(exposure([0, 8, 30], [20, 75, 20], classes), rate=rates[:, 0])
    for course in (by_heat, by_time, by_rate):
        assert np.all(np.diff(course) >= -1e-15)
        assert course[-1] > course[0]
        assert np.all((np.asarray(course) >= 0) & (np.asarray(course) <= 1))


@pytest.mark.parametrize("peak", [62.0, 68.0, 75.0, 80.0, 85.0, 95.0])
@pytest.mark.parametrize("hold", [0.0, 2.0, 10.0])
def test_the_default_classes_meet_a_fine_spread_within_two_percent(peak, hold):
    def share(classes):
        steps = class_thresholds(60.0, 82.0, classes=classes)
        history = [0, 13, 13 + hold, 60 + hold], [20, peak, peak, 20]
        return float(hydrated_fraction(exposure(*history, steps), rate=0.5))

    assert share(24) == pytest.approx(share(2000), abs=0.02)


def test_a_falling_window_is_as_good_as_a_rising_one():
    assert class_thresholds(38.0, 30.0, classes=4) == pytest.approx([37, 35, 33, 31])


@pytest.mark.parametrize(
    ("times", "celsius"), [([0.0], [20.0]), ([0, 1, 2], [20.0, 30.0]), ([0, 2, 1], [20, 30, 40])]
)
def test_a_broken_history_is_refused(times, celsius):
    with pytest.raises(InputError):
        exposure_above(times, celsius, [10.0], q10=2.0, reference_temperature=20.0)


@pytest.mark.parametrize(
    "call",
    [
        lambda: exposure_above([0, 1], [20, 30], [10.0], q10=0.0, reference_temperature=20.0),
        lambda: hydrated_fraction([1.0], rate=-1.0),
        lambda: hydrated_fraction([1.0], rate=1.0, clumped_share=1.2),
        lambda: hydrated_fraction([1.0], rate=1.0, clump_rate_share=-0.1),
        lambda: class_thresholds(60.0, 80.0, classes=0),
    ],
)
def test_figures_out_of_range_are_refused(call):
    with pytest.raises(OutOfRangeError):
        call()
