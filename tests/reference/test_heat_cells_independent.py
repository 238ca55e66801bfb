"""Bodies of cells against an independent integrator, and against exact series as cells shrink.

The integrator is SciPy's backward differentiation on equations written out here cell by cell, for
a jar of glass with air under its lid and for surroundings that change.
"""

from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.linalg import expm
from scipy.sparse import csc_array, diags_array, lil_array

from setwell.science.heat.body import box_body, cylinder_body
from setwell.science.heat.krylov import cool_body, run_body
from setwell.science.heat.marching import HeatCurve, Laws, march_body
from setwell.science.heat.separable import uniform_box, uniform_cylinder

HOUR = 3600.0
JAR_R = np.array([*np.linspace(0, 35, 15), 36.5, 38.0]) / 1000
JAR_Z = np.array([0.0, 2.0, *np.linspace(4, 94, 25), 97.0, 100.5, 104.0]) / 1000
FOOD, GLASS, AIR = (0.55, 1030 * 3800.0), (1.0, 2500 * 840.0), (0.026, 1.15 * 1006.0)


def jar_materials() -> tuple[np.ndarray, np.ndarray]:
    """Return conductivity and volumetric heat of a jar: glass around, food, air above it."""
    r, z = (JAR_R[1:] + JAR_R[:-1]) / 2, (JAR_Z[1:] + JAR_Z[:-1]) / 2
    found = np.empty((2, len(r), len(z)))
    for i, radius in enumerate(r):
        for j, height in enumerate(z):
            is_glass = radius > 0.035 or height < 0.004
            found[:, i, j] = GLASS if is_glass else FOOD if height < 0.094 else AIR
    return found[0], found[1]


def jar_equations(h: float) -> tuple[lil_array, np.ndarray, np.ndarray]:
    """Return conductances [W/K], those to the air and capacities, written out cell by cell."""
    k, heat = jar_materials()
    r, z = JAR_R, JAR_Z
    rows, columns = k.shape
    matrix = lil_array((k.size, k.size))
    outside, capacity = np.zeros(k.size), np.zeros(k.size)

    def link(a: int, b: int, resistance: float) -> None:
        matrix[a, a] += 1 / resistance
        matrix[b, b] += 1 / resistance
        matrix[a, b] -= 1 / resistance
        matrix[b, a] -= 1 / resistance

    for i in range(rows):
        ring = np.pi * (r[i + 1] ** 2 - r[i] ** 2)
        for j in range(columns):
            here, high, wide = i * columns + j, z[j + 1] - z[j], r[i + 1] - r[i]
            capacity[here] = heat[i, j] * ring * high
            around = 2 * np.pi * r[i + 1] * high
            if i + 1 < rows:
                beyond = (r[i + 2] - r[i + 1]) / 2 / k[i + 1, j]
                link(here, here + columns, (wide / 2 / k[i, j] + beyond) / around)
            else:
                outside[here] += around / (wide / 2 / k[i, j] + 1 / h)
            if j + 1 < columns:
                beyond = (z[j + 2] - z[j + 1]) / 2 / k[i, j + 1]
                link(here, here + 1, (high / 2 / k[i, j] + beyond) / ring)
            for edge in (j == 0, j + 1 == columns):
                if edge:
                    outside[here] += ring / (high / 2 / k[i, j] + 1 / h)
    return matrix, outside, capacity


def integrated(
    seconds: np.ndarray, air: tuple[list[float], list[float]], start: float = 85.0
) -> np.ndarray:
    """Return all cells over time, piece by piece of the broken line."""
    matrix, outside, capacity = jar_equations(10.0)
    conduction = matrix.tocsr()
    slope = csc_array(-(conduction + diags_array(outside)).multiply(1 / capacity[:, None]))
    state, found = np.full(len(capacity), start), [np.full(len(capacity), start)]
    stops = sorted({*seconds.tolist(), *(t for t in air[0] if 0 < t < seconds[-1])})
    for begin, end in pairwise(stops):

        def rate(t: float, cells: np.ndarray) -> np.ndarray:
            return -(conduction @ cells + outside * (cells - np.interp(t, *air))) / capacity

        run = solve_ivp(rate, (begin, end), state, method="BDF", rtol=1e-7, atol=1e-7, jac=slope)
        state = run.y[:, -1]
        if end in seconds:
            found.append(state)
    return np.array(found)


def jar():
    k, heat = jar_materials()
    return cylinder_body(
        JAR_R, JAR_Z, conductivity=k, volumetric_heat=heat, side=10.0, top=10.0, bottom=10.0
    )


COURSES = {
    "steady": ([0.0], [4.0]),
    "door": ([0.0, 1800.0, 1860.0, 2400.0, 6 * HOUR], [4.0, 4.0, 12.0, 4.5, 3.0]),
    "warming": ([0.0, 6 * HOUR], [4.0, 20.0]),
}


@pytest.mark.parametrize("course", COURSES)
def test_a_jar_with_wall_and_air_follows_the_integrator(course):
    seconds = np.array([0.0, 1.0, 2.0, 4.0, 6.0]) * HOUR
    body, line = jar(), COURSES[course]
    run = run_body(
        body, 85.0, surroundings=line, seconds=seconds, states_at=seconds, tolerance=1e-4
    )
    assert run.states == pytest.approx(integrated(seconds, line), abs=5e-4)


def test_early_times_of_every_cell_follow_the_integrator():
    seconds = np.array([0.0, 1.0, 10.0, 60.0, 300.0])
    run = run_body(jar(), 85.0, surroundings=4.0, seconds=seconds, states_at=seconds)
    assert run.states == pytest.approx(integrated(seconds, ([0.0], [4.0])), abs=3e-3)


def test_uneven_starts_are_cooled_too():
    seconds = np.array([0.0, 900.0, HOUR])
    body = jar()
    warm = np.where(body.centers[1] > 0.05, 85.0, 30.0)
    found = run_body(body, warm, surroundings=4.0, seconds=seconds, states_at=seconds).states
    parts = [
        run_body(body, part, surroundings=air, seconds=seconds, states_at=seconds).states
        for part, air in ((warm - 20.0, 0.0), (20.0, 4.0))
    ]
    assert found[0] == pytest.approx(warm)
    assert found == pytest.approx(sum(parts), abs=6e-3)


def test_errors_fall_fourfold_as_cells_are_halved():
    # A cylinder of 70 by 90 mm, 0.55 W/mK, 1030 kg/m3, 3800 J/kgK, 85 °C into air of 4 °C at 10
    # W/m2K; the exact core is that of the product of series.
    hours = np.array([1.0, 2.0, 3.0, 4.0, 6.0])
    exact = uniform_cylinder(
        0.035, 0.09, conductivity=0.55, diffusivity=0.55 / (1030 * 3800),
        side=10.0, top=10.0, bottom=10.0,
    )  # fmt: skip
    core = exact.temperature(hours * HOUR, start=85.0, surroundings=4.0, point=(0.0, 0.045))
    assert core == pytest.approx([59.000028, 34.135594, 20.390908, 12.910901, 6.633482], abs=1e-6)
    times = exact.time_to([30.0, 10.0, 5.0], start=85.0, surroundings=4.0, point=(0.0, 0.045))
    assert times == pytest.approx([8073.416, 16736.175, 27319.421], abs=6e-4)
    errors = []
    for cells in (31, 61, 121):
        body = cylinder_body(
            np.linspace(0, 0.035, cells + 1), np.linspace(0, 0.09, cells + 1),
            conductivity=0.55, volumetric_heat=1030 * 3800.0, side=10.0, top=10.0, bottom=10.0,
        )  # fmt: skip
        found = cool_body(
            body, 85.0, surroundings=4.0, seconds=hours * HOUR, probes=[(0.0, 0.045)],
            tolerance=1e-5,
        )[:, 0]  # fmt: skip
        errors.append(float(np.abs(found - core).max()))
    assert errors[0] < 1.9e-2
    assert errors[1] < 4.7e-3
    assert errors[2] < 1.2e-3
    ratios = np.array(errors[:-1]) / errors[1:]
    assert ratios == pytest.approx((np.array([61, 121]) / np.array([31, 61])) ** 2, rel=0.05)


def test_uniform_food_in_changing_air_agrees_with_cells():
    line = ([0.0, 600.0, 900.0, 900.0, 7200.0], [20.0, 20.0, 4.0, 8.0, 2.0])
    seconds = np.linspace(0.0, 9000.0, 31)
    food = {"conductivity": 0.5}
    body = uniform_box(
        (0.04, 0.05, 0.03), **food, diffusivity=1.3e-7,
        coefficients={"left": 12.0, "right": 12.0, "front": 8.0, "back": 0.0, "bottom": 100.0,
                      "top": 20.0},
    )  # fmt: skip
    cells = box_body(
        np.linspace(0, 0.04, 16), np.linspace(0, 0.05, 16), np.linspace(0, 0.03, 46), **food,
        volumetric_heat=0.5 / 1.3e-7,
        coefficients={"left": 12.0, "right": 12.0, "front": 8.0, "bottom": 100.0, "top": 20.0},
    )  # fmt: skip
    place = (0.02, 0.03, 0.011)
    exact = body.temperature(seconds, start=70.0, surroundings=line, point=place)
    found = cool_body(cells, 70.0, surroundings=line, seconds=seconds, probes=[place])[:, 0]
    assert found == pytest.approx(exact, abs=0.03)


def test_faces_in_different_surroundings_settle_between_them():
    # A wall of two layers: the steady temperatures follow from the resistances alone.
    wall = box_body(
        [0, 1], [0, 1], np.linspace(0, 0.04, 41),
        conductivity=np.where(np.arange(40) < 20, 0.5, 0.25)[None, None, :], volumetric_heat=4e6,
        coefficients={"bottom": 20.0, "top": 10.0},
    )  # fmt: skip
    resistances = np.array([1 / 20, 0.02 / 0.5, 0.02 / 0.25, 1 / 10])
    air = dict.fromkeys(wall.faces, 0.0) | {"bottom": 2.0, "top": 40.0}
    places = [(0.5, 0.5, z) for z in (0.0, 0.02, 0.04)]
    found = cool_body(
        wall, 20.0, surroundings=air, seconds=[0.0, 400 * HOUR], probes=places, tolerance=1e-5
    )
    inner = 2.0 + 38.0 * np.cumsum(resistances)[:-1] / resistances.sum()
    assert found[1] == pytest.approx(inner, abs=1e-4)


def test_steps_follow_the_exact_course_where_nothing_changes():
    body, seconds = jar(), np.linspace(0, 4 * HOUR, 9)
    probes = [(0.0, 0.05), (0.038, 0.05)]
    exact = cool_body(
        body, 85.0, surroundings=COURSES["door"], seconds=seconds, probes=probes, tolerance=1e-5
    )
    run = march_body(
        body, 85.0, surroundings=COURSES["door"], seconds=seconds, probes=probes, laws=Laws(),
        tolerance=5e-4,
    )  # fmt: skip
    assert run.readings == pytest.approx(exact, abs=0.02)
    held = float(body.capacity @ (85.0 - run.state))
    assert run.heat == pytest.approx(held, rel=1e-9)


def test_ice_grows_as_fast_as_the_exact_law_says():
    # Water at 0 °C on a wall of -10 °C: 22.6296 mm of ice in an hour.
    ice = box_body(
        np.linspace(0, 1, 61) ** 1.5 * 0.05, [0, 1], [0, 1], conductivity=2.22,
        volumetric_heat=917 * 2050.0, coefficients={"left": np.inf},
    )  # fmt: skip
    melting = 917 * 333600.0
    curve = HeatCurve(
        np.ones(60, dtype=bool),
        np.array([-40.0, -0.02, 0.0, 40.0]),
        917 * 2050.0 * np.array([-40.0, -0.02, 0.0, 40.0]) + np.array([0, 0, melting, melting]),
    )
    run = march_body(
        ice, 0.0, surroundings=-10.0, seconds=[HOUR], probes=[], laws=Laws(curves=(curve,)),
        tolerance=0.02,
    )  # fmt: skip
    cells, middles = run.state, ice.centers[0]
    # The straight course inside the ice leads to the front.
    inside = (cells < -0.5) & (cells > -9.0)
    _, level = np.polyfit(cells[inside], middles[inside], 1)
    assert level == pytest.approx(0.0226296, rel=0.01)


def test_faces_with_their_own_changing_air_follow_the_dense_exponential():
    # Straight pieces of air are two more unknowns, so that one exponential of a matrix is exact.
    body = cylinder_body(
        np.linspace(0, 0.03, 5), np.linspace(0, 0.05, 7), conductivity=0.5, volumetric_heat=3.9e6,
        side=300.0, top=8.0, bottom=40.0,
    )  # fmt: skip
    knots = np.array([0.0, 400.0, 1500.0, 4000.0])
    levels = {"side": [10.0, 2.0, 2.0, 0.0], "top": [25.0, 30.0, 20.0, 22.0], "bottom": [5.0] * 4}
    start = 40.0 + 30.0 * np.sin(np.arange(body.size))
    run = run_body(
        body, start, surroundings={name: (knots, levels[name]) for name in levels},
        seconds=knots, states_at=knots, tolerance=1e-6,
    )  # fmt: skip
    matrix = body.conductance.toarray() + np.diag(body.to_surroundings)
    state, heat = start, 0.0
    for part in range(3):
        lasts = knots[part + 1] - knots[part]
        begin, end = (
            np.array([levels[name][part + at] for name in body.faces]) @ body.to_faces
            for at in (0, 1)
        )
        # Unknowns: the cells, the air times conductance, its rise, and the heat given off.
        size = body.size
        system = np.zeros((size + 3, size + 3))
        system[:size, :size] = -matrix / body.capacity[:, None]
        system[:size, size] = begin / body.capacity
        system[:size, size + 1] = (end - begin) / lasts / body.capacity
        system[size + 1, size] = 1.0
        system[size + 2, :size] = body.to_surroundings
        system[size + 2, size] = -begin.sum()
        system[size + 2, size + 1] = -(end - begin).sum() / lasts
        after = expm(system * lasts) @ np.array([*state, 1.0, 0.0, heat])
        state, heat = after[:size], after[-1]
        assert run.states[part + 1] == pytest.approx(state, abs=1e-5)
        assert run.heat[part + 1] == pytest.approx(heat, abs=0.02)
