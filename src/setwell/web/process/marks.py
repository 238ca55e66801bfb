"""Marks for the process page: how long something takes, clocks and rulings."""

from django import template
from django.utils.safestring import SafeString, mark_safe

from setwell.provenance import Estimate
from setwell.services.process import ProcessChart, clock_print, stage_takes
from setwell.units import duration_print

register = template.Library()

_ICONS = {"pass": "good", "fail": "stop", "cannot tell": "unsure"}
_WORDS = {"pass": "Pass", "fail": "Fail", "cannot tell": "Cannot tell"}

register.filter("clock", clock_print)
register.filter("takes", stage_takes)


@register.filter
def lasts(minutes: Estimate | None) -> str:
    """Print a time with its range, in steps a kitchen clock can tell.

    >>> lasts(Estimate(48.2, "min", 35.1, 70.4, "m"))
    '48 min (35 min to 1 h 10 min)'
    """
    if minutes is None:
        return "not within the time shown"
    said = _told(minutes.value)
    if minutes.low is None or minutes.high is None:
        return f"{said} or longer" if minutes.high is None else said
    low, high = _told(minutes.low), _told(minutes.high)
    return said if low == high else f"{said} ({low} to {high})"


@register.filter
def ruling_icon(ruling: str) -> str:
    """Return the icon name for a ruling."""
    return _ICONS.get(str(ruling), "note")


@register.filter
def ruling_word(ruling: str) -> str:
    """Return the word for a ruling."""
    return _WORDS.get(str(ruling), str(ruling))


@register.filter
def melts_icon(melts: str) -> str:
    """Return the icon name for whether the layer below melts: yes is bad."""
    return {"yes": "stop", "no": "good"}.get(str(melts), "unsure")


@register.filter
def process_drawing(chart: ProcessChart) -> SafeString:
    """Draw a chart of the process page."""
    return mark_safe(chart.svg)  # noqa: S308 - names in it are escaped where they are written


def _told(minutes: float) -> str:
    step = 0.5 if minutes < 5 else 1.0 if minutes < 60 else 5.0 if minutes < 600 else 15.0
    return duration_print(round(minutes / step) * step)
