"""For which batch a process plan is, and the same plan for another batch."""

import math
from dataclasses import replace

from setwell.domain.formula import Formula
from setwell.domain.process_plan import CoolPlan, ProcessPlan
from setwell.services.formulas import version_get
from setwell.services.process import ProcessAnswer, ProcessAsk, plan_of, process_of
from setwell.services.process_bench import kitchen_bench
from setwell.services.process_plans import mold_volume
from setwell.services.scale_up_plan import MOLD_DIFFERS

# A batch this near to the one as written is that one [share].
SAME_BATCH = 0.005
_MOLDS_MOST = 10_000


def batch_planned(answer: ProcessAnswer) -> float:
    """Return what is weighed in for a plan [g]: as told, as the pot holds, or as the molds do."""
    plan = answer.plan.plan
    told = answer.ask.batch_g or (plan.pot.batch_g if plan.pot else None)
    return told or answer.written_g * _molds_share(answer.formula, plan.cooling)


def is_as_written(answer: ProcessAnswer, grams: float) -> bool:
    """Say whether a batch is the one of the formula."""
    return abs(grams - answer.written_g) <= SAME_BATCH * answer.written_g


def answer_planned(answer: ProcessAnswer) -> ProcessAnswer:
    """Return the process with its pot computed for the batch that the molds of the plan take."""
    planned, pot = batch_planned(answer), answer.plan.plan.pot
    if pot is None or pot.batch_g is not None or is_as_written(answer, planned):
        return answer
    changed = pot.model_copy(update={"batch_g": planned})
    return _computed(answer, answer.plan.plan.model_copy(update={"pot": changed}), planned)


def answer_as_written(answer: ProcessAnswer) -> ProcessAnswer:
    """Return the process of the batch as written, in the same pot and the same molds."""
    planned = batch_planned(answer)
    if is_as_written(answer, planned):
        return answer
    plan = _plan_at(answer.plan.plan, answer.formula, answer.written_g / planned)
    pot = plan.pot.model_copy(update={"batch_g": None}) if plan.pot else None
    return _computed(answer, plan.model_copy(update={"pot": pot}), answer.written_g)


def plan_for_version(*, formula_id: int, grams: float, number: int | None = None) -> ProcessPlan:
    """Return the plan in force of a saved version for a batch."""
    detail = version_get(formula_id=formula_id, number=number)
    return plan_for_batch(
        formula=detail.formula, grams=grams, formula_id=formula_id, number=detail.summary.number
    )


def plan_for_batch(
    *,
    formula: Formula,
    grams: float,
    formula_id: int | None = None,
    number: int | None = None,
) -> ProcessPlan:
    """Return the plan in force for a batch: that much in the pot, and molds enough for it."""
    force = plan_of(formula=formula, formula_id=formula_id, number=number)
    on = kitchen_bench(formula, formula_id=formula_id, number=number)
    pot = force.plan.pot
    before = (pot.batch_g if pot else None) or on.written_g * _molds_share(
        formula, force.plan.cooling
    )
    plan = _plan_at(force.plan, formula, grams / before if before > 0 else 1.0)
    if plan.pot is None:
        return plan
    return plan.model_copy(update={"pot": plan.pot.model_copy(update={"batch_g": grams})})


def _molds_share(formula: Formula, cooling: CoolPlan | None) -> float:
    """Return how many batches the planned molds take; one where the formula names no molds."""
    own = formula.molds
    if own is None or cooling is None:
        return 1.0
    volume = mold_volume(cooling.mold)
    if not volume or abs(volume / own.volume_ml - 1.0) <= MOLD_DIFFERS:
        return cooling.count / own.count
    return cooling.count * volume / (own.count * own.volume_ml)


def _plan_at(plan: ProcessPlan, formula: Formula, factor: float) -> ProcessPlan:
    """Return a plan with so many times the molds, where the formula says how many one batch is."""
    cooling = plan.cooling
    if cooling is None or (formula.molds is None and formula.portions is None):
        return plan
    count = min(_MOLDS_MOST, max(1, math.ceil(cooling.count * factor - 0.02)))
    return plan.model_copy(update={"cooling": cooling.model_copy(update={"count": count})})


def _computed(answer: ProcessAnswer, plan: ProcessPlan, grams: float) -> ProcessAnswer:
    ask: ProcessAsk = replace(
        answer.ask, plan=plan, batch_g=grams, sweep="", layer=None, piece=None
    )
    return process_of(
        formula=answer.formula, ask=ask, formula_id=answer.formula_id, number=answer.number,
        has_charts=False,
    )  # fmt: skip
