"""Conduction against textbook examples, tables of roots, and times of kitchen bodies.

Each worked example has two figures: the printed one, mostly read off a chart, and the one that the
exact series gives for the same inputs, worked out with 200 terms and checked with a separate grid
of finite volumes. We must meet the second to its last digit and the first within what a chart can
show. Roots, limits and kitchen times were computed once with independent solvers.
"""

import csv
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq

from setwell.science.heat.body import ball_body, hemisphere_body
from setwell.science.heat.eigenvalues import (
    cylinder_eigenvalues,
    slab_eigenvalues,
    sphere_eigenvalues,
)
from setwell.science.heat.freezing_front import freezing_time_plank_1913
from setwell.science.heat.krylov import cool_body
from setwell.science.heat.lumped import lumped_share, lumped_time
from setwell.science.heat.semi_infinite import semi_infinite_depth, semi_infinite_share
from setwell.science.heat.separable import (
    UniformBody,
    uniform_ball,
    uniform_box,
    uniform_cylinder,
    uniform_slab,
)
from setwell.science.heat.series import (
    cooling_fourier,
    cylinder_temperature,
    mean_temperature,
    slab_temperature,
    sphere_temperature,
)
from setwell.science.heat.series_weights import cylinder_weights, slab_weights, sphere_weights

CASES = Path(__file__).parent / "cases"
FORMS = {
    "slab": (slab_eigenvalues, slab_weights, slab_temperature),
    "cylinder": (cylinder_eigenvalues, cylinder_weights, cylinder_temperature),
    "sphere": (sphere_eigenvalues, sphere_weights, sphere_temperature),
}
SIX = ("left", "right", "front", "back", "bottom", "top")


def cases(name: str) -> list[dict[str, str]]:
    with (CASES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def half_a_digit(printed: str) -> float:
    """Return half of the last digit of a printed number."""
    return 0.5 * 10.0 ** int(Decimal(printed).as_tuple().exponent)


def shaft() -> UniformBody:
    return uniform_cylinder(
        0.10, 1.0, conductivity=14.9, diffusivity=3.95e-6, side=80.0, top=0.0, bottom=0.0
    )


def short_cylinder(place: tuple[float, float]) -> float:
    body = uniform_cylinder(
        0.05, 0.12, conductivity=110.0, diffusivity=33.9e-6, side=60.0, top=60.0, bottom=60.0
    )
    return float(body.temperature([900.0], start=120.0, surroundings=25.0, point=place)[0])


def steel_cylinder(place: tuple[float, float]) -> float:
    body = uniform_cylinder(
        0.04, 0.06, conductivity=17.4, diffusivity=17.4 / (7900 * 526),
        side=500.0, top=500.0, bottom=500.0,
    )  # fmt: skip
    return float(body.temperature([180.0], start=600.0, surroundings=300.0, point=place)[0])


def pipe_wall(position: float) -> float:
    """Return a wall whose inner face is insulated, as half of a slab twice as thick."""
    share = slab_temperature(18.8e-6 * 480 / 0.04**2, biot=500 * 0.04 / 63.9, position=position)
    return float(60.0 - 80.0 * share)


def butter(height: float) -> float:
    slab = uniform_slab(
        0.0462, conductivity=0.197, diffusivity=0.197 / (998 * 2300), low=0.0, high=8.52
    )
    return float(slab.temperature([18000.0], start=277.6, surroundings=297.1, point=(height,))[0])


def bead_share(size: float) -> float:
    """Return what is left after a second in a bead of a thermocouple."""
    return float(lumped_share(1.0, capacity=8500 * 400 * size / 6, coefficient=400.0, area=1.0))


GROUND = {"conductivity": 0.865, "diffusivity": 4.65e-7, "coefficient": 11.36}
BALL_AREA, BALL_VOLUME = np.pi * 0.0508**2, np.pi * 0.0508**3 / 6
STEEL_BALL = {"capacity": 7849 * 460.6 * BALL_VOLUME, "coefficient": 11.36, "area": BALL_AREA}

FOUND = {
    "W01_middle": lambda: pipe_wall(0.0),
    "W01_surface": lambda: pipe_wall(1.0),
    "W01_flux": lambda: 500.0 * (pipe_wall(1.0) - 60.0),
    "W02": lambda: semi_infinite_depth(
        20 / 35, 60 * 86400.0, conductivity=0.52, diffusivity=0.52 / (2050 * 1840),
        coefficient=np.inf,
    ),
    "W03_center": lambda: steel_cylinder((0.0, 0.03)),
    "W03_top": lambda: steel_cylinder((0.0, 0.06)),
    "W03_side": lambda: steel_cylinder((0.04, 0.03)),
    "W04": lambda: 500.0 - 480.0 * slab_temperature(
        33.9e-6 * 420 / 0.02**2, biot=120 * 0.02 / 110, position=1.0
    ),
    "W05_center": lambda: shaft().temperature(
        [2700.0], start=600.0, surroundings=200.0, point=(0.0, 0.5)
    )[0],
    "W05_heat": lambda: (600.0 - shaft().temperature([2700.0], start=600.0, surroundings=200.0)[0])
    * 7900 * 477 * np.pi * 0.1**2 / 1000,
    "W06_center": lambda: short_cylinder((0.0, 0.06)),
    "W06_top": lambda: short_cylinder((0.0, 0.12)),
    "W07": lambda: 70.0 + 130.0 * slab_temperature(
        8.4e-5 * 60 / 0.025**2, biot=525 * 0.025 / 215, position=0.5
    ),
    "W08": lambda: uniform_slab(
        0.203, conductivity=0.498, diffusivity=0.498 / (1073 * 3480), low=39.7, high=39.7
    ).time_to(10.0, start=37.8, surroundings=1.7, point=(0.1015,)) / 3600,
    "W09_top": lambda: butter(0.0462),
    "W09_inside": lambda: butter(0.0462 - 0.0254),
    "W09_bottom": lambda: butter(0.0),
    "W10_surface": lambda: 15.6 - 33.4 * semi_infinite_share(0.0, 18000.0, **GROUND),
    "W10_depth": lambda: semi_infinite_depth(15.6 / 33.4, 18000.0, **GROUND),
    "W11": lambda: cooling_fourier(
        1 / 13, form="sphere", biot=50 * 0.03 / 0.355, position=0.0
    ) * 0.03**2 / (0.355 / (820 * 3600)),
    "W12_diameter": lambda: brentq(lambda size: bead_share(size) - np.exp(-1.0), 1e-5, 1e-2),
    "W12_time": lambda: lumped_time(
        1 / 175, capacity=8500 * 400 * 7.058824e-4 / 6, coefficient=400.0, area=1.0
    ),
    "W13_temperature": lambda: 394.3 + 305.6 * lumped_share(3600.0, **STEEL_BALL),
    "W13_heat": lambda: STEEL_BALL["capacity"] * 305.6
    * (1 - lumped_share(3600.0, **STEEL_BALL)),
    "W13_exact": lambda: 394.3 + 305.6 * sphere_temperature(
        43.3 / (7849 * 460.6) * 3600 / 0.0254**2, biot=11.36 * 0.0254 / 43.3, position=0.0
    ),
    "W14": lambda: freezing_time_plank_1913(
        0.07, shape_constants=(1 / 6, 1 / 24), fall=38.75, melting_heat=250e3, density=1000.0,
        conductivity=1.2, surface_coefficient=50.0,
    ),
}  # fmt: skip
WORKED = cases("conduction_worked_examples")


def test_every_worked_example_is_computed():
    assert {case["case"] for case in WORKED} == set(FOUND)
    assert {case["case"][:3] for case in WORKED} == {f"W{number:02}" for number in range(1, 15)}


@pytest.mark.parametrize("case", WORKED, ids=lambda case: case["case"])
def test_worked_example_meets_the_exact_series(case):
    found = float(FOUND[case["case"]]())
    assert found == pytest.approx(float(case["precise"]), rel=0, abs=half_a_digit(case["precise"]))


@pytest.mark.parametrize(
    "case", [case for case in WORKED if case["printed"]], ids=lambda case: case["case"]
)
def test_worked_example_lies_within_what_was_printed(case):
    found = float(FOUND[case["case"]]())
    assert found == pytest.approx(float(case["printed"]), abs=float(case["printed_within"]))


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("case", cases("conduction_one_term"), ids=lambda case: case["biot"])
def test_first_roots_and_coefficients_to_eight_decimals(case, form):
    eigenvalues, weights, _ = FORMS[form]
    root = eigenvalues(float(case["biot"]), terms=1)
    factor, _ = weights(root)
    assert float(root[0]) == pytest.approx(float(case[f"{form}_root"]), rel=0, abs=5.01e-9)
    assert float(factor[0]) == pytest.approx(float(case[f"{form}_coefficient"]), rel=0, abs=5.01e-9)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize(
    "case", cases("conduction_fixed_surface"), ids=lambda case: case["fourier"]
)
def test_a_surface_held_at_its_temperature(case, form):
    fourier = float(case["fourier"])
    center = FORMS[form][2](fourier, biot=np.inf, position=0.0)
    mean = mean_temperature(fourier, form=form, biot=np.inf)
    assert float(center) == pytest.approx(float(case[f"{form}_center"]), rel=0, abs=5.01e-9)
    assert float(mean) == pytest.approx(float(case[f"{form}_mean"]), rel=0, abs=5.01e-9)


# Kitchen bodies of one food: 0.55 W/mK, 1.4e-7 m2/s, from 80 to 35, 20, 10 and 5 °C in air of 2 °C.
FOOD = {"conductivity": 0.55, "diffusivity": 1.4e-7}
LEVELS = {"s_35c": 35.0, "s_20c": 20.0, "s_10c": 10.0, "s_5c": 5.0}


def kitchen_body(form: str, sizes: list[float], h: float) -> tuple[UniformBody, tuple[float, ...]]:
    """Return a body and its slowest place."""
    if form == "slab":
        return uniform_slab(sizes[0], **FOOD, low=h, high=h), (sizes[0] / 2,)
    if form == "slab_one_face":
        return uniform_slab(sizes[0], **FOOD, low=0.0, high=h), (0.0,)
    if form == "rod":
        return uniform_cylinder(sizes[0] / 2, 1.0, **FOOD, side=h, top=0.0, bottom=0.0), (0.0, 0.5)
    if form == "cylinder":
        across, high = sizes
        body = uniform_cylinder(across / 2, high, **FOOD, side=h, top=h, bottom=h)
        return body, (0.0, high / 2)
    if form == "ball":
        return uniform_ball(sizes[0] / 2, **FOOD, surface=h), (0.0,)
    body = uniform_box(tuple(sizes), **FOOD, coefficients=dict.fromkeys(SIX, h))
    return body, tuple(size / 2 for size in sizes)


@pytest.mark.parametrize(
    "case",
    cases("conduction_kitchen"),
    ids=lambda case: f"{case['form']}-{case['sizes_mm']}-{case['coefficient']}",
)
def test_times_of_kitchen_bodies(case):
    sizes = [float(size) / 1000 for size in case["sizes_mm"].split()]
    body, place = kitchen_body(case["form"], sizes, float(case["coefficient"]))
    found = body.time_to(list(LEVELS.values()), start=80.0, surroundings=2.0, point=place)
    for name, seconds in zip(LEVELS, found, strict=True):
        assert seconds == pytest.approx(float(case[name]), rel=0, abs=half_a_digit(case[name])), (
            name
        )


# Longer than the slowest half ball takes, for 30 mm [s].
SPANS = {8.0: 18600.0, 25.0: 7600.0, 500.0: 2900.0}


def half_ball_times(radius: float, dome: float, flat: float, cells: int) -> np.ndarray:
    """Return when the slowest place on the axis has passed each level [s]."""
    body = hemisphere_body(
        np.linspace(0, radius, cells + 1), np.linspace(0, np.pi / 2, cells // 2 + 1),
        conductivity=0.55, volumetric_heat=0.55 / 1.4e-7, dome=dome, flat=flat,
    )  # fmt: skip
    probes = [(at * radius, 0.0) for at in np.linspace(0.0, 0.6, 61)]
    seconds = np.linspace(0, SPANS[dome] * radius / 0.03, 1501)
    hottest = cool_body(
        body, 80.0, surroundings=2.0, seconds=seconds, probes=probes, tolerance=1e-4
    ).max(axis=1)
    return np.interp([-level for level in LEVELS.values()], -hottest, seconds)


@pytest.mark.parametrize(
    "case",
    cases("conduction_hemispheres"),
    ids=lambda case: f"{case['radius_mm']}-{case['flat_face']}-{case['coefficient']}",
)
def test_times_of_half_balls(case):
    radius, h = float(case["radius_mm"]) / 1000, float(case["coefficient"])
    flat = h if case["flat_face"] == "cooled" else 0.0
    coarse, fine = (half_ball_times(radius, h, flat, cells) for cells in (30, 60))
    found = fine + (fine - coarse) / 3
    for name, seconds in zip(LEVELS, found, strict=True):
        assert seconds == pytest.approx(float(case[name]), rel=3e-4, abs=0.5), name


def test_half_a_ball_on_an_insulated_face_cools_like_a_ball():
    seconds = np.array([0.0, 600.0, 2400.0, 7200.0])
    half = hemisphere_body(
        np.linspace(0, 0.03, 61), np.linspace(0, np.pi / 2, 31),
        conductivity=0.55, volumetric_heat=0.55 / 1.4e-7, dome=25.0,
    )  # fmt: skip
    ball = ball_body(
        np.linspace(0, 0.03, 61), conductivity=0.55, volumetric_heat=0.55 / 1.4e-7, surface=25.0
    )
    of_half = cool_body(half, 80.0, surroundings=2.0, seconds=seconds, probes=[(0.015, 0.3)])
    of_ball = cool_body(ball, 80.0, surroundings=2.0, seconds=seconds, probes=[(0.015,)])
    assert of_half == pytest.approx(of_ball, abs=1e-3)
