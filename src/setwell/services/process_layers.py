"""A formula poured onto another one that is set already: does it melt it, how warm may it be."""

from dataclasses import dataclass

from setwell.documents.course_chart import CourseChart, CourseMark, course_chart_svg, course_line
from setwell.documents.course_chart import course_chart_table as table_of
from setwell.domain.process_plan import CoolPlan
from setwell.engine.heat.layers import LayersResult, pour_layers
from setwell.engine.heat.results import CoolingResult
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError, NotFoundError
from setwell.services.formulas import version_get
from setwell.services.process_bench import kitchen_bench
from setwell.services.process_charts import ProcessChart
from setwell.units import temperature_print

_HOT_POUR_C = 70.0


@dataclass(frozen=True, slots=True)
class LayerAsk:
    """The layer below: its formula, how thick both are [mm], and how cold it is; None: as air."""

    formula_id: int
    lower_mm: float = 15.0
    upper_mm: float = 15.0
    lower_c: float | None = None


@dataclass(frozen=True, slots=True)
class LayerAnswer:
    """What comes of the layers, with the title of the one below."""

    title: str
    result: LayersResult
    chart: ProcessChart

    @property
    def window(self) -> str:
        """How warm to pour, in words; empty where no temperature fits."""
        if self.result.window_c is None:
            return ""
        least, most = (temperature_print(round(one)) for one in self.result.window_c)
        return f"{least} to {most}"


def layers_of(bench: Bench, cooling: CoolingResult, plan: CoolPlan, ask: LayerAsk) -> LayerAnswer:
    """Return what happens when the batch is poured onto a set layer of another formula."""
    try:
        lower = version_get(formula_id=ask.formula_id)
    except NotFoundError as error:
        raise InputError(error.message, field="layer.formula", hint="Choose one.") from None
    on = kitchen_bench(lower.formula, formula_id=ask.formula_id, number=lower.summary.number)
    poured = next((f.estimate.value for f in cooling.figures if f.key == "pour"), _HOT_POUR_C)
    try:
        result = pour_layers(
            on.bench, bench, plan,
            lower_mm=ask.lower_mm, upper_mm=ask.upper_mm,
            lower_c=plan.cooler.air_c if ask.lower_c is None else ask.lower_c,
            upper_c=poured,
        )  # fmt: skip
    except InputError as error:
        raise InputError(error.message, field=f"layer.{error.field}", hint=error.hint) from None
    return LayerAnswer(lower.formula.title, result, _chart(on.bench, result))


def _chart(lower: Bench, result: LayersResult) -> ProcessChart:
    melt = lower.state.texture.melt_c
    value = None if melt is None else float(melt.value[0])
    marks: tuple[CourseMark, ...] = ()
    if value is not None and abs(value) < 1e3:
        marks = (CourseMark(value, f"the layer below melts at {value:.0f} °C"),)
    chart = CourseChart("Where the layers meet", (course_line(result.seam),), marks)
    return ProcessChart(
        "layers", "Where the layers meet", result.text, course_chart_svg(chart), table_of(chart)
    )
