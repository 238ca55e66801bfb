"""How hot the batch is when it goes into its molds, as the steps tell it."""

from dataclasses import dataclass

import numpy as np

from setwell.domain.steps import Step, StepKind
from setwell.engine.process import batch_temperature, is_chilled_pour

# What a hot fill is without a word in the steps, and a batch that nothing heats (common practice).
_HOT_C, _COLD_C = 80.0, 20.0
# How far the pour may be off: a number of the plan, one of the steps, a guess [K].
_PLAN_K, _STEPS_K, _GUESS_K = 1.0, 3.0, 8.0
# It cools on its way into the mold only a little before this [°C].
_ENDS = frozenset({StepKind.CHILL, StepKind.FREEZE, StepKind.UNMOLD, StepKind.SERVE})
_HEATS = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD})


@dataclass(frozen=True, slots=True)
class PourTemperature:
    """The temperature in °C, how far it may be off in K, and where it comes from."""

    celsius: float
    half_width: float
    origin: str
    is_assumed: bool = False


def pour_temperature(steps: tuple[Step, ...], planned: float | None) -> PourTemperature:
    """Return the temperature of the pour: that of the plan, else the last hot one of the steps."""
    if planned is not None:
        return PourTemperature(planned, _PLAN_K, "as given")
    until = _hot_steps(steps)
    told = [(n, batch_temperature(step)) for n, step in enumerate(until, start=1)]
    known = [(n, float(degrees)) for n, degrees in told if degrees is not None]
    if known:
        number, degrees = known[-1]
        return PourTemperature(degrees, _STEPS_K, f"step {number}")
    if steps and not any(step.kind in _HEATS for step in until):
        return PourTemperature(_COLD_C, _GUESS_K, "assumed: no step heats it", is_assumed=True)
    return PourTemperature(_HOT_C, _GUESS_K, "assumed: a usual hot fill", is_assumed=True)


def _hot_steps(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Return the steps up to the cold place: what comes after is what is computed here."""
    last_hot = int(np.max([n for n, s in enumerate(steps) if s.kind in _HEATS], initial=-1))
    for number, step in enumerate(steps):
        if number > last_hot and (step.kind in _ENDS or is_chilled_pour(step)):
            return steps[:number]
    return steps
