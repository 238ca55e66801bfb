"""The drawings of a formula in other kitchens, each with the same numbers as a table."""

import math
from dataclasses import dataclass

from setwell.documents.drawing import ChartTable
from setwell.documents.driver_bars import (
    DriverBar,
    DriverBars,
    driver_bars_svg,
    driver_bars_table,
)
from setwell.documents.outcome_strip import OutcomeStrip, outcome_strip_svg, outcome_table
from setwell.engine.robustness.results import Driver, Quantity

# Causes under this share crowd the bars; the table beside them has all.
_LEAST_SHARE = 0.02
_BARS_MOST = 8


@dataclass(frozen=True, slots=True)
class RobustnessChart:
    """A drawing with its heading, what it says, and the table beside it."""

    key: str
    title: str
    says: str
    svg: str
    table: ChartTable


def outcome_chart(quantity: Quantity, low: float | None, high: float | None) -> RobustnessChart:
    """Return how the batches of other kitchens come out in one quantity."""
    strip = OutcomeStrip(
        "How the batches come out",
        f"{quantity.name[:1].upper()}{quantity.name[1:]}",
        quantity.unit,
        quantity.quantiles,
        low,
        high,
        quantity.planned if math.isfinite(quantity.planned) else None,
    )
    has_window = low is not None or high is not None
    says = " Hollow: outside of what is wanted." if has_window else ""
    return RobustnessChart(
        "outcomes", strip.title,
        f"Long bar: 9 of 10 batches. Thick bar: the half in the middle.{says}",
        outcome_strip_svg(strip), outcome_table(strip),
    )  # fmt: skip


def driver_chart(drivers: tuple[Driver, ...], quantity: str) -> RobustnessChart | None:
    """Return what the spread of a quantity comes from; None where nothing moves it."""
    bars = tuple(
        DriverBar(f"{one.name[:1].upper()}{one.name[1:]}", one.first_order.value, one.total.value)
        for one in drivers
    )
    shown = tuple(bar for bar in bars if bar.total >= _LEAST_SHARE)[:_BARS_MOST]
    if not shown:
        return None
    of = f"the spread of {quantity}"
    chart = DriverBars("What drives it", of, shown)
    left = len(bars) - len(shown)
    says = "What matters less is in the table." if left else "This is all of it."
    return RobustnessChart(
        "drivers", chart.title, says, driver_bars_svg(chart),
        driver_bars_table(DriverBars(chart.title, of, bars)),
    )  # fmt: skip
