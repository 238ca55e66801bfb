"""A proposal as a card: doses as they are weighed, wishes with words, and its main numbers."""

from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from setwell.provenance import Estimate
from setwell.services.proposal_charts import ProposalChart
from setwell.services.proposals import Proposal, Proposals
from setwell.web.figures import money, percent
from setwell.web.rounding import NBSP, number_plain

_WORDS = {"yes": "met", "cannot tell": "may miss", "no": "missed"}
_PER_KG = 10.0
# From these shares of home kitchens on a chance is good, or at least fair.
_GOOD, _FAIR = 0.8, 0.5


@dataclass(frozen=True, slots=True)
class Dose:
    """One powder as it is weighed."""

    name: str
    per_kg: str
    percent: str


@dataclass(frozen=True, slots=True)
class Met:
    """One wish: what was asked, what is found, and the mark and word for how it comes out."""

    asked: str
    found: str
    verdict: str
    word: str


@dataclass(frozen=True, slots=True)
class CardNumber:
    """One main number with what it is called."""

    label: str
    number: Estimate
    said: str = ""


@dataclass(frozen=True, slots=True)
class ProposalCard:
    """Everything that one card shows."""

    number: int
    proposal: Proposal
    doses: tuple[Dose, ...]
    tally: tuple[tuple[str, str, tuple[str, ...]], ...]
    wishes: tuple[Met, ...]
    numbers: tuple[CardNumber, ...]
    cost: str
    mood: str


def cards_of(found: Proposals, currency: str) -> tuple[ProposalCard, ...]:
    """Return the cards of all proposals, best first."""
    return tuple(_card(n, one, currency) for n, one in enumerate(found.proposals, start=1))


def drawn(chart: ProposalChart) -> tuple[ProposalChart, SafeString]:
    """Return a chart with its drawing."""
    # Our own drawing: names in it are escaped where it is made.
    return chart, mark_safe(chart.svg)  # noqa: S308


def _card(number: int, proposal: Proposal, currency: str) -> ProposalCard:
    wishes = tuple(
        Met(one.asked, one.found, str(one.holds), _WORDS[str(one.holds)]) for one in proposal.wishes
    )
    cost = proposal.cost_per_portion
    return ProposalCard(
        number=number,
        proposal=proposal,
        doses=tuple(_doses(proposal)),
        tally=tuple(_tally(wishes)),
        wishes=wishes,
        numbers=tuple(_numbers(proposal)),
        cost="" if cost is None else money(cost, currency),
        mood=_mood(proposal),
    )


def _doses(proposal: Proposal) -> list[Dose]:
    found = [(one.line_name, one.dose_pct) for one in proposal.agents]
    found += [(one.name, one.pct) for one in proposal.helpers]
    return [
        Dose(name, f"{number_plain(_PER_KG * pct)}{NBSP}g per kg", percent(pct))
        for name, pct in found
    ]


def _tally(wishes: tuple[Met, ...]) -> list[tuple[str, str, tuple[str, ...]]]:
    """Return verdict, word and wishes: those that are met, that may miss and that are missed."""
    groups = ((said, word, [one.asked for one in wishes if one.verdict == said])
              for said, word in _WORDS.items())  # fmt: skip
    return [(said, word, tuple(asked)) for said, word, asked in groups if asked]


def _numbers(proposal: Proposal) -> list[CardNumber]:
    texture = proposal.texture
    is_gel = str(texture.sets) != "no"
    asked = (
        ("Stiffness", texture.modulus_kpa if is_gel else None, texture.firmness),
        ("Breaks at", texture.fracture_stress_kpa if is_gel else None, "stress at break"),
        ("Bends so far first", texture.fracture_strain if is_gel else None, "strain at break"),
        ("Begins to set at", texture.first_set_c if is_gel else None, ""),
        ("Melts at", texture.melt_c if is_gel else None, ""),
        ("Thickness when stirred", None if is_gel else texture.viscosity_mpa_s, texture.flow_word),
        ("Weeps in a week, cold", texture.weeps_pct if is_gel else None, ""),
    )
    return [CardNumber(label, one, said) for label, one, said in asked if one is not None]


def _mood(proposal: Proposal) -> str:
    if proposal.chance is None:
        return ""
    value = proposal.chance.value
    return "good" if value >= _GOOD else "unsure" if value >= _FAIR else "warn"
