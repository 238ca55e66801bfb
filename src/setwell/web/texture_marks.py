"""Marks for the texture panel: its numbers with their words, and its drawings."""

from django import template
from django.utils.safestring import SafeString, mark_safe

from setwell.documents import texture_numbers as told
from setwell.documents import thick_drinks
from setwell.documents.drawing import ChartTable
from setwell.documents.flow_chart import FlowChart, flow_chart_svg, flow_chart_table, landmark_table
from setwell.documents.temperature_strip import (
    TemperatureStrip,
    temperature_strip_svg,
    temperature_strip_table,
)
from setwell.documents.texture_map import TextureMap, texture_map_svg, texture_map_table
from setwell.documents.texture_sheet import TextureSheet, landmark_evidence
from setwell.documents.texture_sheet import texture_sheet as sheet_of
from setwell.provenance import Estimate, Evidence
from setwell.services.results import AgentResult, Assessment, Finding, Requirement, Severity
from setwell.web.rounding import NBSP, number_write

register = template.Library()

Drawing = TextureMap | TemperatureStrip | FlowChart

# A remark longer than this gets the whole width.
_LONG = 70


@register.filter
def texture_sheet(assessment: Assessment) -> TextureSheet:
    """Return what can be drawn of a texture."""
    return sheet_of(assessment)


@register.filter
def drawn(chart: Drawing) -> SafeString:
    """Draw a map, the temperatures or a flow curve."""
    if isinstance(chart, TextureMap):
        svg = texture_map_svg(chart)
    elif isinstance(chart, TemperatureStrip):
        svg = temperature_strip_svg(chart)
    else:
        svg = flow_chart_svg(chart)
    return mark_safe(svg)  # noqa: S308 - names in it are escaped where they are written


@register.filter
def drawn_table(chart: Drawing) -> ChartTable:
    """Return the numbers of a drawing as a table."""
    if isinstance(chart, TextureMap):
        return texture_map_table(chart)
    if isinstance(chart, TemperatureStrip):
        return temperature_strip_table(chart)
    return flow_chart_table(chart)


@register.filter
def landmarks(chart: FlowChart) -> ChartTable:
    """Return the everyday liquids of a flow curve as a table."""
    return landmark_table(chart)


@register.simple_tag
def landmarks_from() -> Evidence:
    """Return where the everyday liquids come from."""
    return landmark_evidence()


@register.filter
def texture_numbers(assessment: Assessment) -> tuple[told.TextureNumber, ...]:
    """Return the key numbers of a texture."""
    return told.texture_numbers(assessment)


@register.filter
def stops(assessment: Assessment) -> tuple[Finding, ...]:
    """Return the findings that must be seen before any number."""
    return tuple(one for one in assessment.findings if one.severity is Severity.STOP)


@register.filter
def is_long(number: told.TextureNumber) -> bool:
    """True where a remark needs the whole width."""
    return len(number.remark) > _LONG


@register.filter
def word_meanings(assessment: Assessment) -> tuple[tuple[str, str], ...]:
    """Return the trade words of a texture with their meaning."""
    return told.word_meanings(assessment.texture)


@register.filter
def readings_told(assessment: Assessment) -> str:
    """Return on how many own measurements the numbers rest."""
    return told.readings_told(assessment)


@register.filter
def height_left(strain: Estimate) -> str:
    """Return how flat a piece can be pressed before it breaks."""
    return told.height_left(strain)


@register.filter
def pot_told(agent: AgentResult) -> str:
    """Return whether a part of the pot lags behind."""
    return told.pot_told(agent.gel.zones)


@register.filter
def requirement_told(need: Requirement) -> str:
    """Return what a gel needs and what was found."""
    return told.requirement_told(need)


@register.filter
def met_word(verdict: str) -> str:
    """Return whether a need is met.

    >>> met_word("no")
    'not met'
    """
    return {"yes": "met", "no": "not met"}.get(str(verdict), str(verdict))


@register.filter
def zone_percent(share: float) -> str:
    """Print the dissolved share of a zone in whole percent.

    >>> zone_percent(0.984).replace("\\xa0", " ")
    '98 %'
    """
    return f"{number_write(100.0 * share, 0)}{NBSP}%"


@register.inclusion_tag("results/_texture_drinks.html")
def thick_drink_ranges() -> dict[str, object]:
    """List the historical ranges of thickened drinks under their caution."""
    return {
        "caution": thick_drinks.SWALLOWING_CAUTION,
        "ranges": thick_drinks.thick_drink_ranges(),
        "evidence": thick_drinks.thick_drink_evidence(),
    }
