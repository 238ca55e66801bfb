"""The base of a brief, read and weighed: kitchen lines without agents, and what they are."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from setwell.domain.brief import Brief
from setwell.domain.formula import Formula, formula_make
from setwell.domain.pantry import OwnFood
from setwell.engine.acid_materials import is_clearly_acid
from setwell.engine.blend_base import formula_base
from setwell.engine.catalog import Catalog
from setwell.engine.gelling.finish import LEAST_WATER
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.engine.pipeline import batch_assess
from setwell.engine.plan import Plan, plan_build
from setwell.engine.proposals.composed import composed_base
from setwell.engine.proposals.own_steps import NO_STEPS, OwnSteps, own_steps
from setwell.errors import InputError

# An acid ingredient above this share of the base is the base itself, not an addition.
_ADDITION = 0.25
# A dry sugar carries powders in from this share of the base on: five times 0.4 % of agents.
_CARRIES = 0.02
_SUGAR_LEAST, _MOIST_MOST = 80.0, 5.0
_SYRUP_SUGAR = 60.0
# Custard is cooked here: well above what a food code asks of egg without a hold, below curdling
# (common practice) [°C].
_CUSTARD_C = 82.0
# Less of a base is a slip of the pen (our judgment) [g].
_LEAST_G = 1.0
# Sugar of sugar and water, and sodium on water, from which powders dissolve slowly (our
# judgment, from where the laws of hydration slow down): 40 °Bx, and 4 % of salt.
_SUGARY, _SALTY = 0.4, 0.016
_COOKED = frozenset({"pasteurized", "boiled", "cooked"})


@dataclass(frozen=True, slots=True, eq=False)
class BriefBase:
    """What agents go into: `lines` weigh `grams` before steam leaves.

    `late_acids` are the acid ingredients that can go in at the end. `catalog` holds the base of a
    composition as a food of its own, which is `own_food`: a formula saved from it needs that food
    in the pantry. `carrier` is the name of a dry sugar in it that powders can be mixed with.
    """

    lines: tuple[str, ...]
    grams: float
    evaporation: float
    late_acids: tuple[str, ...]
    catalog: Catalog
    parts: Mapping[str, Formula]
    origin: Formula | None = None
    remarks: tuple[str, ...] = ()
    own_food: OwnFood | None = None
    carrier: str = ""
    # How hot the base has to get for its own sake, such as raw egg; None where it does not.
    cooks_c: float | None = None
    # Whether its sugar or salt keeps powders from dissolving below a boil.
    is_crowded: bool = False
    # Of what is poured, before any agent [%].
    alcohol_by_volume: float = 0.0
    # Of the saved formula's method: what works on its food.
    own: OwnSteps = NO_STEPS


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
    if brief.composition is not None:
        made = composed_base(brief.composition, catalog)
        formula = formula_make(title=brief.title, ingredients="\n".join(made.lines))
        read = _read(formula, made.catalog, parts or {}, "composition", made.remarks)
        return replace(read, own_food=made.food)
    if brief.base_formula.strip():
        if origin is None:
            raise InputError(
                f"There is no saved formula “{brief.base_formula.strip()}”.",
                field="base_formula",
                hint="Choose one from the list, or type the base as lines.",
            )
        read = _read(origin, catalog, parts or {}, "base_formula", ())
        plan = plan_build(origin, catalog=catalog, parts=parts or {})
        own = own_steps(origin, plan, read.late_acids, brief.limits)
        return replace(read, origin=origin, own=own, remarks=(*read.remarks, *own.remarks))
    if not brief.base.strip():
        raise InputError(
            "There is no base to put an agent into.",
            field="base",
            hint="Write it as kitchen lines such as “1000 g milk”, choose a saved formula, or "
            "tell its composition.",
        )
    formula = formula_make(title=brief.title, ingredients=brief.base)
    return _read(formula, catalog, parts or {}, "base", ())


def _read(
    formula: Formula,
    catalog: Catalog,
    parts: Mapping[str, Formula],
    field: str,
    said: tuple[str, ...],
) -> BriefBase:
    plan = plan_build(formula, catalog=catalog, parts=parts)
    _checked(plan, field)
    try:
        lines, grams, remarks = formula_base(formula, catalog, parts)
    except InputError:
        raise InputError(
            "Nothing is left of the base without its agents.",
            field=field,
            hint="Name what they go into, such as 1000 g milk.",
        ) from None
    if grams < _LEAST_G:
        raise InputError(
            f"The base weighs {grams:.2g} g, and no scale weighs a dose of powder for that.",
            field=field,
            hint=f"Write {_LEAST_G:g} g at the least, such as 1000 g milk.",
        )
    weights = _weights(plan)
    _checked_water(plan, field)
    acids = (name for name, material, weight in weights
             if is_clearly_acid(material) and not _is_syrup(material)
             and weight < _ADDITION * grams)  # fmt: skip
    dry = [name for name, material, weight in weights
           if _is_dry_sugar(material) and weight >= _CARRIES * grams]  # fmt: skip
    told = remarks if field == "base_formula" else (*said, *_agents_out(plan))
    cooks_c = _CUSTARD_C if _has_raw_egg(plan) else None
    if cooks_c is not None:
        told = (*told, f"The base holds egg, so every method heats it to {_CUSTARD_C:g} °C "
                f"({_CUSTARD_C * 1.8 + 32:.0f} °F) where the limit allows. Write “pasteurized” "
                "beside the egg where it is.")  # fmt: skip
    return BriefBase(
        lines, grams, formula.evaporation_pct / 100.0, tuple(acids), catalog, parts,
        remarks=told, carrier=dry[0] if dry else "", cooks_c=cooks_c,
        is_crowded=_is_crowded(plan), alcohol_by_volume=_alcohol(plan),
    )  # fmt: skip


def _alcohol(plan: Plan) -> float:
    """Return the alcohol of the base in percent by volume."""
    column = NUTRIENT_INDEX["alcohol_g"]
    if not any(material.nutrients[column] > 0 for material in plan.materials):
        return 0.0
    state = batch_assess(plan, plan.line_masses())
    return float(state.water.alcohol_by_volume.value[0])


def _is_crowded(plan: Plan) -> bool:
    grams = plan.line_masses()[0] @ plan.expansion
    sugar, sodium, water = (
        float(grams @ np.array([np.nan_to_num(m.nutrients[NUTRIENT_INDEX[key]])
                                for m in plan.materials]))
        for key in ("sugars_g", "sodium_mg", "water_g")
    )  # fmt: skip
    return sugar > _SUGARY * (sugar + water) or sodium / 1000.0 > _SALTY * water


def _has_raw_egg(plan: Plan) -> bool:
    return any(
        leaf.reading.material is not None
        and leaf.reading.material.group == "egg"
        and not leaf.reading.material.key.endswith("_powder")
        and not leaf.reading.line.hints & _COOKED
        for leaf in plan.leaves()
    )


def _checked(plan: Plan, field: str) -> None:
    unread = [reading for reading in plan.readings if not reading.is_usable]
    if unread and field == "composition":
        raise InputError(
            "The name of this base cannot stand on a kitchen line.",
            field=field,
            hint="Give it a plain name such as base.",
        )
    if unread:
        raise InputError(
            f"“{unread[0].line.text.strip()[:80]}” cannot be read as a kitchen line.",
            field=field,
            hint=unread[0].problem,
        )
    wrong = [*plan.problems, *(said for _, said in plan.unread_inside())]
    if wrong:
        raise InputError("The base cannot be weighed.", field=field, hint=wrong[0])
    if not plan.used:
        raise InputError(
            "The base has no ingredient line.", field=field, hint="Write one such as 1000 g milk."
        )


def _checked_water(plan: Plan, field: str) -> None:
    """Refuse a base in which nothing can dissolve."""
    grams = plan.line_masses()[0] @ plan.expansion
    water = NUTRIENT_INDEX["water_g"]
    is_food = np.array([material.agent is None for material in plan.materials])
    wet = np.array([np.nan_to_num(m.nutrients[water]) for m in plan.materials]) / 100.0
    whole = float(grams[is_food].sum())
    left = float((grams * wet)[is_food].sum()) - plan.evaporation * float(grams.sum())
    share = left / whole if whole > 0 else 0.0
    if share < LEAST_WATER:
        raise InputError(
            f"Only {100.0 * max(share, 0.0):.0f} % of this base is water; agents dissolve in "
            "water only.",
            field=field,
            hint=f"Give it water, milk or juice: {100.0 * LEAST_WATER:g} % at the least.",
        )


def _weights(plan: Plan) -> list[tuple[str, Material, float]]:
    """Return name, material and grams of every line that is one food."""
    masses = np.asarray(plan.line_masses()[0]).tolist()
    readings = [plan.readings[n] for n in plan.used]
    return [
        (reading.line.name, reading.material, weight)
        for reading, weight in zip(readings, masses, strict=True)
        if reading.material is not None and reading.material.agent is None
    ]


def _is_syrup(material: Material) -> bool:
    """True for honey and its like: sour to the meter, and too weak an acid to wait for."""
    return float(np.nan_to_num(material.nutrients[NUTRIENT_INDEX["sugars_g"]])) >= _SYRUP_SUGAR


def _is_dry_sugar(material: Material) -> bool:
    sugar, water = (
        float(np.nan_to_num(material.nutrients[NUTRIENT_INDEX[key]]))
        for key in ("sugars_g", "water_g")
    )
    return sugar >= _SUGAR_LEAST and water <= _MOIST_MOST


def _agents_out(plan: Plan) -> tuple[str, ...]:
    names = [
        reading.line.name
        for reading in plan.readings
        if reading.material is not None and reading.material.agent is not None
    ]
    return (f"Left out of the base, as agents are proposed: {', '.join(names)}.",) if names else ()
