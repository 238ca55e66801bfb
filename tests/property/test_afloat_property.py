"""Particles afloat: what holds of listed doses however they are put together."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from setwell.engine.proposals.afloat import AFLOAT, beside, listed_for, rating, set_fast
from setwell.tables.agents import agent_rows

KEYS = st.sampled_from(sorted(agent_rows()))
DOSES = st.floats(1e-4, 20.0)
RATES = st.sampled_from([-1.0, 0.0, 0.5, 0.8, 1.0])
PARTS = st.lists(st.tuples(RATES, st.sampled_from([0.0, 1.0])), min_size=1, max_size=4)


@given(KEYS, st.lists(DOSES, min_size=1, max_size=20), st.booleans())
def test_a_dose_counts_where_it_lies_in_the_listed_span_and_nowhere_else(key, doses, is_milk):
    percents, row = np.array(doses), listed_for(key, is_milk=is_milk)
    found = rating(
        key, percents, is_milk=np.full(len(doses), is_milk), serving_c=np.full(len(doses), 4.0),
        is_gelling=True,
    )  # fmt: skip
    if row is None:
        assert (found == 0.0).all()
        return
    # The ends as they can be weighed.
    inside = (percents >= row.low * 1.0) & (percents <= row.high * 1.0)
    near = (percents >= row.low / 1.021) & (percents <= row.high * 1.021)
    assert (found[inside] >= AFLOAT).all()
    assert (found[~near] < AFLOAT).all()
    assert (found <= 1.0).all()
    assert (found[percents < row.low / 1.021] == -1.0).all()


@given(PARTS, st.randoms())
def test_the_order_of_agents_changes_nothing_and_none_is_better_than_its_best(parts, random):
    def told(ones):
        return float(beside([np.array([r]) for r, _ in ones], [np.array([t]) for _, t in ones])[0])

    found = told(parts)
    mixed = list(parts)
    random.shuffle(mixed)
    assert told(mixed) == found
    assert found <= max(rate for rate, _ in parts)
    gelling = sum(thick == 0.0 for _, thick in parts)
    if gelling >= 2:
        assert found < AFLOAT
    if gelling == 0:
        assert found == max(rate for rate, _ in parts)


@given(RATES, st.sampled_from([-1, 0, 1]), st.floats(0.0, 50.0))
def test_setting_never_makes_particles_sink(rate, sets, stiff):
    found = float(set_fast(np.array([rate]), np.array([float(sets)]), np.array([stiff]))[0])
    assert found >= rate
    if sets == 1 and stiff > 0.01:
        assert found == 1.0
