"""The timeline of a formula in one kitchen."""

from setwell.domain.process_plan import ProcessPlan
from setwell.domain.steps import Step, StepKind
from setwell.engine.heat.pouring import pours
from setwell.engine.heat.results import CoolingResult, PotResult
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.timeline.points import critical_points
from setwell.engine.timeline.results import Basis, Stage, Timeline
from setwell.engine.timeline.stages import stages_of
from setwell.provenance import Estimate, evidence_join

# With more molds than this one fills many at once.
_MOLDS_MOST = 400
_SETTLING = frozenset({StepKind.CHILL, StepKind.COOL, StepKind.REST, StepKind.FREEZE})


def timeline(
    bench: Bench,
    plan: ProcessPlan | None = None,
    pot: PotResult | None = None,
    cooling: CoolingResult | None = None,
) -> Timeline:
    """Return the stages of a formula in order, with the points that decide.

    Times are what the steps state, what pot and mold compute, or else the paces of a usual
    kitchen; each stage says which. Ranges run from a quick to a slow kitchen.
    """
    stages = stages_of(
        bench.steps,
        lines=sum(reading.is_usable for reading in bench.plan.readings),
        molds=_molds(bench, plan),
        pot=pot,
        cooling=cooling,
    )
    return Timeline(
        stages,
        critical_points(bench, stages, pot=pot, cooling=cooling),
        _ready(stages),
        _hands_on(stages),
        _notes(bench, stages, cooling),
    )


def _molds(bench: Bench, plan: ProcessPlan | None) -> int:
    if plan is not None and plan.cooling is not None:
        return min(plan.cooling.count, _MOLDS_MOST)
    molds = bench.formula.molds
    return 1 if molds is None else min(molds.count, _MOLDS_MOST)


def _ready(stages: tuple[Stage, ...]) -> Estimate:
    """Return when it can be served: when serving begins, or when the last step ends."""
    serving = next((one for one in stages if one.kind == StepKind.SERVE.value), None)
    if serving is not None:
        return serving.start
    return _added(tuple(one.minutes for one in stages), "sum of the stages")


def _hands_on(stages: tuple[Stage, ...]) -> Estimate:
    return _added(tuple(one.hands_on for one in stages), "sum of the work in the stages")


def _added(parts: tuple[Estimate, ...], model: str) -> Estimate:
    # Quick kitchens are quick in everything, so ends add up.
    low = sum(one.value if one.low is None else one.low for one in parts)
    high = sum(one.value if one.high is None else one.high for one in parts)
    value = sum(one.value for one in parts)
    evidence = evidence_join(one.evidence for one in parts) or PRACTICE
    return Estimate(value, "min", low, high, model, evidence)


def _notes(
    bench: Bench, stages: tuple[Stage, ...], cooling: CoolingResult | None
) -> tuple[str, ...]:
    found = []
    if not bench.steps:
        found.append("No steps are written, so there is nothing to lay out. Write them first.")
    if bench.steps and cooling is not None and not _has_cold_step(bench.steps):
        found.append(
            "No step after the pour chills or rests, so the time in the cold is not counted. "
            "Add one, such as “Chill at 4 °C until set”."
        )
    if any(one.basis is Basis.ASSUMED and one.number for one in stages):
        found.append(
            "Times marked assumed are the paces of a usual kitchen: write the minutes into the "
            "step, or set a pot and a cold place, to have them stated or computed."
        )
    return tuple(found)


def _has_cold_step(steps: tuple[Step, ...]) -> bool:
    poured = next((n for n, step in enumerate(steps) if pours(step)), len(steps))
    return any(step.kind in _SETTLING for step in steps[poured:])
