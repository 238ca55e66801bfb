"""What must hold for every search: inside the box, never worse than its starts, repeatable."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.errors import OutOfRangeError
from setwell.science.designs.box_search import box_refine, box_search

sides = st.lists(st.tuples(st.floats(-50.0, 50.0), st.floats(0.01, 100.0)), min_size=1, max_size=4)
seeds = st.integers(0, 10_000)


@st.composite
def searches(draw):
    """Return a rugged function with a step in it, and a box."""
    lower, size = (np.array(part) for part in zip(*draw(sides), strict=True))
    middle = lower + size * np.array([draw(st.floats(-0.3, 1.3)) for _ in size])
    waves, step = draw(st.floats(0.0, 20.0)), draw(st.floats(0.0, 1.0))

    def function(x):
        part = (x - lower) / size
        rough = np.sin(waves * part).sum(axis=1) + 0.5 * (part[:, 0] > step)
        return (((x - middle) / size) ** 2).sum(axis=1) + rough

    return function, lower, lower + size


@given(searches(), seeds)
@settings(max_examples=60)
def test_a_search_stays_in_its_box_and_keeps_its_best(search, seed):
    function, lower, upper = search
    kept = {"lower": lower, "upper": upper, "doublings": 5, "rounds": 6, "cloud_points": 8,
            "seed": seed}  # fmt: skip
    found = box_search(function, **kept)
    reach = 1e-12 * (np.abs(lower) + np.abs(upper) + 1.0)
    assert np.all(found.points >= lower - reach)
    assert np.all(found.points <= upper + reach)
    assert found.value == found.values.min() == function(found.point[None])[0]
    assert found.value <= found.values[:32].min()
    again = box_search(function, **kept)
    assert np.array_equal(found.points, again.points)
    assert np.array_equal(found.values, again.values)


@given(searches(), seeds, st.integers(1, 3))
@settings(max_examples=60)
def test_a_refinement_is_never_worse_than_its_starts(search, seed, count):
    function, lower, upper = search
    drawn = np.random.default_rng(seed).uniform(size=(count, len(lower)))
    starts = lower + drawn * (upper - lower)
    found = box_refine(
        function, starts=starts, lower=lower, upper=upper, width=0.1, rounds=3,
        cloud_points=16, seed=seed,
    )  # fmt: skip
    assert found.value <= function(starts).min() + 1e-9
    assert len(found.values) == count * (1 + 3 * 16)


def test_what_is_not_a_number_is_never_the_lowest():
    def function(x):
        return np.where(x[:, 0] < 0.5, np.nan, x[:, 0])

    found = box_search(function, lower=[0.0], upper=[1.0], doublings=6)
    assert found.value == pytest.approx(0.5, abs=1e-6)


@pytest.mark.parametrize(
    "wrong",
    [
        {"upper": [0.0, 1.0]}, {"lower": [[0.0, 0.0]]}, {"upper": [np.inf, 1.0]}, {"basins": 0},
        {"rounds": 0}, {"cloud_points": 3}, {"function": lambda x: x}, {"doublings": 21},
    ],
)  # fmt: skip
def test_a_search_that_cannot_be_made_says_so(wrong):
    asked = {"function": lambda x: x.sum(axis=1), "lower": [0.0, 0.0], "upper": [1.0, 1.0]}
    with pytest.raises(OutOfRangeError):
        box_search(**{**asked, **wrong})


def test_a_width_outside_of_the_box_is_refused():
    with pytest.raises(OutOfRangeError):
        box_refine(lambda x: x[:, 0], starts=[[0.5]], lower=[0.0], upper=[1.0], width=0.0,
                   rounds=1, cloud_points=8)  # fmt: skip
