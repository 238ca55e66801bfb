"""What must hold for every course: lethality adds up, and warmer is never safer when cooling."""

import numpy as np
import pytest
from builders_safety import CUSTARD, PLAIN_STEPS, bench_of, course_of
from hypothesis import example, given, settings
from hypothesis import strategies as st

from setwell.engine.heat.course import Course
from setwell.engine.safety import Ruling, cooling_checks, heating_checks
from setwell.science.lethality.clocks import (
    highest_held,
    last_time_above,
    longest_hold,
    stretches_at_or_above,
    time_within,
)
from setwell.science.lethality.segments import lethality, lethality_curve, lethality_trapezoid

BENCH = bench_of(*CUSTARD, steps=PLAIN_STEPS)
ORDER = {Ruling.FAIL: 0, Ruling.CANNOT_TELL: 1, Ruling.PASS: 2}

kelvins = st.floats(300.0, 370.0)
steps = st.floats(0.0, 600.0)
z_values = st.floats(3.0, 12.0)
courses = st.lists(st.tuples(steps, kelvins), min_size=2, max_size=12)


def read(points: list[tuple[float, float]]) -> tuple[np.ndarray, np.ndarray]:
    lasts, kelvin = zip(*points, strict=True)
    return np.cumsum(lasts), np.array(kelvin)


@given(courses, z_values, st.integers(1, 10), st.floats(320.0, 345.0))
def test_lethality_adds_up_over_parts(points, z, cut, lowest):
    time, kelvin = read(points)
    cut = min(cut, len(time) - 1)
    kwargs = {"reference_temperature": 333.15, "z_value": z, "lowest": lowest}
    parts = lethality(time[: cut + 1], kelvin[: cut + 1], **kwargs) + lethality(
        time[cut:], kelvin[cut:], **kwargs
    )
    whole = lethality(time, kelvin, **kwargs)
    assert float(parts) == pytest.approx(float(whole), rel=1e-9, abs=1e-12)
    assert float(lethality_curve(time, kelvin, **kwargs)[-1]) == pytest.approx(
        float(whole), rel=1e-9, abs=1e-12
    )


@given(courses, z_values, st.floats(0.01, 0.99), st.floats(320.0, 345.0), st.booleans())
def test_cutting_a_straight_piece_changes_nothing(points, z, where, lowest, has_two):
    time, kelvin = read(points)
    finer = np.sort(np.concatenate([time, time[:-1] + where * np.diff(time)]))
    if (np.diff(np.unique(time)) < 1e-9).any() or len(np.unique(time)) < len(time):
        # Where the course jumps, a read-out has two values for one time, or none that is finite.
        return
    cut = np.interp(finer, time, kelvin)
    kwargs = {
        "reference_temperature": 333.15,
        "z_value": z,
        "z_value_above": z + 1.0 if has_two else None,
        "lowest": lowest,
        "highest": 360.0,
    }
    whole = float(lethality(time, kelvin, **kwargs))
    assert float(lethality(finer, cut, **kwargs)) == pytest.approx(whole, rel=1e-6, abs=1e-9)


@given(courses, z_values, st.floats(0.0, 20.0), st.floats(320.0, 345.0))
def test_warmer_kills_no_less(points, z, warmer, lowest):
    time, kelvin = read(points)
    for raised in (kelvin + warmer, np.maximum(kelvin, 330.0 + warmer)):
        for highest in (np.inf, 350.0):
            kwargs = {"reference_temperature": 333.15, "z_value": z, "lowest": lowest,
                      "highest": highest}  # fmt: skip
            cool, warm = lethality(time, kelvin, **kwargs), lethality(time, raised, **kwargs)
            assert float(warm) >= float(cool) * (1 - 1e-9)


@given(courses, z_values)
def test_the_trapezoid_never_counts_less_than_the_exact_sum(points, z):
    time, kelvin = read(points)
    kwargs = {"reference_temperature": 333.15, "z_value": z}
    exact = float(lethality(time, kelvin, **kwargs))
    assert float(lethality_trapezoid(time, kelvin, **kwargs)) >= exact * (1 - 1e-9)


@given(courses, z_values, st.floats(305.0, 345.0))
@example([(0.0, 300.0), (2.0, 345.125)], 3.0, 345.0)
def test_exact_pieces_are_a_fine_sum(points, z, lowest):
    time, kelvin = read(points)
    total = 0.0
    for lasts, a, b in zip(np.diff(time), kelvin[:-1], kelvin[1:], strict=True):
        # Only what is warm enough is summed, so that no coarse piece lies across the cut.
        cold, warm = min(a, b), max(a, b)
        begin = max(cold, lowest)
        if warm < begin:
            continue
        share = (warm - begin) / (warm - cold) if warm > cold else 1.0
        inner = begin + (np.arange(4000) + 0.5) / 4000 * (warm - begin)
        total += lasts * share * (10.0 ** ((inner - 333.15) / z)).mean()
    exact = lethality(time, kelvin, reference_temperature=333.15, z_value=z, lowest=lowest)
    assert float(exact) == pytest.approx(total, rel=2e-5, abs=1e-6)


@given(courses, st.lists(kelvins, min_size=1, max_size=3), z_values)
def test_many_references_at_once_are_each_by_itself(points, references, z):
    time, kelvin = read(points)
    both = np.stack([kelvin, kelvin + 1.0])
    found = lethality(time, both, reference_temperature=references, z_value=z)
    assert found.shape == (2, len(references))
    for place, curve in enumerate(both):
        for column, reference in enumerate(references):
            one = lethality(time, curve, reference_temperature=reference, z_value=z)
            assert float(found[place, column]) == pytest.approx(float(one), rel=1e-12)


@given(courses, kelvins, st.floats(0.0, 10.0))
def test_holds_shrink_with_the_level_and_agree_with_their_inverse(points, level, more):
    time, kelvin = read(points)
    hold = longest_hold(time, kelvin, level)
    assert longest_hold(time, kelvin, level + more) <= hold
    found = stretches_at_or_above(time, kelvin, level)
    assert np.all(found.lasts >= 0)
    assert np.all(found.begins[1:] >= found.ends[:-1])
    if hold > 0:
        assert highest_held(time, kelvin, hold) >= level - 1e-5
    inside = time_within(time, kelvin, low=level, high=np.inf)
    assert inside == pytest.approx(float(found.lasts.sum()), abs=1e-6)


@given(courses, kelvins)
def test_after_the_last_time_above_nothing_is_above(points, level):
    time, kelvin = read(points)
    last = last_time_above(time, kelvin, level)
    if np.isfinite(last):
        assert np.all(kelvin[time > last + 1e-6] <= level + 1e-9)
    assert np.isposinf(last) == (kelvin[-1] > level)
    assert np.isneginf(last) == bool(np.all(kelvin <= level))


@st.composite
def coolings(draw) -> tuple[Course, Course]:
    """Return a cooling from above 57 °C, and one that is warmer once it is below."""
    count = draw(st.integers(2, 8))
    minutes = np.cumsum([10.0, *(draw(st.floats(1.0, 150.0)) for _ in range(count))])
    cold = [draw(st.floats(0.0, 56.9)) for _ in range(count)]
    raised = [min(c + draw(st.floats(0.0, 30.0)), 56.9) for c in cold]
    head = [(0.0, 85.0), (10.0, 57.0)]
    rest = minutes[1:]
    cool = course_of(*head, *zip(rest, cold, strict=True))
    warm = course_of(*head, *zip(rest, raised, strict=True))
    return cool, warm


@given(coolings())
@settings(max_examples=150)
def test_a_warmer_cooling_is_never_judged_better(pair):
    cool, warm = pair
    found = [cooling_checks(BENCH, (course,)) for course in (cool, warm)]
    for before, after in zip(*found, strict=True):
        assert ORDER[after.ruling] <= ORDER[before.ruling]


@given(coolings(), st.floats(0.0, 3.0))
@settings(max_examples=80)
def test_more_doubt_never_turns_into_a_verdict(pair, error):
    course, _ = pair
    wide = Course(
        course.place, course.seconds, course.celsius, course.celsius - error,
        course.celsius + error + 1e-9, is_measured=True,
    )  # fmt: skip
    for sure, doubted in zip(
        cooling_checks(BENCH, (course,)), cooling_checks(BENCH, (wide,)), strict=True
    ):
        assert {sure.ruling, doubted.ruling} != {Ruling.PASS, Ruling.FAIL}


@given(
    st.lists(st.tuples(st.floats(1.0, 300.0), st.floats(20.0, 95.0)), min_size=2, max_size=8),
    st.floats(0.0, 10.0),
)
@settings(max_examples=40)
def test_a_hotter_heating_is_never_judged_worse(points, hotter):
    minutes = np.cumsum([lasts / 60.0 for lasts, _ in points])
    cool = course_of(*zip(minutes, [c for _, c in points], strict=True))
    hot = course_of(*zip(minutes, [c + hotter for _, c in points], strict=True))
    before, after = (heating_checks(BENCH, (course,)) for course in (cool, hot))
    for one, other in zip(before, after, strict=True):
        assert ORDER[other.ruling] >= ORDER[one.ruling]
