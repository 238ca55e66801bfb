"""Proposals for people, and as JSON."""

from setwell.cli.screen import Screen
from setwell.cli.shape import json_text
from setwell.documents.amounts import estimate_text, range_text
from setwell.documents.stranger_words import ten_text
from setwell.provenance import Estimate
from setwell.services.proposals import Proposal, Proposals, WishAnswer
from setwell.services.proposals_view import judged_text, reasons
from setwell.units import percent_print

_HOLDS = {"yes": "met", "cannot tell": "may miss", "no": "missed"}


def proposals_json(found: Proposals) -> str:
    """Return the answer to a brief as JSON text."""
    return json_text("proposals", {"proposals": found})


def proposals_print(found: Proposals) -> None:
    """Print the short list, what stands against each other, and why the rest fell out."""
    screen = Screen()
    screen.text(found.title, style="bold")
    if found.wishes:
        screen.text(f"Asked: {'; '.join(found.wishes)}.")
    screen.text(f"{judged_text(found.judged)}.")
    if not found.is_complete:
        screen.text("Single agents only; without --first pairs and triples are judged, too.")
    shared = _shared(found.proposals)
    for number, proposal in enumerate(found.proposals, start=1):
        _proposal(screen, number, proposal, shared)
    none = () if found.proposals else ("Nothing that may come in comes near.",)
    for said in (*none, *found.nearest):
        screen.text(said)
    _conflicts(screen, found)
    _fell_out(screen, found)
    _cautions(screen, shared)
    if found.remarks or found.assumed:
        screen.blank()
    for said in (*found.remarks, *found.assumed):
        screen.text(said)
    if found.proposals:
        screen.blank()
        screen.text("--make N saves proposal N as a formula. Prove it in a 100 g cup first.")


def _shared(proposals: tuple[Proposal, ...]) -> tuple[str, ...]:
    """Return the cautions that hold for every proposal: they are told once."""
    first = proposals[0].cautions if proposals else ()
    return tuple(said for said in first if all(said in one.cautions for one in proposals))


def _cautions(screen: Screen, shared: tuple[str, ...]) -> None:
    if shared:
        screen.heading("Caution, for every one of them")
    for said in shared:
        screen.text(said, lead="  ")


def _proposal(screen: Screen, number: int, one: Proposal, shared: tuple[str, ...]) -> None:
    screen.heading(f"{number}. {doses_words(one)}")
    screen.text(one.texture.sentence, lead="  ")
    for wish in one.wishes:
        screen.text(_wish(wish), lead=f"  {_HOLDS[str(wish.holds)]:<9}")
    rows = [(label, *_told(number)) for label, number in _numbers(one) if number is not None]
    if rows:
        screen.table(("  predicted", "value", "range", "grade"), rows, fixed=(1, 2, 3))
    for lead, told in (
        ("  Work:   ", one.process), ("  Label:  ", one.label), ("  Allergen: ", one.allergens),
        ("  Traded: ", _traded(one)),
        ("  Caution: ", [said for said in one.cautions if said not in shared]),
    ):  # fmt: skip
        if told:
            screen.text("; ".join(part.rstrip(".") for part in told) + ".", lead=lead)
    screen.text(_weighed(one), lead="  ")


def _traded(one: Proposal) -> list[str]:
    """Return what is given up beside the wishes that may be missed: those stand above."""
    asked = [f"“{wish.asked}”" for wish in one.wishes]
    return [said for said in one.traded if not any(wish in said for wish in asked)]


def doses_words(one: Proposal) -> str:
    """Return agents and helpers with their shares of the batch."""
    parts = [f"{percent_print(agent.dose_pct)} {agent.line_name}" for agent in one.agents]
    parts += [f"{percent_print(helper.pct)} {helper.name}" for helper in one.helpers]
    return " + ".join(parts)


def _wish(wish: WishAnswer) -> str:
    return f"{wish.asked}: {wish.found}" if wish.found else wish.asked


def _numbers(one: Proposal) -> tuple[tuple[str, Estimate | None], ...]:
    texture, is_gel = one.texture, str(one.texture.sets) != "no"
    return (
        ("  stiffness", texture.modulus_kpa if is_gel else None),
        ("  stress at break", texture.fracture_stress_kpa if is_gel else None),
        ("  strain at break", texture.fracture_strain if is_gel else None),
        ("  thickness", None if is_gel else texture.viscosity_mpa_s),
        ("  sets at", texture.first_set_c if is_gel else None),
        ("  melts at", texture.melt_c if is_gel else None),
        ("  weeps in a week", texture.weeps_pct if is_gel else None),
    )


def _told(number: Estimate) -> tuple[str, str, str]:
    return estimate_text(number), range_text(number), number.grade.value


def _weighed(one: Proposal) -> str:
    """Return fit, chance, cost and number of things to weigh."""
    parts = [f"{one.ingredients} to weigh", f"off by {one.fit:.2f}"]
    if one.chance is not None:
        parts.append(f"right in {ten_text(one.chance.value)} {one.chance.profile} kitchens")
    if one.cost_per_portion is not None:
        parts.append(f"{_money(one.cost_per_portion)} a portion")
    if one.is_best:
        parts.append("nothing here beats it in all of these")
    return ", ".join(parts) + "."


def _money(cost: Estimate) -> str:
    least = "at least " if cost.is_lower_bound else ""
    return f"{least}{cost.unit} {cost.value:.2f}"


def _conflicts(screen: Screen, found: Proposals) -> None:
    if not found.conflicts and not found.relaxations:
        return
    screen.heading("What conflicts")
    for conflict in found.conflicts:
        screen.text(conflict.text, lead="  ")
    for number, relaxation in enumerate(found.relaxations, start=1):
        screen.text(relaxation.text, lead=f"  Nearest way out {number}: ")


def _fell_out(screen: Screen, found: Proposals) -> None:
    if not found.fell_out:
        return
    screen.heading("Fell out")
    for reason in reasons(found.fell_out):
        screen.text(f"{reason.names}: {reason.why}", lead="  ")
