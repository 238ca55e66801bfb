"""Proposals for a brief, with what this kitchen has and has measured."""

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import replace
from typing import Generic, NamedTuple, TypeVar

from setwell.domain.brief import Brief, TextureWish
from setwell.engine.proposals.propose import MOST, propose, search_job
from setwell.engine.proposals.propose import Asked as Question
from setwell.engine.proposals.results import (
    AgentDose,
    Chance,
    Conflict,
    FellOut,
    HelperDose,
    Judged,
    Proposal,
    Proposals,
    Relaxation,
    WishAnswer,
)
from setwell.engine.proposals.search import Job
from setwell.errors import NotFoundError, OutOfRangeError
from setwell.services.formulas import formula_create
from setwell.services.materials import kitchen_catalog, table_catalog
from setwell.services.pantry import food_list, food_save
from setwell.services.proposal_asking import Asked, brief_resolve
from setwell.services.sweeps.executor import Executor, serial

__all__ = [
    "AgentDose",
    "Chance",
    "Conflict",
    "FellOut",
    "HelperDose",
    "Judged",
    "Proposal",
    "Proposals",
    "Relaxation",
    "WishAnswer",
    "proposal_find",
    "proposal_make_formula",
    "proposal_save",
    "proposals_asked",
    "proposals_for",
    "search_ready",
]

# A chef goes back and forth between a few briefs; an answer holds some ten assessments.
_KEPT = 24
_JOBS_KEPT = 4
# Beyond it every dose of the tables is tried already.
FINENESS_MOST = 3


Answer = TypeVar("Answer")


class _Kept(Generic[Answer]):
    """The last answers; the same question asked twice at once is computed once."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._found: OrderedDict[str, Answer] = OrderedDict()
        self._lock, self._computing = threading.Lock(), threading.Lock()

    def get(self, key: str, compute: Callable[[], Answer]) -> Answer:
        """Return what is kept at once; one search at a time is computed."""
        kept = self._kept(key)
        if kept is not None:
            return kept
        with self._computing:
            kept = self._kept(key) or compute()
        with self._lock:
            self._found[key] = kept
            while len(self._found) > self._most:
                self._found.popitem(last=False)
        return kept

    def _kept(self, key: str) -> Answer | None:
        with self._lock:
            if key in self._found:
                self._found.move_to_end(key)
            return self._found.get(key)

    def clear(self) -> None:
        with self._lock:
            self._found.clear()


# Codes of first results begin with it: their ranks are not those of the whole answer.
_SINGLE = "S-"

# Apart, so that first results never wait for a whole search.
_FIRST: _Kept[Proposals] = _Kept(_KEPT)
_WHOLE: _Kept[Proposals] = _Kept(_KEPT)
# The whole search begins with the same tables of agents as the first results did.
_JOBS: _Kept[Job] = _Kept(_JOBS_KEPT)


class FoundProposal(NamedTuple):
    """A proposal with all that its brief names."""

    asked: Asked
    proposal: Proposal


def proposals_for(
    brief: Brief,
    *,
    is_first: bool = False,
    run: Executor | None = None,
    most: int = MOST,
    fineness: int = 1,
) -> Proposals:
    """Return what meets a brief; `is_first` judges single agents only.

    `run` judges the chunks elsewhere, `most` is how many are shown, and `fineness` multiplies the
    doses tried in sets; an answer to any of these is not remembered. Raises InputError at the
    field of the brief, dotted for inner ones.
    """
    asked = brief_resolve(brief)
    if run is None and (most, fineness) == (MOST, 1):
        return proposals_asked(asked, is_first=is_first)
    if not 1 <= fineness <= FINENESS_MOST:
        raise OutOfRangeError(
            f"{fineness} times as many doses are not possible: write 1 to {FINENESS_MOST}.",
            field="fine",
        )
    return _computed(asked, is_first=is_first, run=run or serial, most=most, fineness=fineness)


def proposal_find(brief: Brief, code: str) -> FoundProposal:
    """Return one proposal of a brief by its code. Raises NotFoundError."""
    asked = brief_resolve(brief)
    for proposal in proposals_asked(asked, is_first=code.startswith(_SINGLE)).proposals:
        if proposal.code == code:
            return FoundProposal(asked, proposal)
    raise NotFoundError(
        f"“{brief.title}” has no proposal “{code[:60]}” any more.",
        hint="The brief, the pantry or the measurements have changed: look at the new proposals.",
    )


def proposal_make_formula(brief: Brief, code: str) -> int:
    """Save a proposal as version 1 of a new formula and return the formula's id.

    A base told by its composition goes to the pantry first, as a food of its own.
    """
    return _saved(*proposal_find(brief, code))


def proposal_save(brief: Brief, proposal: Proposal) -> int:
    """Save a proposal of a brief as `proposal_make_formula` does, however it was searched for."""
    return _saved(brief_resolve(brief), proposal)


def _saved(asked: Asked, proposal: Proposal) -> int:
    own_food = asked.base.own_food
    if own_food is not None and all(row.document != own_food for row in food_list()):
        food_save(id=None, document=own_food)
    note = f"From the brief “{asked.brief.title}”, proposal {proposal.name}."
    return formula_create(formula=proposal.formula, note=note).formula_id


def proposals_asked(asked: Asked, *, is_first: bool = False) -> Proposals:
    """Return what meets a brief whose names are known here."""
    kept = _FIRST if is_first else _WHOLE
    return kept.get(asked.key, lambda: _computed(asked, is_first=is_first))


def _computed(
    asked: Asked, *, is_first: bool, run: Executor = serial, most: int = MOST, fineness: int = 1
) -> Proposals:
    found = propose(
        asked.brief,
        catalog=kitchen_catalog(),
        parts=asked.parts,
        origin=asked.origin,
        like=asked.like,
        corrections=asked.corrections,
        run=run,
        is_first=is_first,
        most=most,
        fineness=fineness,
        job_for=_known_job(asked) if fineness == 1 else None,
    )
    proposals = tuple(_coded(one, is_first=is_first) for one in found.proposals)
    return replace(found, proposals=proposals, remarks=(*asked.remarks, *found.remarks))


def search_ready() -> None:
    """Load all that a first search needs, so that nobody waits for it; nothing is kept."""
    brief = Brief(title="First", base="1000 g water", texture=TextureWish(sets=True),
                  shelf=("agar",))  # fmt: skip
    propose(brief, catalog=table_catalog(), is_first=True)


def _known_job(asked: Asked) -> Callable[[Question], Job]:
    return lambda question: _JOBS.get(asked.key, lambda: search_job(question))


def _coded(proposal: Proposal, *, is_first: bool) -> Proposal:
    """Return a proposal whose code names its agents, so that it never means another one."""
    agents = "-".join(agent.key for agent in proposal.agents)
    return replace(proposal, code=f"{_SINGLE if is_first else ''}{proposal.code}-{agents}")
