"""Marks for the process page: how long something takes, clocks and rulings."""

from django import template
from django.utils.safestring import SafeString, mark_safe

from setwell.services.process import Moment, ProcessChart, clock_print, stage_takes, takes_print

register = template.Library()

_ICONS = {"pass": "good", "fail": "stop", "cannot tell": "unsure"}
_WORDS = {"pass": "Pass", "fail": "Fail", "cannot tell": "Cannot tell"}

register.filter("clock", clock_print)
register.filter("takes", stage_takes)
register.filter("lasts", takes_print)


@register.filter
def ruling_icon(ruling: str) -> str:
    """Return the icon name for a ruling."""
    return _ICONS.get(str(ruling), "note")


@register.filter
def is_all_said(moment: Moment) -> bool:
    """Return whether the label and the time of a moment already say its text."""
    return moment.estimate is not None and moment.text.startswith(moment.label)


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
