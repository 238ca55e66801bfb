"""A proposal as a card: doses as they are weighed, wishes with words, and its main numbers."""

from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from setwell.provenance import Estimate
from setwell.services.proposal_charts import ProposalChart
from setwell.services.proposals import Proposal, Proposals
from setwell.services.robustness import ten_text
from setwell.web.figures import money, percent
from setwell.web.rounding import NBSP, number_plain

_WORDS = {"yes": "met", "cannot tell": "may miss", "no": "missed"}
_PER_KG = 10.0
# From these shares of home kitchens on a chance is good, or at least fair (our judgment).
_GOOD, _FAIR = 0.8, 0.5
# A chance that may lie anywhere in so wide a range says nothing.
_OPEN = 0.8
_DRAFT = "A draft"


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
    afloat: str
    cost: str
    mood: str
    chance: str
    chance_span: str
    label: tuple[str, ...]
    traded: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SharedCaution:
    """A caution by its first sentence; which proposals it is about, unless it is about all."""

    lead: str
    rest: str
    numbers: str


def cards_of(found: Proposals, currency: str) -> tuple[ProposalCard, ...]:
    """Return the cards of all proposals, best first."""
    rare = _rare(found)
    return tuple(_card(n, one, currency, rare) for n, one in enumerate(found.proposals, start=1))


def cautions_of(found: Proposals) -> tuple[SharedCaution, ...]:
    """Return every caution once, with the proposals it is about; what is about few comes first."""
    about = sorted(_about(found).items(), key=lambda one: len(one[1]))
    return tuple(_shared(text, them, len(found.proposals)) for text, them in about)


def heading_of(cards: tuple[ProposalCard, ...]) -> str:
    """Return what stands over the cards: how many there are, and how many miss something."""
    count = len(cards)
    missing = sum(any(one.verdict == "no" for one in card.wishes) for card in cards)
    if missing == count:
        return "Nothing meets all of it; nearest first"
    many = "One proposal" if count == 1 else f"{count} proposals, best first"
    return (
        f"{many}; {missing} of them {'misses' if missing == 1 else 'miss'} a wish"
        if missing
        else many
    )


def drawn(chart: ProposalChart) -> tuple[ProposalChart, SafeString]:
    """Return a chart with its drawing."""
    # Our own drawing: names in it are escaped where it is made.
    return chart, mark_safe(chart.svg)  # noqa: S308


def _about(found: Proposals) -> dict[str, list[int]]:
    about: dict[str, list[int]] = {}
    for number, proposal in enumerate(found.proposals, start=1):
        for text in proposal.cautions:
            about.setdefault(text, []).append(number)
    return about


def _shared(text: str, them: list[int], count: int) -> SharedCaution:
    lead, stop, rest = text.partition(". ")
    numbers = f"Proposal{'s' if len(them) > 1 else ''} {', '.join(map(str, them))}"
    return SharedCaution(lead + stop.rstrip(), rest, "" if len(them) == count else numbers)


def _rare(found: Proposals) -> frozenset[str]:
    """Return the cautions of a few: those stand on their cards as well."""
    half = len(found.proposals) / 2
    return frozenset(text for text, them in _about(found).items() if len(them) < half)


def _card(number: int, proposal: Proposal, currency: str, rare: frozenset[str]) -> ProposalCard:
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
        # What a list tells and no law computes is told in full.
        afloat=next((one.found for one in proposal.wishes if one.key == "afloat"), ""),
        cost="" if cost is None else money(cost, currency),
        mood=_mood(proposal),
        chance=_chance(proposal),
        chance_span=_chance_span(proposal),
        # That the label is a draft stands in front of it, and in full where all of it is told.
        label=tuple(one for one in proposal.label if not one.startswith(_DRAFT))[:2],
        # What only repeats a wish stands among the wishes already.
        traded=tuple(
            line for line in proposal.traded if not any(one.asked in line for one in wishes)
        ),
        cautions=tuple(text for text in proposal.cautions if text in rare),
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
    """Return the mark of the chance: good only where even its low end is fair."""
    chance = proposal.chance
    if chance is None:
        return ""
    if chance.high - chance.low > _OPEN:
        return "unsure"
    if chance.value < _FAIR:
        return "warn"
    return "good" if chance.value >= _GOOD and chance.low >= _FAIR else "unsure"


def _chance(proposal: Proposal) -> str:
    chance = proposal.chance
    if chance is None:
        return ""
    is_open = chance.high - chance.low > _OPEN
    return "cannot tell, make one cup first" if is_open else ten_text(chance.value)


def _chance_span(proposal: Proposal) -> str:
    chance = proposal.chance
    if chance is None:
        return ""
    low, high = ten_text(chance.low), ten_text(chance.high)
    return f"{low} to {high}" if low != high else ""
