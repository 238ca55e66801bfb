"""Molds on their way down: core and skin over time, and the moments a kitchen waits for."""

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.process_plan import CoolPlan
from setwell.engine.assessment import Figure
from setwell.engine.heat.cooling_advice import cooling_advice
from setwell.engine.heat.cooling_cases import (
    LEFT,
    Case,
    coefficient_ratios,
    left_at_end,
    quick_case,
    slow_case,
)
from setwell.engine.heat.cooling_load import cooling_load
from setwell.engine.heat.cooling_moments import Cooling, cooling_moments
from setwell.engine.heat.cooling_setup import CoolingSetup, cooling_setup
from setwell.engine.heat.course import Course
from setwell.engine.heat.foam import foam_said
from setwell.engine.heat.freezing_course import freezes, freezing_run, stretched
from setwell.engine.heat.frozen_food import ICE_EVIDENCE
from setwell.engine.heat.march import Marched
from setwell.engine.heat.mold_body import COARSE, face_areas
from setwell.engine.heat.mold_form import Scheme
from setwell.engine.heat.passing_times import passed_s
from setwell.engine.heat.results import CoolingResult
from setwell.engine.rules.bench import Bench
from setwell.provenance import Estimate, evidence_join

Array = NDArray[np.float64]

CORE, SKIN = "core", "surface"
_MODEL = "conduction in the food, surface coefficient by the difference to the air"
_FROZEN = "conduction cell by cell, with the heat of its ice"
_FROZEN_METHOD = (
    "Conduction by cells of the food that freeze bit by bit below its freezing point, thin walls "
    "folded into the surface; range by how slow and how quick the cooling alone may be."
)
_GEOMETRY = "lengths of the mold"


def cool(bench: Bench, plan: CoolPlan, *, air: Course | None = None, row: int = 0) -> CoolingResult:
    """Return how a batch cools in its molds.

    `air` is a measured or computed course of the air in the cold place, from when the molds go
    in; left out, the air stays as cold as the place says. Raises InputError at the field for a
    mold or a temperature that cannot be.
    """
    load = cooling_load(cooling_setup(bench, plan, air=air, row=row), plan)
    setup = load.setup
    is_frozen = freezes(setup)
    found = frozen_courses(bench, setup, row) if is_frozen else cooling_courses(setup)
    left_out = " ".join(said for said in (load.left_out, foam_said(bench.steps)) if said)
    core, skin = (replace(one, left_out=left_out) for one in found)
    serving = plan.serving_c
    if serving is None:
        serving = float(bench.state.serving_c[row])
    told = Cooling(core, setup.final_air_c, serving, setup.flags, is_frozen=is_frozen)
    return CoolingResult(
        courses=(core, skin),
        moments=cooling_moments(bench, told, row),
        figures=_figures(setup),
        advice=(*cooling_advice(bench, setup, core, row), *load.advice),
        method=_FROZEN_METHOD if is_frozen else _method(setup),
        most_molds=load.most,
    )


def cooling_courses(setup: CoolingSetup) -> tuple[Course, Course]:
    """Return core and skin with their ranges: the middle case, and slow and quick ones."""
    seconds = setup.seconds()
    at, end = setup.situation, left_at_end(setup.situation)
    late = (_ending(setup, seconds, case) for case in (slow_case(at, end), quick_case(at, end)))
    cases = (*_cases(setup, seconds), *(late if end < LEFT else ()))
    return (
        _course(setup, CORE, seconds, [_unfrozen(setup, one.core) for one in cases]),
        _course(setup, SKIN, seconds, [_unfrozen(setup, one.surface) for one in cases]),
    )


def frozen_courses(bench: Bench, setup: CoolingSetup, row: int = 0) -> tuple[Course, Course]:
    """Return core and skin of a mold that freezes: ice cell by cell, and how slow it may be."""
    run = freezing_run(bench, setup, row)
    freezing = setup.stuff.freezing_c or 0.0
    factors = _slow_quick(setup)
    found = []
    for place, celsius in ((CORE, run.core), (SKIN, run.surface)):
        ends = [stretched(run, celsius, factor, freezing) for factor in factors]
        course = _course(setup, place, run.seconds, [celsius, *ends])
        evidence = evidence_join([course.evidence, ICE_EVIDENCE])
        found.append(replace(course, model=_FROZEN, evidence=evidence))
    return found[0], found[1]


def _cases(setup: CoolingSetup, seconds: Array) -> tuple[Marched, Marched, Marched]:
    """Return the middle, the slow and the quick case at the same times."""
    at = setup.situation
    return (
        setup.march(seconds),
        _ending(setup, seconds, slow_case(at)),
        _ending(setup, seconds, quick_case(at)),
    )


def _ending(setup: CoolingSetup, seconds: Array, case: Case) -> Marched:
    return setup.march(seconds, case, body=setup.body(case, COARSE))


def _slow_quick(setup: CoolingSetup) -> tuple[float, float]:
    """Return how much longer and shorter the slow and the quick case take."""
    seconds = setup.seconds()
    level = setup.cold.cooler.air_c + 0.3 * (setup.start_c - setup.cold.cooler.air_c)
    middle, slow, quick = (
        passed_s(seconds, one.core, level) or 1.0 for one in _cases(setup, seconds)
    )
    return slow / middle, quick / middle


def core_curve(
    bench: Bench, plan: CoolPlan, seconds: Array, *, coefficient: float | None = None, row: int = 0
) -> Array:
    """Return the core at these times [°C], with one coefficient for all faces if given [W/m2K]."""
    cooler = plan.cooler
    if coefficient is not None:
        told = {"coefficient_w_m2k": coefficient, "coefficient_low": None, "coefficient_high": None}
        cooler = cooler.model_copy(update=told)
    setup = cooling_setup(bench, plan.model_copy(update={"cooler": cooler}), row=row)
    return setup.march(np.asarray(seconds, dtype=np.float64), body=setup.body(cells=COARSE)).core


def _course(setup: CoolingSetup, place: str, seconds: Array, cases: list[Array]) -> Course:
    return Course(
        place,
        seconds,
        cases[0],
        np.min(cases, axis=0),
        np.max(cases, axis=0),
        model=_MODEL,
        evidence=setup.evidence,
    )


def _unfrozen(setup: CoolingSetup, celsius: Array) -> Array:
    """Follow a course down to where the food begins to freeze, and no farther."""
    freezing = setup.stuff.freezing_c
    return celsius if freezing is None else np.maximum(celsius, freezing)


def _figures(setup: CoolingSetup) -> tuple[Figure, ...]:
    mold = setup.mold
    flags = setup.flags
    volume = mold.volume * 1e6
    thick = 2000.0 * mold.half_thickness
    pour = setup.pour
    return (
        Figure(
            "pour",
            "Poured at",
            Estimate(
                pour.celsius, "°C", pour.celsius - pour.half_width, pour.celsius + pour.half_width,
                pour.origin, (), flags,
            ),
        ),
        Figure(
            "mold_volume",
            "Food in one mold",
            Estimate(volume, "mL", volume, volume, _GEOMETRY, (), mold.flags),
            mold.described(),
        ),
        Figure("thickness", "Thinnest way through", Estimate(thick, "mm", thick, thick, _GEOMETRY)),
        Figure("coefficient", "Heat passed by the surface", _coefficient(setup), _outside(setup)),
        *setup.stuff.figures,
    )  # fmt: skip


def _coefficient(setup: CoolingSetup) -> Estimate:
    """Return the coefficient over all faces at a middle difference, with its range."""
    areas = face_areas(setup.mold)
    whole = sum(areas.values())
    difference = 0.3 * setup.situation.fall
    value = sum(a * setup.cold.passed(n, difference) for n, a in areas.items()) / whole
    # Air, shelf and steam do not go wrong together.
    low, high = (
        value * math.exp(sign * math.hypot(*coefficient_ratios(setup.situation, is_slow=sign < 0)))
        for sign in (-1.0, 1.0)
    )
    flags = setup.cold.flags
    return Estimate(value, "W/m2K", low, high, setup.cold.model, setup.cold.evidence, flags)


def _outside(setup: CoolingSetup) -> str:
    share = 100.0 * setup.situation.outside_share
    if share >= 60.0:
        return "The surface sets the pace: a colder or windier place helps."
    if share <= 25.0:
        return "The food itself sets the pace: only a thinner mold helps."
    return "Surface and food share the pace: a thinner mold and a windier place both help."


def _method(setup: CoolingSetup) -> str:
    if setup.mold.scheme is Scheme.GRID:
        form = "a grid of cells, with wall and headspace as cells of their own"
        if not setup.mold.is_round:
            form = "a grid of cells"
    else:
        form = "each direction of the food by itself, multiplied"
    surface = (
        "with the coefficient as measured"
        if setup.cold.is_steady
        else "with a surface coefficient that falls with the difference to the air"
    )
    return f"Conduction by {form}, {surface}; range by a slow and a quick case."
