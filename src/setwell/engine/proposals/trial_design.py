"""Which cups a first trial set has: the middle several times, and one thing changed in each other.

The plan is the middle point repeated, every other cup one step away from it in one direction:
total dose at a fixed ratio, share of each agent at a fixed total, and each helper. Repeats of the
middle tell how far two cups of the same are apart, and placed first, halfway and last whether
anything drifts (NIST/SEMATECH e-Handbook, sections 5.3.3.7 and 5.5.4). Such a set tells the way
and about the size of each effect, not how two changes work together.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.provenance import Citation, Evidence, Grade

Array = NDArray[np.float64]

REPEATS = 3
# A cup is clearly felt to differ from another when it is this many times as stiff or as thick:
# several times what a finger just notices (our judgment). Below the other it is hardly felt.
FELT, HARDLY_FELT = 1.5, 1.2
# Steps of the dose that may be taken; the smallest one that is clearly felt is.
STEPS: tuple[float, ...] = (1.15, 1.2, 1.25, 1.3, 1.4, 1.5, 1.75, 2.0)
_USUAL_STEP = 1.3
# The odds of an agent against the others are doubled, which moves 50 % to 67 %.
_ODDS = 2.0
# A helper is left out, and where cups are few also doubled.
_MORE = 2.0
CUPS_LEAST, CUPS_MOST = 7, 11

DESIGN_EVIDENCE: Evidence = (
    Citation("nist_ehandbook_doe", "5.3.3.7, adding center points", Grade.UNVERIFIED),
    Citation("nist_ehandbook_doe", "5.5.4, mixture designs", Grade.UNVERIFIED),
    Citation("common_practice", "common practice, no source", Grade.ESTIMATED),
)


@dataclass(frozen=True, slots=True)
class Point:
    """One cup of the plan: what is changed, by how much, and its percents of agents and helpers.

    `kind` is center, dose, ratio or helper; `which` the number of the agent or helper.
    """

    kind: str
    factor: float
    percents: tuple[float, ...]
    which: int = -1

    @property
    def key(self) -> str:
        """A name for the point, the same in every set of its shape."""
        if self.kind == "center":
            return self.kind
        number = f" {self.which + 1}" if self.which >= 0 else ""
        return f"{self.kind}{number} times {self.factor:.3g}"


def dose_points(
    percents: tuple[float, ...], agents: int, *, is_wide: bool = False
) -> tuple[Point, ...]:
    """Return the candidates for a step of the total dose, down and up for each of STEPS.

    `is_wide` adds two steps each way, for a dose that is the only thing to change.
    """
    steps = {**dict.fromkeys(STEPS), **(dict.fromkeys(s * s for s in STEPS) if is_wide else {})}
    factors = [side for step in steps for side in (1.0 / step, step)]
    return tuple(
        Point("dose", factor, _scaled(percents, agents, factor))
        for factor in factors
        if sum(_scaled(percents, agents, factor)) < 100.0
    )


def fixed_points(percents: tuple[float, ...], agents: int, few: int) -> tuple[Point, ...]:
    """Return the center and the cups that do not wait for a step: ratios and helpers.

    `few` is how many doses come besides; helpers are doubled too while cups are short of seven.
    """
    ratios = [_ratio(percents, agents, which) for which in range(agents)] if agents > 1 else []
    helpers = range(agents, len(percents))
    without = [_helper(percents, n, 0.0, n - agents) for n in helpers]
    more = [_helper(percents, n, _MORE, n - agents) for n in helpers]
    count = REPEATS + few + len(ratios) + len(without)
    wanted = max(CUPS_LEAST - count, 0)
    return (Point("center", 1.0, percents), *ratios, *without, *more[:wanted])


def step_that_is_felt(points: tuple[Point, ...], felt: Array, middle: float) -> float:
    """Return the smallest step of the dose that is clearly felt both ways.

    `felt` is the stiffness or thickness of each dose point, `middle` that of the center; without
    numbers a usual step is taken.
    """
    if not middle > 0.0 or not np.isfinite(felt).any():
        return _USUAL_STEP
    with np.errstate(divide="ignore", invalid="ignore"):
        ratios = np.where(felt > 0.0, felt / middle, 0.0)
    found = {round(point.factor, 9): float(r) for point, r in zip(points, ratios, strict=True)}
    for step in STEPS:
        up = found.get(round(step, 9), 0.0)
        down = found.get(round(1.0 / step, 9), np.inf)
        if up >= FELT and down <= 1.0 / FELT:
            return step
    return STEPS[-1]


def _scaled(percents: tuple[float, ...], agents: int, factor: float) -> tuple[float, ...]:
    return tuple(pct * factor if n < agents else pct for n, pct in enumerate(percents))


def _ratio(percents: tuple[float, ...], agents: int, which: int) -> Point:
    """Return the same total dose with the odds of one agent against the others doubled."""
    total = sum(percents[:agents])
    weights = [pct * (_ODDS if n == which else 1.0) for n, pct in enumerate(percents[:agents])]
    moved = tuple(total * weight / sum(weights) for weight in weights)
    return Point("ratio", _ODDS, (*moved, *percents[agents:]), which)


def _helper(percents: tuple[float, ...], column: int, factor: float, which: int) -> Point:
    changed = tuple(pct * factor if n == column else pct for n, pct in enumerate(percents))
    return Point("helper", factor, changed, which)
