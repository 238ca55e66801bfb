"""What must hold for every surface, wall and cold place."""

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from setwell.domain.equipment import Cooler, CoolerKind
from setwell.engine.heat.cold_room import air_course, most_molds
from setwell.engine.heat.equipment import surface_of
from setwell.science.heat.air_balance import ColdPlace, air_peak, air_temperature
from setwell.science.heat.evaporation import evaporation_still_air, latent_heat
from setwell.science.heat.surface_coefficient import coefficient_still_air
from setwell.science.heat.walls import (
    transmittance_ball,
    transmittance_flat,
    transmittance_round,
)

quick = settings(max_examples=60, deadline=None)
sizes = st.floats(0.01, 0.5)
coefficients = st.floats(1.0, 1500.0)


@quick
@given(
    air=st.floats(-30.0, 30.0), size=sizes, face=st.sampled_from(["wall", "top", "base", "ball"])
)
def test_still_air_takes_more_per_degree_from_a_warmer_surface(air, size, face):
    surface = air + np.linspace(0.5, 70.0, 40)
    found = coefficient_still_air(surface, surroundings_c=air, length=size, face=face)
    # The heat itself must rise; per degree the thinner hot air may take back a few percent.
    assert np.all(np.diff(found * (surface - air)) > 0.0)
    assert np.all(found[1:] >= 0.98 * np.maximum.accumulate(found)[:-1])
    assert found[20] > found[0]


@quick
@given(kind=st.sampled_from(list(CoolerKind)), air=st.floats(-25.0, 15.0), size=sizes)
def test_every_cold_place_gives_a_range_around_its_value_that_never_falls(kind, air, size):
    surface = np.linspace(max(air, 0.0) + 0.5, 90.0, 40)
    found = surface_of(Cooler(name="Place", kind=kind, air_c=air), surface_c=surface, size_m=size)
    assert np.all((found.low <= found.value) & (found.value <= found.high))
    assert np.all((found.low >= 1.0) & (found.high <= 2000.0))
    assert np.all(found.value[1:] >= 0.98 * found.value[:-1])


@quick
@given(
    coefficient=coefficients,
    thickness=st.floats(1e-4, 0.02),
    conductivity=st.floats(0.03, 400.0),
    radius=st.floats(0.01, 0.3),
)
def test_a_wall_never_passes_more_than_its_parts(coefficient, thickness, conductivity, radius):
    flat = transmittance_flat(coefficient, thickness=thickness, conductivity=conductivity)
    assert flat <= coefficient * (1.0 + 1e-12)
    assert flat <= conductivity / thickness * (1.0 + 1e-12)
    grown = (radius + thickness) / radius
    wall = {"inner_radius": radius, "thickness": thickness, "conductivity": conductivity}
    around = transmittance_round(coefficient, **wall)
    ball = transmittance_ball(coefficient, **wall)
    # Per area of the food: the outside is larger by so much.
    assert around <= coefficient * grown * (1.0 + 1e-12)
    assert ball <= coefficient * grown**2 * (1.0 + 1e-12)
    assert flat <= around * (1.0 + 1e-9)
    assert around <= ball * (1.0 + 1e-9)


@quick
@given(room=st.floats(5.0, 35.0), humidity=st.floats(0.1, 0.95), activity=st.floats(0.8, 1.0))
def test_evaporation_never_falls_as_the_surface_warms(room, humidity, activity):
    surface = np.linspace(0.0, 98.0, 300)
    found = evaporation_still_air(surface, air_c=room, humidity=humidity, water_activity=activity)
    assert np.all(found >= 0.0)
    assert np.all(np.diff(found) >= -1e-15)
    drier = evaporation_still_air(
        surface, air_c=room, humidity=0.5 * humidity, water_activity=activity
    )
    assert np.all(drier >= found)
    assert np.all(np.diff(latent_heat(surface)) < 0.0)


places = st.builds(
    ColdPlace,
    set_c=st.floats(-20.0, 8.0),
    power=st.floats(60.0, 2000.0),
    room_c=st.floats(10.0, 35.0),
    store=st.floats(1e3, 2e5),
    leak=st.floats(0.05, 1.0),
)


@quick
@given(
    place=places,
    start=st.floats(20.0, 90.0),
    store=st.floats(50.0, 5e3),
    hours=st.floats(0.05, 3.0),
)
def test_more_molds_never_leave_the_air_colder(place, start, store, hours):
    assume(place.power > place.leak * (place.room_c - place.set_c))
    counts = np.array([1.0, 2.0, 5.0, 20.0, 100.0])
    at = np.linspace(0.0, 8 * 3600.0, 200)
    passed = store / (hours * 3600.0)
    loads = {"start_c": start, "heat_store": counts * store, "conductance": counts * passed}
    peaks = air_peak(place=place, **loads)
    assert np.all(np.diff(peaks) >= -1e-9)
    assert np.all(peaks >= place.set_c)
    assert np.all(peaks <= max(start, place.room_c) + 1e-9)
    column = {key: np.atleast_1d(part)[:, None] for key, part in loads.items()}
    air = air_temperature(at[None, :], place=place, **column)
    assert np.all(np.diff(air, axis=0) >= -1e-9)
    assert np.all(air.max(axis=1) <= peaks + 1e-9)


@quick
@given(
    liters=st.floats(50.0, 2000.0),
    heat=st.floats(1e3, 5e5),
    hours=st.floats(0.3, 8.0),
    start=st.floats(30.0, 90.0),
)
def test_a_stronger_machine_takes_no_fewer_molds(liters, heat, hours, start):
    load = {"heat_per_mold_j": heat, "seconds": hours * 3600.0, "start_c": start}
    weak, strong = (
        most_molds(Cooler(name="Fridge", inside_l=liters, cooling_w=power), **load)
        for power in (liters * 0.5, liters * 1.0)
    )
    assert weak is not None
    assert strong is not None
    assert weak.low <= weak.value <= weak.high
    assert weak.value <= strong.value
    cooler = Cooler(name="Fridge", inside_l=liters, cooling_w=liters * 0.5)
    course = air_course(cooler, count=max(int(weak.value), 1), **load)
    assert course is not None
    assert np.all((course.low_c <= course.celsius) & (course.celsius <= course.high_c))
    if weak.value >= 1.0:
        assert course.celsius.max() <= 5.0 + 1e-6
