"""Why a step is there: what the agents in it need, in one plain sentence each."""

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from setwell.documents.amounts import temperature_floor_text
from setwell.documents.critical import ACID_AT_C, hot_acid_limit, lowest, setting_start
from setwell.documents.setting_reasons import chill_reasons, pour_reason, unmold_reasons
from setwell.documents.step_agents import enters, names_joined
from setwell.documents.told import Told
from setwell.domain.steps import Step, StepKind
from setwell.engine.assessment import AgentResult, Assessment
from setwell.engine.dispersal import Way, way_of
from setwell.engine.heat.pouring import pours
from setwell.engine.process import batch_temperature, steps_read
from setwell.engine.rules.dispersion import needed_c
from setwell.provenance import Citation, Evidence, Grade
from setwell.tables.agents import agent_rows

_DRY_WITH_SUGAR = re.compile(
    r"\b(?:mix|rub|blend|stir|whisk|toss)\w*\b.{1,60}\bwith\b(?: [\w-]+){0,4} sugar\b"
    r"|\bsugar\b.{0,40}\bdry\b|\bdry\b.{0,40}\bsugar\b",
    re.IGNORECASE,
)
_RAINED = re.compile(r"\b(?:rain|sprinkl|sift)(?:e|es|ed|ing)?\b", re.IGNORECASE)
# A dose of heat this high is written as a boil [°C].
_BOILS_C = 95.0
# More would bury the step (our own judgment).
MOST = 3
_PRACTICE = Citation("common_practice", "common practice, no source", Grade.ESTIMATED)
_HOT = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD})
_INTO = frozenset({StepKind.DISPERSE, StepKind.MIX, StepKind.ADD, StepKind.BLEND, StepKind.BLOOM})
# What the tables say of a powder, and the sentence it makes for each way in.
_WAYS: dict[Way, tuple[tuple[str, ...], str]] = {
    Way.DRY_BLENDED: (("sugar", "blend dry", "dry"), "Sugar keeps the grains of {0} apart, so "
                      "that each is wetted by itself and no lump forms."),
    Way.SLURRY: (("slurry", "oil", "spirit"), "Slaked first, the grains of {0} part before they "
                 "swell, so that no lump forms."),
    Way.BLENDER: (("shear", "blender"), "The blades part the grains of {0} before they swell "
                  "into lumps."),
    Way.APART: (("cold",), "In cold liquid the grains of {0} part before they swell."),
    Way.SPRINKLED: (("rain", "sift"), "Rained in thinly, the grains of {0} are wetted one by one "
                    "instead of in lumps."),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Place:
    """One step of a card as read, where it stands, and the agents that are in the pot by then."""

    number: int
    steps: tuple[Step, ...]
    agents: tuple[AgentResult, ...]
    named: tuple[AgentResult, ...]
    hottest: int | None
    assessment: Assessment

    def has(self, kinds: Iterable[StepKind]) -> bool:
        """Say whether the step does one of these things."""
        return bool({step.kind for step in self.steps} & set(kinds))


def step_reasons(texts: tuple[str, ...], assessment: Assessment) -> tuple[tuple[Told, ...], ...]:
    """Return for each step of a card why it is there; nothing where the engine knows nothing."""
    read = tuple(steps_read(text) for text in texts)
    hottest = _hottest(read)
    entries = [enters(agent, texts, read, assessment.lines) for agent in assessment.agents]
    places = (
        Place(
            number, steps,
            tuple(a for a, at in zip(assessment.agents, entries, strict=True) if at <= number),
            tuple(a for a, at in zip(assessment.agents, entries, strict=True) if at == number),
            hottest, assessment,
        )
        for number, steps in enumerate(read)
    )  # fmt: skip
    return tuple(tuple(_reasons(place))[:MOST] for place in places)


def _hottest(read: tuple[tuple[Step, ...], ...]) -> int | None:
    """Return the step that gets hottest; the first that heats where none says how hot."""
    heats = [n for n, steps in enumerate(read) if any(step.kind in _HOT for step in steps)]
    warmth = {n: max((batch_temperature(step) or 0.0) for step in read[n]) for n in heats}
    return max(heats, key=lambda n: (warmth[n], -n), default=None)


def _reasons(place: Place) -> Iterator[Told]:
    rules: tuple[Callable[[Place], Iterator[Told]], ...] = (
        _bloomed, _dispersed, _dissolved, _held, _soured, _poured, _chilled, _unmolded,
    )  # fmt: skip
    for rule in rules:
        yield from rule(place)


def _bloomed(place: Place) -> Iterator[Told]:
    soaked = [a for a in place.agents if "bloom in cold water" in _said(a, "dispersion")]
    if place.has({StepKind.BLOOM}) and soaked:
        yield Told(
            f"In cold water {names_joined(soaked)} swells evenly; dry in hot liquid it lumps.",
            _cited(soaked, "dispersion"),
        )


def _dispersed(place: Place) -> Iterator[Told]:
    if not place.has(_INTO) or place.has({StepKind.BLOOM}):
        return
    words, sentence = _WAYS.get(_way(place), ((), ""))
    suited = [a for a in place.named if any(word in _said(a, "dispersion") for word in words)]
    if suited:
        yield Told(sentence.format(names_joined(suited)), _cited(suited, "dispersion"))


def _way(place: Place) -> Way:
    """Return the way in; sugar that is already in the liquid keeps no grains apart."""
    texts = " ".join(step.text for step in place.steps)
    way = way_of(place.steps, frozenset(), is_carried=_DRY_WITH_SUGAR.search(texts) is not None)
    if way is Way.DRY_BLENDED and _DRY_WITH_SUGAR.search(texts) is None:
        return Way.SPRINKLED if _RAINED.search(texts) else Way.POURED
    return way


def _dissolved(place: Place) -> Iterator[Told]:
    """The hottest step is the one that dissolves; a warmer start before it is not."""
    if place.number != place.hottest:
        return
    by_heat: dict[float, list[AgentResult]] = {}
    for agent in place.agents:
        if not agent_rows()[agent.key].is_cold_soluble:
            by_heat.setdefault(needed_c(agent.key), []).append(agent)
    for needed, agents in sorted(by_heat.items(), reverse=True):
        verb = "swell" if all(a.key.startswith("starch") for a in agents) else "dissolve"
        yield Told(
            f"{names_joined(agents, is_first=True)} {verb}{'s' if len(agents) == 1 else ''} fully "
            f"only {_from(needed)}; grains that are left do nothing.",
            tuple(dict.fromkeys(one for agent in agents for one in _heat_cited(agent.key))),
            "Dissolve",
        )


def _from(needed: float) -> str:
    is_boil = needed >= _BOILS_C
    return "at a boil" if is_boil else f"from {temperature_floor_text(needed)}"


def _heat_cited(key: str) -> Evidence:
    rows = agent_rows()[key].properties
    found = rows.get("whole_batch_temperature") or rows.get("hydration_temperature") or ()
    return tuple(row.citation for row in found[:1])


def _held(place: Place) -> Iterator[Told]:
    """A hold is explained by the time the agents take, where it is as hot as they need."""
    if not any(step.hold_min and step.kind in _HOT for step in place.steps):
        return
    told = [degrees for step in place.steps if (degrees := batch_temperature(step)) is not None]
    follows = place.hottest is not None and place.number in {place.hottest, place.hottest + 1}
    hot = [
        agent for agent in place.agents
        if not agent_rows()[agent.key].is_cold_soluble
        and "bloom" not in _said(agent, "dispersion")
        and (max(told) >= needed_c(agent.key) - 2.0 if told else follows)
    ]  # fmt: skip
    if not hot:
        return
    agent = max(hot, key=lambda one: agent_rows()[one.key].figure("hydration_hold").value)
    row = agent_rows()[agent.key].figure("hydration_hold")
    low, high = (row.value if end is None else end for end in (row.low, row.high))
    yield Told(
        f"Hot, {names_joined([agent])} takes about {low:g} to {high:g} min to dissolve to the "
        "core of each grain.",
        (row.citation,),
    )


def _soured(place: Place) -> Iterator[Told]:
    acidity = place.assessment.figure("ph")
    if acidity is None or not any(step.is_acid_addition for step in place.steps):
        return
    if place.hottest is None or place.number <= place.hottest:
        return
    sour = lowest(acidity.estimate)
    shy = [agent for agent in place.agents if sour < hot_acid_limit(agent.key)]
    if not shy:
        return
    start = setting_start(place.assessment.agents)
    cool = temperature_floor_text(ACID_AT_C if start is None or start < ACID_AT_C else start)
    limit = "as cool as it still pours" if start is not None and start >= ACID_AT_C else "late"
    yield Told(
        f"Hot acid cuts the chains of {names_joined(shy)}; {limit}, at about {cool}, it does so "
        "far more slowly.",
        (*_acid_cited(shy), _PRACTICE),
        "Acid late",
    )


def _acid_cited(agents: Iterable[AgentResult]) -> Evidence:
    rows = (
        row for agent in agents
        for row in agent_rows()[agent.key].properties.get("ph_hot_hold_low", ())
    )  # fmt: skip
    return tuple(dict.fromkeys(row.citation for row in rows))


def _poured(place: Place) -> Iterator[Told]:
    if any(pours(step) for step in place.steps) and _is_hot_behind(place):
        yield from pour_reason(place.agents)


def _is_hot_behind(place: Place) -> bool:
    return place.hottest is None or place.number >= place.hottest


def _chilled(place: Place) -> Iterator[Told]:
    if _is_hot_behind(place):
        is_fridge = place.has({StepKind.CHILL, StepKind.FREEZE})
        told = [step.temperature_c for step in place.steps if step.temperature_c is not None]
        # Cooling down to stir something in is no setting yet; resting without a number is.
        sets_here = is_fridge or (place.has({StepKind.REST}) and not told)
        if sets_here:
            yield from chill_reasons(place.agents, place.assessment, is_fridge=is_fridge)


def _unmolded(place: Place) -> Iterator[Told]:
    if place.has({StepKind.UNMOLD, StepKind.SERVE}):
        yield from unmold_reasons(place.agents)


def _said(agent: AgentResult, name: str) -> str:
    row = agent_rows()[agent.key].texts.get(name)
    return "" if row is None else row.text


def _cited(agents: Iterable[AgentResult], name: str) -> Evidence:
    rows = (agent_rows()[agent.key].texts[name] for agent in agents)
    return tuple(dict.fromkeys(row.citation for row in rows))
