"""What one thing does to the times in the mold: a chart with the same as a table."""

from setwell.documents.amounts import number_text
from setwell.documents.drawing import ChartTable
from setwell.documents.line_chart import LineChart, Mark, Series, line_chart_svg
from setwell.domain.process_plan import CoolPlan
from setwell.engine.heat.sweep import Sweep, SweepPoint, Swept, sweep, things_of
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.services.process_charts import ProcessChart
from setwell.units import duration_print, fahrenheit_from_celsius

THINGS: dict[str, str] = {
    Swept.COEFFICIENT.value: "How windy the cold place is",
    Swept.AIR.value: "How cold the place is",
    Swept.POUR.value: "How hot it is poured",
    Swept.HEIGHT.value: "How high it is filled",
    Swept.WIDTH.value: "How wide the mold is",
    Swept.WALL.value: "How thick the wall is",
}
_AXES = {
    Swept.COEFFICIENT: "Surface coefficient, W/m²K",
    Swept.AIR: "Air, °C",
    Swept.POUR: "Poured at, °C",
    Swept.HEIGHT: "Height, mm",
    Swept.WIDTH: "Width, mm",
    Swept.WALL: "Wall, mm",
}
_MM_PER_INCH = 25.4
# More minutes than this are drawn as hours.
_HOURS_FROM_MIN = 180.0


def sweep_chart(bench: Bench, plan: CoolPlan, thing: str) -> ProcessChart:
    """Return the times to set, to 21 °C and to 5 °C at ten values of one thing."""
    try:
        swept = Swept(thing)
    except ValueError:
        raise InputError(
            f"“{thing[:40]}” cannot be changed here.",
            field="cooling.thing",
            hint=f"Choose one of: {', '.join(one.value for one in things_of(plan))}.",
        ) from None
    found = sweep(bench, plan, swept)
    title = THINGS[swept.value]
    return ProcessChart(
        "sweep", title, "The middle case of each; everything else stays as it is.",
        line_chart_svg(_chart(found, title)), _table(found),
    )  # fmt: skip


def things_to_sweep(plan: CoolPlan) -> tuple[tuple[str, str], ...]:
    """Return what can be changed of a plan, with the words for it."""
    return tuple((one.value, THINGS[one.value]) for one in things_of(plan))


def _chart(found: Sweep, title: str) -> LineChart:
    columns = (_sets, _warm, _cold)
    per_unit = 60.0 if _in_hours(found) else 1.0
    values = tuple(point.value for point in found.points)
    series = tuple(
        Series(
            name, values,
            tuple(float("nan") if (m := of(point)) is None else m / per_unit
                  for point in found.points),
            style,
        )
        for name, of, style in zip(
            ("sets", "21 °C", "5 °C"), columns, ("solid", "dashed", "dotted"), strict=True
        )
        if any(of(point) is not None for point in found.points)
    )  # fmt: skip
    marks = () if found.now is None else (Mark(found.now, "now"),)
    unit = "Time, h" if per_unit > 1 else "Time, min"
    return LineChart(title, _AXES[found.thing], unit, series, marks=marks)


def _table(found: Sweep) -> ChartTable:
    rows = tuple(
        (
            _value(found.thing, point.value),
            *(_time(of(point)) for of in (_sets, _warm, _cold)),
        )
        for point in found.points
    )
    header = (_AXES[found.thing], "Sets", "At 21 °C (70 °F)", "At 5 °C (41 °F)")
    return ChartTable(header, rows)


def _value(thing: Swept, value: float) -> str:
    if thing in {Swept.AIR, Swept.POUR}:
        return f"{value:.0f} °C ({fahrenheit_from_celsius(value):.0f} °F)"
    if thing is Swept.COEFFICIENT:
        return number_text(value)
    return f"{number_text(value)} mm ({number_text(value / _MM_PER_INCH, digits=2)} in)"


def _time(minutes: float | None) -> str:
    return "not reached" if minutes is None else duration_print(float(round(minutes)))


def _in_hours(found: Sweep) -> bool:
    known = [m for p in found.points for m in (_sets(p), _warm(p), _cold(p)) if m is not None]
    return max(known, default=0.0) > _HOURS_FROM_MIN


def _sets(point: SweepPoint) -> float | None:
    return point.sets_min


def _warm(point: SweepPoint) -> float | None:
    return point.warm_min


def _cold(point: SweepPoint) -> float | None:
    return point.cold_min
