"""A short list of different answers, not ten variants of one."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import combinations, islice
from math import inf
from typing import NamedTuple

import numpy as np

from setwell.engine.gelling.pair import KIN
from setwell.engine.proposals.by_law import laws_among
from setwell.engine.proposals.search import Found, Job
from setwell.tables.agents import agent_rows

# What an added agent has to bring, in summed distance, unless a law makes a pair of two.
_WORTH = 0.15
# How much sharing agents with one already listed costs in the order, and each listing of the
# same agent after the second (our judgment).
_SHARED, _AGAIN = 0.8, 0.4
# Nothing this much worse than the best comes onto the list: three steps that anyone tastes.
FARTHEST_BEHIND = 3.0
# Sets that are looked at; far more than a list ever holds.
_LOOKED_AT = 300
_FAMILIES = ("starch", "hpmc", "methylcellulose", "pectin", "gelatin")


class Pick(NamedTuple):
    """One set of agents: places in the tables, helper level, dose places, score.

    `burden` is the part of the score that is not a distance: what its agents and helpers cost in
    the order.
    """

    agents: tuple[int, ...]
    level: int
    doses: tuple[int, ...]
    score: float
    burden: float


def short_list(job: Job, found: Found, most: int) -> tuple[Pick, ...]:
    """Return at most so many different sets, best first."""
    return _different(job, _pool(job, found), most)


def kin_of(job: Job, found: Found, picks: Sequence[Pick], most: int) -> tuple[Pick, ...]:
    """Return variants of the best, such as another starch, for a brief that little else meets."""
    if not picks:
        return ()
    own = families_of(job.keys[n] for n in picks[0].agents)
    kin = (
        pick for pick in _pool(job, found)
        if pick not in picks and families_of(job.keys[n] for n in pick.agents) == own
    )  # fmt: skip
    return tuple(islice(kin, most))


def picks_of(
    job: Job, found: Found, picks: Sequence[Pick], sets: Collection[frozenset[str]]
) -> tuple[Pick, ...]:
    """Return the picks that are just these sets of agents, and not listed yet."""
    return tuple(
        pick for pick in _pool(job, found)
        if pick not in picks and frozenset(job.keys[n] for n in pick.agents) in sets
    )  # fmt: skip


def _pool(job: Job, found: Found) -> list[Pick]:
    """Return the sets near the best in which every agent counts, best first."""
    weights = np.array([wish.weight for wish in job.wishes])
    summed = found.off @ weights
    known = dict(zip(map(_agents, found.combos.tolist()), summed.tolist(), strict=True))
    order = np.argsort(found.score, kind="stable")
    pool: list[Pick] = []
    for n in order:
        if found.score[n] > found.score[order[0]] + FARTHEST_BEHIND or len(pool) >= _LOOKED_AT:
            break
        row = found.combos[n].tolist()
        if _each_counts(job, _agents(row), known):
            level, *doses = found.places[n].tolist()
            order_of = sorted(range(len(_agents(row))), key=row.__getitem__)
            score = float(found.score[n])
            pool.append(
                Pick(_agents(row), level, tuple(doses[at] for at in order_of), score,
                     score - float(summed[n]))
            )  # fmt: skip
    return pool


def _agents(row: Sequence[int]) -> tuple[int, ...]:
    """Return the agents of a set in the order of the tables."""
    return tuple(sorted(n for n in row if n >= 0))


def _each_counts(job: Job, agents: tuple[int, ...], known: Mapping[tuple[int, ...], float]) -> bool:
    """True where no agents could be left out for nothing: each brings what is asked nearer.

    Two agents that a law joins are an answer of their own, even where one of them would do.
    """
    if len(agents) == 1:
        return True
    if len(agents) == 2 and laws_among([job.tables[a] for a in agents], is_known=True):
        return True
    fewer = (part for size in range(1, len(agents)) for part in combinations(agents, size))
    return all(known[part] - known[agents] >= _WORTH for part in fewer if part in known)


def _different(job: Job, pool: list[Pick], most: int) -> tuple[Pick, ...]:
    """Return picks one by one, each time the best after what it shares with those before."""
    families = [families_of(job.keys[n] for n in pick.agents) for pick in pool]
    chosen: list[int] = []
    while len(chosen) < most:
        cost = [_cost(pick, n, families, chosen) for n, pick in enumerate(pool)]
        if not cost or min(cost) == inf:
            break
        chosen.append(cost.index(min(cost)))
    return tuple(pool[n] for n in chosen)


def _cost(pick: Pick, at: int, families: list[frozenset[str]], chosen: list[int]) -> float:
    """Return the score of a pick with what it shares with those chosen; infinite for a twin."""
    own = families[at]
    if any(families[n] == own for n in chosen):
        return inf
    shared = max((len(own & families[n]) / len(own | families[n]) for n in chosen), default=0.0)
    often = max(sum(one in families[n] for n in chosen) for one in own)
    return pick.score + _SHARED * shared + _AGAIN * max(often - 1, 0)


def families_of(keys: Iterable[str]) -> frozenset[str]:
    """Return the families in a set of agents; a ready blend is what is in it."""
    rows = agent_rows()
    return frozenset(family_of_key(part) for key in keys for part in rows[key].parts or (key,))


def family_of_key(key: str) -> str:
    """Return what an agent is a variant of: any starch is a starch."""
    own = KIN.get(key, key)
    return next((name for name in _FAMILIES if own.startswith(name)), own).replace(
        "hpmc", "methylcellulose"
    )
