"""The base of a brief, read and weighed: kitchen lines without agents, and what they are."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from setwell.domain.brief import Brief
from setwell.domain.formula import Formula, formula_make
from setwell.engine.acid_materials import is_clearly_acid
from setwell.engine.blend_base import formula_base
from setwell.engine.catalog import Catalog
from setwell.engine.plan import plan_build
from setwell.errors import InputError

# An acid ingredient above this share of the base is the base itself, not an addition.
_ADDITION = 0.25


@dataclass(frozen=True, slots=True, eq=False)
class BriefBase:
    """What agents go into: `lines` weigh `grams` before steam leaves.

    `late_acids` are the acid ingredients that can go in at the end. `catalog` holds the base of a
    composition as a food of its own.
    """

    lines: tuple[str, ...]
    grams: float
    evaporation: float
    late_acids: tuple[str, ...]
    catalog: Catalog
    parts: Mapping[str, Formula]
    origin: Formula | None = None
    remarks: tuple[str, ...] = ()


def base_read(
    brief: Brief,
    *,
    catalog: Catalog,
    parts: Mapping[str, Formula] | None = None,
    origin: Formula | None = None,
) -> BriefBase:
    """Return the base of a brief; `origin` is the saved formula that `base_formula` names.

    Raises InputError at the field `base`, `base_formula` or `composition`.
    """
    known = parts or {}
    formula = origin or formula_make(title=brief.title, ingredients=brief.base or "1000 g water")
    lines, grams, remarks = formula_base(formula, catalog, known)
    plan = plan_build(formula, catalog=catalog, parts=known)
    unread = [reading for reading in plan.readings if not reading.is_usable]
    if unread:
        raise InputError(
            f"“{unread[0].line.text.strip()}” cannot be read as a kitchen line.",
            field="base",
            hint=unread[0].problem,
        )
    return BriefBase(
        lines, grams, formula.evaporation_pct / 100.0, _late_acids(formula, catalog, known, grams),
        catalog, known, origin, remarks if origin is not None else (),
    )  # fmt: skip


def _late_acids(
    formula: Formula, catalog: Catalog, parts: Mapping[str, Formula], grams: float
) -> tuple[str, ...]:
    plan = plan_build(formula, catalog=catalog, parts=parts)
    weights = dict(zip(plan.used, np.asarray(plan.line_masses()[0]), strict=True))
    return tuple(
        plan.readings[n].line.name
        for n, weight in weights.items()
        if (material := plan.readings[n].material) is not None
        and is_clearly_acid(material)
        and weight < _ADDITION * grams
    )
