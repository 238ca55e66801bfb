"""A batch heated in a pot: its zones over time, its agents, its steam, and what to do better."""

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.domain.process_plan import PotPlan, PotStirring
from setwell.engine.heat.course import coldest_of
from setwell.engine.heat.foam import foam_said, until_hot
from setwell.engine.heat.pot_advice import pot_advice
from setwell.engine.heat.pot_cases import pot_cases
from setwell.engine.heat.pot_figures import REGIMES, evaporated, pot_figures, regime_of
from setwell.engine.heat.pot_moments import agent_heatings, pot_moments
from setwell.engine.heat.pot_setup import PotTask, pot_task
from setwell.engine.heat.pot_track import PotTrack, courses, handed_on, pot_tracks
from setwell.engine.heat.results import PotResult
from setwell.engine.pot_course import PotCourse
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.science.heat.pot import pot_run

Array = NDArray[np.float64]

_STILL = frozenset({PotStirring.NONE, PotStirring.OCCASIONAL})


def heat_pot(bench: Bench, plan: PotPlan, row: int = 0) -> PotResult:
    """Return one candidate heated as planned, and the same pot stirred the other way beside it.

    Raises InputError when nothing tells how hot the pot gets, or the batch cannot stand in it.
    """
    task = pot_task(bench, plan, row)
    is_still = plan.stirring in _STILL
    other = PotStirring.CONSTANT if is_still else PotStirring.NONE
    own, beside = pot_tracks(task, (plan.stirring, other))
    compared = _result(bench, replace_stirring(task, other), beside, row)
    label = "stirred all the time" if is_still else "not stirred"
    return replace(_result(bench, task, own, row), other=compared, other_label=label)


def replace_stirring(task: PotTask, stirring: PotStirring) -> PotTask:
    """Return the same pot, stirred another way."""
    return replace(task, plan=task.plan.model_copy(update={"stirring": stirring}))


def pot_course(bench: Bench, plan: PotPlan, row: int = 0) -> PotCourse | None:
    """Return what the texture engine takes over from the pot; None where it cannot be computed."""
    try:
        task = pot_task(bench, plan, row)
    except InputError:
        return None
    (track,) = pot_tracks(task, (plan.stirring,))
    return handed_on(task, track)


def bottom_curve(
    bench: Bench, plan: PotPlan, seconds: ArrayLike, efficiency: float | None = None, row: int = 0
) -> Array:
    """Return what a thermometer near the base reads at these times [s], in °C.

    The middle kitchen alone, with another share of the hob's power if one is given: for fitting a
    hob to a measured course.
    """
    if efficiency is not None:
        hob = plan.hob.model_copy(
            update={"efficiency": efficiency, "efficiency_low": None, "efficiency_high": None}
        )
        plan = plan.model_copy(update={"hob": hob})
    task = pot_task(bench, plan, row)
    times = np.asarray(seconds, dtype=np.float64)
    middle = np.zeros(1)
    cases = pot_cases(task, (plan.stirring,), middle, middle)
    run = pot_run(*cases, start_c=plan.start_c, seconds=max(float(times.max(initial=1.0)), 1.0))
    return np.asarray(np.interp(times, run.seconds, run.reading[:, 0]))


def _result(bench: Bench, task: PotTask, track: PotTrack, row: int) -> PotResult:
    # What is folded in after the heat does not slow it.
    left_out = foam_said(until_hot(bench.steps))
    places = tuple(replace(one, left_out=left_out) for one in courses(task, track))
    agents = agent_heatings(bench, task, track, row)
    regime = regime_of(task, track)
    return PotResult(
        courses=places,
        coldest=coldest_of(places),
        agents=agents,
        moments=pot_moments(task, track),
        figures=pot_figures(task, track),
        evaporated_g=evaporated(task, track),
        regime=regime,
        regime_text=REGIMES[regime],
        advice=pot_advice(task, track, agents, regime),
    )
