"""Assess a formula with what this kitchen has."""

from setwell.domain.formula import Formula
from setwell.domain.process_plan import PotPlan
from setwell.engine.assess import assess
from setwell.engine.assessment import Assessment
from setwell.services.calibration import calibration_for
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.process_plans import plan_saved
from setwell.services.texture_calibration import corrections_for


def formula_assess(
    *,
    formula: Formula,
    formula_id: int | None = None,
    number: int | None = None,
    batch_g: float | None = None,
) -> Assessment:
    """Return everything that can be computed for a formula, saved or not.

    A stored version is named by `formula_id` and `number`, writing that will be saved as one
    by `formula_id` alone. pH readings of this kitchen count as `calibration_for` has it,
    texture readings and lot checks as `corrections_for` has it. A stored version is heated in
    the pot of its process plan, where one was saved with it; `batch_g` is what goes into that
    pot, where that is another batch than planned. All weights stay those of the formula.
    """
    readings = calibration_for(formula=formula, formula_id=formula_id, number=number)
    textures = corrections_for(formula=formula, formula_id=formula_id, number=number)
    return assess(
        formula,
        catalog=kitchen_catalog(),
        parts=parts_for(formula),
        measured_ph=readings.measured,
        ph_offset=readings.offset,
        corrections=textures.corrections,
        pot=_pot(formula_id, number, batch_g),
    )


def _pot(formula_id: int | None, number: int | None, batch_g: float | None) -> PotPlan | None:
    if formula_id is None or number is None:
        return None
    plan = plan_saved(formula_id=formula_id, number=number)
    if plan is None or plan.pot is None or batch_g is None:
        return plan.pot if plan else None
    return plan.pot.model_copy(update={"batch_g": batch_g})
