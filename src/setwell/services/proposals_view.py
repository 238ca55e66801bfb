"""Proposals as a page shows them: with their drawings, and what fell out by its reason."""

from dataclasses import dataclass

from setwell.domain.brief import Brief
from setwell.engine.proposals.results import FellOut, Judged, Proposals
from setwell.engine.proposals.wishes import wishes_of
from setwell.services.proposal_asking import brief_resolve
from setwell.services.proposal_charts import ProposalChart, proposal_charts
from setwell.services.proposals import proposals_asked
from setwell.services.shelves import kitchen_read


@dataclass(frozen=True, slots=True)
class Reason:
    """Why some agents, or pairs, are no answer, in one plain line."""

    names: str
    why: str


@dataclass(frozen=True, slots=True)
class ProposalsView:
    """An answer with all that is drawn and said around it."""

    found: Proposals
    charts: tuple[ProposalChart, ...]
    out: tuple[Reason, ...]
    judged: str
    currency: str


def proposals_view(brief: Brief, *, is_first: bool = False) -> ProposalsView:
    """Return what meets a brief with its drawings. Raises InputError at the dotted field."""
    asked = brief_resolve(brief)
    found = proposals_asked(asked, is_first=is_first)
    currency = kitchen_read().currency
    wishes = wishes_of(brief, asked.base, like=asked.like)
    return ProposalsView(
        found=found,
        charts=proposal_charts(found, wishes, asked.like, currency),
        out=reasons(found.fell_out),
        judged=judged_text(found.judged),
        currency=currency,
    )


def reasons(fell_out: tuple[FellOut, ...]) -> tuple[Reason, ...]:
    """Return one line for each reason, with all agents it is true of; single agents first."""
    by_why: dict[str, list[FellOut]] = {}
    for one in sorted(fell_out, key=lambda out: len(out.agents)):
        by_why.setdefault(one.why, []).append(one)
    return tuple(
        Reason(", ".join(dict.fromkeys(one.name for one in ones)), why)
        for why, ones in by_why.items()
    )


def judged_text(judged: Judged) -> str:
    """Return how many candidates were judged.

    >>> judged_text(Judged(1240, 83000, 0))
    '84,240 candidates judged: 1,240 of single agents, 83,000 of pairs'
    """
    counts = ((judged.singles, "single agents"), (judged.pairs, "pairs"),
              (judged.triples, "triples"))  # fmt: skip
    parts = [f"{count:,} of {name}" for count, name in counts if count]
    return f"{judged.total:,} candidates judged" + (f": {', '.join(parts)}" if parts else "")
