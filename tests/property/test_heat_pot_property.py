"""What holds for every pot, whatever is in it."""

import numpy as np
from builders_engine import formula_of
from builders_pot import heated
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.domain.equipment import Hob
from setwell.domain.process_plan import PotPlan, PotStirring
from setwell.engine.assess import bench_build
from setwell.engine.heat.pot import heat_pot

viscosities = st.floats(-3.3, 3.0).map(lambda power: 10.0**power)
powers = st.floats(300.0, 3500.0)
FEW = settings(max_examples=12)
BENCH = bench_build(
    formula_of("900 g whole milk", "60 g sugar", "12 g cornstarch", steps="Heat to 80 °C\nChill")
)


def first_hot(run, case, target=84.0):
    hot = run.reading[:, case] >= target
    return run.seconds[np.argmax(hot)] if hot.any() else np.inf


@given(viscosities, powers, st.booleans(), st.sampled_from([0.0, 500.0]))
@FEW
def test_heat_is_conserved_and_the_zones_lie_in_order(viscosity, power, has_lid, stirred):
    run = heated([viscosity], power=power, lids=[has_lid], stirred=stirred, minutes=40.0)
    lost = run.flow("side") + run.flow("top") + run.flow("boiling")
    off = run.stored - (run.flow("power") - lost)
    assert np.abs(off).max() <= 1e-6 * run.flow("power")[-1].max()
    falls = np.diff(run.celsius[:, 0], axis=1)
    # The solver may swing by half a degree where the hob is taken back.
    assert falls.max() < 0.6
    assert (np.diff(run.flow("vapor")[:, 0]) >= -1e-12).all()


@given(viscosities, powers, st.floats(1.05, 3.0))
@FEW
def test_more_power_is_never_later(viscosity, power, more):
    run = heated([viscosity, viscosity], power=[power, more * power], minutes=60.0)
    assert first_hot(run, 1) <= first_hot(run, 0) + 1.0


@given(viscosities, powers)
@FEW
def test_a_lid_never_leaves_it_colder(viscosity, power):
    run = heated([viscosity, viscosity], power=power, lids=[False, True], minutes=60.0)
    later = run.seconds > 600.0
    assert (run.surface[later, 1] >= run.surface[later, 0] - 0.6).all()
    assert run.flow("vapor")[-1, 1] <= run.flow("vapor")[-1, 0]


@given(viscosities, powers, st.booleans())
@FEW
def test_stirring_never_spreads_it_more(viscosity, power, has_lid):
    still = heated([viscosity], power=power, lids=[has_lid], minutes=40.0)
    moved = heated([viscosity], power=power, lids=[has_lid], stirred=700.0, minutes=40.0)
    assert moved.surface[-1, 0] >= still.surface[-1, 0] - 0.6
    spread = (run.reading[-1, 0] - run.surface[-1, 0] for run in (moved, still))
    assert next(spread) <= next(spread) + 0.6


@given(
    st.floats(400.0, 3500.0), st.sampled_from(PotStirring), st.booleans(),
    st.floats(120.0, 400.0), st.floats(40.0, 105.0), st.floats(0.0, 20.0),
)  # fmt: skip
@settings(max_examples=15, deadline=None)
def test_every_plan_gets_an_answer_in_order(power, stirring, has_lid, across, target, hold):
    plan = PotPlan(
        hob=Hob(name="Hob", power_w=power), stirring=stirring, lid=has_lid, diameter_mm=across,
        target_c=target, hold_min=hold,
    )  # fmt: skip
    found = heat_pot(BENCH, plan)
    for course in (*found.courses, found.coldest):
        assert np.isfinite(course.celsius).all()
        assert (course.low_c <= course.celsius + 1e-9).all()
        assert (course.celsius <= course.high_c + 1e-9).all()
        assert (np.diff(course.seconds) > 0).all()
    assert found.evaporated_g.low <= found.evaporated_g.value <= found.evaporated_g.high
    for moment in (*found.moments, *(a.done for a in found.agents)):
        assert moment.text
        if moment.estimate is not None:
            assert moment.estimate.low <= moment.estimate.value
            assert moment.estimate.high is None or moment.estimate.value <= moment.estimate.high
    assert found.other is not None
