"""When the acid goes in, for one formula; and the drawings of the chemistry panel."""

from setwell.documents.line_chart import LineChart, Mark, Series, line_chart_svg
from setwell.documents.ph_line import ph_line, ph_line_svg
from setwell.engine.assessment import Assessment
from setwell.engine.chemistry_results import AgentOrder, KeptCurve
from setwell.units import temperature_print


def acid_order_chart(*, order: AgentOrder) -> str:
    """Return strength kept against hold time in both orders, as SVG."""
    marks = () if order.own_minutes is None else (_own_hold(order.own_minutes),)
    chart = LineChart(
        title=f"{order.name}: strength kept against the hold",
        x_label=f"Minutes held at {temperature_print(round(order.peak_c))}",
        y_label="Strength kept, %",
        series=(
            _series(f"acid added at {order.late_c:g} °C", "solid", order.minutes, order.late),
            _series("acid in before the hold", "dashed", order.minutes, order.early),
        ),
        marks=marks,
        x_limits=(order.minutes[0], order.minutes[-1]),
        y_limits=(0.0, 100.0),
    )
    return line_chart_svg(chart)


def ph_line_chart(*, assessment: Assessment) -> str:
    """Return the pH on a line with the windows of the agents, as SVG; empty without a pH."""
    line = ph_line(assessment)
    return "" if line is None else ph_line_svg(line)


def _series(name: str, style: str, minutes: tuple[float, ...], curve: KeptCurve) -> Series:
    value, low, high = (
        tuple(100.0 * share for share in part) for part in (curve.value, curve.low, curve.high)
    )
    return Series(name, minutes, value, style, low, high)


def _own_hold(minutes: float) -> Mark:
    return Mark(minutes, f"your {minutes:g} min")
