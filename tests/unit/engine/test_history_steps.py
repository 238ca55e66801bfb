"""The temperature of the batch over time."""

import numpy as np
import pytest
from builders_engine import formula_of

from setwell.domain.steps import steps_parse
from setwell.engine.assess import bench_build
from setwell.engine.history import PACE_FACTOR, history_read

STEPS = steps_parse("Heat to 90 °C, hold 2 min\nCool to 60 °C\nAdd the lemon juice\nChill at 4 °C")


def test_the_line_passes_the_told_temperatures():
    found = history_read(STEPS)
    assert found.is_told
    assert found.celsius.max() == 90
    assert found.celsius[-1] == 4
    assert (np.diff(found.minutes) > 0).all()
    assert len(found.starts) == len(STEPS)


def test_a_slow_kitchen_takes_longer_and_keeps_the_told_hold():
    quick, slow = history_read(STEPS), history_read(STEPS, pace=PACE_FACTOR)
    assert slow.end > 2 * quick.end
    for found in (quick, slow):
        at_peak = found.minutes[found.celsius == 90]
        assert at_peak[-1] - at_peak[0] == pytest.approx(2.0)


def test_a_later_start_drops_what_came_before():
    found = history_read(STEPS)
    late = found.from_time(found.starts[2])
    assert late.celsius[0] == 60
    assert late.celsius.max() == 60
    assert late.end == pytest.approx(found.end - found.starts[2])


def test_no_steps_make_a_flat_line():
    found = history_read(())
    assert not found.is_told
    assert set(found.celsius) == {20.0}


@pytest.mark.parametrize(
    ("said", "is_late"),
    [
        ("Cool to 60 °C and stir in the lemon juice", True),
        ("Cool to 60 °C\nStir in the lemon juice", True),
        ("Add the lemon juice at 60 °C", True),
        ("Stir in the lemon juice and cool to 60 °C", False),
    ],
)
def test_the_acid_counts_from_the_moment_it_goes_in(said, is_late):
    formula = formula_of(
        "500 g water", "30 g lemon juice", "1% kappa carrageenan",
        steps=f"Whisk in the kappa\nHeat to 88 °C, hold 2 min\n{said}\nChill at 4 °C",
    )  # fmt: skip
    state = bench_build(formula).state
    path = state.agents["kappa_carrageenan"].kept.heat.value[0]
    assert (state.process.acid_c[0] <= 60.0) == is_late
    assert (path > 0.8) == is_late
