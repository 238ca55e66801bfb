"""What must happen, and how to tell that it did."""

from collections.abc import Iterable

from setwell.documents.amounts import temperature_ceiling_text, temperature_floor_text
from setwell.engine.assessment import AgentResult, Assessment, Verdict
from setwell.provenance import Estimate

# Cooler than this an agent hydrates in what comes out of the tap: nothing to watch [°C].
WARM_FROM_C = 40.0
# Hot and more acid than this, chains of most gums are cut quickly (common practice).
ACID_BELOW_PH = 4.5
# Hot acid cuts chains within minutes; at this temperature hardly (common practice) [°C].
ACID_AT_C = 60.0
# An agent that needs this much heat stays long enough in the hot zone for acid to matter [°C].
COOKED_FROM_C = 60.0
# Chart figures that say how hot is hot enough; the hottest of them counts.
HYDRATION_KEYS = frozenset({"hydration_temperature", "whole_batch_temperature"})


def critical_points(assessment: Assessment) -> tuple[str, ...]:
    """Return the points that decide whether the batch works, in the order they come up."""
    agents = assessment.agents
    return tuple(
        dict.fromkeys((*_hydrate(agents), *_acid(assessment), *_pour(agents), *_leave(agents)))
    )


def success_signs(assessment: Assessment) -> tuple[str, ...]:
    """Return what a cook can see and feel when it went right."""
    texture = assessment.texture
    signs = [texture.sentence] if texture.sentence else []
    if texture.words:
        signs.append(f"On the spoon: {', '.join(texture.words)}.")
    for agent in assessment.agents:
        if agent.sets is Verdict.YES and agent.set_temperature_c is not None:
            coolest = _coolest(agent.set_temperature_c)
            signs.append(f"{_capital(agent.name)} is set once the core is below {coolest}.")
        if agent.sets is Verdict.YES and agent.melt_temperature_c is not None:
            lowest = _coolest(agent.melt_temperature_c)
            signs.append(f"It should hold its shape up to about {lowest}.")
    return tuple(dict.fromkeys(signs))


def hydration_temperature(agent: AgentResult) -> float | None:
    """Return the temperature that is surely hot enough for one agent; None when unknown."""
    known = [
        _hottest(figure.estimate)
        for figure in agent.chart
        if figure.key in HYDRATION_KEYS and figure.estimate.unit == "°C"
    ]
    return max(known, default=None)


def _hydrate(agents: Iterable[AgentResult]) -> Iterable[str]:
    for agent in agents:
        needed = hydration_temperature(agent)
        if needed is not None and needed >= WARM_FROM_C:
            hot = temperature_floor_text(needed)
            yield (
                f"Hydrate {agent.name}: at least {hot} through the whole batch. "
                "Stir, and probe top and bottom."
            )


def _acid(assessment: Assessment) -> Iterable[str]:
    acidity = assessment.figure("ph")
    is_acid = acidity is not None and _lowest(acidity.estimate) < ACID_BELOW_PH
    is_cooked = any((hydration_temperature(a) or 0.0) >= COOKED_FROM_C for a in assessment.agents)
    if is_acid and is_cooked:
        yield f"Acid after cooling: hydrate first, take the batch off the heat, {_when(assessment)}"


def _when(assessment: Assessment) -> str:
    start = _setting_start(assessment.agents)
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
    start = _setting_start(agents)
    if start is not None:
        yield f"Pour above {temperature_floor_text(start)}: below that it starts to set."


def _leave(agents: Iterable[AgentResult]) -> Iterable[str]:
    if any(agent.sets is Verdict.YES for agent in agents):
        yield "Once poured, leave it alone until it is set: a gel broken while setting stays weak."


def _setting_start(agents: Iterable[AgentResult]) -> float | None:
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


def _lowest(estimate: Estimate) -> float:
    return estimate.value if estimate.low is None else min(estimate.low, estimate.value)


def _coolest(estimate: Estimate) -> str:
    return temperature_ceiling_text(_lowest(estimate))


def _capital(name: str) -> str:
    return name[:1].upper() + name[1:]
