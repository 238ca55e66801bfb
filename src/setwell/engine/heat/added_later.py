"""What goes in after the pot: lines that the steps add once nothing is heated any more."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.steps import Step, StepKind
from setwell.engine.heat.pouring import HEATS, beside_steps, pour_step
from setwell.engine.names import name_normalize
from setwell.engine.pipeline import batch_assess
from setwell.engine.process import batch_temperature
from setwell.engine.rules.bench import Bench

Array = NDArray[np.float64]

# What goes in comes from the fridge or from the shelf, if no step warms it [°C] (our judgment).
_USUAL_C, _EACH_WAY_K = 12.0, 8.0
_WARMED_K = 3.0
# A name shorter than this says too little.
_LETTERS = 4
# Less than this of the pot is a seasoning: it changes nothing here [-].
_COUNTS = 0.03


@dataclass(frozen=True, slots=True)
class Added:
    """Lines that one step adds: its place from 0, the lines' places, and their temperature [°C]."""

    step: int
    lines: tuple[int, ...]
    celsius: float
    half_width: float


def added_later(bench: Bench) -> tuple[Added, ...]:
    """Return what the steps add after the last heating before the pour.

    A line that an earlier step names is in the pot already, all of it.
    """
    steps = bench.steps
    beside = beside_steps(steps)
    hot = steps[: pour_step(steps)]
    heated = [n for n, step in enumerate(hot) if step.kind in HEATS and n not in beside]
    if not heated:
        return ()
    words = {place: _word(bench, position) for place, position in enumerate(bench.plan.used)}
    early = [steps[n] for n in range(heated[-1] + 1) if n not in beside]
    there = {place for place, word in words.items() if any(_names(one, word) for one in early)}
    found = []
    for number in range(heated[-1] + 1, len(steps)):
        if steps[number].kind is not StepKind.ADD:
            continue
        lines = {p for p, word in words.items() if p not in there and _names(steps[number], word)}
        there |= lines
        if lines:
            told = _warmed(steps, beside, [words[place] for place in lines])
            found.append(Added(number, tuple(sorted(lines)), *told))
    return tuple(found)


def _word(bench: Bench, position: int) -> str:
    """Return the noun of a line: the last word before what is said of it."""
    name = bench.plan.readings[position].line.name.partition(",")[0].partition("(")[0]
    words = name_normalize(name).split()
    return words[-1].removesuffix("s") if words else ""


def _names(step: Step, word: str) -> bool:
    if len(word) < _LETTERS:
        return False
    said = {one.removesuffix("s") for one in name_normalize(step.text).split()}
    return word in said


def _warmed(
    steps: tuple[Step, ...], beside: frozenset[int], words: list[str]
) -> tuple[float, float]:
    """Return how warm something goes in, and how far that may be off."""
    told = [steps[n] for n in sorted(beside) if any(_names(steps[n], word) for word in words)]
    degrees = batch_temperature(told[-1]) if told else None
    return (_USUAL_C, _EACH_WAY_K) if degrees is None else (degrees, _WARMED_K)


def pot_bench(bench: Bench, row: int = 0) -> tuple[Bench, int]:
    """Return the bench of what stands in the pot while it is heated, and its row.

    Without what goes in later a batch is smaller, thicker and boils at another temperature.
    """
    later = [place for one in added_later(bench) for place in one.lines]
    masses = bench.state.line_masses[row : row + 1]
    if not later or float(masses[0, later].sum()) < _COUNTS * float(masses.sum()):
        return bench, row
    left = masses.copy()
    left[:, later] = 0.0
    state = batch_assess(bench.plan, left, process=bench.state.process, steps=bench.steps)
    return replace(bench, state=state), 0


def mixed_c(
    bench: Bench, added: tuple[Added, ...], celsius: float, row: int = 0
) -> tuple[float, float]:
    """Return how warm a pot is once all of this has gone in, and how far that may be off [K]."""
    masses = bench.state.line_masses[row]
    total = float(masses.sum())
    parts = [float(masses[list(one.lines)].sum()) for one in added]
    # What went in before the temperature was told has had its share of it.
    if total <= 0 or sum(parts) < _COUNTS * total:
        return celsius, 0.0
    share = sum(parts) / total
    warmth = sum(part * one.celsius for part, one in zip(parts, added, strict=True)) / total
    doubt = sum(part * one.half_width for part, one in zip(parts, added, strict=True)) / total
    return (1.0 - share) * celsius + warmth, doubt
