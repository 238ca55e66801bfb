"""A plan: the formula as matrices, ready for any number of candidate batches."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.formula import Formula
from setwell.domain.phases import PhaseKind
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


@dataclass(frozen=True, slots=True)
class Leaf:
    """One ingredient, directly or inside a part, with the methods that made that part."""

    number: int
    phase: PhaseKind
    name: str
    reading: Reading
    methods: tuple[str, ...] = ()


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
    inner: Mapping[int, "Plan"] = field(default_factory=dict)

    @property
    def evaporation(self) -> float:
        """Share of the ingredients' weight that leaves as steam."""
        return self.formula.evaporation_pct / 100.0

    def leaves(self) -> Iterator[Leaf]:
        """Yield every ingredient that counts, those inside parts under the line of the part."""
        for position in self.used:
            reading = self.readings[position]
            if reading.material is not None:
                yield Leaf(reading.number, reading.phase, reading.line.name, reading)
            elif position in self.inner:
                inner = self.inner[position]
                made = inner.formula.steps
                for leaf in inner.leaves():
                    yield Leaf(reading.number, reading.phase, reading.line.name, leaf.reading,
                               (*leaf.methods, made))  # fmt: skip

    def unread_inside(self) -> tuple[tuple[int, str], ...]:
        """Return (line number, what is wrong) for each problem inside a part."""
        told: list[tuple[int, str]] = []
        for position, inner in self.inner.items():
            number, title = self.readings[position].number, inner.formula.title
            wrong = [f"“{r.line.text.strip()}”: {r.problem}" for r in inner.readings if r.problem]
            wrong += [*inner.problems, *(said for _, said in inner.unread_inside())]
            told += [(number, f"In “{title}”: {said}") for said in wrong]
        return tuple(told)

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
    inner = _inner_plans(readings, used, catalog=catalog, parts=parts, trail=here)
    shares = [_line_shares(readings[n], inner.get(n), catalog) for n in used]
    for share in shares:
        columns.update({key: material for key, (material, _) in share.items()})
    order = {key: position for position, key in enumerate(columns)}
    expansion = np.zeros((len(lines), len(order)))
    for row, share in enumerate(shares):
        for key, (_, grams) in share.items():
            expansion[row, order[key]] = grams
    return amounts_settle(
        Plan(
            formula,
            readings,
            used,
            tuple(columns.values()),
            expansion,
            line_amounts(lines),
            inner=inner,
        )
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


def _inner_plans(
    readings: tuple[Reading, ...],
    used: tuple[int, ...],
    *,
    catalog: Catalog,
    parts: Mapping[str, Formula],
    trail: tuple[str, ...],
) -> dict[int, Plan]:
    """Return the plans of the parts by position; a part named twice is built once."""
    built: dict[str, Plan] = {}
    found = {}
    for position in used:
        part = readings[position].part
        if part is None:
            continue
        if part.title not in built:
            built[part.title] = plan_build(part, catalog=catalog, parts=parts, trail=trail)
        found[position] = built[part.title]
    return found


def _line_shares(
    reading: Reading, inner: Plan | None, catalog: Catalog
) -> dict[str, tuple[Material, float]]:
    """Return the materials in one gram of a line."""
    if reading.material is not None:
        return {reading.material.key: (reading.material, 1.0)}
    if inner is None:
        return {}
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
