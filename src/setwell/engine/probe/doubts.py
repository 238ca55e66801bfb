"""Verdicts that hang on a guess about the file: what changes with the guess is no verdict."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from setwell.domain.log_reading import LogDoubt, TemperatureUnit
from setwell.domain.log_reading.numbers import celsius_of
from setwell.domain.probe_log import ProbeLog, samples_pack
from setwell.engine.heat.results import AgentHeating
from setwell.engine.probe.results import Array, LogJudgement
from setwell.engine.probe.sample_flags import COLDEST_C, HOTTEST_C
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.engine.verdict import Verdict
from setwell.units.temperature import KELVIN_OFFSET

# Thousandths to hours of what was read: every unit that a bare number of a time may have.
_TIME_UNITS = (1e-3, 60.0, 3_600.0)
_CLOCK_PARTS = (1.0 / 60.0, 60.0)
_USUAL = TemperatureUnit.CELSIUS
_OTHER_TIME = "with the time in another unit"
_SAY = {
    LogDoubt.UNIT: "Say whether it is °C or °F when the file is read.",
    LogDoubt.TIME_UNIT: "Say the unit of the time when the file is read.",
    LogDoubt.CLOCK_PARTS: "Say whether the time is hours and minutes when the file is read.",
    LogDoubt.DATE_ORDER: "Say which of the figures in the dates is the day when the file is read.",
}


class OtherReading(NamedTuple):
    """A log as it would be if a guess were wrong, and that guess in words."""

    said: str
    log: ProbeLog


def doubts_told(doubts: Iterable[LogDoubt]) -> str:
    """Return what a person has to say, as an action."""
    return " ".join(_SAY[doubt] for doubt in doubts)


def other_readings(log: ProbeLog) -> tuple[OtherReading, ...]:
    """Return a log in every other unit that its file may have meant."""
    if not log.doubts or not log.count:
        return ()
    seconds, celsius = log.table
    units = [("", celsius), *_in_other_units(log, celsius)]
    return tuple(
        OtherReading(
            " and ".join(filter(None, (unit, "" if factor == 1.0 else _OTHER_TIME))),
            log.model_copy(update={
                "samples": samples_pack(seconds * factor, warm),
                "egg_in_s": None if log.egg_in_s is None else log.egg_in_s * factor,
                "doubts": (),
            }),
        )
        for unit, warm in units
        for factor in (1.0, *_time_factors(log))
        if unit or factor != 1.0
    )  # fmt: skip


def _in_other_units(log: ProbeLog, celsius: Array) -> list[tuple[str, Array]]:
    read_by = log.read_by
    if LogDoubt.UNIT not in log.doubts or read_by is None:
        return []
    read_as = read_by.probes or ()
    guessed = [place for place, probe in enumerate(log.probes) if probe.is_unit_guessed]
    found = []
    for unit in TemperatureUnit:
        other = celsius.copy()
        is_same = True
        for place in guessed:
            own = (read_as[place].unit if place < len(read_as) else None) or _USUAL
            is_same &= own is unit
            other[place] = celsius_of(_as_written(celsius[place], own), unit)
        if not is_same and _is_possible(other[guessed]):
            found.append((f"in {unit.value}", other))
    return found


def _as_written(celsius: Array, unit: TemperatureUnit) -> Array:
    if unit is TemperatureUnit.FAHRENHEIT:
        return np.asarray(celsius * 1.8 + 32.0)
    return celsius + KELVIN_OFFSET if unit is TemperatureUnit.KELVIN else celsius


def _is_possible(celsius: Array) -> bool:
    """True where most readings are those that a probe in a kitchen can show."""
    known = celsius[np.isfinite(celsius)]
    inside = (known >= COLDEST_C) & (known <= HOTTEST_C)
    return bool(len(known)) and float(inside.mean()) > 0.5


def _time_factors(log: ProbeLog) -> tuple[float, ...]:
    if LogDoubt.TIME_UNIT in log.doubts:
        return _TIME_UNITS
    return _CLOCK_PARTS if LogDoubt.CLOCK_PARTS in log.doubts else ()


def doubted(
    found: LogJudgement, log: ProbeLog, judge: Callable[[ProbeLog], LogJudgement]
) -> LogJudgement:
    """Return a judgement in which only what holds for every reading of the file is a verdict."""
    if not log.doubts:
        return found
    others = [(one.said, judge(one.log)) for one in other_readings(log)]
    say = doubts_told(log.doubts)
    is_unordered = LogDoubt.DATE_ORDER in log.doubts
    checks = []
    for check in found.checks:
        changed = [said for said, other in others if _ruled(other, check) is not check.ruling]
        if is_unordered and check.ruling is Ruling.PASS:
            changed.append("with day and month the other way around")
        checks.append(_open(check, changed, say) if changed else check)
    agents = tuple(_agent(agent, [other for _, other in others], say) for agent in found.agents)
    return replace(found, checks=tuple(checks), agents=agents)


def _ruled(other: LogJudgement, check: SafetyCheck) -> Ruling | None:
    return next((one.ruling for one in other.checks if one.key == check.key), None)


def _open(check: SafetyCheck, changed: Sequence[str], say: str) -> SafetyCheck:
    told = "; ".join(dict.fromkeys(changed))
    text = (
        f"The file does not say how it is written, and this would change {told}. As it was read "
        f"(“{check.ruling.value}”): {check.text}"
    )
    return replace(check, ruling=Ruling.CANNOT_TELL, text=text, action=say, margin=None)


def _agent(agent: AgentHeating, others: Sequence[LogJudgement], say: str) -> AgentHeating:
    same = [one.hydrates for found in others for one in found.agents if one.key == agent.key]
    if len(same) == len(others) and all(one is agent.hydrates for one in same):
        return agent
    text = f"{agent.text} That hangs on how the file is written. {say}"
    return replace(agent, hydrates=Verdict.CANNOT_TELL, text=text)
