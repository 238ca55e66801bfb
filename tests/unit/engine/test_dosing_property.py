"""What holds for every dose."""

import pytest
from builders_engine import formula_of
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.engine.acid_additives import additive_find
from setwell.engine.assess import bench_build
from setwell.engine.dosing import dose_for

ACIDS = ("citric acid", "malic acid", "lactic acid", "ascorbic acid", "glucono-delta-lactone")
GRAMS = st.integers(50, 400)


def bench_of(milk, juice):
    return bench_build(formula_of(f"{milk} g whole milk", f"{juice} g orange juice", "400 g water"))


@settings(max_examples=20)
@given(milk=GRAMS, juice=GRAMS, acid=st.sampled_from(ACIDS))
def test_a_lower_ph_takes_more_acid(milk, juice, acid):
    bench, additive = bench_of(milk, juice), additive_find(acid)
    now = float(bench.state.water.ph.value[0])
    found = [dose_for(bench, now - step, additive) for step in (0.1, 0.3, 0.6)]
    grams = [one.grams.value for one in found if one.reachable]
    assert len(grams) == 3
    assert grams == sorted(set(grams))


@settings(max_examples=15)
@given(milk=GRAMS, juice=GRAMS, times=st.sampled_from((0.1, 3.0, 10.0)))
def test_a_larger_batch_takes_as_much_more(milk, juice, times):
    acid = additive_find("citric acid")
    one = bench_of(milk, juice)
    target = float(one.state.water.ph.value[0]) - 0.5
    many = bench_build(
        formula_of(
            f"{milk * times:.1f} g whole milk", f"{juice * times:.1f} g orange juice",
            f"{400 * times:.1f} g water",
        )
    )  # fmt: skip
    small, large = (dose_for(bench, target, acid) for bench in (one, many))
    assert large.grams.value == pytest.approx(times * small.grams.value, rel=1e-6)
    assert large.percent == pytest.approx(small.percent, rel=1e-6)
