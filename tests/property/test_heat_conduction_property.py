"""What holds for any body: it cools steadily, keeps within its limits and loses no heat."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from setwell.science.heat.body import cylinder_body
from setwell.science.heat.eigenvalues import (
    cylinder_eigenvalues,
    slab_eigenvalues,
    sphere_eigenvalues,
    two_faced_slab_eigenvalues,
)
from setwell.science.heat.krylov import cool_body, run_body
from setwell.science.heat.separable import uniform_cylinder
from setwell.science.heat.series import (
    cooling_fourier,
    cylinder_temperature,
    mean_temperature,
    slab_temperature,
    sphere_temperature,
)

AT_MOST = settings(max_examples=25, deadline=None)
FORMS = {
    "slab": slab_temperature,
    "cylinder": cylinder_temperature,
    "sphere": sphere_temperature,
}
biots = st.one_of(st.floats(1e-4, 1e4), st.sampled_from([0.0, np.inf]))
positions = st.floats(0.0, 1.0)
forms = st.sampled_from(sorted(FORMS))
coefficients = st.floats(1.0, 800.0)
sizes = st.floats(0.01, 0.12)
TIMES = np.array([0.0, 60.0, 600.0, 3600.0, 4 * 3600.0])
# An error of the vectors that the body is allowed [K].
WITHIN = 0.003


@st.composite
def bodies(draw):
    """Return cylinders of food with a wall, air above it and a piece of something inside."""
    r = np.concatenate([[0.0], np.cumsum(draw(st.lists(st.floats(1e-3, 6e-3), min_size=4,
                                                       max_size=8)))])  # fmt: skip
    z = np.concatenate([[0.0], np.cumsum(draw(st.lists(st.floats(1e-3, 2e-2), min_size=4,
                                                       max_size=8)))])  # fmt: skip
    shape = len(r) - 1, len(z) - 1
    k, heat = np.full(shape, 0.5), np.full(shape, 3.8e6)
    wall = draw(st.sampled_from([(1.0, 2.1e6), (0.2, 1.5e6), (200.0, 2.4e6)]))
    k[-1], heat[-1] = wall
    k[:-1, -1], heat[:-1, -1] = 0.026, 1200.0
    piece = draw(st.sampled_from([(0.15, 2e6), (0.5, 3.8e6), (2.2, 1.9e6)]))
    k[0, 1], heat[0, 1] = piece
    side, top, bottom = draw(coefficients), draw(coefficients), draw(coefficients)
    return cylinder_body(
        r, z, conductivity=k, volumetric_heat=heat, side=side, top=top, bottom=bottom
    )


@AT_MOST
@given(biots, biots)
def test_no_root_is_missed(first, second):
    for roots in (
        slab_eigenvalues(first, terms=20),
        cylinder_eigenvalues(first, terms=20),
        sphere_eigenvalues(first, terms=20),
        two_faced_slab_eigenvalues(first, second, terms=20),
    ):
        # One in each bracket: they lie about half a turn apart, and the last is where it must be.
        assert (np.diff(roots) > np.pi / 2 - 1e-9).all()
        assert (np.diff(roots)[1:] < 1.5 * np.pi).all()
        assert 18.4 * np.pi < roots[-1] < 20.01 * np.pi


@AT_MOST
@given(forms, biots, positions)
def test_a_series_cools_steadily_from_all_to_nothing(form, biot, position):
    fourier = np.concatenate([[0.0], np.geomspace(1e-4, 50, 60)])
    share = FORMS[form](fourier, biot=biot, position=position)
    assert share[0] == 1.0
    assert (np.diff(share) <= 1e-9).all()
    assert (share >= -1e-9).all()
    assert (share <= 1 + 1e-9).all()


@AT_MOST
@given(forms, st.floats(1e-3, 1e4), positions, st.floats(0.01, 0.95))
@example("sphere", 58.0, 0.65234375, 0.859375)  # Newton's steps alone jump between two times here.
def test_time_and_temperature_are_each_others_inverse(form, biot, position, share):
    fourier = float(cooling_fourier(share, form=form, biot=biot, position=position))
    if fourier > 1e-3:
        assert float(FORMS[form](fourier, biot=biot, position=position)) == pytest.approx(share)
    mean = float(cooling_fourier(share, form=form, biot=biot, position=None))
    if mean > 1e-3:
        assert float(mean_temperature(mean, form=form, biot=biot)) == pytest.approx(share)


@AT_MOST
@given(sizes, sizes, coefficients, st.floats(1.01, 1.6), st.floats(4.0, 60.0))
def test_bigger_is_never_faster_and_more_surface_heat_never_slower(radius, height, h, more, level):
    def until(wide: float, high: float, surface: float) -> float:
        body = uniform_cylinder(
            wide, high, conductivity=0.5, diffusivity=1.35e-7,
            side=surface, top=surface, bottom=surface,
        )  # fmt: skip
        return float(body.time_to(level, start=80.0, surroundings=2.0, point=(0.0, high / 2)))

    # Where a size all but does not count, rounding decides.
    base, slack = until(radius, height, h), 1 + 1e-11
    assert until(radius * more, height, h) * slack >= base
    assert until(radius, height * more, h) * slack >= base
    assert until(radius, height, h * more) <= base * slack


@AT_MOST
@given(bodies(), st.floats(40.0, 95.0), st.floats(-20.0, 20.0))
def test_a_body_stays_between_start_and_air_and_loses_no_heat(body, start, air):
    run = run_body(body, start, surroundings=air, seconds=TIMES, states_at=TIMES, tolerance=1e-4)
    assert run.states.min() >= air - WITHIN
    assert run.states.max() <= start + WITHIN
    # In even surroundings every cell cools all the time.
    assert (np.diff(run.states, axis=0) <= WITHIN).all()
    all_heat = float(body.capacity.sum()) * (start - air)
    stored = (start - run.states) @ body.capacity
    assert run.heat == pytest.approx(stored, rel=0, abs=1e-6 * all_heat)


@AT_MOST
@given(bodies(), st.floats(-10.0, 15.0), st.floats(0.1, 15.0))
def test_colder_air_is_never_slower(body, air, colder):
    probes = [(0.0, float(body.axes[1].edges[2])), body.mean_probe()]
    usual, cold = (
        cool_body(body, 80.0, surroundings=level, seconds=TIMES, probes=probes)
        for level in (air, air - colder)
    )
    assert (cold <= usual + WITHIN).all()


@AT_MOST
@given(bodies(), st.integers(0, 2**32 - 1))
def test_courses_add_up(body, seed):
    rng = np.random.default_rng(seed)
    one, two = rng.uniform(0, 90, (2, body.size))
    lines = [(np.array([0.0, 900.0, 5000.0]), rng.uniform(-10, 20, 3)) for _ in range(2)]
    both = (lines[0][0], lines[0][1] + lines[1][1])

    def states(start: np.ndarray, line: tuple[np.ndarray, np.ndarray]) -> np.ndarray:
        return run_body(
            body, start, surroundings=line, seconds=[0.0], states_at=TIMES, tolerance=1e-4
        ).states

    summed = states(one, lines[0]) + states(two, lines[1])
    assert states(one + two, both) == pytest.approx(summed, abs=WITHIN)


@AT_MOST
@given(bodies(), st.floats(100.0, 5000.0))
def test_a_run_can_be_cut_in_two(body, cut):
    ends = np.array([cut, 2.5 * cut])
    whole = run_body(body, 80.0, surroundings=4.0, seconds=ends, states_at=ends)
    rest = run_body(
        body, whole.states[0], surroundings=4.0, seconds=[1.5 * cut], states_at=[1.5 * cut]
    )
    assert rest.states[0] == pytest.approx(whole.states[1], abs=2 * WITHIN)


@AT_MOST
@given(st.integers(0, 2**32 - 1), st.booleans(), st.booleans())
def test_the_error_that_is_told_is_larger_than_the_true_one(seed, is_uneven, is_changing):
    # Cells of metal, glass, food and air side by side, thin and thick, all at random.
    rng = np.random.default_rng(seed)
    wide, high = rng.integers(6, 24, 2)
    r, z = (np.concatenate([[0.0], np.cumsum(rng.uniform(2e-4, 2e-3, n))]) for n in (wide, high))
    k = rng.choice([0.026, 0.15, 0.5, 1.0, 15.0, 200.0], (wide, high))
    heat = np.where(k < 0.1, 1200.0, rng.choice([1.5e6, 2.4e6, 3.9e6], (wide, high)))
    side, top, bottom = rng.choice([0.0, 1.0, 10.0, 500.0, np.inf], 3)
    body = cylinder_body(
        r, z, conductivity=k, volumetric_heat=heat, side=side, top=top, bottom=bottom
    )
    start = rng.choice([85.0, 20.0, 5.0], body.size) if is_uneven else 85.0
    air = ([0.0, 500.0, 500.0, 2000.0], rng.uniform(-20, 30, 4)) if is_changing else 4.0
    seconds = np.array([0.0, 0.01, 1.0, 60.0, 600.0, 3600.0, 21600.0])
    told, exact = (
        run_body(
            body, start, surroundings=air, seconds=seconds, states_at=seconds, tolerance=tolerance
        )
        for tolerance in (WITHIN, 1e-7)
    )
    assert np.abs(told.states - exact.states).max() <= told.error <= WITHIN
