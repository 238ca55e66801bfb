"""How fast an agent dissolves, straight from the tables, and what in the batch slows it."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import AgentInput
from setwell.errors import MissingDataError
from setwell.provenance import Evidence

Array = NDArray[np.float64]

# From where each thing slows, and how much of it the table figure is for.
_SUGAR_FROM_BX, _SUGAR_PER_BX = 20.0, 30.0
_SALT_FROM, _SALT_PER = 100.0, 1000.0
_ALCOHOL_FROM_PCT, _ALCOHOL_PER_PCT = 10.0, 20.0
# Nothing is known of stronger cases: a factor of about 50 on the time, 20 K on the window.
_LOG_MOST, _SHIFT_MOST_K, _SHIFT_LEAST_K = 4.0, 20.0, -60.0
# Calcium that was put in to set a gel mostly comes after the powder is in (our judgment) [mmol/kg].
_CALCIUM_MOST = 3.0
_PH_MOST = 2.0
# Beyond this many units every cap below is reached.
_UNITS_MOST = 10.0

_SLOWING = (
    "sugar_slowing",
    "sugar_onset_shift",
    "salt_slowing",
    "salt_onset_shift",
    "alcohol_slowing",
    "calcium_slowing",
    "calcium_onset_shift",
    "calcium_of_powder",
    "acid_slowing",
    "acid_slowing_ph",
    "unbloomed_slowing",
)


class Window(NamedTuple):
    """Temperatures in °C at which the first and the last particles dissolve."""

    onset: Parameter
    full: Parameter

    @property
    def is_cooling(self) -> bool:
        """True for powders such as methylcellulose, which only dissolve in the cold."""
        return self.onset.value > self.full.value


@dataclass(frozen=True, slots=True)
class Kinetics:
    """How an agent dissolves: time constant at `at_c`, and the window of its hot classes.

    `cold_share` needs no heat; the rest dissolves within the window, which None leaves out.
    """

    cold_share: Parameter
    window: Window | None
    minutes: Parameter
    at_c: float
    q10: float
    slowing: Mapping[str, Parameter]
    evidence: Evidence

    @property
    def needs_heat(self) -> bool:
        """True for powders of which some or all dissolves only when hot."""
        return self.window is not None and not self.window.is_cooling


class Slowed(NamedTuple):
    """What the batch adds to the log of the time, and to the window in K, each (3 cases, n)."""

    log_time: Array
    shift: Array


@cache
def kinetics(agent: str) -> Kinetics:
    """Return how an agent dissolves."""
    minutes, q10 = parameter(agent, "hydration_time_constant"), parameter(agent, "hydration_q10")
    onset, full = _found(agent, "hydration_onset"), _found(agent, "hydration_full")
    cold = parameter(agent, "hydration_cold_share")
    return Kinetics(
        cold_share=cold,
        window=None if onset is None or full is None else Window(onset, full),
        minutes=minutes,
        at_c=parameter(agent, "hydration_time_temperature").value,
        q10=q10.value,
        slowing={name: found for name in _SLOWING if (found := _found(agent, name)) is not None},
        evidence=evidence_of(
            *(found for found in (*_told(agent), onset, full, minutes, q10, cold) if found)
        ),
    )


def _told(agent: str) -> tuple[Parameter | None, ...]:
    """Return the temperatures that the cook is told; their sources stand first."""
    return (
        _found(agent, "hydration_temperature"),
        _found(agent, "whole_batch_temperature", "every part of the batch"),
    )


def _found(agent: str, name: str, conditions: str = "") -> Parameter | None:
    try:
        return parameter(agent, name, conditions)
    except MissingDataError:
        return None


def slowed(agent: AgentInput) -> Slowed:
    """Return what slows an agent, at its middle, at its worst and at its least.

    The steps seldom tell when sugar, salt, alcohol or calcium go in. Middle and worst take them
    as there from the start, the least as stirred in once the powder is dissolved.
    """
    found = kinetics(agent.key).slowing
    count = len(agent.dose_pct)
    logs, shifts = np.zeros((3, count)), np.zeros((3, count))
    for name, amount in _amounts(agent, found):
        if not amount.any():
            continue
        slowing, shift = found.get(f"{name}_slowing"), found.get(f"{name}_onset_shift")
        if slowing is not None:
            logs[0] += np.log(slowing.value) * amount
            logs[1] += np.log(slowing.high) * amount
        if shift is not None:
            shifts[0] += shift.value * amount
            shifts[1] += np.where(amount > 0, shift.high, shift.low) * amount
            # A sequestrant goes into the water first and helps from the start.
            shifts[2] += shift.high * np.minimum(amount, 0.0)
    unbloomed = found.get("unbloomed_slowing")
    if unbloomed is not None and not agent.path.bloom_steps:
        logs += np.log([unbloomed.value, unbloomed.high, unbloomed.low])[:, None]
    logs = np.minimum(logs, _LOG_MOST)
    shifts = np.minimum(np.maximum(shifts, _SHIFT_LEAST_K), _SHIFT_MOST_K)
    if agent.hotter_k is not None:
        # A pot that is hotter than it reads is a window that lies lower, and a quicker powder.
        shifts = shifts - agent.hotter_k
        logs = logs - agent.hotter_k * _log_rate_per_kelvin(kinetics(agent.key))
    if agent.longer_log is not None:
        logs = logs - agent.longer_log
    return Slowed(logs, shifts)


def _log_rate_per_kelvin(rates: Kinetics) -> float:
    # Powders that dissolve on cooling have their scale turned over.
    sign = -1.0 if rates.window is not None and rates.window.is_cooling else 1.0
    return sign * float(np.log(rates.q10)) / 10.0


def _amounts(agent: AgentInput, found: Mapping[str, Parameter]) -> list[tuple[str, Array]]:
    """Return how much of each slowing thing there is, in units of its table figure."""
    water = agent.water
    salt = agent.salts["sodium"].value + agent.salts["potassium"].value
    amounts = [
        ("sugar", _above(water.brix.value, _SUGAR_FROM_BX, _SUGAR_PER_BX)),
        ("salt", _above(salt, _SALT_FROM, _SALT_PER)),
        ("alcohol", _above(water.alcohol_by_volume.value, _ALCOHOL_FROM_PCT, _ALCOHOL_PER_PCT)),
    ]
    if "calcium_slowing" in found:
        amounts.append(
            ("calcium", np.minimum(np.fmax(water.free.calcium.value, 0.0), _CALCIUM_MOST))
        )
    if "calcium_onset_shift" in found:
        amounts.append(("calcium", _calcium_decades(agent, found["calcium_of_powder"].value)))
    if "acid_slowing_ph" in found and _acid_is_early(agent):
        short = found["acid_slowing_ph"].value - water.ph.value
        amounts.append(("acid", np.minimum(np.fmax(short, 0.0), _PH_MOST)))
    return amounts


def _above(amount: Array, start: float, unit: float) -> Array:
    # An amount that is not known slows nothing.
    return np.asarray(np.minimum(np.fmax(amount - start, 0.0) / unit, _UNITS_MOST))


def _calcium_decades(agent: AgentInput, own: float) -> Array:
    """Return free calcium over that of soft water, as a power of ten; a sequestrant is below 0.

    Calcium is that of the batch and what a sequestrant leaves of the powder's own.
    """
    free = agent.water.free
    left = np.maximum(1.0 - np.nan_to_num(free.calcium_held), 1e-3)
    soft = 2.0 * own
    # Water without any calcium is no better than soft water: the powder still holds its own.
    return np.asarray(np.fmax(np.log10((free.calcium.value + own * left) / soft), np.log10(left)))


def _acid_is_early(agent: AgentInput) -> bool:
    """True when the acid is in the pot as the powder goes in."""
    process = agent.process
    if process.acid_steps:
        return process.acid_steps[0] - 1 <= agent.path.enters
    return not (process.has_acid and process.is_acid_apart)
