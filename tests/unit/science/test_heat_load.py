"""The load of a history, against the integral over its stretches and against fine steps."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from setwell.errors import InputError, OutOfRangeError
from setwell.science.gels.degradation import LossLaw, remaining_strength
from setwell.science.gels.heat_load import heat_load

REFERENCE = 353.15
kelvins = st.integers(2700, 3900).map(lambda n: n / 10)


@st.composite
def histories(draw):
    points = draw(st.integers(2, 7))
    steps = draw(st.lists(st.integers(0, 4000), min_size=points - 1, max_size=points - 1))
    temperatures = draw(st.lists(kelvins, min_size=points, max_size=points))
    return np.concatenate([[0.0], np.cumsum(steps)]), np.array(temperatures)


@given(histories(), kelvins, st.sampled_from([0.0, 0.1, 1.0]))
def test_it_agrees_with_the_integral_over_each_stretch(history, setting, share):
    # So slow a law that the exponential keeps its digits.
    law = LossLaw(1e9, 3.0, 3.0, 0.25, reference_temperature=REFERENCE)
    load = heat_load(*history, q10=3.0, reference_temperature=REFERENCE)
    gel = float(load.below(setting))
    lost = np.log(4 / 3) / 1e9 * (share * gel + load.total - gel)
    left = remaining_strength(
        *history, 4.0, law=law, setting_temperature=setting, protected_share=share
    )
    assert np.exp(-lost) == pytest.approx(left.share, rel=1e-12)


@pytest.mark.parametrize("q10", [1.0, 2.0, 0.5])
def test_it_agrees_with_fine_steps(q10):
    times, celsius = [0.0, 600.0, 900.0, 1500.0], [330.0, 360.0, 340.0, 350.0]
    load = heat_load(times, celsius, q10=q10, reference_temperature=REFERENCE)
    fine = np.linspace(0.0, 1500.0, 2_000_001)
    at = np.interp(fine, times, celsius)
    rate = q10 ** ((at - REFERENCE) / 10.0)
    for limit in (335.0, 345.0, 355.0):
        expected = float((rate * (at < limit)).mean()) * 1500.0
        assert float(load.below(limit)) == pytest.approx(expected, rel=1e-5)


def test_it_never_falls_with_the_threshold_and_ends_at_the_total():
    load = heat_load([0, 60, 60, 300, 400], [350, 350, 350, 300, 320], q10=3.0,
                     reference_temperature=REFERENCE)  # fmt: skip
    below = load.below(np.linspace(290, 360, 1001))
    assert below[0] == 0.0
    assert (np.diff(below) >= 0).all()
    assert below[-1] == load.total


def test_a_threshold_nobody_knows_leaves_the_load_unknown():
    load = heat_load([0, 60], [350, 340], q10=3.0, reference_temperature=REFERENCE)
    assert np.isnan(load.below(np.nan))


@pytest.mark.parametrize(("times", "kelvin"), [([0], [350]), ([0, 1, 2], [350, 340])])
def test_times_and_temperatures_must_match(times, kelvin):
    with pytest.raises(InputError, match="as many times as temperatures"):
        heat_load(times, kelvin, q10=2.0, reference_temperature=REFERENCE)


def test_times_may_not_fall():
    with pytest.raises(InputError, match="never fall"):
        heat_load([5, 1], [350, 340], q10=2.0, reference_temperature=REFERENCE)


def test_the_factor_must_be_above_zero():
    with pytest.raises(OutOfRangeError, match="above zero"):
        heat_load([0, 1], [350, 340], q10=0.0, reference_temperature=REFERENCE)
