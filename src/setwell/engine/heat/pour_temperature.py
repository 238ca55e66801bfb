"""How hot the batch is when it goes into its molds, as the steps tell it."""

from dataclasses import dataclass

from setwell.domain.steps import Step, StepKind
from setwell.engine.heat.added_later import added_later, mixed_c
from setwell.engine.heat.pouring import ENDS, HEATS, beside_steps, pour_step
from setwell.engine.process import batch_temperature, is_chilled_pour
from setwell.engine.rules.bench import Bench

# What a hot fill is without a word in the steps, and a batch that nothing heats (common practice).
HOT_C, _COLD_C = 80.0, 20.0
# How far the pour may be off: a number of the plan, one of the steps, a guess [K].
_PLAN_K, _STEPS_K, _GUESS_K = 1.0, 3.0, 8.0


@dataclass(frozen=True, slots=True)
class PourTemperature:
    """The temperature in °C, how far it may be off in K, and where it comes from."""

    celsius: float
    half_width: float
    origin: str
    is_assumed: bool = False


def pour_of(bench: Bench, planned: float | None, row: int = 0) -> PourTemperature:
    """Return the temperature of the pour, with what goes in cold before it counted."""
    told = pour_temperature(bench.steps, planned)
    number = _told_by(bench.steps)
    if planned is not None or number is None:
        return told
    poured = pour_step(bench.steps)
    until = len(bench.steps) if poured is None else poured
    added = tuple(one for one in added_later(bench) if number < one.step <= until)
    celsius, doubt = mixed_c(bench, added, told.celsius, row)
    if celsius == told.celsius:
        return told
    return PourTemperature(
        celsius, told.half_width + doubt, f"{told.origin}, and what goes in after it"
    )


def pour_temperature(steps: tuple[Step, ...], planned: float | None) -> PourTemperature:
    """Return the temperature of the pour: that of the plan, else the last one the steps tell."""
    if planned is not None:
        return PourTemperature(planned, _PLAN_K, "as given")
    number = _told_by(steps)
    if number is not None:
        degrees = batch_temperature(steps[number])
        return PourTemperature(float(degrees or 0.0), _STEPS_K, f"step {number + 1}")
    if steps and not any(step.kind in HEATS for step in _until_poured(steps)):
        return PourTemperature(_COLD_C, _GUESS_K, "assumed: no step heats it", is_assumed=True)
    return PourTemperature(HOT_C, _GUESS_K, "assumed: a usual hot fill", is_assumed=True)


def _told_by(steps: tuple[Step, ...]) -> int | None:
    """Return the step that tells how hot the batch is when it is poured, from 0."""
    until = _until_poured(steps)
    beside = beside_steps(until)
    told = [
        n
        for n, step in enumerate(until)
        if n not in beside and not is_chilled_pour(step) and batch_temperature(step) is not None
    ]
    return told[-1] if told else None


def _until_poured(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Return the steps up to the pour; without one, up to what is left to stand or is cold."""
    poured = pour_step(steps)
    if poured is not None:
        return steps[: poured + 1]
    last_hot = max((n for n, step in enumerate(steps) if step.kind in HEATS), default=-1)
    for number, step in enumerate(steps):
        if number > last_hot and step.kind in ENDS:
            steps = steps[:number]
            break
    while steps and steps[-1].kind is StepKind.REST:
        steps = steps[:-1]
    return steps
