"""The amounts of the lines of a plan as arrays: weighed, percentages, targets, ratios."""

from dataclasses import dataclass, replace
from typing import Self

import numpy as np
from numpy.typing import NDArray

from setwell.domain.amounts import AmountKind
from setwell.engine.resolve import Reading

Array = NDArray[np.float64]

# A formula in percentages only is read against this weight, if they add up to about 100.
_PERCENT_BATCH_G = 1000.0
_PERCENT_SLACK = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class LineAmounts:
    """Amounts of L lines; see `masses_solve` for how they become grams."""

    fixed: Array
    percent: Array
    existing: Array
    ratio: Array
    is_agent: Array
    make_up_to: float | None
    make_up_line: int | None
    n_make_up: int
    is_percent_only: bool

    def problems(self, evaporation: float) -> tuple[str, ...]:
        """Return why these amounts cannot be met together, if so."""
        told = []
        if self.n_make_up > 1:
            told.append(
                "Two lines make the batch up to a weight; only one can. Give the other a weight."
            )
        total = float(self.percent.sum())
        if self.is_percent_only:
            told.append(
                f"There are only percentages, and they add up to {total:g} %. Give at least one "
                "line a weight, or write percentages that add up to 100."
            )
        carried = float(self.percent @ (1.0 + self.ratio.sum() * self.is_agent))
        if carried * (1.0 - evaporation) >= 100.0 and not self.is_percent_only:
            told.append(
                f"The percentages add up to {total:g} % and leave nothing for the weighed lines. "
                "Check them, or write the formula in percentages only."
            )
        return tuple(told)

    def weighed_only(self) -> Self:
        """Return the amounts without percentages, targets and ratios."""
        return replace(
            self,
            fixed=np.where(self.percent > 0, 0.0, self.fixed),
            percent=np.zeros_like(self.percent),
            existing=np.zeros_like(self.existing),
            ratio=np.zeros_like(self.ratio),
            make_up_to=None,
            make_up_line=None,
        )


def line_amounts(lines: list[Reading]) -> LineAmounts:
    """Return the amounts of the lines that count."""
    fixed = np.array([reading.grams or 0.0 for reading in lines])
    percent = np.array([_percent(reading) for reading in lines])
    make_up = [row for row, reading in enumerate(lines) if _is_make_up(reading)]
    up_to = lines[make_up[0]].line.amount if make_up else None
    in_percent = bool(percent.any()) and not fixed.any() and not make_up
    adds_up = abs(float(percent.sum()) - 100.0) <= _PERCENT_SLACK
    if in_percent and adds_up:
        fixed, percent = percent * _PERCENT_BATCH_G / 100.0, np.zeros_like(percent)
    return LineAmounts(
        fixed=fixed,
        percent=percent,
        existing=_existing(lines),
        ratio=np.array([_ratio(reading) for reading in lines]),
        is_agent=np.array([float(_is_agent(reading)) for reading in lines]),
        make_up_to=up_to.grams if up_to is not None else None,
        make_up_line=make_up[0] if make_up else None,
        n_make_up=len(make_up),
        is_percent_only=in_percent and not adds_up,
    )


def _ratio(reading: Reading) -> float:
    return reading.line.ratio_with_agent or 0.0 if reading.is_ratio else 0.0


def _is_agent(reading: Reading) -> bool:
    return reading.material is not None and reading.material.agent is not None


def _percent(reading: Reading) -> float:
    relative = reading.kind in {AmountKind.PERCENT, AmountKind.PERCENT_TARGET}
    amount = reading.line.amount
    return amount.value if relative and amount is not None and reading.is_relative else 0.0


def _name(reading: Reading) -> str | None:
    """The same food or agent, whatever its grade."""
    return None if reading.material is None else reading.material.name


def _is_make_up(reading: Reading) -> bool:
    return reading.kind is AmountKind.MASS_TARGET and reading.is_relative


def _existing(lines: list[Reading]) -> Array:
    """Mark, for each "to so many percent" line, the other weighed lines of the same material."""
    marks = np.zeros((len(lines), len(lines)))
    for row, reading in enumerate(lines):
        if reading.kind is not AmountKind.PERCENT_TARGET or not reading.is_relative:
            continue
        for column, other in enumerate(lines):
            same = _name(other) is not None and _name(other) == _name(reading)
            marks[row, column] = float(same and column != row and not other.is_relative)
    return marks
