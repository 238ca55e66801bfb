"""The points that decide whether a batch works, with what to measure and how long one has."""

from collections.abc import Iterable
from dataclasses import replace
from math import ceil

import numpy as np
from numpy.typing import NDArray

from setwell.domain.steps import Step, StepKind
from setwell.engine.heat.pouring import pours
from setwell.engine.heat.results import CoolingResult, PotResult
from setwell.engine.heat.setting_levels import practice_level
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.rules.dispersion import needed_c
from setwell.engine.rules.eggs import egg_lines
from setwell.engine.safety.cooling import COMPUTED_LEAST_LEFT_S
from setwell.engine.texture_words import texture_words
from setwell.engine.timeline.results import CriticalPoint, Stage
from setwell.engine.timeline.stages import BESIDE
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate
from setwell.tables.agents import agent_rows
from setwell.tables.rules import FoodCodeRule, food_code_rules
from setwell.units import duration_print, temperature_print

Array = NDArray[np.float64]

# Hot acid cuts chains within minutes; at this temperature hardly (common practice) [°C].
ACID_AT_C = 60.0
# An agent that melts below this is often dissolved in a part of the batch [°C].
_WHOLE_BATCH_FROM_C = 60.0
# How fast a pot off the heat cools, quick, middle and slow kitchen [°C/min] (our own judgment).
_POT_COOLS_C_MIN = (5.0, 2.0, 0.8)
_WARMING = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD})
_HOT_HOLDING_C = 57.0


def critical_points(
    bench: Bench,
    stages: tuple[Stage, ...],
    *,
    pot: PotResult | None,
    cooling: CoolingResult | None,
) -> tuple[CriticalPoint, ...]:
    """Return the points in the order in which they come up."""
    found = [
        *_hydrate(bench, stages, pot),
        *_egg(bench, stages),
        *_acid(bench, stages),
        *_pour(bench, stages),
        *_chill(bench, stages, cooling),
    ]
    order = {"hydrate": 0, "egg": 1, "acid": 2, "pour": 3, "chill_21": 4, "chill_5": 5}
    return tuple(sorted(found, key=lambda point: (_time(point), order.get(point.key, 9))))


def _time(point: CriticalPoint) -> float:
    return float("inf") if point.at is None else point.at.value


def _hydrate(
    bench: Bench, stages: tuple[Stage, ...], pot: PotResult | None
) -> Iterable[CriticalPoint]:
    for key in bench.agents:
        if agent_rows()[key].is_cold_soluble:
            continue
        needed = needed_c(key)
        hottest = _hottest(bench.steps, stages)
        heated = next((a for a in pot.agents if a.key == key), None) if pot else None
        whole = needed >= _WHOLE_BATCH_FROM_C
        yield CriticalPoint(
            key="hydrate",
            stage=0 if hottest is None else hottest.number,
            title=f"{bench.name(key)} dissolved",
            target=f"{temperature_print(needed)} or hotter"
            + (" in the whole batch" if whole else " until it is clear"),
            target_c=needed,
            at=None if hottest is None else _later(hottest.start, hottest.minutes),
            window=None if heated is None else heated.done.estimate,
            window_text="" if heated is None else heated.text,
            measure="Probe bottom, middle and top; the lowest counts."
            if whole
            else "Look for grains on the back of a spoon; none may be left.",
            verdict=bench_verdict(bench, key) if heated is None else heated.hydrates,
            evidence=bench.state.agents[key].origins.hydration,
        )


def bench_verdict(bench: Bench, key: str) -> Verdict:
    """Return whether an agent dissolves by the steps alone."""
    code = int(bench.state.agents[key].hydrates[0])
    return {1: Verdict.YES, -1: Verdict.NO}.get(code, Verdict.CANNOT_TELL)


def _egg(bench: Bench, stages: tuple[Stage, ...]) -> Iterable[CriticalPoint]:
    if not egg_lines(bench):
        return
    rules = food_code_rules()
    instant, held = rules["eggs_held_70"], rules["eggs_held"]
    hottest = _hottest(bench.steps, stages)
    yield CriticalPoint(
        key="egg",
        stage=0 if hottest is None else hottest.number,
        title="Egg cooked through",
        target=f"{_as_printed(instant)} in the coldest spot, or {_as_printed(held)} for "
        f"{held.time_s or 0.0:.0f} s",
        target_c=instant.temperature_c,
        at=None if hottest is None else _later(hottest.start, hottest.minutes),
        window=None,
        window_text="Local code decides.",
        measure="Probe the coldest spot: the top and the corners.",
        evidence=(instant.citation, held.citation),
    )


def _as_printed(rule: FoodCodeRule) -> str:
    """Return the temperature of a rule as the law prints it: its °F are not the °C converted."""
    return f"{rule.temperature_c:g} °C ({rule.temperature_f:g} °F)"


def _acid(bench: Bench, stages: tuple[Stage, ...]) -> Iterable[CriticalPoint]:
    process = bench.state.process
    if not process.acid_steps:
        return
    stage = next((one for one in stages if one.number == process.acid_steps[0]), None)
    begins = _setting(bench)
    goes_in = bench.steps[process.acid_steps[0] - 1].temperature_c
    limit = ACID_AT_C if begins is None or begins < ACID_AT_C else begins
    above = "" if begins is None else f", above {temperature_print(begins)} where it sets"
    hot = stage.begin_c if goes_in is None and stage is not None else goes_in
    verdict = None if hot is None else Verdict.YES if hot <= limit + 5.0 else Verdict.NO
    yield CriticalPoint(
        key="acid",
        stage=process.acid_steps[0],
        title="Acid goes in late and not too hot",
        target=f"about {temperature_print(limit)}{above}",
        target_c=limit,
        at=None if stage is None else stage.start,
        window=None,
        window_text="Stir it in and pour at once: hot acid cuts the chains within minutes.",
        measure="Probe the pot before the acid; read the pH of a cooled spoonful after.",
        verdict=verdict,
        evidence=PRACTICE,
    )


def _pour(bench: Bench, stages: tuple[Stage, ...]) -> Iterable[CriticalPoint]:
    begins = _setting(bench)
    setting = _begins_at(bench)
    if begins is None or setting is None:
        return
    stage = _pouring(bench.steps, stages)
    told = None
    if stage is not None:
        told = bench.steps[stage.number - 1].temperature_c
    hot = _hot_before(stages, stage) if told is None else told
    window = None if hot is None else _until_set(hot, setting)
    yield CriticalPoint(
        key="pour",
        stage=0 if stage is None else stage.number,
        title="Pour while it is liquid",
        target=f"above {temperature_print(begins)}",
        target_c=begins,
        at=None if stage is None else stage.start,
        window=window,
        window_text=_left(window),
        measure="Probe the pot where it is coolest: at the wall and on top.",
        verdict=_pours_hot(hot, setting),
        evidence=setting.evidence,
    )


def _left(window: Estimate | None) -> str:
    """Say how long a cook has."""
    if window is None:
        return ""
    if window.value < 0.5:
        return "It may set in the pot already."
    ends = (max(round(end or 0.0), 0) for end in (window.low, window.high))
    least, most = ends
    return f"Off the heat it sets in the pot in about {window.value:.0f} min ({least} to {most})."


def _pours_hot(hot: float | None, setting: Estimate) -> Verdict | None:
    if hot is None:
        return None
    low, high = (setting.value if end is None else end for end in (setting.low, setting.high))
    if hot > high:
        return Verdict.YES
    return Verdict.CANNOT_TELL if hot > low else Verdict.NO


def _pouring(steps: tuple[Step, ...], stages: tuple[Stage, ...]) -> Stage | None:
    """Return the stage that fills the molds."""
    return next((one for one in stages if one.number and pours(steps[one.number - 1])), None)


def _until_set(hot_c: float, setting: Estimate) -> Estimate:
    """Return the minutes a pot off the heat stays above its setting temperature."""
    ends = (setting.high, setting.value, setting.low)
    low, value, high = (
        max((hot_c - (setting.value if end is None else end)) / pace, 0.0)
        for end, pace in zip(ends, _POT_COOLS_C_MIN, strict=True)
    )
    model = "a pot off the heat loses 0.8 to 5 °C a minute, our own judgment"
    return Estimate(value, "min", low, high, model, (*PRACTICE, *setting.evidence))


def _chill(
    bench: Bench, stages: tuple[Stage, ...], cooling: CoolingResult | None
) -> Iterable[CriticalPoint]:
    peak = float(bench.state.process.peak_c[0])
    if not peak > _HOT_HOLDING_C:
        return
    rules = food_code_rules()
    stage = next(
        (one for one in stages if one.kind in {StepKind.CHILL.value, StepKind.FREEZE.value}), None
    )
    if stage is None and cooling is None:
        return
    poured = _pouring(bench.steps, stages) or stage
    for key, moment_key, rule in (
        ("chill_21", "21", rules["cooling_first_stage"]),
        ("chill_5", "5", rules["cooling_total"]),
    ):
        moment = None if cooling is None else cooling.moment(moment_key)
        limit = (rule.time_s or 0.0) / 60.0
        estimate = None if moment is None else moment.estimate
        yield CriticalPoint(
            key=key,
            stage=0 if stage is None else stage.number,
            title=f"Core down to {temperature_print(rule.temperature_c or 0.0)}",
            target=f"within {duration_print(limit)} after "
            f"{temperature_print(rule.start_temperature_c or _HOT_HOLDING_C)}",
            target_c=rule.temperature_c,
            at=_later(poured.start, estimate) if poured is not None and estimate else None,
            window=estimate,
            window_text="" if moment is None else moment.text,
            measure="Probe the middle of the fullest mold.",
            verdict=_in_time(cooling, rule, limit),
            evidence=(rule.citation,),
        )


def _in_time(cooling: CoolingResult | None, rule: FoodCodeRule, limit: float) -> Verdict | None:
    """Compare the time in the mold from the hot limit down with what the rule allows."""
    if cooling is None:
        return None
    core = cooling.core
    hot, cold = rule.start_temperature_c or _HOT_HOLDING_C, rule.temperature_c or 0.0
    slow, quick = (_between(core.seconds, path, hot, cold) for path in (core.high_c, core.low_c))
    is_in_time = slow is not None and slow <= limit - COMPUTED_LEAST_LEFT_S / 60.0
    if is_in_time and core.high_c[0] >= hot and not core.left_out:
        return Verdict.YES
    if quick is not None and quick > limit:
        return Verdict.NO
    return Verdict.CANNOT_TELL


def _between(seconds: Array, path: Array, hot: float, cold: float) -> float | None:
    """Return the minutes a falling path takes from one temperature to another."""
    end = _fallen(seconds, path, cold)
    return None if end is None else (end - (_fallen(seconds, path, hot) or 0.0)) / 60.0


def _fallen(seconds: Array, path: Array, degrees: float) -> float | None:
    """Return when a path first is down at a temperature [s]."""
    there = np.nonzero(path <= degrees)[0]
    if not len(there):
        return None
    n = int(there[0])
    if n == 0:
        return float(seconds[0])
    share = (path[n - 1] - degrees) / (path[n - 1] - path[n])
    return float(seconds[n - 1] + share * (seconds[n] - seconds[n - 1]))


def _setting(bench: Bench) -> float | None:
    """Return the hottest temperature at which something may begin to set."""
    setting = _begins_at(bench)
    if setting is None:
        return None
    highest = setting.value if setting.high is None else max(setting.high, setting.value)
    # Not known to a tenth of a degree: the next whole one is on the safe side.
    return float(ceil(highest))


def _begins_at(bench: Bench) -> Estimate | None:
    """Return where it sets; kitchens may see it begin warmer, and that counts at the high end."""
    setting = texture_words(bench).first_set_c
    seen = practice_level(bench)
    if setting is None or seen is None:
        return setting
    evidence = (*setting.evidence, *seen.evidence)
    return replace(setting, high=seen.celsius.high, evidence=tuple(dict.fromkeys(evidence)))


def _hottest(steps: tuple[Step, ...], stages: tuple[Stage, ...]) -> Stage | None:
    """Return the last of the stages that make the batch hottest."""
    warm = [
        one
        for one in stages
        if one.number and steps[one.number - 1].kind in _WARMING and one.note != BESIDE
    ]
    top = max((one.end_c for one in warm), default=None)
    return next((one for one in reversed(warm) if one.end_c == top), None)


def _hot_before(stages: tuple[Stage, ...], stage: Stage | None) -> float | None:
    if stage is not None:
        return stage.begin_c
    return max((one.end_c for one in stages), default=None)


def _later(start: Estimate, by: Estimate) -> Estimate:
    """Return a time so many minutes after another."""
    low = (start.low or 0.0) + (by.value if by.low is None else by.low)
    high = None
    if start.high is not None and by.high is not None:
        high = start.high + by.high
    return Estimate(start.value + by.value, "min", low, high, start.model, by.evidence)
