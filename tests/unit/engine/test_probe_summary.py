"""The summary of a log: an agent that stayed too cool is no pass, however safe the food."""

import numpy as np
import pytest
from builders_probe import batch_course, log_of

from setwell import formula_make
from setwell.engine.assess import bench_build
from setwell.engine.probe.judging import log_judge
from setwell.engine.probe.summary import log_summary
from setwell.engine.safety import DEFERRAL
from setwell.engine.verdict import Verdict

CUSTARD = "500 g whole milk\n100 g egg yolk\n60 g sugar\n4 g kappa carrageenan"


@pytest.fixture(scope="module")
def bench():
    return bench_build(
        formula_make(title="Set custard", ingredients=CUSTARD, steps="Heat to 88 °C, hold 10 min")
    )


def test_an_agent_that_stays_too_cool_comes_before_the_law_that_passes(bench):
    seconds, celsius = batch_course()
    found = log_judge(log_of(seconds, np.minimum(celsius, 78.0)), bench)
    assert found.agents[0].hydrates is Verdict.NO
    assert found.summary.startswith(
        "Fail: hydration of Kappa carrageenan. By the food code: pass: egg cooked"
    )
    assert found.summary.endswith(DEFERRAL)


def test_a_law_that_fails_comes_first_and_the_agent_is_still_told(bench):
    seconds, celsius = batch_course()
    found = log_judge(log_of(seconds, np.minimum(celsius, 60.0)), bench)
    assert found.summary.startswith("Fail: egg cooked")
    assert "Hydration of Kappa carrageenan: fail." in found.summary


def test_a_good_batch_tells_both(bench):
    seconds, celsius = batch_course()
    found = log_judge(log_of(seconds, celsius), bench)
    assert found.summary.startswith("Pass: egg cooked")
    assert "Hydration of Kappa carrageenan: pass." in found.summary


def test_an_open_agent_leaves_a_pass_open_and_stands_alone_without_checks(bench):
    seconds, celsius = batch_course()
    found = log_judge(log_of(seconds, celsius), bench)
    ends_hot = np.arange(0, 1_000, 10.0)
    hot = log_judge(log_of(ends_hot, np.minimum(20 + ends_hot / 14, 88.0)), bench)
    assert log_summary(hot.agents, found.checks).startswith(
        "Cannot tell: hydration of Kappa carrageenan. By the food code: pass"
    )
    alone = log_summary(hot.agents, ())
    assert alone == f"Cannot tell: hydration of Kappa carrageenan. {DEFERRAL}"


def test_without_agents_the_law_stands_alone():
    seconds, celsius = batch_course()
    found = log_judge(log_of(seconds, celsius))
    assert found.agents == ()
    assert "ydration" not in found.summary
