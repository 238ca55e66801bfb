"""The bench sheet: one batch to make, tick off and measure, as a cook needs it beside the pot."""

from dataclasses import dataclass

from setwell.documents.card import Card, CardCaution, CardPhase
from setwell.documents.timeline_chart import stage_takes
from setwell.domain.process_plan import CoolPlan, PotPlan, ProcessPlan
from setwell.domain.steps import StepKind
from setwell.engine.assessment import Assessment
from setwell.engine.timeline.results import CriticalPoint, Schedule, Stage, Timeline
from setwell.engine.timeline.schedule import clock_print
from setwell.units import duration_print, mass_print, temperature_print

_TEMPERATURES = ("Bottom °C", "Core °C", "Top °C")
# What to write down at a step, by what it does.
_BLANKS: dict[str, tuple[str, ...]] = {
    StepKind.HEAT.value: ("Time", *_TEMPERATURES),
    StepKind.BOIL.value: ("Time", *_TEMPERATURES),
    StepKind.HOLD.value: ("Time", *_TEMPERATURES),
    StepKind.COOL.value: ("Time", "°C"),
    StepKind.POUR.value: ("Time", "°C in the pot"),
    StepKind.CHILL.value: ("Time in", "Core °C after 2 h", "Core °C after 6 h", "Time out"),
    StepKind.FREEZE.value: ("Time in", "Core °C", "Time out"),
    StepKind.REST.value: ("Time", "°C"),
    StepKind.UNMOLD.value: ("Time", "Core °C"),
}
# What to write down where a point decides, whatever else the step does.
_AT_POINT = {
    "acid": ("Time", "°C before", "pH after"),
    "pour": ("Time", "°C in the pot"),
}
FOOT = "Write what the probe shows, not what the step says. Rinse the probe between raw and cooked."


@dataclass(frozen=True, slots=True)
class SheetStep:
    """One step to tick off, with blanks to fill in."""

    number: str
    text: str
    begins: str
    takes: str
    blanks: tuple[str, ...]
    points: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SheetPoint:
    """A point that decides, in a box with its blanks."""

    title: str
    target: str
    window: str
    measure: str
    step: str


@dataclass(frozen=True, slots=True)
class BenchSheet:
    """Everything printed on one sheet, already in words."""

    title: str
    version_label: str
    short_hash: str
    kitchen_name: str
    yield_line: str
    allergens: tuple[str, ...]
    schedule_line: str
    equipment: tuple[str, ...]
    phases: tuple[CardPhase, ...]
    lots: tuple[tuple[str, str], ...]
    points: tuple[SheetPoint, ...]
    steps: tuple[SheetStep, ...]
    cautions: tuple[CardCaution, ...]
    deferral: str
    open_points: tuple[str, ...]
    foot: str = FOOT
    # For which batch weights and times are, where that is not the one as written.
    batch_line: str = ""


def bench_sheet_build(
    assessment: Assessment,
    card: Card,
    timeline: Timeline,
    *,
    plan: ProcessPlan | None = None,
    schedule: Schedule | None = None,
    remarks: tuple[str, ...] = (),
) -> BenchSheet:
    """Return the sheet of one batch; its wording of lines and cautions is that of the card.

    Plan and timeline are those of the batch that the card weighs; `remarks` are what the pot or
    the molds cannot do with it.
    """
    return BenchSheet(
        title=card.title,
        version_label=card.version_label,
        short_hash=card.short_hash,
        kitchen_name=card.kitchen_name,
        yield_line=card.yield_line,
        allergens=card.allergens,
        schedule_line="" if schedule is None else f"{schedule.text} {schedule.action}".strip(),
        equipment=equipment_lines(plan),
        phases=card.phases,
        lots=tuple((agent.name, agent.lot) for agent in assessment.agents),
        points=tuple(_point(point) for point in timeline.points),
        steps=_steps(timeline, schedule),
        cautions=card.cautions,
        deferral=card.deferral.replace("This card", "This sheet"),
        open_points=(
            *remarks,
            *(f"{point.title}: {point.action}" for point in card.open_points),
        ),
        batch_line=card.batch_line,
    )


def equipment_lines(plan: ProcessPlan | None) -> tuple[str, ...]:
    """Return the pot and the molds of a plan in words."""
    if plan is None:
        return ()
    parts = (_pot(plan.pot) if plan.pot else "", _cold(plan.cooling) if plan.cooling else "")
    return tuple(part for part in parts if part)


def _pot(pot: PotPlan) -> str:
    lid = "with a lid" if pot.lid else "open"
    held = f", {mass_print(pot.batch_g, has_us=True)} in it" if pot.batch_g else ""
    said = (
        f"Pot: {pot.diameter_mm:g} mm across{held}, {lid}, "
        f"on {pot.hob.name} at {pot.hob.power_w:g} W, "
        f"{_stirred(pot.stirring.value)}"
    )
    return f"{said}, to {temperature_print(pot.target_c)}" if pot.target_c is not None else said


def _stirred(stirring: str) -> str:
    return "not stirred" if stirring == "none" else f"stirred: {stirring}"


def _cold(cooling: CoolPlan) -> str:
    molds = "mold" if cooling.count == 1 else "molds"
    poured = (
        f", poured at {temperature_print(cooling.pour_c)}" if cooling.pour_c is not None else ""
    )
    waits = (
        f", {duration_print(cooling.counter_min)} on the counter first"
        if cooling.counter_min
        else ""
    )
    air = temperature_print(cooling.cooler.air_c)
    return f"Cold: {cooling.count} {molds} in {cooling.cooler.name} at {air}{poured}{waits}"


def _point(point: CriticalPoint) -> SheetPoint:
    step = f"step {point.stage}" if point.stage else "no step does it yet"
    return SheetPoint(point.title, point.target, point.window_text, point.measure, step)


def _steps(timeline: Timeline, schedule: Schedule | None) -> tuple[SheetStep, ...]:
    begins = {row.stage.number: row.begins for row in schedule.rows} if schedule else {}
    special = {
        point.stage: _AT_POINT[point.key] for point in timeline.points if point.key in _AT_POINT
    }
    return tuple(
        SheetStep(
            number=str(stage.number) if stage.number else "",
            text=stage.text,
            begins=_begins(stage, begins),
            takes=stage_takes(stage),
            blanks=special.get(stage.number) or _BLANKS.get(stage.kind, ("Time",)),
            points=tuple(
                point.title for point in timeline.points if point.stage == stage.number != 0
            ),
        )
        for stage in timeline.stages
    )


def _begins(stage: Stage, begins: dict[int, float]) -> str:
    if stage.number in begins:
        return clock_print(begins[stage.number])
    return f"after {duration_print(float(round(stage.start.value)))}"
