"""The process of a formula: pot, molds, safety and time, with what this kitchen has."""

from dataclasses import dataclass

from setwell.documents.timeline_chart import stage_takes, takes_print
from setwell.domain.formula import Formula
from setwell.domain.process_plan import CoolPlan, PotPlan, ProcessPlan
from setwell.engine.heat.inclusions import InclusionResult, with_inclusion
from setwell.engine.heat.results import CoolingResult, Moment, PotResult
from setwell.engine.rules.bench import Bench
from setwell.engine.safety import (
    Basis,
    Ruling,
    SafetyCheck,
    acidity_check,
    cooling_checks,
    heating_checks,
    summary_line,
    unheated_checks,
    verdict_overall,
)
from setwell.engine.timeline.build import timeline as timeline_of
from setwell.engine.timeline.results import Schedule, Timeline
from setwell.engine.timeline.schedule import clock_print
from setwell.engine.timeline.schedule import schedule as schedule_of
from setwell.errors import InputError
from setwell.services.formulas import version_get
from setwell.services.materials import pantry_read
from setwell.services.process_bench import KitchenBench, kitchen_bench, molds_cooled, pot_heated
from setwell.services.process_charts import (
    ProcessChart,
    cooling_chart,
    pot_charts,
    timeline_chart,
)
from setwell.services.process_layers import LayerAnswer, LayerAsk, layers_of
from setwell.services.process_plans import PlanInForce, plan_in_force, plan_save, plan_suggest
from setwell.services.process_sweep import sweep_chart, things_to_sweep

__all__ = [
    "LayerAnswer",
    "LayerAsk",
    "Moment",
    "PieceAsk",
    "PlanInForce",
    "ProcessAnswer",
    "ProcessAsk",
    "ProcessChart",
    "clock_print",
    "plan_for",
    "plan_of",
    "plan_save",
    "process_of",
    "process_view",
    "stage_takes",
    "takes_print",
    "things_to_sweep",
]


@dataclass(frozen=True, slots=True)
class PieceAsk:
    """A piece of fruit in the middle of every mold: how wide [mm] and how cold it goes in."""

    width_mm: float
    celsius: float


@dataclass(frozen=True, slots=True)
class ProcessAsk:
    """What is asked of a process: a plan, when to serve, and what to change one at a time.

    Times are minutes after midnight; `sweep` is one of `things_to_sweep`, `layer` the formula
    that lies below.
    """

    plan: ProcessPlan | None = None
    serve_min: float | None = None
    earliest_min: float | None = None
    sweep: str = ""
    layer: LayerAsk | None = None
    piece: PieceAsk | None = None
    # What is made [g], where that is told beside the plan; a plan without a pot holds none.
    batch_g: float | None = None


@dataclass(frozen=True, slots=True)
class ProcessAnswer:
    """Everything computed for one version in one pot and one cold place.

    `batch_g` is the finished batch as written, `written_g` what is weighed in for it; `problems`
    are what the pot or the molds cannot be computed for, each with its field.
    """

    formula: Formula
    plan: PlanInForce
    batch_g: float
    written_g: float
    ask: ProcessAsk
    pot: PotResult | None
    cooling: CoolingResult | None
    problems: tuple[InputError, ...]
    checks: tuple[SafetyCheck, ...]
    summary: str
    timeline: Timeline
    schedule: Schedule | None
    charts: dict[str, tuple[ProcessChart, ...]]
    layers: LayerAnswer | None = None
    piece: InclusionResult | None = None
    formula_id: int | None = None
    number: int | None = None

    @property
    def ruling(self) -> Ruling:
        """What the law says of all of it together."""
        return verdict_overall(self.checks)

    @property
    def law(self) -> tuple[SafetyCheck, ...]:
        """The checks that are law for a kitchen, and decide."""
        return tuple(one for one in self.checks if one.basis is Basis.LAW)

    @property
    def beside_law(self) -> tuple[SafetyCheck, ...]:
        """Targets, rules for plants, and information."""
        return tuple(one for one in self.checks if one.basis is not Basis.LAW)


def process_view(
    *, formula_id: int, number: int | None = None, ask: ProcessAsk | None = None
) -> ProcessAnswer:
    """Return the process of a saved version; without a plan that in force, or the shelves'."""
    detail = version_get(formula_id=formula_id, number=number)
    return process_of(
        formula=detail.formula, ask=ask, formula_id=formula_id, number=detail.summary.number
    )


def process_of(
    *,
    formula: Formula,
    ask: ProcessAsk | None = None,
    formula_id: int | None = None,
    number: int | None = None,
    has_charts: bool = True,
) -> ProcessAnswer:
    """Return the process of a formula, saved or not."""
    ask = ask or ProcessAsk()
    on = kitchen_bench(formula, formula_id=formula_id, number=number)
    bench = on.bench
    force = _in_force(formula, ask, on.batch_g, formula_id, number)
    plan = force.plan
    problems: list[InputError] = []
    pot = _heated(on, plan.pot, problems)
    cooling = _cooled(on, plan.cooling, problems)
    line = timeline_of(bench, plan, pot, cooling)
    schedule = None
    if ask.serve_min is not None and line.stages:
        schedule = schedule_of(line, serve_min=ask.serve_min, earliest_min=ask.earliest_min)
    checks = _checks(bench, pot, cooling)
    charts = _charts(bench, plan, pot, cooling, line, schedule) if has_charts else {}
    if ask.sweep and cooling is not None and plan.cooling is not None:
        charts["sweep"] = (sweep_chart(bench, plan.cooling, ask.sweep),)
    layers = _layered(bench, cooling, plan.cooling, ask.layer, problems)
    piece = _pieced(bench, plan.cooling, ask.piece, problems)
    return ProcessAnswer(
        formula=formula, plan=force, batch_g=on.batch_g, written_g=on.written_g, ask=ask, pot=pot,
        cooling=cooling, problems=tuple(problems), checks=checks, summary=summary_line(checks),
        timeline=line, schedule=schedule, charts=charts, layers=layers, piece=piece,
        formula_id=formula_id, number=number,
    )  # fmt: skip


def plan_for(*, formula_id: int, number: int | None = None) -> PlanInForce:
    """Return the plan in force of a saved version, or what the shelves suggest."""
    detail = version_get(formula_id=formula_id, number=number)
    return plan_of(formula=detail.formula, formula_id=formula_id, number=detail.summary.number)


def plan_of(
    *, formula: Formula, formula_id: int | None = None, number: int | None = None
) -> PlanInForce:
    """Return the plan in force of a formula, saved or not."""
    on = kitchen_bench(formula, formula_id=formula_id, number=number)
    return _in_force(formula, ProcessAsk(), on.batch_g, formula_id, number)


def _in_force(
    formula: Formula, ask: ProcessAsk, batch_g: float, formula_id: int | None, number: int | None
) -> PlanInForce:
    if ask.plan is not None:
        return PlanInForce(ask.plan, "asked")
    if formula_id is None or number is None:
        return PlanInForce(plan_suggest(formula, pantry_read(), batch_g=batch_g), "shelves")
    return plan_in_force(
        formula_id=formula_id, number=number, formula=formula, pantry=pantry_read(),
        batch_g=batch_g,
    )  # fmt: skip


def _heated(on: KitchenBench, plan: PotPlan | None, problems: list[InputError]) -> PotResult | None:
    """Compute the pot; what it refuses is told at its field, and the molds still stand."""
    if plan is None:
        return None
    try:
        return pot_heated(on, plan)
    except InputError as error:
        problems.append(_told(error, "pot"))
        return None


def _cooled(
    on: KitchenBench, plan: CoolPlan | None, problems: list[InputError]
) -> CoolingResult | None:
    """Compute the molds; what they refuse is told at its field, and the pot still stands."""
    if plan is None:
        return None
    try:
        return molds_cooled(on, plan)
    except InputError as error:
        problems.append(_told(error, "cooling"))
        return None


def _layered(
    bench: Bench,
    cooling: CoolingResult | None,
    plan: CoolPlan | None,
    ask: LayerAsk | None,
    problems: list[InputError],
) -> LayerAnswer | None:
    """Compute the layer below; what it refuses is told at its field."""
    if ask is None or cooling is None or plan is None:
        return None
    try:
        return layers_of(bench, cooling, plan, ask)
    except InputError as error:
        problems.append(error)
        return None


def _pieced(
    bench: Bench, plan: CoolPlan | None, ask: PieceAsk | None, problems: list[InputError]
) -> InclusionResult | None:
    """Compute the piece inside; what it refuses is told at its field."""
    if ask is None or plan is None:
        return None
    try:
        return with_inclusion(bench, plan, piece_mm=ask.width_mm, piece_c=ask.celsius)
    except InputError as error:
        problems.append(_told(error, "piece"))
        return None


def _told(error: InputError, part: str) -> InputError:
    return InputError(error.message, field=f"{part}.{error.field}", hint=error.hint)


def _checks(
    bench: Bench, pot: PotResult | None, cooling: CoolingResult | None
) -> tuple[SafetyCheck, ...]:
    return (
        *(heating_checks(bench, pot.courses) if pot else unheated_checks(bench)),
        *(cooling_checks(bench, cooling.courses) if cooling else ()),
        acidity_check(bench),
    )


def _charts(
    bench: Bench,
    plan: ProcessPlan,
    pot: PotResult | None,
    cooling: CoolingResult | None,
    line: Timeline,
    schedule: Schedule | None,
) -> dict[str, tuple[ProcessChart, ...]]:
    stirred = plan.pot.stirring.value if plan.pot else ""
    label = "not stirred" if stirred == "none" else f"stirred: {stirred}"
    return {
        "pot": pot_charts(pot, label) if pot else (),
        "cooling": (cooling_chart(bench, cooling),) if cooling else (),
        "timeline": (timeline_chart(line, schedule),) if line.stages else (),
    }
