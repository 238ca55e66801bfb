"""Amounts as a label shows them."""

import math
from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.labels.panel_results import DailyShare, Form, Printed, Tolerance
from setwell.provenance import Estimate
from setwell.science.panels.rounding import amounts_round, day_share
from setwell.tables.labels.panel_tables import Rounding, daily_amounts, roundings
from setwell.tables.labels.serving_tables import tolerances

Array = NDArray[np.float64]
UNKNOWN = Printed("unknown", Form.UNKNOWN, None)
_UNITLESS = frozenset({"calories"})


@cache
def _bands(market: str, row: str) -> tuple[Rounding, Array, NDArray[np.bool_], Array]:
    rounding = roundings(market)[row]
    steps = {"zero": 0.0, "text": np.nan}
    return (
        rounding,
        np.array([band.low for band in rounding.bands]),
        np.array([band.includes_low for band in rounding.bands]),
        np.array([band.step or steps.get(band.action, 0.0) for band in rounding.bands]),
    )


def amount_print(market: str, row: str, amount: float) -> Printed:
    """Return an amount as the panel of a market shows it on one of its lines."""
    rounding, lows, includes, steps = _bands(market, row)
    found = amounts_round([amount], lows=lows, includes_low=includes, steps=steps)
    band, value = rounding.bands[int(found.bands[0])], float(found.values[0])
    unit = "" if row in _UNITLESS else rounding.unit
    if band.action == "text" and amount > 0.0:
        return Printed(band.text, Form.LESS_THAN, None, band.also_allowed)
    if band.action != "nearest" or value == 0.0:
        return Printed(_with_unit("0", unit), Form.ZERO, 0.0, band.also_allowed)
    text = number_print(value, band.step or 1.0, keeps_zeros=market == "eu")
    return Printed(_with_unit(text, unit), Form.VALUE, float(text))


def number_print(value: float, step: float, *, keeps_zeros: bool = False) -> str:
    """Return a rounded number with the decimals of its step."""
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    text = f"{value:.{decimals}f}"
    return text if keeps_zeros or "." not in text else text.rstrip("0").rstrip(".")


def _with_unit(text: str, unit: str) -> str:
    gap = "" if unit == "%" else " "
    return f"{text}{gap}{unit}" if unit else text


def share_print(
    market: str, row: str, kind: str, amount: float, shown: Printed
) -> DailyShare | None:
    """Return the percentage of a day; None where the panel has none or the amount is unknown.

    What is shown as zero is also zero percent.
    """
    daily = daily_amounts(market).get(row)
    if kind == "none" or daily is None or shown.form is Form.UNKNOWN:
        return None
    percent = float(day_share([amount], daily_amount=daily.amount)[0])
    line = "share_stepped" if kind == "stepped" else "share_plain"
    text = amount_print(market, line, 0.0 if shown.form is Form.ZERO else percent).text
    return DailyShare(percent, text, f"{daily.amount:g} {daily.unit}", (daily.citation,))


def tolerance_of(market: str, row: str, estimate: Estimate, shown: Printed) -> Tolerance | None:
    """Return how far an analysis may be off the declared amount; None where nothing is said."""
    if shown.value is None or shown.form is not Form.VALUE:
        return None
    bands = [band for band in tolerances(market).get(row, ()) if band.low <= shown.value]
    if not bands:
        return None
    band, declared = bands[-1], shown.value
    low = _side(declared, band.below, band.below_pct, -1.0)
    high = _side(declared, band.above, band.above_pct, 1.0)
    goes_below = low is not None and (estimate.low is None or estimate.low < low)
    goes_above = high is not None and (estimate.high is None or estimate.high > high)
    text = _range_text(low, high, estimate.unit)
    return Tolerance(low, high, text, goes_below or goes_above, (band.citation,))


def _side(declared: float, by: float | None, percent: float | None, sign: float) -> float | None:
    if by is not None:
        return max(declared + sign * by, 0.0)
    return None if percent is None else declared * (1.0 + sign * percent / 100.0)


def _range_text(low: float | None, high: float | None, unit: str) -> str:
    if low is None:
        return f"an analysis may find at most {high:.4g} {unit}"
    if high is None:
        return f"an analysis has to find at least {low:.4g} {unit}"
    return f"an analysis may find {low:.4g} to {high:.4g} {unit}"
