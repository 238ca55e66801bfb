"""How unevenly a pot is heated: the probe reads near the bottom, the top lags behind."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.domain.steps import Step, StepKind, Stirring
from setwell.engine.process import batch_temperature

Array = NDArray[np.float64]

# Top of an unstirred pot against its bottom: 85 °C below, 71 °C above (common practice).
_UNSTIRRED_C, _BOILING_C = 14.0, 1.0
_BY_STIRRING = {
    Stirring.OCCASIONAL: 5.0,
    Stirring.CONSTANT: 2.0,
    Stirring.BLENDER: 2.0,
}
# Most cooks stir now and then, whether they write it or not (our judgment).
_UNTOLD_C = 5.0
# Stirring is told, not how well: half as uneven up to half as uneven again (our judgment).
_TOLD_RANGE = (0.5, 1.5)
_BOILS_FROM_C = 98.0
# The lag was read at this temperature; it shrinks to nothing at room temperature.
_READ_AT_C, ROOM_C = 85.0, 20.0
# Bottom, core and top of the pot, a third of the batch each, as shares of the lag.
ZONES: Array = np.array([0.0, 0.5, 1.0])


class PotLags(NamedTuple):
    """How far the top of the pot lags the probe near its bottom, in °C where that reads 85 °C.

    `low_c` is the evenest pot that fits the steps, `high_c` the most uneven one.
    """

    value: float
    low_c: float
    high_c: float
    is_told: bool


def pot_lags(steps: tuple[Step, ...], enters: int = 0) -> PotLags:
    """Return the lag of the pot's top once an agent has gone in with step `enters`, from 0."""
    steps = steps[max(enters - 1, 0) :]
    told = _told_lag(steps)
    if told is None:
        return PotLags(_UNTOLD_C, _BOILING_C, _UNSTIRRED_C, is_told=False)
    low, high = (told * factor for factor in _TOLD_RANGE)
    return PotLags(told, low, min(high, _UNSTIRRED_C), is_told=True)


def unevenness(steps: tuple[Step, ...]) -> float:
    """Return how far the coldest part of the pot lags the thermometer, in °C; untold is worst."""
    told = _told_lag(steps)
    return _UNSTIRRED_C if told is None else told


def _told_lag(steps: tuple[Step, ...]) -> float | None:
    """Return the lag that the best mixing of the steps leaves; None when no step tells."""
    if any(_boils(step) for step in steps):
        return _BOILING_C
    return min(
        (
            _BY_STIRRING.get(step.stirring, _UNSTIRRED_C)
            for step in steps
            if step.stirring is not None
        ),
        default=None,
    )


def _boils(step: Step) -> bool:
    return step.kind is StepKind.BOIL or (batch_temperature(step) or 0.0) >= _BOILS_FROM_C


def zone_temperatures(celsius: Array, lags_c: Array) -> Array:
    """Return temperatures of bottom, core and top, (c, 3, p), from those of the probe, (c, p).

    `lags_c` (c,) is the lag of the top at 85 °C. Every zone lies between the probe and the room,
    on the cold side of room temperature as well: in the fridge the middle is the last to get cold.
    """
    behind = lags_c[:, None, None] / (_READ_AT_C - ROOM_C) * ZONES[:, None]
    probe = celsius[:, None, :]
    return np.asarray(probe - behind * (probe - ROOM_C))
