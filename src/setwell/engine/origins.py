"""Which ingredients stand behind a figure: those that bring a share worth naming."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.pipeline import BatchState
from setwell.engine.plan import Plan
from setwell.provenance import Evidence, evidence_join

Array = NDArray[np.float64]

# An ingredient that brings less than this share of a figure does not decide how good it is.
_WORTH_NAMING = 0.01


def material_evidence(plan: Plan) -> Evidence:
    """Return the citations of all materials of a plan."""
    return evidence_join(material.evidence for material in plan.materials)


def nutrient_evidence(plan: Plan, state: BatchState, row: int = 0) -> dict[str, Evidence]:
    """Return, per nutrient, the citations of the ingredients that bring it or may bring it."""
    if not plan.materials:
        return dict.fromkeys(NUTRIENT_INDEX, ())
    masses = np.abs(state.masses[row])
    content = np.stack([material.nutrients for material in plan.materials])
    brought = masses[:, None] * np.nan_to_num(content, nan=0.0)
    total = brought.sum(axis=0)
    share = np.divide(brought, total, out=np.zeros_like(brought), where=total > 0)
    in_batch = masses / masses.sum() if masses.sum() > 0 else masses
    # Where nobody brings any, the main ingredients are what says so.
    share = np.where(total > 0, share, in_batch[:, None])
    counts = (share >= _WORTH_NAMING) | (np.isnan(content) & (masses > 0)[:, None])
    return {key: _joined(plan, counts[:, index]) for key, index in NUTRIENT_INDEX.items()}


def acidity_evidence(plan: Plan, state: BatchState, row: int = 0) -> Evidence:
    """Return the citations of pH and buffering of the ingredients that pull the pH."""
    masses = np.clip(state.masses[row], 0.0, None)
    pull = masses * np.array([m.buffering.value * (m.ph is not None) for m in plan.materials])
    total = pull.sum()
    named = [
        material
        for material, force in zip(plan.materials, pull, strict=True)
        if total > 0 and force / total >= _WORTH_NAMING
    ]
    found = [c for m in named for c in (m.ph_citation, m.buffering_citation) if c is not None]
    return tuple(dict.fromkeys(found))


def _joined(plan: Plan, counts: NDArray[np.bool_]) -> Evidence:
    return evidence_join(
        material.evidence for material, is_named in zip(plan.materials, counts, strict=True)
        if is_named
    )  # fmt: skip
