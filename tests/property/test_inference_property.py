"""What must hold of calibration whatever was measured."""

from math import log

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from setwell.engine.calibration import calibrate
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.texture_unknowns import Observation, Part, Quantity, Target
from setwell.science.inference.linear_gaussian import normal_update

TOTAL = log(2.0)
DOUBT = LawDoubt(TOTAL, log(1.5), 5.0, 5.0, log(3.0))
TARGETS = {
    "kappa_carrageenan": Target("K-1", "dairy", DOUBT, "a"),
    "iota_carrageenan": Target("", "dairy", DOUBT, "a"),
}
numbers = st.floats(-1.0, 1.0)
variances = st.floats(1e-4, 0.5)


@st.composite
def observations(draw):
    count = draw(st.integers(1, 6))
    return [one_of(draw, n) for n in range(count)]


def one_of(draw, n):
    quantity = draw(st.sampled_from([Quantity.STRENGTH, Quantity.STRAIN]))
    base, share = draw(st.sampled_from(["dairy", "watery"])), draw(st.floats(0.05, 1.0))
    recipe = draw(st.sampled_from(["a", "b"]))
    parts = [Part(quantity, "kappa_carrageenan", draw(st.sampled_from(["K-1", "K-2"])), base,
                  share, TOTAL, recipe)]  # fmt: skip
    if share < 0.95:
        parts.append(Part(quantity, "iota_carrageenan", "", base, 1.0 - share, TOTAL, recipe))
    method = draw(st.sampled_from(["", "penetration", "press"]))
    return Observation(f"version:{n:03d}", tuple(parts), draw(numbers), draw(variances), method)


def as_numbers(calibrated):
    return {(one.agent, one.quantity): tuple(one.correction) for one in calibrated.found}


@given(observations(), st.randoms(use_true_random=False))
def test_the_order_of_readings_does_not_matter(readings, random):
    mixed = list(readings)
    random.shuffle(mixed)
    assert as_numbers(calibrate(mixed, TARGETS)) == as_numbers(calibrate(readings, TARGETS))
    assert calibrate(mixed, TARGETS).disputes == calibrate(readings, TARGETS).disputes


@given(observations())
def test_without_conflict_no_range_is_wider_than_the_law(readings):
    calibrated = calibrate(readings, TARGETS)
    assume(not calibrated.disputes)
    for one in calibrated.found:
        assert one.correction.half_width <= one.prior_half_width * (1 + 1e-9)


@given(observations())
def test_without_conflict_one_more_reading_never_widens(readings):
    fewer, more = calibrate(readings[:-1], TARGETS), calibrate(readings, TARGETS)
    assume(not more.disputes and not fewer.disputes)
    before = {(one.agent, one.quantity): one.correction.half_width for one in fewer.found}
    for one in more.found:
        limit = before.get((one.agent, one.quantity), one.prior_half_width)
        assert one.correction.half_width <= limit * (1 + 1e-9)


@given(observations())
def test_in_a_conflict_the_range_covers_every_reading_of_it(readings):
    # One agent, one quantity, no way of measuring: every reading is a number of the correction.
    alone = [
        Observation(
            one.key,
            (Part(Quantity.STRENGTH, "kappa_carrageenan", "K-1", "dairy", 1.0, TOTAL, "a"),),
            4.0 * one.value,
            one.variance / 50.0,
        )
        for one in readings
    ]  # fmt: skip
    calibrated = calibrate(alone, TARGETS)
    assume(calibrated.disputes)
    (found,) = calibrated.found
    assert found.correction.is_disputed
    for one in alone:
        if any(one.key in dispute.keys for dispute in calibrated.disputes):
            assert abs(one.value - found.correction.shift) <= found.correction.half_width + 1e-9


@given(numbers, st.integers(1, 4))
def test_exact_readings_dominate(value, count):
    readings = [
        Observation(
            f"version:{n}",
            (Part(Quantity.STRENGTH, "kappa_carrageenan", "K-1", "dairy", 1.0, TOTAL, "a"),),
            value,
            1e-10,
        )
        for n in range(count)
    ]
    found = next(iter(calibrate(readings, TARGETS).found))
    assert found.correction.shift == pytest.approx(value, abs=1e-6)
    assert found.correction.half_width < 1e-4 or found.correction.is_disputed


@given(
    st.lists(st.tuples(numbers, numbers, numbers, variances), min_size=1, max_size=6),
    st.floats(0.1, 2.0),
)
def test_the_update_equals_one_reading_after_the_other(rows, spread):
    mean, covariance = np.zeros(2), spread * np.eye(2)
    for first, second, value, variance in rows:
        step = normal_update(
            mean, covariance, design=[[first, second]], observed=[value], variance=[variance]
        )
        mean, covariance = step.mean, step.covariance
    at_once = normal_update(
        np.zeros(2), spread * np.eye(2),
        design=[row[:2] for row in rows],
        observed=[row[2] for row in rows], variance=[row[3] for row in rows],
    )  # fmt: skip
    np.testing.assert_allclose(at_once.mean, mean, atol=1e-9)
    np.testing.assert_allclose(at_once.covariance, covariance, atol=1e-9)


def test_no_reading_leaves_everything_to_the_law():
    assert calibrate([], TARGETS).corrections == {}
