"""Marching through changing air and changing coefficients."""

import numpy as np
import pytest
from builders_cooling import CUP, JAR, TRAY, air_constant, steady

from setwell.domain.equipment import MoldForm, MoldShape, WallMaterial
from setwell.engine.heat.march import Surroundings, march
from setwell.engine.heat.mold_body import (
    COARSE,
    Food,
    body_of_mold,
    face_areas,
    time_constant,
)
from setwell.engine.heat.mold_form import mold_geometry

FOOD = Food(0.55, 3.9e6)
USUAL = dict.fromkeys(("side", "top", "base"), 10.0)
BALL = MoldForm(shape=MoldShape.SPHERE, diameter_mm=60)
HALF = MoldForm(shape=MoldShape.HEMISPHERE, diameter_mm=60)
SECONDS = np.linspace(0.0, 12 * 3600.0, 200)


def run_of(form, *, air=None, is_steady=True, start=80.0):
    body = body_of_mold(mold_geometry(form), FOOD, coefficients=USUAL, cells=COARSE)
    around = air_constant(4.0) if air is None else air
    return march(
        body, start_c=start, air=around, passing=steady(10.0), seconds=SECONDS, is_steady=is_steady
    )


@pytest.mark.parametrize("form", [CUP, TRAY, BALL, HALF, JAR])
def test_a_start_as_cold_as_the_air_stays(form):
    run = run_of(form, start=4.0)
    for celsius in (run.core, run.surface, run.mean):
        assert celsius == pytest.approx(np.full(len(SECONDS), 4.0), abs=1e-6)


@pytest.mark.parametrize("form", [CUP, TRAY, BALL, HALF, JAR])
def test_the_core_is_the_warmest_and_all_end_at_the_air(form):
    run = run_of(form)
    assert (run.core >= run.mean - 1e-6).all()
    assert (run.core >= run.surface - 1e-3).all()
    assert run.core[0] == pytest.approx(80.0, abs=0.01)
    assert run.core[-1] == pytest.approx(4.0, abs=1.2)


@pytest.mark.parametrize("form", [CUP, JAR])
def test_an_air_that_steps_to_where_it_was_changes_nothing(form):
    same = Surroundings(np.array([0.0, 1800.0, 5400.0]), np.array([4.0, 4.0, 4.0]))
    assert run_of(form, air=same).core == pytest.approx(run_of(form).core, abs=1e-6)


@pytest.mark.parametrize("form", [CUP, JAR, BALL])
def test_a_stop_on_the_counter_adds_up_from_two_runs(form):
    # Superposition: a run in air of 20 °C, and from 1 h on the answer to the air falling by 16 K.
    both = run_of(form, air=Surroundings(np.array([0.0, 3600.0]), np.array([20.0, 4.0])))
    warm = run_of(form, air=air_constant(20.0))
    fallen = run_of(form, air=air_constant(4.0), start=20.0)
    later = np.interp(SECONDS - 3600.0, SECONDS, fallen.mean) - 20.0
    summed = warm.mean + np.where(SECONDS > 3600.0, later, 0.0)
    assert both.mean == pytest.approx(summed, abs=0.05)


def test_stretches_agree_with_a_coefficient_that_never_changes():
    loose = run_of(CUP, is_steady=False)
    assert loose.core == pytest.approx(run_of(CUP).core, abs=1e-6)


def test_warming_takes_the_coldest_place_as_core():
    run = run_of(CUP, air=air_constant(60.0), start=5.0)
    assert (run.core <= run.mean + 1e-6).all()
    assert run.core[-1] > 58.0


def test_a_thin_wall_holds_heat_back_and_holds_heat():
    walled = BALL.model_copy(update={"wall": WallMaterial.SILICONE})
    body = body_of_mold(mold_geometry(walled), FOOD, coefficients=USUAL)
    assert body.resistances["side"] == pytest.approx(0.010)
    assert (run_of(walled).core >= run_of(BALL).core - 1e-9).all()


def test_a_lid_with_headspace_slows_the_top():
    covered = CUP.model_copy(update={"headspace_mm": 10.0, "lid": True})
    assert run_of(covered).core[60] > run_of(CUP).core[60] + 0.5


def test_the_time_constant_is_that_of_the_slow_end():
    mold = mold_geometry(CUP)
    run = run_of(CUP)
    late = (run.core > 5.0) & (run.core < 8.0)
    rate = -np.polyfit(SECONDS[late], np.log(run.core[late] - 4.0), 1)[0]
    assert 1.0 / rate == pytest.approx(time_constant(mold, FOOD, USUAL), rel=0.15)


def test_faces_add_up_to_the_surface():
    for form in (CUP, TRAY, BALL, HALF, JAR):
        mold = mold_geometry(form)
        assert sum(face_areas(mold).values()) == pytest.approx(mold.surface)
