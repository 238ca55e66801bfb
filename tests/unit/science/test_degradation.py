"""The loss of gel strength: histories, stretches, protection by the set gel, and bad input."""

import numpy as np
import pytest

from setwell.errors import InputError, OutOfRangeError
from setwell.science.gels.degradation import (
    LossLaw,
    loss_time,
    molar_mass_scission,
    remaining_strength,
    scission_rate_masson_1955,
    strength_molar_mass,
)

KELVIN = 273.15
KAPPA = LossLaw(reference_time=20.0, ph_factor=3.0, temperature_factor=3.0, loss_share=0.25)
NEVER = {"setting_temperature": 0.0, "protected_share": 1.0}


def left(minutes, celsius, ph, *, law=KAPPA, **gel):
    """Return the share left, from minutes and °C."""
    found = remaining_strength(
        60 * np.asarray(minutes, float), KELVIN + np.asarray(celsius, float), ph, law=law,
        **{**NEVER, **gel},
    )  # fmt: skip
    return found.share


def test_no_time_takes_nothing():
    assert left([0, 0], [95, 95], 3.5) == 1.0


def test_twice_the_loss_time_leaves_the_share_squared():
    hold = float(loss_time(KELVIN + 90, 4.0, law=KAPPA)) / 60
    assert left([0, 2 * hold], [90, 90], 4.0) == pytest.approx(0.75**2)


def test_another_lost_share_moves_the_anchor():
    fifth = LossLaw(reference_time=20.0, ph_factor=3.0, temperature_factor=3.0, loss_share=0.2)
    assert left([0, 3], [100, 100], 4.0, law=fifth) == pytest.approx(0.8)


def test_cooling_is_integrated_exactly():
    # Fine trapezoids over the same straight line, 90 to 40 °C in half an hour.
    minutes = np.linspace(0, 30, 20001)
    celsius = np.linspace(90, 40, 20001)
    rate = np.log(4 / 3) / loss_time(KELVIN + celsius, 3.6, law=KAPPA)
    expected = np.exp(-np.trapezoid(rate, 60 * minutes))
    assert left([0, 30], [90, 40], 3.6) == pytest.approx(expected, rel=1e-7)


@pytest.mark.parametrize("nearly", [1e-12, 1e-9, 1e-6, 1e-4])
def test_a_nearly_flat_stretch_is_as_good_as_flat(nearly):
    assert left([0, 20], [80, 80 + nearly], 4.0) == pytest.approx(
        left([0, 20], [80, 80], 4.0), rel=1e-4 * max(nearly, 1e-9) / 1e-6
    )


def test_acid_after_cooling_keeps_more_than_acid_in_the_boil():
    # Same pot, 92 to 60 °C: acid in for the whole time, or for the last stretch only.
    minutes, celsius = [0, 10, 30, 35], [92, 92, 60, 58]
    shares = left([minutes, minutes], [celsius, celsius], [[3.6, 3.6, 3.6], [6.6, 6.6, 3.6]])
    # By hand in loss times of 180 s at 92 °C: the hold, the slope, the tail.
    assert shares[0] == pytest.approx(0.75 ** (3.333 + 1.840 + 0.044), abs=0.0005)
    assert shares[1] > 0.9


def test_one_ph_for_each_history_or_for_all():
    minutes, celsius = [[0, 10], [0, 20]], [[90, 80], [90, 80]]
    both = left(minutes, celsius, [[4.0], [5.0]])
    assert both[0] == left(minutes[0], celsius[0], 4.0)
    assert both[1] == left(minutes[1], celsius[1], 5.0)
    assert left(minutes, celsius, 4.0)[0] == both[0]


def test_set_gel_loses_at_its_share_of_the_rate():
    open_loss = -np.log(left([0, 600], [30, 30], 3.5))
    gel_loss = -np.log(left([0, 600], [30, 30], 3.5, setting_temperature=KELVIN + 40,
                            protected_share=0.1))  # fmt: skip
    assert gel_loss == pytest.approx(0.1 * open_loss, rel=1e-9)


def test_protection_begins_where_the_cooling_line_crosses_setting():
    protected = {"setting_temperature": KELVIN + 50, "protected_share": 0.0}
    assert left([0, 40], [90, 10], 3.5, **protected) == pytest.approx(
        left([0, 20], [90, 50], 3.5), rel=1e-12
    )


def test_a_hold_right_at_setting_counts_as_sol():
    at_setting = {"setting_temperature": KELVIN + 50, "protected_share": 0.0}
    assert left([0, 20], [50, 50], 3.0, **at_setting) == left([0, 20], [50, 50], 3.0)


def test_setting_temperature_may_differ_between_formulas():
    minutes, celsius = [[0, 60]] * 2, [[60, 20]] * 2
    shares = left(minutes, celsius, 3.5, setting_temperature=KELVIN + np.array([55.0, 25.0]),
                  protected_share=0.01)  # fmt: skip
    assert shares[0] > shares[1]


def test_neutral_time_caps_the_line_above_its_ph():
    capped = LossLaw(20.0, 3.0, 3.0, 0.25, neutral_time=4860.0)
    assert loss_time(KELVIN + 120, 6.5, law=capped) == pytest.approx(4860)
    assert loss_time(KELVIN + 120, 8.0, law=capped) == 4860
    assert loss_time(KELVIN + 120, 6.0, law=capped) == pytest.approx(1620)


@pytest.mark.parametrize(
    ("celsius", "ph", "minutes", "expected"),
    [
        (90, 4.0, 10, True),
        (90, 2.5, 10, False),
        (125, 4.0, 1, False),
        (120, 4.0, 1, True),
        (40, 3.0, 3000, True),
        (90, 7.0, 1, True),  # nothing to speak of is lost, whatever the law says there
        (90, 7.0, 600, False),
        (20, 3.2, 10, True),
        (20, 3.2, 20000, False),
    ],
)
def test_flag_asks_whether_strength_went_outside_the_limits(celsius, ph, minutes, expected):
    found = remaining_strength([0, 60.0 * minutes], [KELVIN + celsius] * 2, ph, law=KAPPA, **NEVER)
    assert bool(found.is_in_range) is expected


def test_unknown_temperature_stays_unknown_and_is_flagged():
    found = remaining_strength([[0, 60], [0, 60]], [[np.nan, 350], [350, 350]], 4.0, law=KAPPA,
                               **NEVER)  # fmt: skip
    assert np.isnan(found.share[0])
    assert not np.isnan(found.share[1])
    assert found.is_in_range.tolist() == [False, True]


@pytest.mark.parametrize("times", [[-1, 5], [5, 1]])
def test_times_that_run_backward_are_refused(times):
    with pytest.raises(InputError, match=r"zero or more and never fall\. Sort the points"):
        remaining_strength(times, [350, 340], 4.0, law=KAPPA, **NEVER)


@pytest.mark.parametrize(
    ("times", "temperatures"), [([0, 1, 2], [350, 340]), ([0], [350]), (0, 350)]
)
def test_times_and_temperatures_must_match(times, temperatures):
    with pytest.raises(InputError, match="as many times as temperatures, two or more; got shapes"):
        remaining_strength(times, temperatures, 4.0, law=KAPPA, **NEVER)


@pytest.mark.parametrize("ph", [[4.0, 4.0, 4.0], [[4.0, 4.0]]])
def test_ph_that_fits_no_stretch_is_refused(ph):
    with pytest.raises(InputError, match=r"3 points have 2 stretches\. Give one pH"):
        remaining_strength([0, 1, 2], [350, 340, 330], ph, law=KAPPA, **NEVER)


def test_one_ph_per_formula_needs_its_own_column():
    # Two formulas of three points: (2,) could mean stretches or formulas.
    with pytest.raises(InputError, match=r"The pH has shape \(2,\)"):
        remaining_strength([[0, 1, 2]] * 2, [[350] * 3] * 2, [4.0, 5.0], law=KAPPA, **NEVER)


@pytest.mark.parametrize("share", [-0.1, 1.1])
def test_protection_is_a_share(share):
    with pytest.raises(OutOfRangeError, match="must lie between 0 and 1"):
        remaining_strength([0, 1], [350, 340], 4.0, law=KAPPA, setting_temperature=0,
                           protected_share=share)  # fmt: skip


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ((0.0, 3.0, 3.0, 0.25), "above zero seconds"),
        ((20.0, 3.0, 3.0, 1.0), "lost share of a loss law is 1; it must lie between 0 and 1"),
        ((20.0, 0.9, 3.0, 0.25), "must be 1 or more"),
        ((20.0, 3.0, 0.5, 0.25), "must be 1 or more"),
    ],
)
def test_impossible_laws_are_refused(values, message):
    with pytest.raises(OutOfRangeError, match=message):
        LossLaw(*values)


def test_longer_chains_break_first():
    before = np.array([100.0, 400.0])
    after = molar_mass_scission(before, 1e-3, unit_molar_mass=0.4)
    assert after == pytest.approx([80.0, 200.0])


def test_scission_adds_up():
    once = molar_mass_scission(300.0, 3e-4, unit_molar_mass=0.4)
    assert molar_mass_scission(once, 5e-4, unit_molar_mass=0.4) == pytest.approx(
        molar_mass_scission(300.0, 8e-4, unit_molar_mass=0.4)
    )


def test_nothing_gels_below_the_critical_molar_mass():
    share = strength_molar_mass(
        [400, 200, 160, 90], original_molar_mass=400, critical_molar_mass=160, exponent=1.5
    )
    assert share[0] == 1
    assert 0 < share[1] < 0.1
    assert share[2:].tolist() == [0, 0]


def test_original_chains_must_gel():
    with pytest.raises(OutOfRangeError, match="must lie above the critical one"):
        strength_molar_mass(90, original_molar_mass=160, critical_molar_mass=160, exponent=1.5)


def test_neutral_scission_is_faster_when_hot():
    rates = scission_rate_masson_1955(
        [353.15, 373.15], prefactor=2.75e13 / 3600, activation_energy=29200 * 4.184
    )
    assert 8 < rates[1] / rates[0] < 10
