"""What would raise the chance, each tried on the same kitchens as the batch as written."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.domain.kitchen_profile import Care
from setwell.domain.steps import Step, StepKind, Stirring
from setwell.engine.gelling.hydration_rate import kinetics
from setwell.engine.process import batch_temperature
from setwell.engine.robustness.draws import Case, Factor, batches
from setwell.engine.robustness.premix import rows_too_light
from setwell.engine.robustness.results import Change, Driver
from setwell.engine.robustness.weighing import agent_rows_of
from setwell.engine.robustness.window import Window, inside, measures, misses
from setwell.errors import MissingDataError

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

_HOT_C, _BOILS_C, _BOIL_MIN = 60.0, 98.0, 1.0
_LONGER_MIN = 5.0
_WARMING = frozenset({StepKind.HEAT, StepKind.HOLD, StepKind.BLEND})
# How far care narrows a spread (our judgment): a cup test of each lot, a pH meter.
_CUP_TEST, _METER_PH = 0.3, 0.05
_BETTER_SCALE = 10.0
# A probe that keeps to what food thermometers must.
_PROBE_K = 1.0
# What is known of a change is told from this gain on, in standard errors and in shares.
_LEAST_ERRORS, _LEAST_GAIN, _LEAST_DRIVER = 2.0, 0.005, 0.02
# Softer water than the tap's in most places [mmol/L].
_BOTTLED_MMOL_L = 0.5


class Trial(NamedTuple):
    """A change to try; `make` returns the changed case, None where it does not apply."""

    key: str
    title: str
    text: str
    price: str
    effort: int
    make: Callable[[Case], Case | None]
    # Whose spread it narrows; nothing where it moves the batch itself.
    eases: tuple[str, ...] = ()


def changes(
    case: Case,
    factors: Sequence[Factor],
    points: Array,
    window: Window,
    *,
    hits: Mask,
    drivers: Sequence[Driver],
) -> tuple[Change, ...]:
    """Return the changes that raise the chance, the largest gain first, the cheaper on a tie.

    `hits` are those of the batch as written; the changes are tried on the first of the same
    kitchens, as many as there are `points`. What drives nothing is not tried.
    """
    before, chance = hits[: len(points)], float(hits.mean())
    weights = {one.key: _weight(one) for one in drivers}
    found = []
    for trial in _trials(case):
        if trial.eases and max(weights.get(key, 0.0) for key in trial.eases) < _LEAST_DRIVER:
            continue
        changed = trial.make(case)
        if changed is None:
            continue
        more = _hits(changed, factors, points, window).astype(np.float64) - before
        gain, error = float(more.mean()), float(more.std()) / float(np.sqrt(len(more)))
        if gain > max(_LEAST_ERRORS * error, _LEAST_GAIN):
            after = float(np.clip(chance + gain, 0.0, 1.0))
            found.append(
                Change(trial.key, trial.title, trial.text, trial.price, trial.effort,
                       after, after - chance, error)
            )  # fmt: skip
    return tuple(sorted(found, key=lambda one: (-round(one.gain, 2), one.effort)))


def _weight(driver: Driver) -> float:
    return max(driver.total.value, 0.0 if driver.failing is None else driver.failing.value)


def _hits(case: Case, factors: Sequence[Factor], points: Array, window: Window) -> Mask:
    found = measures(batches(case, factors, points))
    return inside(misses(window, found), len(points))


def _trials(case: Case) -> tuple[Trial, ...]:
    scale = case.profile.scale_g
    finer = scale / _BETTER_SCALE
    return (
        Trial("dose_up", "Raise the dose by 8 %", "All agents 8 % up, everything else as written.",
              "8 % more agent", 1, lambda c: _dosed(c, 1.08)),
        Trial("dose_down", "Lower the dose by 8 %", "All agents 8 % down.",
              "nothing", 1, lambda c: _dosed(c, 1.0 / 1.08)),
        Trial("boil", "Bring it to the boil",
              "A boil needs no thermometer and no guess. Only where nothing in the pot curdles, "
              "such as egg, and no acid is in yet.",
              "a minute more on the heat, and milk may catch", 1, _boiled, ("heat", "stirring")),
        Trial("hold", "Hold the heat 5 minutes longer", "Slow powders and cold corners catch up.",
              "5 minutes, and a little more steam", 1, _held, ("heat", "stirring")),
        Trial("stir", "Say how to stir: all the time, to the bottom",
              "Constant stirring evens the pot and keeps lumps away.",
              "somebody at the pot", 1, _stirred, ("stirring",)),
        Trial("premix", "Weigh a premix instead of the dose",
              "One careful mix for many batches; each takes a portion that the scale can hold.",
              "one weighing beforehand", 2, _premixed, ("agent_scale",)),
        Trial("scale", f"Weigh the agents on a scale of {finer:g} g",
              f"A scale that shows {finer:g} g instead of {scale:g} g.",
              "a small scale", 3, _finer, ("agent_scale",)),
        Trial("probe", "Use a probe thermometer", f"Within ±{_PROBE_K:g} K instead of by eye.",
              "a thermometer", 3, _probed, ("heat",)),
        Trial("water", "Use water low in minerals",
              "Bottled water of a named low mineral content instead of the tap.",
              "bottled water", 2, _bottled, ("water",)),
        Trial("acidity", "Set the pH with acid or citrate",
              "Measure the pH before the powder sets, and bring it to the planned one. Citrate "
              "also holds calcium.",
              "a pH meter, and citric acid or sodium citrate", 4, _buffered, ("ph",)),
        Trial("lot", "Test each new lot in a cup",
              "A 100 g cup of each new lot, and the dose moved by what it shows.",
              "a cup and a night per lot", 4,
              lambda c: c.easing("lot", _CUP_TEST), ("lot",)),
    )  # fmt: skip


def _dosed(case: Case, factor: float) -> Case:
    masses = case.line_masses.copy()
    masses[list(agent_rows_of(case.plan))] *= factor
    return replace(case, line_masses=masses)


def _boiled(case: Case) -> Case | None:
    """Return the case with its hottest heating at the boil."""
    hot = [batch_temperature(step) or 0.0 for step in case.steps]
    most = max(hot, default=0.0)
    if not _HOT_C <= most < _BOILS_C or not _needs_heat(case) or _has_egg(case):
        return None
    return replace(
        case,
        steps=tuple(
            _at_the_boil(step) if degrees == most and step.kind in _WARMING else step
            for step, degrees in zip(case.steps, hot, strict=True)
        ),
    )


def _has_egg(case: Case) -> bool:
    return any(material.has_allergen("egg") for material in case.plan.materials)


def _at_the_boil(step: Step) -> Step:
    return replace(
        step, kind=StepKind.BOIL, temperature_c=100.0, hold_min=max(step.hold_min or 0.0, _BOIL_MIN)
    )


def _held(case: Case) -> Case | None:
    """Return the case with its hottest step held longer."""
    hot = [batch_temperature(step) or 0.0 for step in case.steps]
    places = [
        place
        for place, step in enumerate(case.steps)
        if hot[place] == max(hot) >= _HOT_C and step.kind in _WARMING | {StepKind.BOIL}
    ]
    if not places or not _needs_heat(case):
        return None
    steps = list(case.steps)
    last = steps[places[-1]]
    steps[places[-1]] = replace(last, hold_min=(last.hold_min or 0.0) + _LONGER_MIN)
    return replace(case, steps=tuple(steps))


def _needs_heat(case: Case) -> bool:
    for key in case.state.agents:
        try:
            if kinetics(key).needs_heat:
                return True
        except MissingDataError:
            continue
    return False


def _stirred(case: Case) -> Case | None:
    heated = [step for step in case.steps if step.kind in _WARMING or step.kind is StepKind.BOIL]
    if not heated or case.profile.care is Care.CAREFUL:
        return None
    steps = tuple(
        replace(step, stirring=Stirring.CONSTANT)
        if step in heated and step.stirring is not Stirring.BLENDER
        else step
        for step in case.steps
    )
    return replace(
        case, steps=steps, profile=case.profile.model_copy(update={"care": Care.CAREFUL})
    )


def _premixed(case: Case) -> Case | None:
    rows = rows_too_light(case)
    return replace(case, premixed=frozenset(rows)) if rows else None


def _finer(case: Case) -> Case | None:
    if not rows_too_light(case):
        return None
    finer = case.profile.model_copy(update={"scale_g": case.profile.scale_g / _BETTER_SCALE})
    return replace(case, profile=finer)


def _probed(case: Case) -> Case | None:
    if case.profile.has_thermometer:
        return None
    update = {"thermometer_error_k": _PROBE_K}
    return replace(case, profile=case.profile.model_copy(update=update))


def _bottled(case: Case) -> Case:
    update = {"water_low": 0.0, "water_high": _BOTTLED_MMOL_L}
    return replace(case, profile=case.profile.model_copy(update=update))


def _buffered(case: Case) -> Case | None:
    spread = float(np.hypot.reduce(case.state.water.acidity.pulls[0]))
    if spread <= _METER_PH:
        return None
    return case.easing("ph", _METER_PH / spread)
