"""What to weigh when the lot at hand is weaker or stronger than the one a card was written for."""

from collections.abc import Iterable, Mapping

from setwell.documents.card_parts import LotBox, LotDose
from setwell.engine.assessment import AgentResult, Assessment, LineReading
from setwell.engine.lot_check import dose_factor, family_of, strength_exponent
from setwell.errors import InputError
from setwell.units import mass_print

# Strengths printed on a card, as times the lot it was written for.
STRENGTHS = (0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.25, 1.5, 2.0)
# Outside, a lot is better replaced than made up for (our own judgment).
LEAST, MOST = 0.3, 3.0
_GELATIN = "gelatin"


def lot_boxes(
    assessment: Assessment, strengths: Mapping[str, float] | None = None
) -> tuple[LotBox, ...]:
    """Return a box for each agent; `strengths` are lots at hand, by the key of the agent."""
    own = dict(strengths or {})
    agents = {agent.key: agent for agent in assessment.agents}
    for key, strength in own.items():
        _checked(key, strength, agents)
    weighed = {line.number: line for line in assessment.lines if line.grams}
    boxes = (_box(agent, weighed, own.get(key)) for key, agent in agents.items())
    return tuple(box for box in boxes if box is not None)


def _checked(key: str, strength: float, agents: Mapping[str, AgentResult]) -> None:
    if key not in agents:
        there = ", ".join(agents) or "none"
        raise InputError(
            f"“{key[:40]}” is not an agent of this formula.",
            field="strength",
            hint=f"Its agents: {there}.",
        )
    if not LEAST <= strength <= MOST:
        raise InputError(
            f"A strength of {strength:g} is outside {LEAST:g} to {MOST:g} times the usual one.",
            field=f"strength_{key}",
            hint="Write 1 for the same strength, 0.8 for a lot a fifth weaker.",
        )


def _box(
    agent: AgentResult, weighed: Mapping[int, LineReading], own: float | None
) -> LotBox | None:
    lines = [weighed[number] for number in agent.lines if number in weighed]
    grams = sum(line.grams or 0.0 for line in lines)
    if not grams > 0:
        return None
    is_flow = not family_of(agent.key).gels
    exponent, is_known = strength_exponent(agent.key, is_flow=is_flow)
    known = "by the tables" if is_known else "by our own judgment"
    grows = "thickness" if is_flow else "strength"
    return LotBox(
        agent=agent.key,
        name=agent.name,
        weight=mass_print(grams),
        basis=_basis(agent, lines, is_flow=is_flow),
        doses=tuple(_doses(grams, exponent, own)),
        note=f"Its {grows} grows with the dose to the power of {exponent:.2g}, {known}. "
        "Make one cup first.",
    )


def _basis(agent: AgentResult, lines: Iterable[LineReading], *, is_flow: bool) -> str:
    lot = f"lot {agent.lot}" if agent.lot else "the usual powder"
    if agent.key == _GELATIN:
        bloom = next((_bloom(line) for line in lines if _bloom(line)), "")
        ours = f"{bloom} Bloom" if bloom else f"the Bloom of {lot}"
        return f"Strength of your lot = its Bloom divided by ours ({ours})."
    measured = "as thick" if is_flow else "as strong"
    return (
        f"Strength of your lot = how many times {measured} as {lot} at the same dose, in the same "
        "test; 1 is equal."
    )


def _bloom(line: LineReading) -> str:
    """Return the Bloom that a line states; it is part of the name of its material."""
    stated = line.material_key.rpartition(":")[2]
    return stated if stated.replace(".", "", 1).isdigit() else ""


def _doses(grams: float, exponent: float, own: float | None) -> Iterable[LotDose]:
    given = () if own is None else (own,)
    for strength in sorted({*STRENGTHS, *given}):
        dose = grams * dose_factor(strength, exponent=exponent)
        yield LotDose(f"{strength:g}", mass_print(dose), strength == own)
