"""Pieces of the texture of one candidate: map point, regions, flow, look and notes."""

import numpy as np

from setwell.engine.gelling.state import SHEAR_RATES, Codes, Flow, Gel
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.spans import Spans
from setwell.engine.texture_results import FlowPoint, MapPoint, TextureNote
from setwell.engine.verdict import Verdict, verdict
from setwell.provenance import Estimate, Evidence
from setwell.science.gels.syneresis import syneresis_share
from setwell.tables.agents import agent_rows
from setwell.tables.rules import flow_words, texture_regions

# Haze below which a gel is called so (own scale).
CLARITY = ((0.15, "clear"), (0.4, "slightly cloudy"), (0.75, "cloudy"), (np.inf, "opaque"))
# Days for which the weeping is told; the last is that of the number itself.
_DAYS = (1.0, 3.0, 7.0)
FREEZING = {
    Verdict.YES: "comes through freezing",
    Verdict.CANNOT_TELL: "may weep after freezing: try a cup",
    Verdict.NO: "breaks and weeps after freezing",
}


def map_point(gel: Gel, row: int) -> MapPoint | None:
    """Return where a gel stands on the texture map, with the ellipse of its doubt."""
    strain, stress = (
        tuple(float(part[row]) for part in spans)
        for spans in (gel.fracture_strain, gel.fracture_stress)
    )
    if not (stress[0] > 0 and strain[0] > 0 and stress[2] > 0):
        return None
    across, up = _deviation(*strain), _deviation(*stress)
    # Stress is stiffness times strain: what is open in the strain is open in the stress.
    correlation = min(across / up, 0.95) if up > 0 else 0.0
    return MapPoint(strain[0], stress[0] / 1000.0, across, up, correlation)


def _deviation(value: float, low: float, high: float) -> float:
    """Return a standard deviation on the log axis from a range of about 95 %."""
    # A range that may reach down to nothing says little of its lower side.
    down = np.log(value / low) if low > 0 else np.log(high / value)
    return float((down + np.log(high / value)) / 4.0)


def regions_reached(
    stress: Estimate | None, strain: Estimate | None
) -> tuple[str, tuple[str, ...]]:
    """Return the key of the region in the middle, and the names of all the range reaches."""
    if stress is None or strain is None or stress.high is None or strain.high is None:
        return "", ()
    corners = [
        (float(e), float(s))
        for e in (strain.value, strain.low or 0.0, strain.high)
        for s in (stress.value, stress.low or 0.0, stress.high)
    ]
    # Middle first, then along each axis; corners of both at once are too unlikely.
    order = [corners[0], corners[1], corners[2], corners[3], corners[6]]
    found = [region for e, s in order for region in texture_regions() if region.contains(e, s)]
    names = tuple(dict.fromkeys(region.name for region in found))
    return (found[0].key, names) if found else ("", ())


def temperature(spans: Spans | None, row: int, model: str, bench: Bench) -> Estimate | None:
    """Return a temperature of one candidate; None where there is none or it is endless."""
    if spans is None or not np.isfinite(spans.value[row]):
        return None
    flags = (
        ("outside the range of the model",)
        if any(agent.is_extrapolated[row] for agent in bench.state.agents.values())
        else ()
    )
    high = spans.high[row]
    origin = tuple(
        dict.fromkeys(
            c for agent in bench.state.agents.values()
            for c in (*agent.origins.setting, *agent.origins.melting)
        )
    )  # fmt: skip
    return Estimate(
        float(spans.value[row]), "°C", float(spans.low[row]),
        float(high) if np.isfinite(high) else None, model, origin or PRACTICE, flags,
    )  # fmt: skip


def melting_words(spans: Spans | None, sets: Verdict, row: int) -> str:
    """Return whether the gel melts, in words."""
    if spans is None or sets is Verdict.NO or np.isnan(spans.value[row]):
        return ""
    return "does not melt in the kitchen" if np.isinf(spans.value[row]) else "melts again"


def flow_points(flow: Flow | None, row: int) -> tuple[FlowPoint, ...]:
    """Return the flow curve of one candidate."""
    if flow is None:
        return ()
    value, low, high = (part[row] * 1000.0 for part in flow.viscosity)
    return tuple(
        FlowPoint(float(rate), float(v), float(a), float(b))
        for rate, v, a, b in zip(SHEAR_RATES, value, low, high, strict=True)
    )


def flow_word(thickness: Estimate | None) -> str:
    """Return the trade word of a thickness at 50 1/s."""
    if thickness is None:
        return ""
    return next((band.name for band in flow_words() if band.contains(thickness.value)), "")


def clarity_word(haze: Estimate | None) -> str:
    """Return how clear it looks, in a word."""
    if haze is None:
        return ""
    return next(word for edge, word in CLARITY if haze.value < edge)


def weeping_days(weeps: Estimate | None) -> tuple[tuple[float, float], ...]:
    """Return how the water of a week comes out day by day, at the pace of a kappa gel."""
    if weeps is None or weeps.value <= 0:
        return ()
    kappa = agent_rows()["kappa_carrageenan"]
    slow, quick = (
        kappa.figure(f"syneresis_{name}_rate").value / 3600.0 for name in ("shrink", "yield")
    )
    shares = syneresis_share(
        np.array(_DAYS) * 86400.0, shrink_rate=slow, yield_rate=quick, shrink_share=0.5
    )
    return tuple(
        (day, weeps.value * float(share / shares[-1]))
        for day, share in zip(_DAYS, shares, strict=True)
    )


def freezing_words(frozen: Codes | None, sets: Verdict, row: int) -> str:
    """Return what freezing does, in words."""
    if frozen is None or sets is Verdict.NO:
        return ""
    return FREEZING[verdict(frozen[row])]


def gel_evidence(bench: Bench) -> Evidence:
    """Return the citations behind stiffness and break of all agents."""
    found = (
        citation
        for agent in bench.state.agents.values()
        if agent.gel is not None
        for citation in (*agent.origins.strength, *agent.origins.fracture)
    )
    return tuple(dict.fromkeys(found)) or PRACTICE


def texture_notes(bench: Bench, row: int) -> tuple[TextureNote, ...]:
    """Return what is known of the agents together."""
    return tuple(
        TextureNote(note.agents, note.tell(row), note.is_known, note.evidence)
        for note in bench.state.texture.notes
    )
