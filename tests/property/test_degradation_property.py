"""Laws that hold for every history: heat, time and acid never give strength back."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from setwell.science.gels.degradation import LossLaw, loss_time, remaining_strength

LAW = LossLaw(20.0, 3.0, 3.0, 0.25, neutral_time=4860.0)
# Hundredths of a degree and whole seconds, as a log has them.
kelvins = st.integers(27500, 39500).map(lambda n: n / 100)
seconds = st.integers(0, 5000).map(float)
acidity = st.floats(2.5, 7.5)
setting = st.one_of(st.just(0.0), st.integers(29000, 34000).map(lambda n: n / 100))
shares = st.sampled_from([0.0, 0.01, 0.1, 1.0])


@st.composite
def histories(draw, most=6):
    """Draw times, temperatures and one pH for each stretch."""
    points = draw(st.integers(2, most))
    steps = draw(st.lists(seconds, min_size=points - 1, max_size=points - 1))
    temperatures = draw(st.lists(kelvins, min_size=points, max_size=points))
    ph = draw(st.lists(acidity, min_size=points - 1, max_size=points - 1))
    return np.concatenate([[0.0], np.cumsum(steps)]), np.array(temperatures), np.array(ph)


def exponent(history, gel, share):
    """Return -ln of the share left, which keeps its digits where nothing is left."""
    times, temperatures, ph = history
    # A thousandth of the rate keeps the exponential away from zero.
    slow = LossLaw(20.0e5, 3.0, 3.0, 0.25, neutral_time=4860.0e5)
    found = remaining_strength(
        times, temperatures, ph, law=slow, setting_temperature=gel, protected_share=share
    )
    return -np.log(found.share)


def left(history, gel=0.0, share=1.0):
    times, temperatures, ph = history
    return remaining_strength(
        times, temperatures, ph, law=LAW, setting_temperature=gel, protected_share=share
    ).share


@given(histories(), setting, shares)
def test_share_lies_between_zero_and_one(history, gel, share):
    assert 0.0 <= left(history, gel, share) <= 1.0


@given(histories(), setting, shares, st.floats(0, 30))
def test_hotter_never_leaves_more(history, gel, share, rise):
    times, temperatures, ph = history
    assert left((times, temperatures + rise, ph), gel, share) <= left(history, gel, share) + 1e-12


@given(histories(), setting, shares, st.floats(1, 5))
def test_longer_never_leaves_more(history, gel, share, stretch):
    times, temperatures, ph = history
    assert (
        left((times * stretch, temperatures, ph), gel, share) <= left(history, gel, share) + 1e-12
    )


@given(histories(), setting, shares, st.floats(0, 3))
def test_more_acid_never_leaves_more(history, gel, share, drop):
    times, temperatures, ph = history
    assert left((times, temperatures, ph - drop), gel, share) <= left(history, gel, share) + 1e-12


@given(histories(), setting)
def test_protection_never_leaves_less(history, gel):
    assert left(history, gel, 0.1) >= left(history) - 1e-12


@given(histories(), setting, shares, st.integers(0, 4), st.floats(0.01, 0.99))
def test_splitting_a_stretch_changes_nothing(history, gel, share, place, part):
    times, temperatures, ph = history
    at = place % len(ph)
    cut = [x[at] + part * (x[at + 1] - x[at]) for x in (times, temperatures)]
    split = (
        np.insert(times, at + 1, cut[0]),
        np.insert(temperatures, at + 1, cut[1]),
        np.insert(ph, at, ph[at]),
    )
    # The cut itself is rounded, which moves a temperature by up to 1e-13 K.
    assert left(split, gel, share) == pytest.approx(left(history, gel, share), rel=1e-12, abs=1e-12)


@given(st.lists(histories(most=2), min_size=1, max_size=8), setting, shares)
def test_batch_equals_one_at_a_time(many, gel, share):
    batch = left(tuple(np.stack(column) for column in zip(*many, strict=True)), gel, share)
    assert batch.tolist() == pytest.approx(
        [float(left(one, gel, share)) for one in many], rel=1e-14
    )


@given(kelvins, acidity, seconds)
def test_constant_temperature_is_the_closed_form(kelvin, ph, hold):
    expected = 0.75 ** (hold / loss_time(kelvin, ph, law=LAW))
    found = left((np.array([0.0, hold]), np.array([kelvin] * 2), np.array([ph])))
    assert float(found) == pytest.approx(float(expected), rel=1e-9, abs=1e-300)


@given(histories(), histories())
def test_losses_in_a_row_multiply(first, second):
    (times, temperatures, ph), (later, then, after) = first, second
    joined = (
        np.concatenate([times, times[-1] + later]),
        np.concatenate([temperatures, then]),
        np.concatenate([ph, [5.0], after]),  # no time passes while the pot changes
    )
    assert exponent(joined, 0.0, 1.0) == pytest.approx(
        exponent(first, 0.0, 1.0) + exponent(second, 0.0, 1.0), rel=1e-9, abs=1e-12
    )
