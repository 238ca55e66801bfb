"""A plan: the formula as matrices, ready for any number of candidate batches."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.formula import Formula
from setwell.engine.batch_size import masses_solve
from setwell.engine.catalog import Catalog
from setwell.engine.line_amounts import LineAmounts, line_amounts
from setwell.engine.material import Material
from setwell.engine.names import name_normalize
from setwell.engine.resolve import Reading, formula_read

Array = NDArray[np.float64]
# Deeper nesting than this is a mistake, not a recipe.
_DEPTH_LIMIT = 8
_WATER = "water_pure"


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """Lines that count, the materials behind them, and how to weigh a batch.

    `expansion` (L, k) holds the grams of each material in one gram of each line; steam lost
    while making a part is a negative amount of water.
    """

    formula: Formula
    readings: tuple[Reading, ...]
    used: tuple[int, ...]
    materials: tuple[Material, ...]
    expansion: Array
    amounts: LineAmounts
    problems: tuple[str, ...] = ()

    @property
    def evaporation(self) -> float:
        """Share of the ingredients' weight that leaves as steam."""
        return self.formula.evaporation_pct / 100.0

    def line_masses(self) -> Array:
        """Return the grams of the lines that count, as one candidate, shape (1, L)."""
        amounts = self.amounts
        return masses_solve(
            amounts.fixed[None, :],
            percent=amounts.percent,
            existing=amounts.existing,
            evaporation=np.array([self.evaporation]),
            make_up_to=amounts.make_up_to,
            make_up_line=amounts.make_up_line,
            ratio=amounts.ratio,
            is_agent=amounts.is_agent,
        )


def plan_build(
    formula: Formula,
    *,
    catalog: Catalog,
    parts: Mapping[str, Formula],
    trail: tuple[str, ...] = (),
) -> Plan:
    """Return the plan of a formula; lines with a problem are left out and keep their problem."""
    by_name = {name_normalize(title): part for title, part in parts.items()}
    readings = formula_read(formula, catalog=catalog, parts=by_name)
    here = (*trail, name_normalize(formula.title))
    readings = tuple(_refuse_circle(reading, here) for reading in readings)
    used = tuple(position for position, reading in enumerate(readings) if reading.is_usable)
    lines = [readings[position] for position in used]
    columns: dict[str, Material] = {}
    shares = [_line_shares(reading, catalog, parts, here) for reading in lines]
    for share in shares:
        columns.update({key: material for key, (material, _) in share.items()})
    order = {key: position for position, key in enumerate(columns)}
    expansion = np.zeros((len(lines), len(order)))
    for row, share in enumerate(shares):
        for key, (_, grams) in share.items():
            expansion[row, order[key]] = grams
    return amounts_settle(
        Plan(formula, readings, used, tuple(columns.values()), expansion, line_amounts(lines))
    )


def _refuse_circle(reading: Reading, trail: tuple[str, ...]) -> Reading:
    if reading.part is None:
        return reading
    if name_normalize(reading.part.title) in trail:
        chain = " → ".join((*trail, name_normalize(reading.part.title)))
        problem = f"This formula uses itself ({chain}). Replace the line by its ingredients."
    elif len(trail) >= _DEPTH_LIMIT:
        problem = f"Formulas are nested more than {_DEPTH_LIMIT} deep here. Write this one out."
    else:
        return reading
    return Reading(
        reading.number,
        reading.heading,
        reading.phase,
        reading.line,
        assumptions=reading.assumptions,
        problem=problem,
    )


def _line_shares(
    reading: Reading, catalog: Catalog, parts: Mapping[str, Formula], trail: tuple[str, ...]
) -> dict[str, tuple[Material, float]]:
    """Return the materials in one gram of a line."""
    if reading.material is not None:
        return {reading.material.key: (reading.material, 1.0)}
    if reading.part is None:
        return {}
    inner = plan_build(reading.part, catalog=catalog, parts=parts, trail=trail)
    grams = (inner.line_masses() @ inner.expansion)[0]
    steam = grams.sum() * inner.evaporation
    finished = grams.sum() - steam
    if not finished > 0:
        return {}
    shares = {
        material.key: (material, float(amount / finished))
        for material, amount in zip(inner.materials, grams, strict=True)
    }
    if steam > 0:
        water = catalog.materials[_WATER]
        present = shares.get(_WATER, (water, 0.0))[1]
        shares[_WATER] = (water, present - float(steam / finished))
    return shares


def amounts_settle(plan: Plan) -> Plan:
    """Refuse amounts that cannot be weighed, and say why, without losing the rest."""
    amounts = plan.amounts
    problems = amounts.problems(plan.evaporation)
    if problems:
        return replace(plan, amounts=amounts.weighed_only(), problems=problems)
    masses = plan.line_masses()[0]
    short = [
        f"The other lines already go past what “{plan.readings[plan.used[row]].line.name}” should "
        f"be brought to, by {-grams:.3g} g. Lower them or raise the target."
        for row, grams in enumerate(masses)
        if grams < -1e-9
    ]
    if short:
        weighed = replace(amounts.weighed_only(), fixed=np.clip(masses, 0.0, None))
        return replace(plan, amounts=weighed, problems=tuple(short))
    return plan
