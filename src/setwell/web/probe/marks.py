"""Words of probe logs for templates."""

import datetime as dt
import math

from django import template

from setwell.documents import probe_words
from setwell.services.probe_judging import AgentHeating, LogPhase, Ruling, SafetyCheck
from setwell.services.probe_logs import StoredProbeLog
from setwell.units import date_print, duration_print, temperature_change_print, temperature_print

register = template.Library()


@register.filter
def phase_told(phase: LogPhase) -> str:
    """Return a phase of a log as one line."""
    return probe_words.phase_told(phase)


@register.filter
def margin_told(check: SafetyCheck) -> str:
    """Return the margin of a verdict at its safe end."""
    return probe_words.margin_told(check)


@register.filter
def verdict_word(ruling: str) -> str:
    """Return the word for a verdict."""
    return probe_words.RULINGS[Ruling(ruling)]


@register.filter
def verdict_icon(ruling: str) -> str:
    """Return the icon of a verdict."""
    return probe_words.RULING_ICONS[Ruling(ruling)]


@register.filter
def hydrates_word(agent: AgentHeating) -> str:
    """Return whether an agent got hot enough, as words."""
    return probe_words.HYDRATES[agent.hydrates]


@register.filter
def after(seconds: float | None) -> str:
    """Return a moment of a log, counted from its first sample."""
    return "" if seconds is None else probe_words.moment_told(seconds)


@register.filter
def lasting(seconds: float | None) -> str:
    """Return a length of time."""
    return "" if seconds is None or not math.isfinite(seconds) else duration_print(seconds / 60)


@register.filter
def shown(celsius: float | None) -> str:
    """Return a temperature to a tenth of a degree, in both scales."""
    if celsius is None or not math.isfinite(celsius):
        return "no reading"
    return temperature_print(round(celsius, 1))


@register.filter
def apart(kelvin: float) -> str:
    """Return a difference of temperatures, in both scales."""
    return temperature_change_print(kelvin)


@register.filter
def agent_ruling(hydrates: str) -> str:
    """Return the verdict on an agent as the name of its look."""
    return {"yes": "pass", "no": "fail"}.get(str(hydrates), "cannot-tell")


@register.filter
def probe_name(place: int, log: StoredProbeLog) -> str:
    """Return the name of the probe at a place of a log."""
    return log.document.probes[place].name


@register.filter
def sample_time(started: str) -> str:
    """Print when a log began, by the clock of the logger.

    >>> sample_time("2026-11-23 08:00:00")
    '23 Nov 2026, 08:00:00'
    """
    try:
        at = dt.datetime.fromisoformat(started)
    except ValueError:
        return started
    return f"{date_print(at)}, {at:%H:%M:%S}"
