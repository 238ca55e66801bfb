"""What holds for every mold and every cold place."""

import numpy as np
import pytest
from builders_cooling import agar_milk, gelatin_juice
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.domain.equipment import Cooler, CoolerKind, MoldForm, MoldShape, WallMaterial
from setwell.domain.process_plan import CoolPlan
from setwell.engine.heat.cooling import cool
from setwell.engine.heat.cooling_setup import cooling_setup
from setwell.engine.heat.mold_body import COARSE
from setwell.engine.heat.passing_times import passed_s

QUICK = settings(max_examples=25, deadline=None, derandomize=True)
FEW = settings(max_examples=12, deadline=None, derandomize=True)

lengths = st.floats(10.0, 250.0)


@st.composite
def forms(draw):
    shape = draw(st.sampled_from(list(MoldShape)))
    wall = draw(st.sampled_from([None, WallMaterial.GLASS, WallMaterial.SILICONE]))
    fields = {"lid": draw(st.booleans()), "wall": wall, "wall_mm": None if wall is None else 2.0}
    if shape is MoldShape.OTHER:
        return MoldForm(shape=shape, volume_ml=draw(st.floats(5.0, 3000.0)), **fields)
    wide, deep, high = draw(lengths), draw(lengths), draw(st.floats(8.0, 120.0))
    return MoldForm(
        shape=shape, length_mm=wide, width_mm=deep, diameter_mm=wide, height_mm=high,
        headspace_mm=draw(st.sampled_from([0.0, 8.0])), **fields,
    )  # fmt: skip


def grown(form, factor):
    """Return the form with all its lengths times a factor, the wall as it was."""
    names = ("length_mm", "width_mm", "diameter_mm", "height_mm", "volume_ml")
    told = {name: getattr(form, name) for name in names}
    power = {"volume_ml": 3}
    larger = {
        name: None if one is None else one * factor ** power.get(name, 1)
        for name, one in told.items()
    }
    return form.model_copy(update=larger)


def core_at(form, level, **fields):
    """Return when the middle case is down at a level [s]."""
    pour = fields.pop("pour_c", 80.0)
    cooler = Cooler(name="Place", **{"coefficient_w_m2k": 12.0, **fields})
    setup = cooling_setup(agar_milk(), CoolPlan(mold=form, cooler=cooler, pour_c=pour))
    seconds = setup.seconds()
    return passed_s(seconds, setup.march(seconds, body=setup.body(cells=COARSE)).core, level)


@QUICK
@given(forms(), st.floats(1.1, 2.0))
def test_a_bigger_mold_is_never_faster(form, factor):
    assert core_at(grown(form, factor), 20.0) >= core_at(form, 20.0) * (1 - 1e-4)


@QUICK
@given(forms(), st.floats(-2.0, 10.0), st.floats(0.5, 8.0))
def test_colder_air_is_never_slower(form, air, warmer):
    assert core_at(form, 22.0, air_c=air) <= core_at(form, 22.0, air_c=air + warmer) * (1 + 1e-4)


@QUICK
@given(forms(), st.floats(4.0, 60.0), st.floats(1.05, 5.0))
def test_a_larger_coefficient_is_never_slower(form, coefficient, factor):
    slow = core_at(form, 20.0, coefficient_w_m2k=coefficient)
    assert core_at(form, 20.0, coefficient_w_m2k=coefficient * factor) <= slow * (1 + 1e-3)


@QUICK
@given(forms(), st.floats(40.0, 90.0), st.floats(1.0, 9.0))
def test_a_hotter_pour_is_never_faster(form, pour, hotter):
    assert core_at(form, 20.0, pour_c=pour + hotter) >= core_at(form, 20.0, pour_c=pour)


@FEW
@given(forms(), st.sampled_from(list(CoolerKind)), st.floats(30.0, 95.0), st.floats(0.0, 90.0))
def test_courses_fall_and_stay_within_their_range(form, kind, pour, counter):
    air = {CoolerKind.COUNTER: 20.0, CoolerKind.FREEZER: -18.0}.get(kind, 2.0)
    plan = CoolPlan(
        mold=form, cooler=Cooler(name="Place", kind=kind, air_c=air),
        pour_c=pour, counter_min=counter,
    )  # fmt: skip
    result = cool(agar_milk(), plan)
    for course in result.courses:
        assert np.isfinite(course.celsius).all()
        assert (course.low_c <= course.celsius).all()
        assert (course.celsius <= course.high_c).all()
        # Ripples of the polynomials stay far below what a probe shows.
        assert (np.diff(course.celsius) < 0.3).all()
        assert course.celsius.max() < pour + 0.8
    for moment in result.moments:
        if moment.estimate is not None:
            found = moment.estimate
            assert found.low <= found.value
            assert found.high is None or found.value <= found.high


@FEW
@given(forms(), st.sampled_from([agar_milk, gelatin_juice]))
def test_it_sets_before_it_is_cold(form, bench):
    result = cool(bench(), CoolPlan(mold=form, cooler=Cooler(name="Fridge", air_c=2.0)))
    sets, cold = result.moment("set").estimate, result.moment("5").estimate
    assert sets.value < cold.value
    assert result.moment("unmold").estimate.value >= sets.value
    assert result.moment("21").estimate.value < cold.value


@FEW
@given(forms(), st.floats(0.0, 60.0))
def test_the_heat_that_is_left_never_grows(form, counter):
    plan = CoolPlan(mold=form, cooler=Cooler(name="Fridge"), pour_c=80.0, counter_min=counter)
    setup = cooling_setup(agar_milk(), plan)
    run = setup.march(setup.seconds(), body=setup.body(cells=COARSE))
    assert (np.diff(run.mean) <= 1e-6).all()
    assert run.mean[0] == pytest.approx(80.0, abs=1e-6)
