"""What holds for every wish, every conflict and every relaxation."""

from itertools import combinations

import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st

from setwell.engine.proposals.conflicts import MetMasks, conflicts_of, relaxations_of
from setwell.engine.proposals.relaxing import brief_changed
from setwell.engine.proposals.setting_time import hours_to_stand, least_setting_c
from setwell.engine.proposals.wishes import (
    FARTHEST,
    OPEN,
    Wish,
    Within,
    distances,
    mask_of,
    wishes_of,
)
from setwell.errors import InputError
from tests.builders_wishes import base_of, brief_of, rows_of

POSITIVE = st.floats(1e-3, 1e4)
# Quantities that tell of one wish each, so that any set of misses can be made.
ALONE = ("modulus", "stress", "strain", "thickness", "haze", "melt_c", "stands_c")


@st.composite
def windows(draw):
    low, high = sorted((draw(POSITIVE), draw(POSITIVE)))
    ends = draw(st.sampled_from([(low, high), (low, None), (None, high)]))
    return Within("modulus", *ends, draw(st.floats(0.05, 5.0)), draw(st.booleans()))


def off(window, value):
    return float(distances((Wish("w", "w", (window,)),), rows_of({"modulus": value}))[0, 0])


@given(windows(), POSITIVE)
def test_a_distance_is_nothing_just_inside(window, value):
    low = -np.inf if window.low is None else window.low
    high = np.inf if window.high is None else window.high
    # Within rounding of an end both answers are right.
    assume(min(abs(value - low), abs(value - high)) > 1e-9 * value)
    assert (off(window, value) == 0.0) == (low <= value <= high)


@given(windows(), POSITIVE, POSITIVE)
def test_who_is_farther_outside_is_never_nearer(window, one, other):
    near, far = sorted((one, other))
    if window.high is not None and near >= window.high:
        assert off(window, near) <= off(window, far) <= FARTHEST
    if window.low is not None and far <= window.low:
        assert off(window, far) <= off(window, near) <= FARTHEST


@given(windows(), st.floats(1.01, 5.0), POSITIVE)
def test_a_wider_window_is_never_farther(window, factor, value):
    wider = window._replace(
        low=None if window.low is None else window.low / factor,
        high=None if window.high is None else window.high * factor,
    )
    assert off(wider, value) <= off(window, value)


def made(masks):
    """Return wishes on one quantity each, and candidates that miss just the bits of a mask."""
    wishes = tuple(Wish(name, f"has {name}", (Within(name, 1.0, None, 0.1),)) for name in ALONE)
    rows = [
        {name: 0.0 if mask >> bit & 1 else 2.0 for bit, name in enumerate(ALONE)} for mask in masks
    ]
    return wishes, MetMasks(rows_of(*rows), tuple((str(n),) for n in range(len(rows))))


@given(st.lists(st.integers(0, 63), min_size=1, max_size=20))
def test_every_conflict_is_minimal_and_none_is_missing(masks):
    wishes, met = made(masks)

    def is_met(keys):
        bits = sum(1 << ALONE.index(key) for key in keys)
        return any(mask & bits == 0 for mask in masks)

    found = [one.wishes for one in conflicts_of(wishes, met, most=100)]
    for keys in found:
        assert not is_met(keys)
        assert all(is_met([key for key in keys if key != left]) for left in keys)
    assert [len(keys) for keys in found] == sorted(len(keys) for keys in found)
    for size in range(1, 7):
        for keys in combinations(ALONE, size):
            covered = any(set(one) <= set(keys) for one in found)
            assert covered == (not is_met(keys))


BRIEFS = st.fixed_dictionaries(
    {"texture": st.sampled_from([{"word": "elastic"}, {"word": "soft"}, {"word": "tender",
     "modulus_low": 1.0}, {"modulus_low": 1.0, "modulus_high": 4.0, "strain_low": 0.8},
     {"sets": True}])},
    optional={"clarity": st.sampled_from(["clear", "slightly cloudy", "cloudy"]),
              "mouth": st.sampled_from(["melts", "holds"]),
              "holds_c": st.floats(5.0, 95.0), "is_frozen": st.just(True),
              "plating": st.sampled_from(["unmolds", "spoons"]),
              "limits": st.fixed_dictionaries({"set_within_h": st.floats(0.5, 24.0)}),
              "cost_most": st.floats(0.05, 1.0)},
)  # fmt: skip
ROWS = st.fixed_dictionaries(
    {"sets": st.sampled_from([1, 0]), "modulus": st.floats(0.01, 50.0),
     "stress": st.floats(0.1, 90.0), "strain": st.floats(0.1, 3.0), "haze": st.floats(0.0, 1.0),
     "melt_c": st.one_of(st.floats(20.0, 99.0), st.just(np.inf)),
     "set_c": st.one_of(st.floats(10.0, 70.0), st.just(np.nan)),
     "frozen": st.sampled_from([1, 0, -1]), "cost": st.floats(0.01, 20.0)}
)  # fmt: skip


@given(BRIEFS, st.lists(ROWS, min_size=1, max_size=4))
def test_every_relaxation_is_met_by_the_candidate_it_names(fields, rows):
    brief = brief_of(**fields)
    base = base_of(brief)
    try:
        wishes = wishes_of(brief, base)
    except InputError:
        assume(False)
    met = MetMasks(rows_of(*rows), tuple((str(n),) for n in range(len(rows))))
    masks = mask_of(distances(wishes, met.found))
    told = relaxations_of(brief, base, wishes, met)
    # Something of a gel can always be had by giving up enough.
    assert bool(told) == bool(np.all(masks))
    for one in told:
        row = int(one.agents[0])
        changed = wishes_of(brief_changed(brief, one.changes), base)
        assert mask_of(distances(changed, met.found))[row] == 0
        keys = tuple(wish.key for bit, wish in enumerate(wishes) if masks[row] >> bit & 1)
        assert one.wishes == keys, "only what this candidate misses is given up"
    assert bool(conflicts_of(wishes, met)) == bool(told)


@given(st.floats(5.0, 75.0), st.floats(20.0, 2000.0))
def test_a_gel_stands_after_the_hours_it_is_said_to_take(set_c, portion_g):
    hours = hours_to_stand(set_c, portion_g)
    assert least_setting_c(hours, portion_g) <= set_c + 1e-6


@given(st.floats(0.1, 20.0), st.floats(0.1, 20.0), st.floats(20.0, 2000.0))
def test_more_time_never_asks_for_a_warmer_set(one, other, portion_g):
    short, long = sorted((one, other))
    assert least_setting_c(long, portion_g) <= least_setting_c(short, portion_g) + 1e-9


@given(st.lists(st.floats(0.0, 6.0), min_size=1, max_size=12))
def test_a_bit_is_set_for_each_wish_that_is_off(far):
    (mask,) = mask_of(np.array(far)[:, None])
    assert [bool(mask >> bit & 1) for bit in range(len(far))] == [one > OPEN for one in far]
