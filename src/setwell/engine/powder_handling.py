"""How each agent is brought into the pot: soaked, cold, as a slurry or hot, and for how long."""

from collections.abc import Sequence
from enum import StrEnum

from setwell.tables.agents import agent_rows
from setwell.units import temperature_print

_GELATINS = frozenset({"gelatin", "gelatin_fish_cold"})
# A heating step this hot is written as a boil [°C].
_BOILS_C = 95.0


class Family(StrEnum):
    """How a powder is brought into the pot."""

    SOAKED = "soaked"
    COLD = "cold"
    SLURRY = "slurry"
    HOT = "hot"


def family_of(key: str) -> Family:
    """Return how an agent is brought into the pot."""
    if key in _GELATINS:
        return Family.SOAKED
    if agent_rows()[key].is_cold_soluble:
        return Family.COLD
    return Family.SLURRY if key.startswith("starch_") else Family.HOT


def hold_min(key: str) -> float:
    """Return how long an agent is held once hot, or rests once in, in minutes."""
    return agent_rows()[key].figure("hydration_hold").value


def is_acid_shy(key: str) -> bool:
    """True for an agent that hot acid takes strength from, so that acid goes in late."""
    return family_of(key) in {Family.HOT, Family.SLURRY} and not key.startswith("pectin_HM")


def heat_text(needed: float, minutes: float) -> str:
    """Return the step that dissolves an agent."""
    held = f"{minutes:g} min, stirring all the time"
    if needed >= _BOILS_C:
        return f"Bring to a boil and boil for {held}"
    return f"Heat to {temperature_print(needed)} and hold for {held}"


def steps_text(texts: Sequence[str]) -> str:
    """Return steps on lines of their own; what was cut out of a sentence stands by itself."""
    whole = (text.strip().rstrip(",; ") for text in texts)
    return "\n".join(f"{text[:1].upper()}{text[1:]}" for text in whole if text)
