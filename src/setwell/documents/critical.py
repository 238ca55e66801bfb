"""What must happen, and how to tell that it did."""

from collections.abc import Iterable

from setwell.documents.amounts import temperature_ceiling_text, temperature_floor_text
from setwell.engine.assessment import AgentResult, Assessment, Severity, Verdict
from setwell.engine.rules.dispersion import needed_c
from setwell.provenance import Estimate
from setwell.tables.agents import agent_rows

# Hot acid cuts chains within minutes; at this temperature hardly (common practice) [°C].
ACID_AT_C = 60.0
# An agent that melts below this is often dissolved in a part of the batch, as gelatin is [°C].
WHOLE_BATCH_FROM_C = 60.0


def critical_points(assessment: Assessment) -> tuple[str, ...]:
    """Return the points that decide whether the batch works, in the order they come up."""
    agents = assessment.agents
    return tuple(
        dict.fromkeys((*_hydrate(agents), *_acid(assessment), *_pour(agents), *_leave(agents)))
    )


def success_signs(assessment: Assessment) -> tuple[str, ...]:
    """Return what a cook can see and feel when it went right; nothing where it cannot."""
    if any(finding.severity is Severity.STOP for finding in assessment.findings):
        return ()
    texture = assessment.texture
    signs = [texture.sentence] if texture.sentence else []
    if not all(word in texture.sentence for word in texture.words):
        signs.append(f"On the spoon: {', '.join(texture.words)}.")
    for agent in assessment.agents:
        if agent.sets is Verdict.YES and agent.set_temperature_c is not None:
            coolest = _coolest(agent.set_temperature_c)
            signs.append(f"{agent.name} is set once the core is below {coolest}.")
        if agent.sets is Verdict.YES and agent.melt_temperature_c is not None:
            warmest = _coolest(agent.melt_temperature_c)
            signs.append(f"It should hold its shape up to about {warmest}.")
    return tuple(dict.fromkeys(signs))


def _hydrate(agents: Iterable[AgentResult]) -> Iterable[str]:
    for agent in agents:
        if not agent_rows()[agent.key].is_cold_soluble:
            yield _hot_enough(agent.name, needed_c(agent.key))


def _hot_enough(name: str, needed: float) -> str:
    hot = temperature_floor_text(needed)
    if needed < WHOLE_BATCH_FROM_C:
        return f"{name}: keep it at {hot} or warmer until all of it is dissolved and clear."
    return f"{name}: heat the whole batch to at least {hot}. Stir, and probe top and bottom."


def _acid(assessment: Assessment) -> Iterable[str]:
    acidity = assessment.figure("ph")
    if acidity is None:
        return
    sour = lowest(acidity.estimate)
    if any(sour < hot_acid_limit(agent.key) for agent in assessment.agents):
        yield f"Acid after cooling: hydrate first, take the batch off the heat, {_when(assessment)}"


def hot_acid_limit(agent: str) -> float:
    """Return the pH below which a hot batch soon cuts this agent; 0 when none is known."""
    rows = agent_rows()[agent].properties.get("ph_hot_hold_low", ())
    return max((row.value for row in rows), default=0.0)


def _when(assessment: Assessment) -> str:
    start = setting_start(assessment.agents)
    cool = temperature_ceiling_text(ACID_AT_C)
    if start is None:
        return f"and stir in the acid parts at or below {cool}."
    if start < ACID_AT_C:
        hot = temperature_floor_text(start)
        return f"stir in the acid parts at or below {cool} but above {hot}, and pour at once."
    return (
        f"let it cool to just above {temperature_floor_text(start)}, where it starts to set, "
        "stir in the acid parts and pour at once."
    )


def _pour(agents: Iterable[AgentResult]) -> Iterable[str]:
    start = setting_start(agents)
    if start is not None:
        yield f"Pour above {temperature_floor_text(start)}: below that it starts to set."


def _leave(agents: Iterable[AgentResult]) -> Iterable[str]:
    if any(agent.sets is Verdict.YES for agent in agents):
        yield "Once poured, leave it alone until it is set: a gel broken while setting stays weak."


def setting_start(agents: Iterable[AgentResult]) -> float | None:
    """Return the hottest temperature at which anything may begin to set; None for nothing."""
    starts = [
        _hottest(estimate)
        for agent in agents
        if agent.sets is not Verdict.NO
        for estimate in (agent.set_temperature_c, agent.practice_set_c)
        if estimate is not None
    ]
    return max(starts, default=None)


def _hottest(estimate: Estimate) -> float:
    return estimate.value if estimate.high is None else max(estimate.high, estimate.value)


def lowest(estimate: Estimate) -> float:
    """Return the lower end of an estimate."""
    return estimate.value if estimate.low is None else min(estimate.low, estimate.value)


def _coolest(estimate: Estimate) -> str:
    return temperature_ceiling_text(lowest(estimate))
