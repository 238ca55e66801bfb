"""Bodies of cells: how they are put together, read and refused, and that no heat is lost."""

import numpy as np
import pytest

from setwell.errors import InputError, OutOfRangeError
from setwell.science.heat.ambient import ambient_make
from setwell.science.heat.body import ball_body, box_body, cylinder_body, hemisphere_body
from setwell.science.heat.krylov import cool_body, run_body
from setwell.science.heat.lanczos import LanczosBasis
from setwell.science.heat.marching import HeatCurve, Laws, march_body
from setwell.science.heat.semi_infinite import semi_infinite_share

FOOD = {"conductivity": 0.55, "volumetric_heat": 1030 * 3800.0}
R, Z = np.linspace(0, 0.035, 13), np.linspace(0, 0.09, 16)


def cup(**changed):
    return cylinder_body(R, Z, **{**FOOD, "side": 10.0, "top": 10.0, "bottom": 10.0, **changed})


def glass_jar(cells: int):
    """Return a jar with a wall of 3 mm, a base of 4 mm and 10 mm of air above the food."""
    wall, base, air = max(2, cells * 3 // 38), max(2, cells * 4 // 104), max(3, cells // 10)
    inner, filled = cells - wall, cells - base - air
    r = [*np.linspace(0, 0.035, inner + 1), *np.linspace(0.035, 0.038, wall + 1)[1:]]
    z = [
        *np.linspace(0, 0.004, base + 1),
        *np.linspace(0.004, 0.094, filled + 1)[1:],
        *np.linspace(0.094, 0.104, air + 1)[1:],
    ]
    k, heat = np.full((cells, cells), 0.55), np.full((cells, cells), 1030 * 3800.0)
    k[:inner, base + filled :], heat[:inner, base + filled :] = 0.026, 1.15 * 1006
    k[inner:], heat[inner:] = 1.0, 2500 * 840.0
    k[:, :base], heat[:, :base] = 1.0, 2500 * 840.0
    return cylinder_body(
        r, z, conductivity=k, volumetric_heat=heat, side=10.0, top=10.0, bottom=10.0
    )


BODIES = {
    "cylinder": (cup(), 2 * np.pi * 0.035 * (0.035 + 0.09), np.pi * 0.035**2 * 0.09),
    "box": (
        box_body([0, 0.1, 0.2], [0, 0.1], [0, 0.01, 0.05], **FOOD,
                 coefficients=dict.fromkeys(("left", "right", "front", "back", "bottom", "top"),
                                            10.0)),
        2 * (0.2 * 0.1 + 0.2 * 0.05 + 0.1 * 0.05), 0.2 * 0.1 * 0.05,
    ),
    "ball": (
        ball_body([0, 0.01, 0.03], **FOOD, surface=10.0),
        4 * np.pi * 0.03**2, 4 / 3 * np.pi * 0.03**3,
    ),
    "hemisphere": (
        hemisphere_body(np.linspace(0, 0.03, 7), np.linspace(0, np.pi / 2, 6), **FOOD,
                        dome=10.0, flat=10.0),
        3 * np.pi * 0.03**2, 2 / 3 * np.pi * 0.03**3,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", BODIES)
def test_volume_and_surface_are_those_of_the_shape(name):
    body, surface, volume = BODIES[name]
    assert float(body.volume.sum()) == pytest.approx(volume)
    assert float(body.capacity.sum()) == pytest.approx(volume * 1030 * 3800)
    # With hardly any coefficient the food itself is no resistance: what is left is the surface.
    faint = body.resurfaced(dict.fromkeys(body.faces, 1e-9))
    assert float(faint.to_surroundings.sum()) / 1e-9 == pytest.approx(surface, rel=1e-6)


@pytest.mark.parametrize("name", BODIES)
def test_conductances_are_symmetric_and_pass_nothing_in_even_warmth(name):
    body = BODIES[name][0]
    assert abs(body.conductance - body.conductance.T).max() == 0.0
    assert body.conductance @ np.ones(body.size) == pytest.approx(0.0, abs=1e-12)


def test_a_place_is_read_straight_between_cells_and_reaches_the_surface():
    body = cup()
    profile = 20.0 + 300.0 * body.centers[1]
    for height in (0.01, 0.0333, 0.08):
        probe = body.probe(0.01, height)
        assert float(probe.cells @ profile) == pytest.approx(20.0 + 300.0 * height)
    skin = body.probe(0.035, 0.045)
    assert 0.0 < skin.faces[body.faces.index("side")] < 0.05
    corner = body.probe(0.035, 0.09)
    for probe in (skin, corner, body.mean_probe()):
        assert float(probe.cells.sum() + probe.faces.sum()) == pytest.approx(1.0)
        assert (probe.cells >= 0).all()


def test_a_surface_held_at_the_temperature_around_it_reads_that_temperature():
    body = cup(side=np.inf)
    probe = body.probe(0.035, 0.045)
    assert probe.faces[body.faces.index("side")] == pytest.approx(1.0)
    # A wall that is all but a perfect conductor comes to the same.
    thick = cup(side=1e9)
    seconds = [600.0, 3600.0]
    found = [
        cool_body(one, 80.0, surroundings=4.0, seconds=seconds, probes=[(0.0, 0.045)])
        for one in (body, thick)
    ]
    assert found[0] == pytest.approx(found[1], abs=1e-4)


def test_where_the_material_changes_the_reading_has_a_kink():
    wall = box_body(
        [0, 0.01, 0.02], [0, 1], [0, 1], conductivity=np.array([1.0, 0.25])[:, None, None],
        volumetric_heat=4e6, coefficients={"left": np.inf, "right": np.inf},
    )  # fmt: skip
    probe = wall.probe(0.01, 0.5, 0.5)
    assert probe.cells == pytest.approx([0.8, 0.2])


def test_other_coefficients_change_the_surface_alone():
    body = cup()
    other = body.resurfaced({"side": np.linspace(5.0, 20.0, 15), "top": 0.0})
    fresh = cup(side=np.linspace(5.0, 20.0, 15), top=0.0)
    assert other.to_faces == pytest.approx(fresh.to_faces)
    assert other.conductance is body.conductance


def test_other_conductivities_keep_the_surface():
    body = cup(top=np.inf)
    k = np.where(body.centers[1] > 0.04, 2.2, 0.5)
    other, fresh = body.reconducted(k), cup(top=np.inf, conductivity=k.reshape(body.shape))
    assert other.to_faces == pytest.approx(fresh.to_faces)
    assert abs(other.conductance - fresh.conductance).max() < 1e-12


def test_no_heat_is_lost_in_a_jar_with_a_wall():
    body, seconds = glass_jar(60), np.array([0.0, 10.0, 600.0, 3600.0, 6 * 3600.0])
    run = run_body(body, 85.0, surroundings=4.0, seconds=seconds, states_at=seconds)
    all_heat = float(body.capacity.sum()) * 81.0
    stored = (85.0 - run.states) @ body.capacity
    assert run.heat == pytest.approx(stored, rel=0, abs=1e-6 * all_heat)
    assert run.error <= 0.003
    assert run.states.max() <= 85.0 + 0.003
    assert run.states.min() >= 4.0 - 0.003


def test_heat_is_kept_account_of_in_changing_air_too():
    body, seconds = cup(), np.array([0.0, 900.0, 1800.0, 5400.0])
    line = ([0.0, 600.0, 600.0, 2400.0], [20.0, 20.0, 2.0, 90.0])
    run = run_body(
        body, 60.0, surroundings=line, seconds=seconds, states_at=seconds, tolerance=1e-5
    )
    stored = (60.0 - run.states) @ body.capacity
    assert run.heat == pytest.approx(stored, abs=1e-6 * float(body.capacity.sum()) * 80)


def test_a_body_without_surface_only_evens_out():
    body = cup(side=0.0, top=0.0, bottom=0.0)
    warm = np.where(body.centers[1] > 0.045, 80.0, 20.0)
    run = run_body(body, warm, surroundings=4.0, seconds=[4e5], states_at=[4e5])
    assert run.states[0] == pytest.approx(float(body.mean_probe().cells @ warm), abs=0.003)
    assert float(run.heat[0]) == pytest.approx(0.0, abs=1e-6)


def test_times_come_back_in_the_order_they_were_asked():
    body = cup()
    found = cool_body(
        body, 80.0, surroundings=4.0, seconds=[3600.0, 0.0, 600.0, 600.0], probes=[(0.0, 0.045)]
    )[:, 0]
    assert found[1] == 80.0
    assert found[0] < found[2] == found[3] <= 80.0


@pytest.mark.parametrize("seconds", [1e-3, 0.1, 1.0])
def test_the_first_moments_of_the_skin_are_those_of_a_thick_body(seconds):
    edges = np.concatenate([[0.0], np.geomspace(1e-7, 0.02, 240)])
    slab = box_body(
        edges, [0, 1], [0, 1], conductivity=0.55, volumetric_heat=0.55 / 1.4e-7,
        coefficients={"left": 500.0},
    )  # fmt: skip
    found = cool_body(
        slab, 80.0, surroundings=0.0, seconds=[seconds, 3600.0], probes=[(0.0, 0.5, 0.5)]
    )[0, 0]
    share = semi_infinite_share(
        0.0, seconds, conductivity=0.55, diffusivity=1.4e-7, coefficient=500.0
    )
    assert found == pytest.approx(80.0 * (1.0 - float(share)), abs=0.01)


def test_steps_count_the_heat_of_melting():
    # All the heat that a cup gives off while it freezes is what its curve says.
    body = ball_body(np.linspace(0, 0.015, 13), conductivity=1.2, volumetric_heat=4e6, surface=50.0)
    kelvin = np.array([-40.0, -3.0, -1.0, 30.0])
    heat = np.array([-74e6, 0.0, 250e6, 366e6])
    curve = HeatCurve(np.ones(body.size, dtype=bool), kelvin, heat)
    run = march_body(
        body, 20.0, surroundings=-30.0, seconds=[4 * 3600.0], probes=[(0.0,)],
        laws=Laws(curves=(curve,)), tolerance=0.02,
    )  # fmt: skip
    held = np.interp(20.0, kelvin, heat) - np.interp(run.state, kelvin, heat)
    assert run.heat == pytest.approx(float(held @ body.volume), rel=1e-9)
    assert run.readings[0, 0] < -3.0


def test_steps_follow_a_coefficient_that_falls_with_the_difference():
    body, seconds = cup(), np.linspace(0.0, 3 * 3600.0, 7)

    def law(face, surface, air):
        return 3.0 + 2.5 * np.abs(surface - air) ** 0.25

    fine, usual = (
        march_body(body, 80.0, surroundings=4.0, seconds=seconds, probes=[(0.0, 0.045)],
                   laws=Laws(coefficient=law), tolerance=tolerance).readings
        for tolerance in (1e-5, 2e-3)
    )  # fmt: skip
    strong, weak = (
        cool_body(cup(side=h, top=h, bottom=h), 80.0, surroundings=4.0, seconds=seconds,
                  probes=[(0.0, 0.045)])
        for h in (3.0 + 2.5 * 76**0.25, 3.0)
    )  # fmt: skip
    assert usual == pytest.approx(fine, abs=0.03)
    assert (fine[1:] > strong[1:]).all()
    assert (fine[1:] < weak[1:]).all()


def test_vectors_end_when_they_hold_everything():
    basis = LanczosBasis(
        lambda v: v / np.array([2.0, 3.0, 4.0]), np.array([1.0, 1.0, 0.0]), shift=1
    )
    basis.grow(10)
    assert basis.is_complete
    assert basis.count == 2
    assert np.sort(basis.spectrum()[0]) == pytest.approx([1.0, 2.0])


REFUSED = {
    "no thickness": lambda: cylinder_body([0, 0.01, 0.01], Z, **FOOD),
    "edges that fall": lambda: cylinder_body(R, Z[::-1], **FOOD),
    "a single edge": lambda: ball_body([0.01], **FOOD),
    "a radius below zero": lambda: ball_body([-0.01, 0.01], **FOOD),
    "conductivity below zero": lambda: cup(conductivity=-0.5),
    "conductivity zero": lambda: cup(conductivity=0.0),
    "heat that is no number": lambda: cup(volumetric_heat=np.nan),
    "cells of another shape": lambda: cup(conductivity=np.ones((3, 3))),
    "a coefficient below zero": lambda: cup(side=-1.0),
    "a coefficient that is no number": lambda: cup(side=np.nan),
    "coefficients of another shape": lambda: cup(side=np.ones(4)),
    "an unknown face": lambda: cup().resurfaced({"lid": 3.0}),
    "a face no box has": lambda: box_body([0, 1], [0, 1], [0, 1], **FOOD,
                                          coefficients={"lid": 3.0}),
    "a place outside": lambda: cup().probe(0.04, 0.01),
    "a place of one number": lambda: cup().probe(0.01),
    "a time below zero": lambda: cool_body(cup(), 80.0, surroundings=4.0, seconds=[-1.0],
                                           probes=[(0.0, 0.01)]),
    "a start of another size": lambda: cool_body(cup(), np.ones(7), surroundings=4.0,
                                                 seconds=[1.0], probes=[(0.0, 0.01)]),
    "a start that is no number": lambda: cool_body(cup(), np.nan, surroundings=4.0,
                                                   seconds=[1.0], probes=[(0.0, 0.01)]),
    "air at an unknown face": lambda: cool_body(cup(), 80.0, surroundings={"side": 4.0},
                                                seconds=[1.0], probes=[(0.0, 0.01)]),
    "air that runs back": lambda: ambient_make(([10.0, 0.0], [4.0, 5.0])),
    "air that does not fit": lambda: ambient_make(([10.0, 20.0], [4.0])),
    "air that is no number": lambda: ambient_make(([0.0], [np.nan])),
    "steps that run back": lambda: march_body(cup(), 80.0, surroundings=4.0, seconds=[5.0, 1.0],
                                              probes=[], laws=Laws()),
    "a curve that falls": lambda: march_body(
        cup(), 80.0, surroundings=4.0, seconds=[5.0], probes=[],
        laws=Laws(curves=(HeatCurve(np.ones(180, dtype=bool), np.array([0.0, 1.0]),
                                    np.array([1.0, 0.0])),))),
}  # fmt: skip


@pytest.mark.parametrize("what", REFUSED)
def test_what_cannot_be_is_refused_in_words(what):
    with pytest.raises(InputError) as refusal:
        REFUSED[what]()
    assert len(str(refusal.value)) > 20


def test_a_refusal_names_what_it_is_about():
    with pytest.raises(OutOfRangeError, match="conductivity must be above zero") as refusal:
        cup(conductivity=-1.0)
    assert refusal.value.field == "conductivity"
    with pytest.raises(OutOfRangeError, match=r"r = 0\.04 lies outside.*from 0 to 0\.035"):
        cup().probe(0.04, 0.01)
