"""From a brief to proposals: tables, search, short list, refinement, reasons."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.brief import Brief
from setwell.domain.formula import Formula
from setwell.engine.catalog import Catalog
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.proposals.afloat import listed_evidence
from setwell.engine.proposals.aim import Aim
from setwell.engine.proposals.base import BriefBase, base_read
from setwell.engine.proposals.conflicts import MetMasks
from setwell.engine.proposals.finalists import Finalist, finalist, leaner, worth_showing
from setwell.engine.proposals.finished import finished
from setwell.engine.proposals.front import front_of
from setwell.engine.proposals.mixing import mixed, slot
from setwell.engine.proposals.narrow import FEW, next_nearest
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.reasons import why_out
from setwell.engine.proposals.refine import HELPER_MOST_PCT
from setwell.engine.proposals.relaxing import brief_changed
from setwell.engine.proposals.results import (
    FellOut,
    Judged,
    Proposal,
    Proposals,
    Relaxation,
)
from setwell.engine.proposals.search import (
    Found,
    Job,
    Runner,
    chunks_of,
    job_of,
    judge,
    merged,
    serial,
)
from setwell.engine.proposals.shelf import Shelf, shelf_of
from setwell.engine.proposals.shortlist import Pick, kin_of, picks_of, short_list
from setwell.engine.proposals.tables import agent_table, helper_levels
from setwell.engine.proposals.ways_out import WayOut, way_out
from setwell.engine.proposals.wish_windows import OPEN, distances, mask_of
from setwell.engine.proposals.wishes import Wish, wishes_of
from setwell.engine.proposals.words import compared
from setwell.engine.texture_results import Texture
from setwell.errors import OutOfRangeError
from setwell.provenance import Evidence, evidence_join
from setwell.units import temperature_print

Array = NDArray[np.float64]

MOST = 8
_MOST_SHOWN = 24
# The first results are few, so that they come at once.
_FIRST = 5
_REMARKS = (
    "Doses were searched agent by agent from tables and put together by the laws of pairs; each "
    "proposal shown was then computed as a whole, with the salts of all its powders.",
    "Where no law is known for two agents, what each does is added, and they rank lower.",
)
# So many sets of the agents of a way out are tried before it is given up.
_TRIED = 3
# So many more are refined than are shown: the whole engine may see some otherwise.
_SPARE = 3


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """A brief, read: its base, its wishes, who may come in, and what is measured of agents."""

    brief: Brief
    base: BriefBase
    wishes: tuple[Wish, ...]
    shelf: Shelf
    corrections: Mapping[str, Corrections] | None
    like: Texture | None = None


def asked(
    brief: Brief,
    *,
    catalog: Catalog,
    parts: Mapping[str, Formula] | None = None,
    origin: Formula | None = None,
    like: Texture | None = None,
    corrections: Mapping[str, Corrections] | None = None,
) -> Asked:
    """Return a brief read against the catalog. Raises InputError at the field it belongs to."""
    base = base_read(brief, catalog=catalog, parts=parts, origin=origin)
    wishes = wishes_of(brief, base, like=like)
    return Asked(brief, base, wishes, shelf_of(brief, base), corrections, like)


def search_job(question: Asked, *, fineness: int = 1) -> Job:
    """Return the tables of all agents that may come in, ready to be searched."""
    shelf = question.shelf
    levels = helper_levels(shelf.helpers)
    caps = dict(shelf.most_pct)
    tables = [
        agent_table(
            question.base, question.brief, agent, levels, question.corrections,
            **({"most_pct": caps[agent.key]} if agent.key in caps else {}),
        )
        for agent in shelf.agents
    ]  # fmt: skip
    return job_of(
        tables, levels, question.wishes, apart=shelf.apart,
        agents_most=question.brief.agents_most, fineness=fineness,
    )  # fmt: skip


def propose(  # noqa: PLR0913 - a brief is read against all that a kitchen knows
    brief: Brief,
    *,
    catalog: Catalog,
    parts: Mapping[str, Formula] | None = None,
    origin: Formula | None = None,
    like: Texture | None = None,
    corrections: Mapping[str, Corrections] | None = None,
    run: Runner = serial,
    is_first: bool = False,
    most: int = MOST,
    fineness: int = 1,
    job_for: Callable[[Asked], Job] | None = None,
) -> Proposals:
    """Return what to try for a brief, what it trades away, and why the rest fell out.

    `origin` is the saved formula that `base_formula` names, `like` the texture of the reference.
    `run` judges the chunks, here or elsewhere. With `is_first` only single agents are judged.
    `fineness` multiplies the doses tried in sets. `job_for` gives tables that are known already,
    and wins over it. Raises InputError at the field of the brief.
    """
    if not 1 <= most <= _MOST_SHOWN:
        raise OutOfRangeError(
            f"{most} proposals cannot be shown; from 1 to {_MOST_SHOWN} can.", field="most"
        )
    question = asked(
        brief, catalog=catalog, parts=parts, origin=origin, like=like, corrections=corrections
    )
    job = search_job(question, fineness=fineness) if job_for is None else job_for(question)
    chunks = chunks_of(job, (1,) if is_first else (1, 2, 3))
    results = sorted(run(judge, job, chunks), key=lambda one: one[0])
    found = merged([one for _, one in results])
    picks = short_list(job, found, min(most, _FIRST) if is_first else most + _SPARE)
    return _answer(question, job, found, picks, most, is_first=is_first)


def _answer(
    question: Asked, job: Job, found: Found, picks: tuple[Pick, ...], most: int, *, is_first: bool
) -> Proposals:
    aim = Aim(question.wishes)
    looked_at = [_refined(question, job, pick, aim) for pick in picks]

    def more(others: Sequence[Pick]) -> list[Finalist]:
        return [_refined(question, job, pick, aim) for pick in others]

    refined = worth_showing(
        looked_at,
        lambda: more(picks_of(job, found, picks, leaner(looked_at))),
        lambda: more(kin_of(job, found, picks, FEW)),
    )
    shown = _numbered(
        compared(
            [finished(one.draft, one.best.percents, one.best.predicted, question.wishes,
                      question.corrections) for one in refined[:most]]
        )
    )  # fmt: skip
    nearest = next_nearest(
        job, found, [frozenset(agent.key for agent in one.agents) for one in shown]
    )
    out = WayOut((), ()) if is_first else _way_out(question, job, found, refined)
    return Proposals(
        title=question.brief.title,
        wishes=tuple(wish.asked for wish in question.wishes),
        proposals=shown,
        fell_out=(*question.shelf.fell_out, *_fell_out(question, job, shown)),
        conflicts=out.conflicts,
        relaxations=out.relaxations,
        judged=_judged(found),
        remarks=(*question.base.remarks, *question.shelf.remarks, *_REMARKS),
        assumed=_assumed(question, job),
        is_complete=not is_first,
        evidence=evidence_join(
            [*_listed(question, job), *(table.state.evidence for table in job.tables)]
        ),
        nearest=nearest,
    )


def _listed(question: Asked, job: Job) -> list[Evidence]:
    """Return where listed doses come from, if the brief asks for them."""
    return [listed_evidence(job.keys)] if question.brief.keeps_afloat else []


def _way_out(question: Asked, job: Job, found: Found, refined: Sequence[Finalist]) -> WayOut:
    def search(brief: Brief) -> Job:
        base = question.base
        changed = replace(question, brief=brief, shelf=shelf_of(brief, base))
        return search_job(changed)

    rows = Predicted.joined([one.best.predicted for one in refined])
    names = tuple(tuple(agent.name for agent in one.draft.agents) for one in refined)
    return way_out(
        question.brief, question.base, job, found, search,
        refined=MetMasks(rows, names), proves=lambda one: _is_proven(question, one),
        like=question.like,
    )  # fmt: skip


def _is_proven(question: Asked, way: Relaxation) -> bool:
    """True where the whole engine finds a way out met by the agents it names."""
    brief = brief_changed(question.brief, way.changes)
    like = question.like if brief.texture.like else None
    shelf = shelf_of(brief, question.base)
    named = tuple(agent for agent in shelf.agents if agent.name in way.agents)
    changed = replace(
        question, brief=brief, wishes=wishes_of(brief, question.base, like=like),
        shelf=replace(shelf, agents=named),
    )  # fmt: skip
    job = search_job(changed)
    found = merged([one for _, one in serial(judge, job, chunks_of(job))])
    aim = Aim(changed.wishes)
    best = [_refined(changed, job, pick, aim).best.predicted
            for pick in short_list(job, found, _TRIED)]  # fmt: skip
    far = distances(changed.wishes, Predicted.joined(best)).reshape(len(changed.wishes), -1)
    return bool((mask_of(far) == 0).any())


def _assumed(question: Asked, job: Job) -> tuple[str, ...]:
    """Return what was tried, and at which heat."""
    told = [f"{len(job.tables)} agents, each from a trace to 1.5 times its highest usual dose."]
    if job.levels.names:
        most = [f"{name} up to {HELPER_MOST_PCT[name]:g} %" for name in job.levels.names]
        told.append(f"Helpers: {', '.join(most)}.")
    hottest = question.brief.limits.max_temperature_c
    told.append(f"Nothing is heated above {temperature_print(hottest)}.")
    return tuple(told)


def _numbered(proposals: Sequence[Proposal]) -> tuple[Proposal, ...]:
    best = front_of(proposals)
    return tuple(
        replace(one, code=f"P{n}", is_best=is_best)
        for n, (one, is_best) in enumerate(zip(proposals, best, strict=True), start=1)
    )


def _refined(question: Asked, job: Job, pick: Pick, aim: Aim) -> Finalist:
    return finalist(question.base, question.brief, job, pick, aim, question.corrections)


def _judged(found: Found) -> Judged:
    """Return how many candidates were judged, by the size of their set."""
    return Judged(*(int(found.judged[n]) for n in range(3)))


def _fell_out(question: Asked, job: Job, shown: tuple[Proposal, ...]) -> tuple[FellOut, ...]:
    """Return why each agent that is in none of the proposals is no answer by itself."""
    used = {agent.key for one in shown for agent in one.agents}
    doses = job.doses(1)
    weights = np.array([wish.weight for wish in job.wishes])
    told = []
    for place, table in enumerate(job.tables):
        if table.agent.key in used:
            continue
        alone = slot(job.stack, np.array([place]), doses, 0, 1)
        found, burden = mixed([alone], job.light)
        off = distances(job.wishes, found).reshape(len(job.wishes), -1)
        best = int(np.argmin(weights @ np.where(off > OPEN, off, 0.0) + burden.ravel()))
        told.append(
            why_out(
                table.agent, job.wishes, found, off, best, served_c=question.brief.serving_c,
                state=table.state,
            )
        )  # fmt: skip
    return tuple(told)
