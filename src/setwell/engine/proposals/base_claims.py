"""Where the base itself does not keep to the diets and allergens of its brief."""

from collections.abc import Iterator

import numpy as np

from setwell.domain.brief import Brief
from setwell.domain.formula import formula_make
from setwell.engine.diets import allergens, diets
from setwell.engine.plan import Plan, plan_build
from setwell.engine.proposals.allergen_names import allergens_named
from setwell.engine.proposals.base import BriefBase
from setwell.engine.rollup import composition_roll_up
from setwell.engine.verdict import Verdict


def base_remarks(brief: Brief, base: BriefBase) -> tuple[str, ...]:
    """Return what of the base breaks the brief; no choice of agents mends that."""
    made = formula_make(title=brief.title, ingredients="\n".join(base.lines), diets=brief.diets)
    plan = plan_build(made, catalog=base.catalog, parts=base.parts)
    return (*_diets(plan, base), *_allergens(plan, brief, base))


def _diets(plan: Plan, base: BriefBase) -> Iterator[str]:
    if not plan.formula.diets:
        return
    for one in diets(plan, alcohol_pct=_alcohol_pct(plan, base), is_complete=True):
        if one.claimed and one.verdict is Verdict.NO:
            yield f"The base itself does not fit “{one.diet}”: {one.reason}."
        elif one.claimed and one.verdict is Verdict.CANNOT_TELL:
            yield f"Does the base fit “{one.diet}”? {one.reason[:1].upper()}{one.reason[1:]}."


def _alcohol_pct(plan: Plan, base: BriefBase) -> float:
    masses = plan.line_masses() @ plan.expansion
    batch = composition_roll_up(masses, plan.materials, np.array([base.evaporation]))
    return 100.0 * float(batch.share("alcohol_g")[0])


def _allergens(plan: Plan, brief: Brief, base: BriefBase) -> Iterator[str]:
    unwanted = set(allergens_named(brief, base.catalog))
    for one in allergens(plan):
        if one.allergen in unwanted:
            where = ", ".join(one.materials)
            word = one.allergen.replace("_", " ")
            verb = "holds" if one.certainty == "contains" else "may hold"
            yield f"The base itself {verb} {word}: {where}."
