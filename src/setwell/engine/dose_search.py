"""Doses for many batches at once, with the doubt in what the batch and the additive are."""

from collections.abc import Mapping
from typing import NamedTuple, Protocol, Self

import numpy as np
from numpy.typing import NDArray

from setwell.engine.acid_additives import AcidAdditive
from setwell.engine.acid_side import (
    AcidSide,
    acid_side,
    system_index,
    systems_taken,
    water_at,
)
from setwell.engine.acidity import Solution
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.engine.pipeline import AgentColumns, BatchState
from setwell.engine.plan import Plan
from setwell.engine.spans import Spans
from setwell.errors import OutOfRangeError
from setwell.science.solution.dosing import Additive, Dose, dose_for_ph

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

_CELSIUS = 25.0
_PH_MOST = 14.0
# The buffers whose doubt is followed through; the rest moves the dose by less than it shows.
_LOUDEST = 6


class Weighed(Protocol):
    """A formula that was read, weighed and computed: all that a dose has to know of it."""

    @property
    def plan(self) -> Plan:
        """The plan of the formula."""

    @property
    def state(self) -> BatchState:
        """What was computed for its candidates."""

    @property
    def agents(self) -> Mapping[str, AgentColumns]:
        """Its agents by key."""

    def name(self, agent: str) -> str:
        """Return the name an agent goes by."""


class Start(NamedTuple):
    """What n batches are before the dose; `is_computed` is False where a reading counts."""

    masses: Array
    water_g: Array
    ph: Spans
    amounts: Solution
    is_solved: Mask
    is_computed: bool

    @classmethod
    def of(cls, state: BatchState, rows: slice = slice(None)) -> Self:
        """Return all candidates of a state, or some."""
        water = state.water
        amounts = water.acidity.amounts
        return cls(
            state.masses[rows],
            water.water_g[rows],
            Spans(*(end[rows] for end in water.ph)),
            Solution(amounts.totals[rows], amounts.strong[rows], amounts.strong_strength[rows]),
            water.acidity.is_solved[rows],
            water.ph is water.acidity.ph,
        )


class Doses(NamedTuple):
    """Grams for each of n batches, the pH they give, and whether that is the target.

    The high side is infinite where a doubtful batch might take more than anyone would add.
    """

    grams: Spans
    ph: Array
    is_reachable: Mask


def target_check(ph: float) -> float:
    """Return the pH, or refuse one that no kitchen can have."""
    if not (np.isfinite(ph) and 0.0 <= ph <= _PH_MOST):
        raise OutOfRangeError(
            f"A target of pH {ph:g} is not possible; pH runs from 0 to 14.",
            field="target_ph",
            hint="Most kitchens work between 2.5 and 8.",
        )
    return ph


def own_water(material: Material) -> float:
    """Return the water in a kilogram of a material, in kg."""
    return float(np.nan_to_num(material.nutrients[NUTRIENT_INDEX["water_g"]])) / 100.0


def ends_of(start: Start) -> Solution:
    """Return the batches at their pH, at its low and at its high end: 3 times n rows.

    Where a reading counts, the strong ions, which nobody lists, are what gives way.
    """
    amounts, ph = start.amounts, start.ph
    middle = amounts.strong if start.is_computed else amounts.strong_for(ph.value)
    return Solution(
        np.concatenate([amounts.totals] * 3),
        np.concatenate([middle, amounts.strong_for(ph.low), amounts.strong_for(ph.high)]),
        np.concatenate([amounts.strong_strength] * 3),
    )


def doses(
    start: Start, materials: tuple[Material, ...], target_ph: float, additive: AcidAdditive
) -> Doses:
    """Return how much of an additive brings each of n batches to a pH.

    The range follows the doubt in the pH now, in the buffers on the way and in the additive.
    Where a batch has too little water the dose is zero and not reachable. Raises
    OutOfRangeError for a pH outside 0 to 14.
    """
    target_check(target_ph)
    count = len(start.masses)
    baths, side = _doubted(start, materials), acid_side(additive.material)
    found = _dose(baths, side, additive, target_ph)
    is_short = ~found.is_reachable & (found.amount > 0)
    amount = np.where(is_short, np.inf, found.amount).reshape(-1, count)
    reached = found.is_reachable[:count] & start.is_solved
    middle = np.where(reached, amount[0], 0.0)
    up, down = _spread(amount - middle)
    own = middle * np.expm1(side.total_log_half_width)
    low, high = middle - np.sqrt(down + own**2), middle + np.sqrt(up + own**2)
    if side.totals[system_index()["carbonic"]] > 0:
        low = np.minimum(low, _without_gas(baths, side, additive, target_ph, count))
    bounds = (middle, np.clip(low, 0.0, None), high)
    grams = Spans(*(np.where(reached, part, 0.0) * start.water_g for part in bounds))
    return Doses(grams, found.ph[:count], reached)


def _doubted(start: Start, materials: tuple[Material, ...]) -> Solution:
    """Return the ends of the pH now, and each doubtful material with fewer and more acids."""
    ends = ends_of(start)
    per_water = np.divide(
        start.masses, start.water_g[:, None], out=np.zeros_like(start.masses),
        where=start.is_solved[:, None],
    )  # fmt: skip
    totals = list[Array]()
    for column, side in _loudest(start.masses, materials):
        brought = per_water[:, column, None] * side.totals
        factor = np.exp(side.total_log_half_width)
        for change in (1.0 / factor - 1.0, factor - 1.0):
            totals.append(np.clip(start.amounts.totals + change * brought, 0.0, None))
    if not totals:
        return ends
    stacked = np.concatenate(totals)
    strength = np.concatenate([start.amounts.strong_strength] * len(totals))
    # More or fewer acids, but the same pH: that is what is known of the batch.
    held = Solution(stacked, np.zeros(len(stacked)), strength)
    strong = held.strong_for(np.concatenate([start.ph.value] * len(totals)))
    return Solution(
        np.concatenate([ends.totals, stacked]),
        np.concatenate([ends.strong, strong]),
        np.concatenate([ends.strong_strength, strength]),
    )


def _loudest(masses: Array, materials: tuple[Material, ...]) -> list[tuple[int, AcidSide]]:
    sides = [acid_side(material) for material in materials]
    weight = [
        float(np.abs(masses[:, column]).max()) * side.totals.sum() * side.total_log_half_width
        for column, side in enumerate(sides)
    ]
    order = [int(column) for column in np.argsort(weight)[::-1][:_LOUDEST]]
    return [(column, sides[column]) for column in order if weight[column] > 0]


def _dose(
    baths: Solution,
    side: AcidSide,
    additive: AcidAdditive,
    target_ph: float,
    *,
    has_gas: bool = True,
) -> Dose:
    brought = side.totals.copy()
    if not has_gas:
        brought[system_index()["carbonic"]] = 0.0
    columns = np.flatnonzero((baths.totals > 0).any(axis=0) | (brought > 0))
    return dose_for_ph(
        baths.totals[:, columns],
        baths.strong,
        target_ph=target_ph,
        additive=Additive(brought[columns], side.strong, own_water(additive.material)),
        acids=systems_taken(_CELSIUS, columns),
        water=water_at(_CELSIUS),
        strong_ionic_strength=baths.strong_strength,
        most=additive.most,
    )


def _spread(off: Array) -> tuple[Array, Array]:
    """Return the squared way up and down of all doubts together.

    Rows 1 and 2 are the ends of the pH now; then each material with fewer and with more acids.
    """
    up, down = np.zeros_like(off[0]), np.zeros_like(off[0])
    for first in range(1, len(off), 2):
        pair = off[first : first + 2]
        up += np.clip(pair.max(axis=0), 0.0, None) ** 2
        down += np.clip(-pair.min(axis=0), 0.0, None) ** 2
    return up, down


def _without_gas(
    baths: Solution, side: AcidSide, additive: AcidAdditive, target_ph: float, count: int
) -> Array:
    """Return the dose that is enough when all carbon dioxide of the additive leaves."""
    middle = Solution(baths.totals[:count], baths.strong[:count], baths.strong_strength[:count])
    found = _dose(middle, side, additive, target_ph, has_gas=False)
    return np.where(found.is_reachable, found.amount, np.inf)


def acid_loads(materials: tuple[Material, ...], ph: float) -> Array:
    """Return the base in mol that a kilogram of each material asks for at a pH; shape (k,)."""
    sides = [acid_side(material) for material in materials]
    if not sides:
        return np.zeros(0)
    # Amounts as in a batch, not as in a pure powder, or the activities would run away.
    thin = 0.05
    totals = thin * np.stack([side.totals for side in sides])
    strength = thin * np.clip([side.ionic for side in sides], 0.0, None)
    held = Solution(totals, np.zeros(len(sides)), strength).strong_for(np.full(len(sides), ph))
    return np.asarray(held / thin - [side.strong for side in sides])
