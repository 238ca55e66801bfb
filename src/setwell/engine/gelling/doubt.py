"""What a law leaves open, before and after the kitchen's own measurements."""

from dataclasses import dataclass, fields
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.spans import Spans

Array = NDArray[np.float64]


Width = float | Array


class LawDoubt(NamedTuple):
    """Half widths of what an agent's own laws leave open, about 95 %, one or (n,).

    `strength` (modulus), `strain` (fracture strain) and `flow` (viscosity) on the natural log
    axis, `setting` and `melting` in K. The doubt of the inputs is not in here.
    """

    strength: Width = 0.0
    strain: Width = 0.0
    setting: Width = 0.0
    melting: Width = 0.0
    flow: Width = 0.0

    def at(self, row: int) -> "RowDoubt":
        """Return the half widths of one candidate."""
        return RowDoubt(*(float(np.broadcast_to(w, (row + 1,))[row]) for w in self))


class RowDoubt(NamedTuple):
    """The half widths of one candidate, as in LawDoubt."""

    strength: float = 0.0
    strain: float = 0.0
    setting: float = 0.0
    melting: float = 0.0
    flow: float = 0.0


class Correction(NamedTuple):
    """How far measurements move a quantity, what they leave open, and on how many it rests."""

    shift: float
    half_width: float
    readings: int
    is_disputed: bool = False


@dataclass(frozen=True, slots=True)
class Corrections:
    """The corrections of one agent; None where nothing was measured.

    `stress` is that of strength and strain together: a load at break says more of their product
    than of either.
    """

    strength: Correction | None = None
    strain: Correction | None = None
    setting: Correction | None = None
    melting: Correction | None = None
    flow: Correction | None = None
    stress: Correction | None = None

    @property
    def readings(self) -> int:
        """The most readings any of them rests on."""
        found = (getattr(self, field.name) for field in fields(self))
        return max((one.readings for one in found if one is not None), default=0)


UNCORRECTED = Corrections()


class Prior(NamedTuple):
    """What stands in for a correction where nothing was measured."""

    shift: float
    half_width: Width


def prior(half_width: Width) -> Prior:
    """Return the doubt of a law of which nothing was measured."""
    return Prior(0.0, half_width)


def widen_ratio(spans: Spans, *corrections: Correction | Prior) -> Spans:
    """Return spans moved and widened on the log axis; doubts join in quadrature."""
    shift = sum(one.shift for one in corrections)
    extra = np.sqrt(sum(np.square(one.half_width) for one in corrections))
    middle, low, high = spans
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        down, up = np.log(middle / low), np.log(high / middle)
        value = middle * np.exp(shift)
        least, most = value * np.exp(-np.hypot(down, extra)), value * np.exp(np.hypot(up, extra))
    # Where the middle is nothing, the high side stands on its own.
    is_some = middle > 0
    alone = high * np.exp(shift + extra)
    return Spans(value, np.where(is_some, least, 0.0), np.where(is_some, most, alone))


def widen_kelvin(spans: Spans, correction: Correction | Prior) -> Spans:
    """Return temperatures moved and widened; doubts join in quadrature."""
    value = spans.value + correction.shift
    return Spans(
        value,
        value - np.hypot(spans.value - spans.low, correction.half_width),
        value + np.hypot(spans.high - spans.value, correction.half_width),
    )
