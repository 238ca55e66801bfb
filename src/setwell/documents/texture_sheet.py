"""From an assessment to the drawings of its texture: map, temperatures and flow."""

import math
from dataclasses import dataclass, replace

from setwell.documents.flow_chart import FlowChart, FlowCurve, Landmark
from setwell.documents.temperature_strip import StripBar, StripRow, TemperatureStrip
from setwell.documents.texture_map import TextureMap, TexturePoint, TextureRegion
from setwell.engine.assessment import AgentResult, Assessment, Texture, Verdict
from setwell.engine.rules.dispersion import needed_c
from setwell.engine.texture_results import MapPoint
from setwell.provenance import Estimate, Evidence
from setwell.tables.agents import agent_rows
from setwell.tables.rules import texture_regions, viscosity_landmarks

# The agent chart's own name of where a powder dissolves.
_HYDRATES = "hydration_temperature"


@dataclass(frozen=True, slots=True)
class TextureSheet:
    """The drawings of one formula; None where there is nothing to draw."""

    map: TextureMap | None
    strip: TemperatureStrip | None
    flow: FlowChart | None


def texture_sheet(assessment: Assessment) -> TextureSheet:
    """Return the drawings of a formula."""
    return TextureSheet(
        map=_map(assessment), strip=_strip(assessment), flow=_flow(assessment.texture)
    )


def landmark_evidence() -> Evidence:
    """Return where the everyday liquids of the flow curve come from."""
    return tuple(dict.fromkeys(one.citation for one in viscosity_landmarks()))


def map_regions() -> tuple[TextureRegion, ...]:
    """Return the trade words as parts of the map."""
    return tuple(
        TextureRegion(
            one.key, one.name,
            one.strain_low, math.inf if one.strain_high is None else one.strain_high,
            one.stress_low, math.inf if one.stress_high is None else one.stress_high,
        )
        for one in texture_regions()
    )  # fmt: skip


def texture_point(
    point: MapPoint | None, *, label: str, kind: str, note: str = ""
) -> TexturePoint | None:
    """Return a place on the map for a drawing; None where there is none to speak of."""
    if point is None or not all(
        math.isfinite(one) and one > 0.0 for one in (point.strain, point.stress)
    ):
        return None
    across, up = (
        doubt if math.isfinite(doubt) and doubt > 0.0 else 0.0
        for doubt in (point.strain_doubt, point.stress_doubt)
    )
    turn = point.correlation if math.isfinite(point.correlation) else 0.0
    return TexturePoint(
        label=label,
        strain=point.strain,
        stress=point.stress,
        log_sd_strain=across,
        log_sd_stress=up,
        correlation=max(-1.0, min(1.0, turn)),
        kind=kind,
        note=note,
    )


def _map(assessment: Assessment) -> TextureMap | None:
    texture = assessment.texture
    if texture.sets is Verdict.NO:
        return None
    point = texture_point(texture.map_point, label="this formula", kind="this")
    return None if point is None else TextureMap("Texture map", (point,), map_regions())


def _strip(assessment: Assessment) -> TemperatureStrip | None:
    rows = [StripRow(agent.name, _bars(agent)) for agent in assessment.agents]
    drawn = tuple(row for row in rows if row.bars)
    if not drawn:
        return None
    return TemperatureStrip(
        "Temperatures of each agent", drawn, serving=assessment.texture.serving_c
    )


def _bars(agent: AgentResult) -> tuple[StripBar, ...]:
    is_set = agent.sets is not Verdict.NO
    found = (
        ("hydrates", _hydrates(agent)),
        ("sets", agent.set_temperature_c if is_set else None),
        ("melts", agent.melt_temperature_c if is_set else None),
        ("practice", agent.practice_set_c if is_set else None),
    )
    bars = (_bar(kind, estimate) for kind, estimate in found)
    return tuple(bar for bar in bars if bar is not None)


def _hydrates(agent: AgentResult) -> Estimate | None:
    """Return where a powder dissolves: the temperature that all of the batch has to reach."""
    chart = next((one.estimate for one in agent.chart if one.key == _HYDRATES), None)
    row = agent_rows().get(agent.key)
    if chart is None or row is None or row.is_cold_soluble:
        return chart
    # The warm end counts: a pot that is cooler in places leaves powder behind.
    return replace(chart, value=needed_c(agent.key))


def _bar(kind: str, estimate: Estimate | None) -> StripBar | None:
    if estimate is None or not math.isfinite(estimate.value):
        return None
    low, high = (_finite(end) for end in (estimate.low, estimate.high))
    return StripBar(
        kind,
        None if low is None else min(low, estimate.value),
        estimate.value,
        None if high is None else max(high, estimate.value),
    )


def _finite(end: float | None) -> float | None:
    return end if end is not None and math.isfinite(end) else None


def _flow(texture: Texture) -> FlowChart | None:
    points = [
        one
        for one in texture.flow
        if all(math.isfinite(v) and v > 0.0 for v in (one.value, one.low, one.high))
    ]
    # A set gel does not flow; what its liquid part would do is no help at the table.
    if texture.sets is Verdict.YES or len(points) < 2:
        return None
    curve = FlowCurve(
        "this formula",
        tuple(one.shear_rate for one in points),
        tuple(one.value for one in points),
        tuple(one.low for one in points),
        tuple(one.high for one in points),
    )
    known = tuple(Landmark(one.name, one.viscosity) for one in viscosity_landmarks())
    served = f"Viscosity at {texture.serving_c:.0f} °C, mPa·s"
    return FlowChart("How it flows", (curve,), known, y_label=served)
