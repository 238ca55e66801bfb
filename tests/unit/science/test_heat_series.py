"""Series of uniform food: limits, agreement among each other, and what is refused."""

import numpy as np
import pytest

from setwell.errors import InputError, OutOfRangeError
from setwell.science.heat.ambient import ambient_make
from setwell.science.heat.eigenvalues import (
    cylinder_eigenvalues,
    slab_eigenvalues,
    sphere_eigenvalues,
    two_faced_slab_eigenvalues,
)
from setwell.science.heat.lumped import lumped_share, lumped_time
from setwell.science.heat.semi_infinite import semi_infinite_depth, semi_infinite_share
from setwell.science.heat.separable import uniform_ball, uniform_box, uniform_cylinder, uniform_slab
from setwell.science.heat.series import (
    cooling_fourier,
    cylinder_temperature,
    mean_temperature,
    slab_temperature,
    sphere_temperature,
    terms_for,
)

FOOD = {"conductivity": 0.55, "diffusivity": 1.4e-7}


@pytest.mark.parametrize("biot", [1e-8, 1e-5])
def test_hardly_any_surface_heat_is_the_lumped_body(biot):
    for form, over in (("slab", 1.0), ("cylinder", 2.0), ("sphere", 3.0)):
        fourier = 0.7 / (over * biot)
        found = float(mean_temperature(fourier, form=form, biot=biot))
        assert found == pytest.approx(np.exp(-0.7), rel=0.5 * biot + 1e-9)


def test_an_insulated_body_keeps_its_heat():
    for function in (slab_temperature, cylinder_temperature, sphere_temperature):
        assert function([0.0, 0.1, 1e4], biot=0.0, position=0.4) == pytest.approx(1.0)
    assert cooling_fourier([0.5, 1.0], form="slab", biot=0.0, position=0.0).tolist() == [np.inf, 0]


def test_a_huge_coefficient_comes_to_a_fixed_surface():
    for function in (slab_eigenvalues, cylinder_eigenvalues, sphere_eigenvalues):
        assert function(1e12, terms=5) == pytest.approx(function(np.inf, terms=5), rel=1e-9)
    found = two_faced_slab_eigenvalues(1e12, 1e12, terms=5)
    assert found == pytest.approx(two_faced_slab_eigenvalues(np.inf, np.inf, terms=5), rel=1e-9)


def test_biot_time_and_place_broadcast():
    share = slab_temperature(
        np.array([0.1, 0.5])[:, None, None], biot=np.array([0.1, 1.0, 10.0])[:, None],
        position=np.linspace(0, 1, 4),
    )  # fmt: skip
    assert share.shape == (2, 3, 4)
    assert float(share[1, 2, 3]) == pytest.approx(
        float(slab_temperature(0.5, biot=10.0, position=1.0))
    )


def test_equal_faces_are_the_slab_of_the_tables():
    whole = uniform_slab(0.04, **FOOD, low=25.0, high=25.0)
    seconds = np.array([60.0, 600.0, 6000.0])
    for at in (0.0, 0.013, 0.02):
        found = whole.temperature(seconds, start=1.0, surroundings=0.0, point=(at,))
        share = slab_temperature(
            1.4e-7 * seconds / 0.02**2, biot=25 * 0.02 / 0.55, position=abs(0.02 - at) / 0.02
        )
        assert found == pytest.approx(share, abs=1e-12)


def test_one_insulated_face_is_half_of_a_slab_twice_as_thick():
    half = uniform_slab(0.02, **FOOD, low=0.0, high=25.0)
    whole = uniform_slab(0.04, **FOOD, low=25.0, high=25.0)
    levels = {"start": 80.0, "surroundings": 2.0}
    assert half.time_to([50.0, 5.0], **levels, point=(0.0,)) == pytest.approx(
        whole.time_to([50.0, 5.0], **levels, point=(0.02,)), rel=1e-12
    )
    # Turned over, with the same faces, it is the same slab.
    turned = uniform_slab(0.02, **FOOD, low=25.0, high=0.0)
    assert turned.time_to(5.0, **levels, point=(0.02,)) == pytest.approx(
        half.time_to(5.0, **levels, point=(0.0,)), rel=1e-12
    )


def test_a_perfectly_cooled_face_is_at_the_air_at_once():
    slab = uniform_slab(0.02, **FOOD, low=np.inf, high=10.0)
    found = slab.temperature([1.0, 60.0], start=80.0, surroundings=2.0, point=(0.0,))
    assert found == pytest.approx(2.0, abs=1e-9)


def test_the_mean_lies_between_core_and_skin_and_gives_the_heat():
    jar = uniform_cylinder(0.035, 0.08, **FOOD, side=10.0, top=6.0, bottom=20.0)
    seconds = np.array([0.0, 600.0, 7200.0])
    levels = {"start": 85.0, "surroundings": 4.0}
    mean = jar.temperature(seconds, **levels)
    core = jar.temperature(seconds, **levels, point=(0.0, 0.04))
    skin = jar.temperature(seconds, **levels, point=(0.035, 0.0))
    assert mean[0] == core[0] == skin[0] == 85.0
    assert (skin[1:] < mean[1:]).all()
    assert (mean[1:] < core[1:]).all()


def test_a_body_may_warm_and_never_passes_the_air():
    ball = uniform_ball(0.03, **FOOD, surface=8.0)
    levels = {"start": 4.0, "surroundings": 22.0}
    times = ball.time_to([4.0, 10.0, 21.0, 22.0, 30.0, 1.0], **levels, point=(0.0,))
    assert times[0] == 0.0
    assert 0 < times[1] < times[2] < np.inf
    assert times[3] == times[4] == np.inf
    # It never was colder than at the start.
    assert times[5] == 0.0
    assert ball.time_to([4.0, 5.0], start=4.0, surroundings=4.0).tolist() == [0.0, np.inf]


def test_air_that_steps_is_two_courses_one_after_the_other():
    cup = uniform_cylinder(0.03, 0.06, **FOOD, side=10.0, top=10.0, bottom=10.0)
    seconds, place = np.array([1000.0, 4000.0]), (0.0, 0.03)
    stepped = cup.temperature(
        seconds, start=80.0, surroundings=([0.0, 1500.0, 1500.0], [20.0, 20.0, 4.0]), point=place
    )
    to_20 = cup.temperature(seconds, start=80.0, surroundings=20.0, point=place)
    after = cup.temperature([2500.0], start=1.0, surroundings=0.0, point=place)
    # The step of 16 K reaches the core as one minus its decay.
    assert stepped == pytest.approx(to_20 - [0.0, 16.0 * (1 - float(after[0]))], abs=1e-4)


def test_a_broken_line_is_read_and_remembered():
    line = ambient_make(([100.0, 200.0, 200.0, 300.0], [10.0, 20.0, 5.0, 5.0]))
    assert line.at([0.0, 150.0, 200.0, 250.0, 1e6]).tolist() == [10.0, 15.0, 5.0, 5.0, 5.0]
    rates = np.array([0.0, 1e-3, 0.1])
    seconds = np.array([50.0, 150.0, 200.0, 400.0])
    fine = np.linspace(0, 400, 400_001)
    slope = np.where((fine > 100) & (fine < 200), 0.1, 0.0)
    for time, found in zip(seconds, line.lag(rates, seconds), strict=True):
        before = fine <= time
        jump = -15.0 * np.exp(-rates * (time - 200.0)) if time >= 200 else 0.0
        expected = [
            np.trapezoid(slope[before] * np.exp(-rate * (time - fine[before])), fine[before])
            for rate in rates
        ]
        assert found == pytest.approx(np.array(expected) + jump, abs=1e-3)


def test_more_terms_are_taken_for_earlier_times():
    assert terms_for([0.0]) == 6
    assert terms_for(0.2) < terms_for(0.01) < terms_for(1e-5) <= 2000


def test_early_in_a_slab_it_is_as_in_a_thick_body():
    found = slab_temperature(1e-3, biot=2.0, position=[0.95, 1.0])
    share = semi_infinite_share(
        [0.05, 0.0], 1e-3, conductivity=1.0, diffusivity=1.0, coefficient=2.0
    )
    assert found == pytest.approx(1 - share, abs=1e-9)


def test_the_scaled_form_does_not_overflow():
    share = semi_infinite_share(
        [0.0, 0.01, 1.0], 1e9, conductivity=0.5, diffusivity=1e-7, coefficient=[1e5, 1e5, np.inf]
    )
    assert np.isfinite(share).all()
    assert (share <= 1.0).all()
    assert float(share[0]) == pytest.approx(1.0, abs=1e-4)


def test_a_depth_that_nothing_reached_is_not_a_number():
    found = semi_infinite_depth(
        [0.99, 0.01], 60.0, conductivity=0.5, diffusivity=1.4e-7, coefficient=10.0
    )
    assert np.isnan(found[0])
    assert found[1] > 0


REFUSED = {
    "a Biot number below zero": lambda: slab_eigenvalues(-1.0),
    "a Biot number that is none": lambda: sphere_eigenvalues(np.nan),
    "a Fourier number below zero": lambda: slab_temperature(-0.1, biot=1.0, position=0.0),
    "a place beyond the surface": lambda: slab_temperature(0.1, biot=1.0, position=1.2),
    "no thickness": lambda: uniform_slab(0.0, **FOOD, low=1.0, high=1.0),
    "no radius": lambda: uniform_ball(-1.0, **FOOD, surface=1.0),
    "conductivity below zero": lambda: uniform_ball(
        0.01, conductivity=-0.5, diffusivity=1e-7, surface=1.0
    ),
    "a box of two sizes": lambda: uniform_box((0.1, 0.1), **FOOD, coefficients={}),
    "a face no box has": lambda: uniform_box((0.1, 0.1, 0.1), **FOOD, coefficients={"lid": 1.0}),
    "a place outside": lambda: uniform_ball(0.01, **FOOD, surface=1.0).temperature(
        [1.0], start=80.0, surroundings=2.0, point=(0.02,)
    ),
    "a place of two numbers": lambda: uniform_ball(0.01, **FOOD, surface=1.0).time_to(
        5.0, start=80.0, surroundings=2.0, point=(0.0, 0.0)
    ),
    "a time below zero": lambda: uniform_ball(0.01, **FOOD, surface=1.0).temperature(
        [-1.0], start=80.0, surroundings=2.0
    ),
    "no capacity": lambda: lumped_share(1.0, capacity=0.0, coefficient=1.0, area=1.0),
    "a share above one": lambda: lumped_time(1.5, capacity=1.0, coefficient=1.0, area=1.0),
    "a depth below zero": lambda: semi_infinite_share(
        -1.0, 1.0, conductivity=0.5, diffusivity=1e-7, coefficient=1.0
    ),
    "no diffusivity": lambda: semi_infinite_share(
        1.0, 1.0, conductivity=0.5, diffusivity=0.0, coefficient=1.0
    ),
    "a share of nothing": lambda: semi_infinite_depth(
        0.0, 1.0, conductivity=0.5, diffusivity=1e-7, coefficient=1.0
    ),
}


@pytest.mark.parametrize("what", REFUSED)
def test_what_cannot_be_is_refused_in_words(what):
    with pytest.raises(InputError) as refusal:
        REFUSED[what]()
    assert len(str(refusal.value)) > 20


def test_a_refusal_says_how_much():
    with pytest.raises(OutOfRangeError, match="thickness is 0; it must be above zero"):
        uniform_slab(0.0, **FOOD, low=1.0, high=1.0)
