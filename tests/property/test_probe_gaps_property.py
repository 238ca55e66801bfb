"""However much of a log is lost, what is left never proves more than the whole."""

import numpy as np
import pytest
from builders_probe import batch_course, log_of
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell import formula_make
from setwell.engine.assess import bench_build
from setwell.engine.probe.judging import log_judge
from setwell.engine.safety.results import Ruling
from setwell.engine.verdict import Verdict

BENCH = bench_build(
    formula_make(
        title="Set custard",
        ingredients="500 g whole milk\n100 g egg yolk\n4 g kappa carrageenan",
        steps="Heat to 85 °C, hold 5 min",
    )
)


@settings(max_examples=40)
@given(
    hot=st.floats(60, 95),
    hold_min=st.floats(0, 30),
    cool_h=st.floats(0.5, 14),
    lost=st.lists(st.tuples(st.floats(0, 1), st.floats(0, 0.5)), min_size=1, max_size=3),
)
def test_a_gap_takes_a_verdict_away_and_never_gives_one(hot, hold_min, cool_h, lost):
    seconds, celsius = batch_course(30.0, hot=hot, hold_min=hold_min, cool_h=cool_h)
    kept = np.ones(len(seconds), dtype=bool)
    for start, length in lost:
        first = int(start * len(seconds))
        kept[first : first + int(length * len(seconds))] = False
    # What the ends of a log do not show is no gap: both stay.
    kept[[0, 1, -2, -1]] = True
    whole = log_judge(log_of(seconds, celsius), BENCH)
    holey = log_judge(log_of(seconds[kept], celsius[kept]), BENCH)
    before = {check.key: check.ruling for check in whole.checks}
    for check in holey.checks:
        if check.ruling is Ruling.PASS:
            assert before[check.key] is Ruling.PASS, check.key
        if check.ruling is Ruling.FAIL:
            assert before[check.key] is not Ruling.PASS, check.key
    for one, other in zip(whole.agents, holey.agents, strict=True):
        assert other.hydrates is not Verdict.YES or one.hydrates is Verdict.YES
        assert other.hydrates is not Verdict.NO or one.hydrates is not Verdict.YES


@pytest.mark.parametrize("error_c", [0.1, 1.0, 3.0])
def test_a_worse_probe_never_proves_more(error_c):
    for hot in (62, 66, 71, 86):
        seconds, celsius = batch_course(30.0, hot=hot)
        sure = log_judge(log_of(seconds, celsius, probe_error_c=0.01), BENCH)
        unsure = log_judge(log_of(seconds, celsius, probe_error_c=error_c), BENCH)
        known = {check.key: check.ruling for check in sure.checks}
        for check in unsure.checks:
            if check.ruling is not Ruling.CANNOT_TELL:
                assert known[check.key] is check.ruling
