"""The assessment of one formula: the batch pipeline with one candidate, put into words."""

from collections.abc import Mapping
from functools import lru_cache

import numpy as np

from setwell.domain.formula import Formula
from setwell.domain.process_plan import PotPlan
from setwell.domain.step_words import StepKind
from setwell.domain.steps import Step
from setwell.engine.acid_order import acid_order
from setwell.engine.agent_results import agent_results
from setwell.engine.assessment import Assessment, Finding, LineReading, Severity, StepReading
from setwell.engine.catalog import Catalog, catalog_build
from setwell.engine.cautions import cautions
from setwell.engine.consequences import consequences, ph_doubt
from setwell.engine.cost import cost
from setwell.engine.diets import allergens, broken_claims, diets
from setwell.engine.figures import batch_size, nutrient_figures
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.heat.pot import pot_course
from setwell.engine.material import Material, MaterialKind, Span
from setwell.engine.origins import material_evidence, nutrient_evidence
from setwell.engine.pipeline import BatchState, agent_columns, batch_assess
from setwell.engine.plan import Plan, plan_build
from setwell.engine.pot_course import PotCourse
from setwell.engine.process import steps_read
from setwell.engine.resolve import Reading
from setwell.engine.rules.bench import Bench
from setwell.engine.rules.book import findings
from setwell.engine.solution_figures import solution_figures
from setwell.engine.texture_words import texture_words
from setwell.provenance import evidence_join
from setwell.units import duration_print, temperature_print

_ORDER = {Severity.STOP: 0, Severity.WARN: 1, Severity.NOTE: 2}


@lru_cache(maxsize=1)
def _tables_only() -> Catalog:
    return catalog_build()


def bench_build(
    formula: Formula,
    *,
    catalog: Catalog | None = None,
    parts: Mapping[str, Formula] | None = None,
    measured_ph: Span | None = None,
    ph_offset: float = 0.0,
    corrections: Mapping[str, Corrections] | None = None,
    pot: PotCourse | PotPlan | None = None,
) -> Bench:
    """Return a formula read, weighed and computed as one candidate.

    A plan of a pot is computed on the way: a first pass tells how thick the batch is, the second
    takes the pot's own temperatures. A plan that cannot be computed leaves the steps' word.
    """
    if isinstance(pot, PotPlan):
        told = bench_build(
            formula, catalog=catalog, parts=parts, measured_ph=measured_ph, ph_offset=ph_offset,
            corrections=corrections,
        )  # fmt: skip
        course = pot_course(told, pot)
        if course is None:
            return told
        pot = course
    plan = plan_build(formula, catalog=catalog or _tables_only(), parts=parts or {})
    steps = steps_read(formula.steps)
    state = batch_assess(
        plan,
        plan.line_masses(),
        steps=steps,
        measured_ph=measured_ph,
        ph_offset=ph_offset,
        corrections=corrections,
        pot=pot,
    )
    return Bench(plan, steps, state, agent_columns(plan))


def assess(
    formula: Formula,
    *,
    catalog: Catalog | None = None,
    parts: Mapping[str, Formula] | None = None,
    measured_ph: Span | None = None,
    ph_offset: float = 0.0,
    corrections: Mapping[str, Corrections] | None = None,
    pot: PotCourse | PotPlan | None = None,
) -> Assessment:
    """Return everything computed for a formula.

    `parts` are formulas that lines may name as ingredients, by title. `measured_ph` is a reading
    on this very formula and wins over the computed pH; `ph_offset` is how far an earlier version
    was measured above its computed pH; `corrections` are what the kitchen measured of its
    agents; `pot` is how it is heated, as planned or as computed. Raises InputError only when
    the text is too large to be a formula; every other problem is told in the result.
    """
    catalog = catalog or _tables_only()
    bench = bench_build(
        formula,
        catalog=catalog,
        parts=parts,
        measured_ph=measured_ph,
        ph_offset=ph_offset,
        corrections=corrections,
        pot=pot,
    )
    plan, state = bench.plan, bench.state
    read = all(reading.is_usable for reading in plan.readings)
    complete = read and not plan.problems and not plan.unread_inside()
    found = allergens(plan)
    alcohol = 100.0 * float(state.composition.share("alcohol_g")[0])
    fits = diets(plan, alcohol_pct=alcohol, is_complete=complete)
    size = batch_size(plan, state)
    agents = agent_results(bench)
    texture = texture_words(bench)
    origins = nutrient_evidence(plan, state)
    nutrients = nutrient_figures(plan, state, origins)
    order = acid_order(bench)
    solution = solution_figures(
        plan, state, origins, is_measured=measured_ph is not None, ph_offset=ph_offset
    )
    return Assessment(
        formula=formula,
        formula_hash=formula.content_hash,
        lines=line_readings(plan, state, catalog),
        steps=step_readings(bench.steps),
        is_complete=complete,
        batch=size,
        nutrients=nutrients,
        solution=solution,
        agents=agents,
        texture=texture,
        findings=_sorted((*findings(bench), *broken_claims(fits))),
        cautions=cautions(bench, found),
        allergens=found,
        diets=fits,
        cost=cost(
            plan, state.masses[0], kitchen=catalog.kitchen,
            usable_g=size.usable_g, portions=size.portions,
        ),
        evidence=evidence_join([material_evidence(plan), *(agent.evidence for agent in agents)]),
        ph_doubt=ph_doubt(bench),
        consequences=consequences(bench, order),
        acid_order=order,
    )  # fmt: skip


def _sorted(told: tuple[Finding, ...]) -> tuple[Finding, ...]:
    return tuple(sorted(told, key=lambda finding: _ORDER[finding.severity]))


def line_readings(plan: Plan, state: BatchState, catalog: Catalog) -> tuple[LineReading, ...]:
    """Return every line with what it was read as and what it weighs."""
    grams = dict(zip(plan.used, state.line_masses[0], strict=True))
    finished = float(state.composition.finished_g[0])
    return tuple(
        _line_reading(reading, grams.get(position), finished, catalog)
        for position, reading in enumerate(plan.readings)
    )


def _line_reading(
    reading: Reading, grams: float | None, finished: float, catalog: Catalog
) -> LineReading:
    material = reading.material
    return LineReading(
        number=reading.number,
        text=reading.line.text,
        heading=reading.heading,
        phase=reading.phase.value,
        name=reading.line.name,
        material_key=material.key if material else "",
        material_name=_name(reading, material),
        material_kind=_kind(reading, material),
        grams=None if grams is None else float(grams),
        percent=100.0 * float(grams) / finished if grams is not None and finished > 0 else None,
        assumptions=reading.assumptions,
        problem=reading.problem,
        nearest=catalog.nearest(reading.line.name) if reading.is_unknown else (),
        evidence=material.evidence if material else (),
    )


def _name(reading: Reading, material: Material | None) -> str:
    if material is not None:
        return material.name
    return reading.part.title if reading.part is not None else ""


def _kind(reading: Reading, material: Material | None) -> str:
    if material is not None:
        return material.kind.value
    return MaterialKind.FORMULA.value if reading.part is not None else ""


def step_readings(steps: tuple[Step, ...]) -> tuple[StepReading, ...]:
    """Return every step with what it was read as."""
    return tuple(
        StepReading(number, step.text, step.kind.value, _step_words(step), _problem(step))
        for number, step in enumerate(steps, start=1)
    )


def _step_words(step: Step) -> str:
    # "Other" would say nothing about a step that is only carried along.
    parts = ["kept as written" if step.kind is StepKind.OTHER else step.kind.value]
    if step.temperature_c is not None:
        parts.append(temperature_print(step.temperature_c))
    if step.hold_min is not None and np.isfinite(step.hold_min):
        parts.append(duration_print(step.hold_min))
    if step.stirring is not None:
        parts.append(f"stirring: {step.stirring.value}")
    if step.adds:
        parts.append(f"adds {step.adds}")
    return " · ".join(parts)


def _problem(step: Step) -> str:
    if step.problem is None:
        return ""
    return " ".join(part for part in (step.problem.message, step.problem.suggestion) if part)
