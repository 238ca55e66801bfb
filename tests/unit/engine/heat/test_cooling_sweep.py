"""The same mold at ten values of one thing."""

import itertools

import pytest
from builders_cooling import CUP, JAR, TRAY, agar_milk, plain_milk, plan_of

from setwell.domain.equipment import MoldForm, MoldShape
from setwell.engine.heat.cooling import cool
from setwell.engine.heat.sweep import POINTS, Swept, sweep, things_of
from setwell.errors import InputError


@pytest.mark.parametrize("thing", list(Swept))
def test_every_thing_gives_ten_points(thing):
    found = sweep(agar_milk(), plan_of(JAR), thing)
    assert len(found.points) == POINTS
    assert found.unit
    values = [one.value for one in found.points]
    assert values == sorted(values)


def rising(points, name):
    times = [getattr(one, name) for one in points]
    times = [one for one in times if one is not None]
    return all(a <= b + 1e-6 for a, b in itertools.pairwise(times))


def test_more_coefficient_is_quicker_and_more_height_slower():
    quicker = sweep(agar_milk(), plan_of(JAR), Swept.COEFFICIENT).points
    assert rising(quicker[::-1], "cold_min")
    assert rising(quicker[::-1], "sets_min")
    for thing in (Swept.HEIGHT, Swept.WIDTH, Swept.POUR, Swept.AIR):
        assert rising(sweep(agar_milk(), plan_of(JAR), thing).points, "cold_min"), thing


def test_the_value_of_the_plan_gives_the_times_of_the_plan():
    plan = plan_of(JAR)
    (point,) = sweep(agar_milk(), plan, Swept.AIR, [4.0]).points
    told = cool(agar_milk(), plan)
    assert point.cold_min == pytest.approx(told.moment("5").estimate.value, rel=0.005)
    assert point.sets_min == pytest.approx(told.moment("set").estimate.value, rel=0.005)


def test_air_above_the_goal_never_gets_there():
    points = sweep(agar_milk(), plan_of(CUP), Swept.AIR, [3.0, 8.0]).points
    assert points[0].cold_min is not None
    assert points[1].cold_min is None


def test_what_does_not_set_has_no_setting_time():
    points = sweep(plain_milk(), plan_of(CUP), Swept.HEIGHT, [30.0]).points
    assert points[0].sets_min is None
    assert points[0].warm_min is not None


def test_values_no_mold_has_are_left_out_of_the_usual_ones():
    tall = JAR.model_copy(update={"height_mm": 1500.0})
    points = sweep(agar_milk(), plan_of(tall), Swept.HEIGHT).points
    assert 5 < len(points) < POINTS
    assert points[-1].value <= 2000.0


def test_only_what_a_mold_has_can_be_changed():
    assert Swept.WALL not in things_of(plan_of(TRAY))
    assert Swept.WALL in things_of(plan_of(JAR))
    other = plan_of(MoldForm(shape=MoldShape.OTHER, volume_ml=100))
    assert set(things_of(other)) == {Swept.COEFFICIENT, Swept.AIR, Swept.POUR}
    with pytest.raises(InputError, match="wall thickness"):
        sweep(agar_milk(), plan_of(TRAY), Swept.WALL)


def test_a_typed_value_that_cannot_be_is_refused():
    with pytest.raises(InputError):
        sweep(agar_milk(), plan_of(JAR), Swept.WALL, [40.0])
    with pytest.raises(InputError, match="2000"):
        sweep(agar_milk(), plan_of(JAR), Swept.HEIGHT, [2500.0])
    with pytest.raises(InputError, match="1 to 30"):
        sweep(agar_milk(), plan_of(JAR), Swept.AIR, [])
