"""Small marks for templates: icons, words for codes, evidence lines, current page."""

import datetime as dt

from django import template
from django.http import HttpRequest
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from setwell.provenance import Evidence, Grade, evidence_join, grade_worst
from setwell.services import sources
from setwell.units import date_print

register = template.Library()

_SHAPES = {
    "stop": '<path d="M7 1h10l6 6v10l-6 6H7l-6-6V7z"/><path class="ink" d="M7 12h10"/>',
    "warn": '<path d="M12 2 23 22H1z"/><path class="ink" d="M12 9v6M12 18v1"/>',
    "note": '<circle cx="12" cy="12" r="11"/><path class="ink" d="M12 11v7M12 6v1"/>',
    "good": '<circle cx="12" cy="12" r="11"/><path class="ink" d="m6 12 4 5 8-9"/>',
    "unsure": '<circle cx="12" cy="12" r="11"/>'
    '<path class="ink" d="M9 9a3 3 0 1 1 3 4v2M12 18v1"/>',
}
_SEVERITIES = {"stop": "Stop", "warn": "Warning", "note": "Note"}
_ANSWERS = {"yes": "good", "no": "stop", "cannot tell": "unsure"}


@register.simple_tag
def icon(name: str) -> SafeString:
    """Draw an icon; the word beside it carries the meaning."""
    shape = mark_safe(_SHAPES.get(name, _SHAPES["note"]))  # noqa: S308 - our own constants
    return format_html(
        '<svg class="icon icon-{}" viewBox="0 0 24 24" aria-hidden="true">{}</svg>',
        name,
        shape,
    )


@register.filter
def severity_word(severity: str) -> str:
    """Return the word for a severity."""
    return _SEVERITIES.get(str(severity), str(severity))


@register.filter
def answer_icon(verdict: str) -> str:
    """Return the icon name for yes, no and cannot tell."""
    return _ANSWERS.get(str(verdict), "note")


@register.filter
def citations(evidence: Evidence) -> tuple[sources.EvidenceLine, ...]:
    """Return what stands behind a number: citation, place, grade and what the grade means."""
    return sources.evidence_describe(evidence=evidence)


@register.filter
def worst_grade(evidence: Evidence) -> Grade | None:
    """Return the weakest grade behind something, or nothing when nothing is cited."""
    return grade_worst(citation.grade for citation in evidence) if evidence else None


@register.filter
def moment(when: dt.datetime) -> str:
    """Return a day and a time as the clock of the kitchen's machine shows them."""
    here_now = when.astimezone()
    return f"{date_print(here_now)}, {here_now:%H:%M}"


@register.filter
def joined_evidence(figures: object) -> Evidence:
    """Return all evidence behind several figures, once each."""
    parts = (getattr(item, "per_100g", None) or getattr(item, "estimate", None) for item in figures)  # type: ignore[attr-defined]
    return evidence_join(part.evidence for part in parts if part is not None)


@register.simple_tag(takes_context=True)
def here(context: template.Context, prefix: str) -> SafeString:
    """Mark a navigation link as the current page when the address is under it."""
    request = context.get("request")
    if not isinstance(request, HttpRequest):
        return SafeString("")
    is_here = request.path == prefix if prefix == "/" else request.path.startswith(prefix)
    return SafeString(' aria-current="page"' if is_here else "")
