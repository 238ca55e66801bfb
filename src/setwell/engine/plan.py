"""A plan: the formula as matrices, ready for any number of candidate batches."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.amounts import AmountKind
from setwell.domain.formula import Formula
from setwell.engine.batch_size import masses_solve
from setwell.engine.catalog import Catalog
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.engine.names import name_normalize
from setwell.engine.resolve import Reading, formula_read

Array = NDArray[np.float64]
# Deeper nesting than this is a mistake, not a recipe.
_DEPTH_LIMIT = 8
# A formula given in percentages only is read against this batch weight.
_DEFAULT_BATCH_G = 1000.0
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
    fixed: Array
    percent: Array
    existing: Array
    make_up_to: float | None
    make_up_line: int | None
    problems: tuple[str, ...]

    @property
    def evaporation(self) -> float:
        """Share of the ingredients' weight that leaves as steam."""
        return self.formula.evaporation_pct / 100.0

    def line_masses(self) -> Array:
        """Return the grams of the lines that count, as one candidate, shape (1, L)."""
        return masses_solve(
            self.fixed[None, :],
            percent=self.percent,
            existing=self.existing,
            evaporation=np.array([self.evaporation]),
            make_up_to=self.make_up_to,
            make_up_line=self.make_up_line,
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
    return _with_amounts(formula, readings, used, tuple(columns.values()), expansion)


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


def _with_amounts(
    formula: Formula,
    readings: tuple[Reading, ...],
    used: tuple[int, ...],
    materials: tuple[Material, ...],
    expansion: Array,
) -> Plan:
    lines = [readings[position] for position in used]
    fixed = np.array([reading.grams or 0.0 for reading in lines])
    percent = np.array([_percent(reading) for reading in lines])
    existing = _existing(lines)
    make_up = [row for row, reading in enumerate(lines) if _is_make_up(reading)]
    make_up_to = lines[make_up[0]].line.amount.grams if make_up else None  # type: ignore[union-attr]
    make_up_line = make_up[0] if make_up else None
    if make_up_to is None and lines and not fixed.any() and percent.any():
        make_up_to, make_up_line = _DEFAULT_BATCH_G, None
        fixed = percent * _DEFAULT_BATCH_G / 100.0
        percent = np.zeros_like(percent)
        make_up_to = None
    plan = Plan(
        formula,
        readings,
        used,
        materials,
        expansion,
        fixed,
        percent,
        existing,
        make_up_to,
        make_up_line,
        (),
    )
    return _checked(plan, n_make_up=len(make_up))


def _percent(reading: Reading) -> float:
    relative = reading.kind in {AmountKind.PERCENT, AmountKind.PERCENT_TARGET}
    amount = reading.line.amount
    return amount.value if relative and amount is not None and reading.is_relative else 0.0


def _is_make_up(reading: Reading) -> bool:
    return reading.kind is AmountKind.MASS_TARGET and reading.is_relative


def _existing(lines: list[Reading]) -> Array:
    """Mark, for each "to so many percent" line, the other weighed lines of the same material."""
    marks = np.zeros((len(lines), len(lines)))
    for row, reading in enumerate(lines):
        if reading.kind is not AmountKind.PERCENT_TARGET or not reading.is_relative:
            continue
        for column, other in enumerate(lines):
            same = other.material is not None and other.material is reading.material
            marks[row, column] = float(same and column != row and not other.is_relative)
    return marks


def _checked(plan: Plan, *, n_make_up: int) -> Plan:
    """Refuse what cannot be weighed, and say why, without losing the rest."""
    problems: list[str] = []
    total_percent = float(plan.percent.sum())
    if n_make_up > 1:
        problems.append(
            "Two lines make the batch up to a weight; only one can. Give the other a weight."
        )
    if total_percent >= 100.0:
        problems.append(
            f"The percentages add up to {total_percent:g} % and leave nothing for the weighed "
            "lines. Check them, or write the formula in percentages only."
        )
    if problems:
        fixed = np.where(plan.percent > 0, 0.0, plan.fixed)
        return _replaced(plan, fixed, np.zeros_like(plan.percent), tuple(problems), keep_up=False)
    masses = plan.line_masses()[0] if plan.used else np.zeros(0)
    for row, grams in enumerate(masses):
        if grams < -1e-9:
            name = plan.readings[plan.used[row]].line.name
            problems.append(
                f"The other lines already go past what “{name}” should be brought to, by "
                f"{-grams:.3g} g. Lower them or raise the target."
            )
    if problems:
        fixed = np.clip(masses, 0.0, None)
        return _replaced(plan, fixed, np.zeros_like(plan.percent), tuple(problems), keep_up=False)
    return plan


def _replaced(
    plan: Plan, fixed: Array, percent: Array, problems: tuple[str, ...], *, keep_up: bool
) -> Plan:
    return Plan(
        plan.formula,
        plan.readings,
        plan.used,
        plan.materials,
        plan.expansion,
        fixed,
        percent,
        np.zeros_like(plan.existing),
        plan.make_up_to if keep_up else None,
        plan.make_up_line if keep_up else None,
        (*plan.problems, *problems),
    )


def water_fraction(material: Material) -> float:
    """Return the water in one gram of a material; zero when it was never analyzed."""
    value = material.nutrients[NUTRIENT_INDEX["water_g"]]
    return 0.0 if np.isnan(value) else float(value) / 100.0
