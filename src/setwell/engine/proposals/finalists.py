"""Sets of agents from the short list, refined by the whole engine, and those worth showing."""

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from setwell.domain.brief import Brief
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.proposals.aim import Aim
from setwell.engine.proposals.base import BriefBase
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.narrow import FEW
from setwell.engine.proposals.refine import Refined, refine
from setwell.engine.proposals.search import Job
from setwell.engine.proposals.shortlist import FARTHEST_BEHIND, Pick
from setwell.engine.proposals.tables import PER_HELPER, AgentTable, dose_burden
from setwell.engine.proposals.usual_span import usual_span

# An agent that brings less than this at the doses of a set does nothing there (our judgment).
_IDLE = 0.05


class Finalist(NamedTuple):
    """A set of agents, its refined doses, and its place in the order."""

    draft: ProposalDraft
    best: Refined
    rank: float


def finalist(
    base: BriefBase,
    brief: Brief,
    job: Job,
    pick: Pick,
    aim: Aim,
    corrections: Mapping[str, Corrections] | None = None,
) -> Finalist:
    """Return one pick with its doses refined by the whole engine, and its place in the order.

    Helpers have to earn their place here too: doses tried in steps may have missed the one that
    needs none.
    """
    tables = [job.tables[n] for n in pick.agents]
    agents = tuple(table.agent for table in tables)
    start = [float(t.doses_pct[dose]) for t, dose in zip(tables, pick.doses, strict=True)]
    percents = dict(zip(job.levels.names, job.levels.percents[pick.level].tolist(), strict=True))
    salts = {name: pct for name, pct in percents.items() if pct > 0}
    beside = pick.burden - _powders(tables, start) - PER_HELPER * len(salts)

    def at_best(salts: Mapping[str, float]) -> Finalist:
        draft = ProposalDraft(base, brief, agents, tuple(salts))
        best = refine(draft, [*start, *salts.values()], objective=aim, corrections=corrections)
        off = float(aim.outside(best.predicted)[0])
        return Finalist(draft, best, off + beside + best.burden + PER_HELPER * len(salts))

    ways = [at_best(salts)]
    if salts:
        ways.append(at_best({}))
    return min(ways, key=lambda one: one.rank)


def _powders(tables: Sequence[AgentTable], percents: Sequence[float]) -> float:
    highs = np.array([usual_span(table.agent.key)[1] for table in tables])
    return float(dose_burden(np.array(percents), highs).sum())


def _is_idle(one: Finalist) -> bool:
    """True where the refined doses do as well without one of the agents."""
    return any(brings < _IDLE for brings in one.best.brings)


def leaner(refined: Sequence[Finalist]) -> tuple[frozenset[str], ...]:
    """Return the keys of sets with an idle agent, without it, once each."""
    found = (
        frozenset(
            agent.key
            for agent, brings in zip(one.draft.agents, one.best.brings, strict=True)
            if brings >= _IDLE
        )
        for one in refined
        if _is_idle(one)
    )
    return tuple(dict.fromkeys(keys for keys in found if keys))


def worth_showing(
    refined: Sequence[Finalist],
    without_idle: Callable[[], Sequence[Finalist]],
    variants: Callable[[], Sequence[Finalist]],
) -> list[Finalist]:
    """Return what the whole engine leaves, best first: no idle agents, nothing far behind.

    Sets with idle agents are asked for again `without_idle` ones; where little is left,
    `variants` of the best are.
    """
    kept = _near([*refined, *without_idle()])
    if len(kept) < FEW:
        kept = _near([*kept, *variants()])[:FEW]
    return kept


def _near(refined: Sequence[Finalist]) -> list[Finalist]:
    kept = sorted((one for one in refined if not _is_idle(one)), key=lambda one: one.rank)
    return [one for one in kept if one.rank <= kept[0].rank + FARTHEST_BEHIND]
