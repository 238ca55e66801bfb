"""Where a batch sets on cooling, and how cold it must be to leave its mold."""

from dataclasses import dataclass

import numpy as np

from setwell.engine.gelling.maturing import maturing_figures
from setwell.engine.gelling.state import NO, SetsOn
from setwell.engine.heat.course import Course
from setwell.engine.material import Span
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.spans import Spans
from setwell.engine.verdict import Verdict, verdict
from setwell.provenance import Evidence
from setwell.science.gels.gelatin import full_strength_time, maturing_share
from setwell.units.temperature import kelvin_from_celsius

_GELATIN = "gelatin"
# A gel leaves its mold this far below where it set, and between these temperatures (our judgment).
_BELOW_SET_K, _LEAST_BELOW_K, _UNMOLD_C = 15.0, 3.0, (10.0, 20.0)
# Share of its full strength at which gelatin leaves its mold whole (our judgment).
_FIRM_ENOUGH = 0.7
# An agent that brings less of the stiffness does not decide when it unmolds.
_CARRIES = 0.2
_SAME_K = 0.5
# Gelatin is followed this long after the course ends.
_LONGER_S, _LONGER_POINTS = 86_400.0, 145


@dataclass(frozen=True, slots=True)
class SettingLevel:
    """A setting temperature [°C] and what sets there."""

    celsius: Span
    name: str
    evidence: Evidence


def setting_levels(bench: Bench, row: int = 0) -> tuple[SettingLevel, ...]:
    """Return where the batch sets on cooling: the first agent, and a second where one follows."""
    texture = bench.state.texture
    if not bench.agents or verdict(texture.sets[row]) is Verdict.NO:
        return ()
    found = [_level(bench, one, row) for one in (texture.first_set_c, texture.second_set_c)]
    return tuple(one for one in found if one is not None)


def _level(bench: Bench, spans: Spans | None, row: int) -> SettingLevel | None:
    if spans is None or not np.isfinite(float(spans.value[row])):
        return None
    value, low, high = (float(part[row]) for part in spans)
    names, evidence = [], []
    for key, agent in bench.state.agents.items():
        if agent.set_c is None or agent.sets_on is not SetsOn.COOLING or agent.sets[row] == NO:
            continue
        if abs(float(agent.set_c.value[row]) - value) <= _SAME_K:
            names.append(bench.name(key))
            evidence += list(agent.origins.setting)
    name = " and ".join(names) or "the gel"
    return SettingLevel(Span(value, low, high), name, tuple(dict.fromkeys(evidence)))


def practice_level(bench: Bench, row: int = 0) -> SettingLevel | None:
    """Return where kitchens see the batch begin to set, when they see it warmer than the law."""
    found = [
        SettingLevel(
            Span(*(float(part[row]) for part in agent.practice_set_c)), bench.name(key), PRACTICE
        )
        for key, agent in bench.state.agents.items()
        if agent.practice_set_c is not None
        and agent.sets_on is SetsOn.COOLING
        and agent.sets[row] != NO
    ]
    warmest = max(found, key=lambda level: level.celsius.high, default=None)
    law = max((level.celsius.high for level in setting_levels(bench, row)), default=-np.inf)
    return warmest if warmest is not None and warmest.celsius.high > law else None


def sets_otherwise(bench: Bench, row: int = 0) -> bool:
    """True where it sets, but on heating or with ions: the cold place does not decide."""
    agents = bench.state.agents.values()
    others = {SetsOn.HEATING, SetsOn.IONS}
    return any(agent.sets_on in others and agent.sets[row] > NO for agent in agents)


def unmolding_c(level: SettingLevel) -> float:
    """Return how cold the core must be for the mold to come off."""
    well_below = float(np.clip(level.celsius.low - _BELOW_SET_K, *_UNMOLD_C))
    return min(well_below, level.celsius.low - _LEAST_BELOW_K)


def is_gelatin(bench: Bench, row: int = 0) -> bool:
    """True where gelatin carries the gel, which firms up for hours in the cold."""
    share = bench.state.texture.shares.get(_GELATIN)
    return share is not None and float(share[row]) >= _CARRIES


def matured_minutes(course: Course, set_c: Span) -> tuple[float | None, float | None, float | None]:
    """Return when the core of a gelatin gel is firm enough to unmold: middle, low and high [min].

    Past its end the course stays as cold as it got.
    """
    longer = course.seconds[-1] + np.linspace(0.0, _LONGER_S, _LONGER_POINTS)[1:]
    course = course.at(np.concatenate([course.seconds, longer]))
    cold, cool, gain = maturing_figures()
    middle, early, late = (
        (course.celsius, set_c.value, gain.value),
        (course.low_c, set_c.high, gain.low),
        (course.high_c, set_c.low, gain.high),
    )
    found = []
    for celsius, below, slope in (middle, early, late):
        hours = full_strength_time(
            kelvin_from_celsius(0.0) + celsius,
            cold=(kelvin_from_celsius(5.0), cold.value),
            cool=(kelvin_from_celsius(10.0), cool.value),
        )
        rate = np.where(celsius <= below, 1.0 / hours, 0.0)
        steps = np.diff(course.seconds) / 3600.0 * (rate[1:] + rate[:-1]) / 2.0
        share = maturing_share(np.concatenate([[0.0], np.cumsum(steps)]), gain_per_decade=slope)
        firm = np.flatnonzero(share >= _FIRM_ENOUGH)
        found.append(float(course.seconds[firm[0]]) / 60.0 if len(firm) else None)
    return found[0], found[1], found[2]
