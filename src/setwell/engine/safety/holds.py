"""Rows that ask for a temperature held for a time: one of them is enough."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from setwell.engine.safety.edges import Edges
from setwell.engine.safety.results import RowRuling, Ruling
from setwell.errors import InputError
from setwell.provenance import Citation, Estimate
from setwell.science.lethality.clocks import highest_held, longest_hold
from setwell.units import duration_print, temperature_change_print
from setwell.units.temperature import KELVIN_OFFSET

# Rounding of a clock [s], and of a temperature that was converted [°C].
_CLOCK_S, _ROUNDING_C = 1e-6, 1e-9
# Less than this is no margin worth telling [°C].
_NOTHING_C = 0.05
_HOLDS = "longest time without a break on straight lines between the points"
_DEGREES = "highest temperature kept up for the time of the row"


@dataclass(frozen=True, slots=True)
class HoldRow:
    """Hold this temperature [°C] everywhere for this time [s]; 0 = no hold."""

    key: str
    temperature_c: float
    # As the rule prints it: rounded, so not always the same as the °C.
    temperature_f: float
    time_s: float
    citation: Citation

    @property
    def is_for_a_kitchen(self) -> bool:
        """True where the hold can be timed by hand: no fractions of a second."""
        return self.time_s == 0.0 or self.time_s >= 1.0

    @property
    def needs(self) -> str:
        """What it asks for, as a cook reads it."""
        hold = f" for {time_print(self.time_s)}" if self.time_s else ", no hold needed"
        celsius = f"{self.temperature_c:.1f}".removesuffix(".0")
        return f"{celsius} °C ({self.temperature_f:g} °F){hold}"


def time_print(seconds: float) -> str:
    """Return a short time with the seconds that matter."""
    if seconds < 10.0 and seconds != round(seconds):
        return f"{seconds:.2g} s"
    whole = round(seconds)
    minutes, rest = divmod(whole, 60)
    if 60 < whole < 600 and rest:
        return f"{minutes} min {rest} s"
    return duration_print(seconds / 60.0)


def rows_judge(rows: Sequence[HoldRow], edges: Edges) -> tuple[RowRuling, ...]:
    """Return the ruling of every row on the low and the high edge of a course."""
    return tuple(_judge(row, edges) for row in rows)


def best_row(judged: Sequence[RowRuling]) -> RowRuling:
    """Return the row that is met most surely; failing that, the one that is missed least."""
    order = {Ruling.PASS: 2, Ruling.CANNOT_TELL: 1, Ruling.FAIL: 0}
    if not judged:
        raise InputError("There is no row to choose from.")

    def rank(row: RowRuling) -> tuple[int, float]:
        degrees = row.degrees
        sure = -np.inf if degrees is None else degrees.low if degrees.low is not None else -np.inf
        return order[row.ruling], float(sure)

    return max(judged, key=rank)


def _judge(row: HoldRow, edges: Edges) -> RowRuling:
    level = row.temperature_c + KELVIN_OFFSET - _ROUNDING_C
    holds = [longest_hold(edges.seconds, curve, level) for curve in edges.three]
    need = row.time_s - _CLOCK_S if row.time_s else 0.0
    if holds[0] >= need:
        ruling = Ruling.PASS
    else:
        ruling = Ruling.CANNOT_TELL if holds[2] >= need else Ruling.FAIL
    return RowRuling(
        row.key, row.needs, ruling, _degrees(row, edges), _minutes(row, holds), (row.citation,)
    )


def _minutes(row: HoldRow, holds: list[float]) -> Estimate | None:
    """Return how much longer it was held than asked; a row without a hold has no such margin."""
    if not row.time_s:
        return None
    low, middle, high = ((max(hold, 0.0) - row.time_s) / 60.0 for hold in holds)
    return Estimate(middle, "min", low, high, _HOLDS, (row.citation,))


def _degrees(row: HoldRow, edges: Edges) -> Estimate | None:
    """Return how much warmer it was kept than asked; None when the course is too short to tell."""
    kept = [highest_held(edges.seconds, curve, row.time_s) for curve in edges.three]
    if not np.isfinite(kept).all():
        return None
    low, middle, high = (kelvin - KELVIN_OFFSET - row.temperature_c for kelvin in kept)
    return Estimate(middle, "°C", low, high, _DEGREES, (row.citation,))


def margin_text(row: RowRuling) -> str:
    """Return the margin of a row in words, as the safe edge has it."""
    said = []
    if row.minutes is not None and row.minutes.low is not None:
        seconds = 60.0 * row.minutes.low
        word = "longer than asked" if seconds >= 0 else "short of the time"
        said.append(f"{time_print(abs(seconds))} {word}")
    if row.degrees is not None and row.degrees.low is not None:
        kelvin = row.degrees.low
        if abs(kelvin) < _NOTHING_C:
            return " and ".join([*said, "no degree to spare"])
        word = "warmer than asked" if kelvin >= 0 else "short of the temperature"
        said.append(f"{temperature_change_print(round(abs(kelvin), 1))} {word}")
    return " and ".join(said)
