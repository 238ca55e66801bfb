"""Many kitchens at once: their weights, pots, lots and waters, and what becomes of the batch."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from setwell.domain.kitchen_profile import KitchenProfile
from setwell.domain.steps import Step
from setwell.engine.disturbances import Disturbances
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.material import Span
from setwell.engine.pipeline import BatchState, batch_assess
from setwell.engine.plan import Plan
from setwell.provenance import Evidence

Array = NDArray[np.float64]

# No batch boils off more than this [share].
_STEAM_MOST = 0.9


@dataclass(frozen=True, slots=True)
class Case:
    """A formula as one kitchen writes it, and the kitchens that cook it.

    `eased` are factors on the spread of a thing by its key, as a change may narrow it;
    `premixed` the rows whose dose is weighed as part of a larger mix.
    """

    plan: Plan
    steps: tuple[Step, ...]
    line_masses: Array
    state: BatchState
    profile: KitchenProfile
    corrections: Mapping[str, Corrections] = field(default_factory=dict)
    measured_ph: Span | None = None
    ph_offset: float = 0.0
    eased: Mapping[str, float] = field(default_factory=dict)
    premixed: frozenset[int] = frozenset()

    def ease(self, key: str) -> float:
        """Return the factor on the spread of a thing."""
        return self.eased.get(key, 1.0)

    def easing(self, key: str, factor: float) -> "Case":
        """Return the case with the spread of one thing narrowed."""
        return replace(self, eased={**self.eased, key: factor})

    def settled(self) -> "Case":
        """Return the case with its batch as written computed again."""
        state = batch_assess(
            self.plan, self.line_masses[None, :], steps=self.steps,
            measured_ph=self.measured_ph, ph_offset=self.ph_offset, corrections=self.corrections,
        )  # fmt: skip
        return replace(self, state=state)


class Kitchens:
    """What n kitchens make of a case; each thing that differs writes its part."""

    def __init__(self, case: Case, count: int) -> None:
        zero = np.zeros(count)
        self.masses = np.repeat(case.line_masses[None, :], count, axis=0)
        self.evaporation = np.full(count, case.plan.evaporation)
        self.hotter_k, self.longer_log = zero.copy(), zero.copy()
        self.ph, self.milk_protein = zero.copy(), np.ones(count)
        self.coldest_k, self.serving_k = zero.copy(), zero.copy()
        self.strength: dict[str, Array] = {}
        self.metal_factor: dict[str, Array] = {}
        self.added_mmol: dict[str, Array] = {}

    @property
    def disturbances(self) -> Disturbances:
        """What differs besides the weights and the steam."""
        return Disturbances(
            hotter_k=self.hotter_k, longer_log=self.longer_log, ph=self.ph,
            milk_protein=self.milk_protein, coldest_k=self.coldest_k, serving_k=self.serving_k,
            strength=self.strength, metal_factor=self.metal_factor, added_mmol=self.added_mmol,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Factor:
    """One thing that differs between kitchens: from so many points to its part of a kitchen.

    `spread` tells how much it differs, in words for this profile.
    """

    key: str
    name: str
    columns: int
    apply: Callable[[Array, Kitchens, Case], None]
    spread: Callable[[Case], str]
    evidence: Evidence = ()


def batches(case: Case, factors: Sequence[Factor], points: Array) -> BatchState:
    """Return the batches of as many kitchens as there are points (n, columns of all factors)."""
    kitchens = Kitchens(case, len(points))
    start = 0
    for factor in factors:
        factor.apply(points[:, start : start + factor.columns], kitchens, case)
        start += factor.columns
    return batch_assess(
        case.plan,
        kitchens.masses,
        evaporation=np.clip(kitchens.evaporation, 0.0, _STEAM_MOST),
        steps=case.steps,
        measured_ph=case.measured_ph,
        ph_offset=case.ph_offset,
        corrections=case.corrections,
        disturbed=kitchens.disturbances,
    )


def columns_of(factors: Sequence[Factor]) -> list[list[int]]:
    """Return the columns of each factor."""
    ends = np.cumsum([0, *(factor.columns for factor in factors)])
    return [list(range(start, stop)) for start, stop in pairwise(ends.tolist())]
