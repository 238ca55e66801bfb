"""All agents of a batch as one mix: known pairs by their law, the others simply added."""

from collections.abc import Mapping
from itertools import combinations

import numpy as np

from setwell.engine.gelling.finish import cold_enough, enough, standing
from setwell.engine.gelling.pair import KIN, Kitchen, Mix, Note, pair_row
from setwell.engine.gelling.pair_laws import apart, by_dose, helped, joint, kappa_iota, thicker
from setwell.engine.gelling.state import NO, AgentState, Codes, SetsOn
from setwell.engine.spans import Spans
from setwell.provenance import Citation, Grade
from setwell.tables.agents import agent_rows

_KAPPA, _IOTA = "kappa_carrageenan", "iota_carrageenan"
_GELLANS = frozenset({"gellan_LA", "gellan_HA"})
_GELATINS = frozenset({"gelatin", "gelatin_fish_cold"})
_RECALLED = (Citation("trade_recalled", "recalled, no source seen", Grade.UNVERIFIED),)
_BOUNDS = (Citation("takayanagi_1964", "series and parallel models", Grade.UNVERIFIED),)
# Protein from which milk speaks for the strength of kappa [kg/kg].
_MILKY = 0.005


def blend(agents: Mapping[str, AgentState], kitchen: Kitchen) -> Mix:
    """Return the agents of n batches together, with what their pairs change."""
    together = _carrageenans_together(agents, kitchen)
    sets = {
        key: agent.sets
        if together is None or KIN.get(key, key) not in {_KAPPA, _IOTA}
        else np.maximum(agent.sets, together)
        for key, agent in agents.items()
    }
    for key, agent in agents.items():
        if agent.sets_on is SetsOn.HEATING and agent.gel is not None:
            # It stood when hot; what is served is what counts for the whole.
            gone = agent.gel.modulus.high <= 0
            sets[key] = np.where(gone, NO, sets[key]).astype(np.int8)
    gels = {
        key: standing(agent.gel, sets[key])
        for key, agent in agents.items()
        if agent.gel is not None
    }
    flows = {key: agent.flow for key, agent in agents.items() if agent.flow is not None}
    mix = Mix(agents, sets, kitchen, gels, flows=flows)
    open_pairs = [pair for pair in combinations(agents, 2) if not _by_law(mix, *pair)]
    if open_pairs:
        mix.notes.append(_added(open_pairs))
    if _KAPPA in agents and bool((kitchen.milk_protein > _MILKY).any()):
        mix.notes.append(_milk())
    return mix


def has_law(first: AgentState, second: AgentState, *, is_known: bool = False) -> bool:
    """Return whether two agents together are more, or less, than their sum.

    With `is_known` the guess that gelatin parts from other gels is not counted.
    """
    pair = {first.key, second.key}
    if pair == _GELLANS or pair_row(first.key, second.key) is not None:
        return True
    if is_known:
        return False
    return bool(pair & _GELATINS) and first.gel is not None and second.gel is not None


def _by_law(mix: Mix, first: str, second: str) -> bool:
    """Apply the law of a pair; False where none is known."""
    pair = {first, second}
    if pair == _GELLANS:
        by_dose(mix, "gellan_LA", "gellan_HA")
        return True
    if pair & _GELATINS and first in mix.gels and second in mix.gels:
        apart(mix, first, second, (*_RECALLED, *_BOUNDS))
        return True
    found = pair_row(first, second)
    if found is None:
        return False
    row, one, two = found
    if "plateau_share" in row.figures:
        kappa_iota(mix, row, one, two)
    elif "power_small" in row.figures:
        helped(mix, row, one, two)
    elif "modulus_at_1pct" in row.figures:
        joint(mix, row, one, two)
    else:
        thicker(mix, row, one, two)
    return True


def _added(pairs: list[tuple[str, str]]) -> Note:
    names = [" with ".join(agent_rows()[key].short_name for key in pair) for pair in pairs]
    said = f"No law is known for {'; '.join(names)}: what each does is simply added."
    agents = tuple(dict.fromkeys(key for pair in pairs for key in pair))
    return Note(agents, lambda _: said, (), is_known=False)


def _milk() -> Note:
    figure = agent_rows()[_KAPPA].figure("milk_strength_factor")
    return Note(
        (_KAPPA,),
        lambda _: (
            f"Milk protein binds kappa: about {figure.value:g} times the strength of a water gel "
            f"({figure.low:g} to {figure.high:g})."
        ),
        (figure.citation,),
    )


def _carrageenans_together(agents: Mapping[str, AgentState], kitchen: Kitchen) -> Codes | None:
    """Return whether kappa and iota gel on their common account.

    Each counts as the share of its own critical dose that it reaches; one gels at the sum of
    one. They set at different temperatures, so the colder of the two must be reached.
    """
    pair = [agent for key, agent in agents.items() if KIN.get(key, key) in {_KAPPA, _IOTA}]
    if len(pair) < 2:
        return None
    count = len(kitchen.milk_protein)
    reached = [np.zeros(count) for _ in range(3)]
    codes: list[Codes] = []
    for agent in pair:
        critical, set_c = agent.critical_pct, agent.set_c
        if critical is None or set_c is None:
            return None
        dose = agent.effective_pct
        reached[0] = reached[0] + dose.value / critical.value
        reached[1] = reached[1] + dose.low / critical.high
        reached[2] = reached[2] + dose.high / critical.low
        codes.append(cold_enough(kitchen.coldest_c, set_c))
        codes.extend(condition.holds for condition in agent.conditions)
    codes.append(enough(Spans(*reached), Spans.exact(np.ones(count))))
    return np.asarray(np.minimum.reduce(codes), dtype=np.int8)
