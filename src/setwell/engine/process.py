"""What the steps do to each agent: how hot, when the acid comes, how it is dispersed."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.domain.lines import Line
from setwell.domain.phases import PhaseKind
from setwell.domain.steps import Step, StepKind, steps_parse
from setwell.engine.dispersal import Way, way_of
from setwell.engine.material import Material
from setwell.engine.names import name_normalize

Array = NDArray[np.float64]

# A fridge, when a step says chill without a temperature (common practice, no source).
_FRIDGE_C = 4.0
_ROOM_C = 20.0
_BOIL_C = 100.0
# "Simmer" without a number may be hotter than what is written, unless that is hot already.
_CLEARLY_HOT_C = 60.0
# Hotter than any watery batch at rest under its lid: that is an oven, a fryer or a syrup.
_BATCH_MOST_C = 108.0
_ELSEWHERE = re.compile(r"\bpre-?heat|\boven\b|\bfryer\b|\bgrill\b", re.IGNORECASE)
_WARMING = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD, StepKind.BLEND})
_TAKING_IN = frozenset({StepKind.ADD, StepKind.DISPERSE, StepKind.MIX, StepKind.BLEND})
_POWDERS = re.compile(r"\b(?:powders?|gums?|agents?|dry mix|dry blend)\b", re.IGNORECASE)
_COOLING = frozenset({StepKind.COOL, StepKind.CHILL, StepKind.REST, StepKind.FREEZE})


@dataclass(frozen=True, slots=True)
class AgentPath:
    """What one agent goes through after it enters the pot.

    Arrays have shape (1,) or (n,); NaN means the steps do not say.
    """

    peak_c: Array
    hold_min: Array
    way: Way
    bloom_steps: tuple[int, ...]
    boil_steps: tuple[int, ...]
    enters: int = 0


@dataclass(frozen=True, slots=True)
class Process:
    """The steps as numbers, for all candidates."""

    has_steps: bool
    peak_c: Array
    coldest_c: Array
    coldest_assumed: bool
    acid_c: Array
    acid_steps: tuple[int, ...]
    serving_c: float | None
    has_acid: bool = False
    is_acid_apart: bool = False
    agents: Mapping[str, AgentPath] = field(default_factory=dict)
    molds: bool = False


@lru_cache(maxsize=256)
def steps_read(text: str) -> tuple[Step, ...]:
    """Return the steps of a method, remembered because typing repeats them."""
    return steps_parse(text)


def process_read(
    steps: tuple[Step, ...],
    *,
    agents: Mapping[str, tuple[Material, ...]],
    lines: Mapping[str, tuple[Line, ...]],
    is_carried: bool,
    has_acid: bool,
    acid_phase: bool,
    serving_c: float | None,
) -> Process:
    """Return the process of a formula; `agents` are the materials behind each agent key.

    `is_carried` tells that some line is there to carry the agents in, such as sugar.
    """
    track = _temperature_track(steps)
    served = next((s.temperature_c for s in steps if s.kind is StepKind.SERVE), None)
    coldest, assumed = _coldest(steps)
    acid_at = [n for n, step in enumerate(steps) if step.is_acid_addition]
    return Process(
        has_steps=bool(steps),
        peak_c=_array(_peak(track, steps)),
        coldest_c=_array(coldest),
        coldest_assumed=assumed,
        acid_c=_array(
            _acid_temperature(track, steps, acid_at, from_start=has_acid and not acid_phase)
        ),
        acid_steps=tuple(n + 1 for n in acid_at),
        serving_c=served if serving_c is None else serving_c,
        has_acid=has_acid,
        is_acid_apart=acid_phase,
        agents={
            key: _path(steps, track, materials, lines.get(key, ()), carried=is_carried)
            for key, materials in agents.items()
        },
        molds=any(step.kind in {StepKind.POUR, StepKind.UNMOLD} for step in steps),
    )


def _array(value: float) -> Array:
    return np.array([value], dtype=np.float64)


def _temperature_track(steps: tuple[Step, ...]) -> list[float]:
    """Return the pot's temperature after each step; NaN before any is given."""
    now = float("nan")
    track = []
    for step in steps:
        degrees = batch_temperature(step)
        if degrees is not None:
            now = degrees
        elif step.kind in {StepKind.CHILL, StepKind.FREEZE}:
            now = _FRIDGE_C if step.kind is StepKind.CHILL else -18.0
        track.append(now)
    return track


def batch_temperature(step: Step) -> float | None:
    """Return how hot a step says the batch is; an oven, a syrup or the plate is not the batch."""
    degrees = step.temperature_c
    if degrees is None:
        return _BOIL_C if step.kind is StepKind.BOIL else None
    elsewhere = step.kind is StepKind.SERVE or _ELSEWHERE.search(step.text) is not None
    return None if elsewhere or degrees > _BATCH_MOST_C else degrees


def _peak(track: list[float], steps: tuple[Step, ...]) -> float:
    """Return the hottest the batch gets; NaN when a step heats it and nothing says how far."""
    known = max((value for value in track if not np.isnan(value)), default=float("nan"))
    heats_untold = any(s.kind is StepKind.HEAT and s.temperature_c is None for s in steps)
    return float("nan") if heats_untold and not known >= _CLEARLY_HOT_C else known


def _coldest(steps: tuple[Step, ...]) -> tuple[float, bool]:
    """Return the coldest temperature after the last heating, and whether it was assumed."""
    last_hot = max((n for n, s in enumerate(steps) if s.kind in _WARMING), default=-1)
    after = [
        step.temperature_c if step.temperature_c is not None else _FRIDGE_C
        for step in steps[last_hot + 1 :]
        if (step.kind in _COOLING and step.temperature_c is not None)
        or step.kind is StepKind.CHILL
        or is_chilled_pour(step)
    ]
    return (min(after), False) if after else (_FRIDGE_C, True)


def is_chilled_pour(step: Step) -> bool:
    """True for "pour and chill at 4 °C" in one step: the temperature is the fridge's."""
    cold = step.temperature_c is not None and step.temperature_c <= _ROOM_C
    return step.kind is StepKind.POUR and cold


def _acid_temperature(
    track: list[float], steps: tuple[Step, ...], acid_at: list[int], *, from_start: bool
) -> float:
    """Return the hottest the batch is once the acid is in; NaN when the steps do not say."""
    if acid_at:
        # A temperature in the step is that of the moment the acid goes in.
        is_told = batch_temperature(steps[acid_at[0]]) is not None
        start = acid_at[0] if is_told else max(acid_at[0] - 1, 0)
        return _peak(track[start:], steps[start:])
    return _peak(track, steps) if from_start else float("nan")


def _path(
    steps: tuple[Step, ...],
    track: list[float],
    materials: tuple[Material, ...],
    lines: tuple[Line, ...],
    *,
    carried: bool,
) -> AgentPath:
    names = [*(material.name for material in materials), *(line.name for line in lines)]
    enters = _enters(steps, names)
    start = max(enters - 1, 0) if enters else 0
    peak = _peak(track[start:], steps[start:])
    hold = [
        step.hold_min or 0.0
        for step, temperature in zip(steps[enters:], track[enters:], strict=True)
        if temperature >= peak - 2.0 and step.kind in _WARMING
    ]
    hints = frozenset().union(*(line.hints for line in lines)) if lines else frozenset()
    return AgentPath(
        peak_c=_array(peak),
        hold_min=_array(sum(hold) if hold else float("nan")),
        way=way_of(steps, hints, is_carried=carried),
        bloom_steps=_bloom_steps(steps, names, hints),
        boil_steps=tuple(
            n + 1
            for n in range(enters, len(steps))
            if track[n] >= 90.0 and steps[n].kind in _WARMING
        ),
        enters=enters,
    )


def _enters(steps: tuple[Step, ...], names: list[str]) -> int:
    """Return the first step that names the agent; the start when none does."""
    words = {name_normalize(name) for name in names}
    words |= {name.split()[0] for name in words if name}
    for number, step in enumerate(steps):
        said = f" {name_normalize(step.text)} "
        if any(f" {word} " in said for word in words if len(word) > 3):
            return number
    return _generic(steps)


def _generic(steps: tuple[Step, ...]) -> int:
    """Return the first step that takes "the powders" in; the start when none does."""
    return next(
        (
            number
            for number, step in enumerate(steps)
            if step.kind in _TAKING_IN and _POWDERS.search(step.text)
        ),
        0,
    )


def _bloom_steps(
    steps: tuple[Step, ...], names: list[str], hints: frozenset[str]
) -> tuple[int, ...]:
    words = {name_normalize(name).split()[0] for name in names if name_normalize(name)}
    found = [
        number + 1
        for number, step in enumerate(steps)
        if step.kind is StepKind.BLOOM
        and (any(word in name_normalize(step.text) for word in words) or _names_nothing(step))
    ]
    return tuple(found) or ((0,) if "bloomed" in hints else ())


def _names_nothing(step: Step) -> bool:
    """True for a bare "bloom 10 min", which then means whatever agent there is."""
    return len(name_normalize(step.text).split()) <= 4


def acid_in_phase(phases: tuple[PhaseKind, ...]) -> bool:
    """True when every acid line stands under an acid heading, so it can be added late."""
    return bool(phases) and all(phase is PhaseKind.ACID for phase in phases)
