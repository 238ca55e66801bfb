"""Why a batch is poured, chilled and unmolded the way a step says."""

from collections.abc import Iterable, Iterator

from setwell.documents.amounts import temperature_ceiling_text, temperature_floor_text
from setwell.documents.critical import lowest, setting_start
from setwell.documents.told import Told
from setwell.engine.assessment import AgentResult, Assessment, Verdict
from setwell.provenance import Evidence, evidence_join
from setwell.tables.rules import FoodCodeRule, food_code_rules
from setwell.units import duration_print

_ON_COOLING = "cooling"


def pour_reason(agents: tuple[AgentResult, ...]) -> Iterator[Told]:
    """Tell where it begins to set, where anything does on cooling."""
    cooled = tuple(agent for agent in agents if agent.gel.sets_on == _ON_COOLING)
    start = setting_start(cooled)
    if start is not None:
        yield Told(
            f"Below {temperature_floor_text(start)} it may begin to set; a gel broken while it "
            "sets stays weak.",
            _setting_evidence(cooled),
            "Pour in time",
        )


def chill_reasons(
    agents: tuple[AgentResult, ...], assessment: Assessment, *, is_fridge: bool
) -> Iterator[Told]:
    """Tell where each agent has set, and why it has to be quick."""
    for agent in agents:
        setting = agent.set_temperature_c
        if agent.sets is Verdict.YES and setting and agent.gel.sets_on == _ON_COOLING:
            cold = temperature_ceiling_text(lowest(setting))
            yield Told(
                f"{agent.name} has set once the core is below {cold}; leave it alone until then.",
                setting.evidence,
                "Leave alone",
            )
    if is_fridge and any(caution.code == "cooling" for caution in assessment.cautions):
        rules = food_code_rules()
        first, whole = rules["cooling_first_stage"], rules["cooling_total"]
        yield Told(
            f"Slow cooling lets germs grow: from {first.start_temperature_c:g} °C "
            f"({first.start_temperature_f:g} °F) {_limit(first)}, and {_limit(whole)} in all.",
            (first.citation, whole.citation),
            "Cool in time",
        )


def _limit(rule: FoodCodeRule) -> str:
    hours = duration_print((rule.time_s or 0.0) / 60.0)
    return f"to {rule.temperature_c:g} °C ({rule.temperature_f:g} °F) within {hours}"


def unmold_reasons(agents: Iterable[AgentResult]) -> Iterator[Told]:
    """Tell up to where the gel holds."""
    holding = [agent for agent in agents if agent.sets is Verdict.YES and agent.melt_temperature_c]
    if holding:
        softest = min(lowest(a.melt_temperature_c) for a in holding if a.melt_temperature_c)
        evidence = evidence_join(
            a.melt_temperature_c.evidence for a in holding if a.melt_temperature_c
        )
        yield Told(
            f"It holds up to about {temperature_ceiling_text(softest)}; warmer, it softens and "
            "melts.",
            evidence,
        )


def _setting_evidence(agents: Iterable[AgentResult]) -> Evidence:
    return evidence_join(
        estimate.evidence
        for agent in agents
        for estimate in (agent.set_temperature_c, agent.practice_set_c)
        if estimate is not None
    )
