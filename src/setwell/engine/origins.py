"""Which ingredients stand behind a figure: those that bring a share worth naming."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.acid_side import acid_side
from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.pipeline import BatchState
from setwell.engine.plan import Plan
from setwell.provenance import Evidence, evidence_join
from setwell.tables.heat import component_densities, spirit_densities

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
    # Many nutrients come from the same ingredients.
    joined: dict[bytes, Evidence] = {}
    found = {}
    for key, index in NUTRIENT_INDEX.items():
        named = counts[:, index]
        if named.tobytes() not in joined:
            joined[named.tobytes()] = _joined(plan, named)
        found[key] = joined[named.tobytes()]
    return found


def acidity_evidence(plan: Plan, state: BatchState, row: int = 0) -> Evidence:
    """Return the citations of the acids, buffers and pH of the ingredients that matter."""
    sides = [acid_side(material) for material in plan.materials]
    weight = np.array([side.totals.sum() + abs(side.strong) for side in sides])
    brought = np.abs(state.masses[row]) * weight
    total = brought.sum()
    if not total > 0:
        return ()
    named = [
        side for side, part in zip(sides, brought, strict=True) if part / total >= _WORTH_NAMING
    ]
    return evidence_join(side.evidence for side in named)


def density_evidence(state: BatchState, row: int = 0) -> Evidence:
    """Return the component densities, and those of spirits where there is alcohol."""
    parts = [(density.citation,) for density in component_densities().values()]
    if state.composition.of("alcohol_g")[row] > 0:
        parts += [(density.citation,) for density in spirit_densities()]
    return evidence_join(parts)


def _joined(plan: Plan, counts: NDArray[np.bool_]) -> Evidence:
    return evidence_join(
        material.evidence for material, is_named in zip(plan.materials, counts, strict=True)
        if is_named
    )  # fmt: skip
