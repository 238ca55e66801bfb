"""What may be off about a law: by lot, base and recipe, and by the way of measuring."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from math import log, sqrt
from typing import NamedTuple

from setwell.engine.gelling.doubt import RowDoubt


class Quantity(StrEnum):
    """What readings correct; the names of the fields of RowDoubt and Corrections."""

    STRENGTH = "strength"
    STRAIN = "strain"
    SETTING = "setting"
    MELTING = "melting"
    FLOW = "flow"

    @property
    def is_ratio(self) -> bool:
        """True for factors, which are kept as logarithms; False for shifts in K."""
        return self not in {Quantity.SETTING, Quantity.MELTING}


# How far lots of one powder differ, as half widths of 95 % (our own judgment, graded estimated:
# suppliers standardize strength to some tens of percent; the ions and the sugar they blend in
# move setting by a degree or two).
LOT_DOUBT: Mapping[Quantity, float] = {
    Quantity.STRENGTH: log(1.3),
    Quantity.STRAIN: log(1.15),
    Quantity.SETTING: 2.0,
    Quantity.MELTING: 2.0,
    Quantity.FLOW: log(1.3),
}
# How far a law is off from one recipe to the next within a kind of base: its dependence on dose,
# ions and steps is not exact either (our own judgment, graded estimated).
RECIPE_DOUBT: Mapping[Quantity, float] = {
    Quantity.STRENGTH: log(1.25),
    Quantity.STRAIN: log(1.1),
    Quantity.SETTING: 1.5,
    Quantity.MELTING: 1.5,
    Quantity.FLOW: log(1.25),
}
# Of bulk stress at break to load per area of a plunger: a plunger cuts at its rim and squeezes
# what lies below, so it needs more (our own judgment, graded estimated).
PENETRATION_FACTOR, PENETRATION_LOW, PENETRATION_HIGH = 2.8, 1.5, 4.5
# What a way of measuring may be off by, the same for every reading taken that way, as half
# widths on the log axis (our own judgment): finite cups, wall slip, words and their maps.
METHOD_DOUBT: Mapping[str, float] = {
    "penetration": log(PENETRATION_HIGH / PENETRATION_LOW) / 2.0,
    "press": log(1.3),
    "viscosity": log(1.2),
}


class Part(NamedTuple):
    """How much of one agent's quantity is in a reading, from which lot, in which base and recipe.

    `half_width` is what the law of that agent leaves open in the batch that was measured.
    """

    quantity: Quantity
    agent: str
    lot: str
    base: str
    weight: float
    half_width: float
    recipe: str = ""


@dataclass(frozen=True, slots=True)
class Observation:
    """A reading against the model: how far it was measured off, and how exact that is.

    `value` is ln(measured / computed) or measured - computed in K; `variance` belongs to it.
    A reading that says two things, such as a word, has a face for each under one key.
    """

    key: str
    parts: tuple[Part, ...]
    value: float
    variance: float
    method: str = ""
    face: str = ""


class Target(NamedTuple):
    """An agent as it stands in the batch to be corrected."""

    lot: str
    base: str
    doubt: RowDoubt
    recipe: str = ""


class Unknown(NamedTuple):
    """One thing that may be off; `of` is "lot", "base", "recipe" or "method"."""

    of: str
    quantity: str
    agent: str
    name: str


def unknowns_of(part: Part) -> tuple[Unknown, Unknown, Unknown]:
    """Return the unknowns that a part is the sum of: lot, base, recipe."""
    return (
        Unknown("lot", part.quantity, part.agent, part.lot),
        Unknown("base", part.quantity, part.agent, part.base),
        Unknown("recipe", part.quantity, part.agent, part.recipe),
    )


def unknowns_of_target(
    agent: str, quantity: Quantity, target: Target
) -> tuple[Unknown, Unknown, Unknown]:
    """Return what a quantity of the batch is off by: the sum of lot, base and recipe."""
    return (
        Unknown("lot", quantity, agent, target.lot),
        Unknown("base", quantity, agent, target.base),
        Unknown("recipe", quantity, agent, target.recipe),
    )


def method_unknown(method: str) -> Unknown:
    """Return what a way of measuring is off by."""
    return Unknown("method", "", "", method)


def total_doubts(
    observations: Iterable[Observation], targets: Mapping[str, Target]
) -> dict[tuple[Quantity, str], float]:
    """Return the prior half width of each quantity of each agent.

    The batch to be corrected speaks for its own agents; for other agents the widest law among
    the readings does.
    """
    widest: dict[tuple[Quantity, str], float] = {}
    for observation in observations:
        for part in observation.parts:
            key = (part.quantity, part.agent)
            widest[key] = max(widest.get(key, 0.0), part.half_width)
    own = {
        (quantity, agent): float(getattr(target.doubt, quantity))
        for agent, target in targets.items()
        for quantity in Quantity
    }
    return widest | own


def prior_deviation(unknown: Unknown, totals: Mapping[tuple[Quantity, str], float]) -> float:
    """Return the standard deviation of one unknown before any reading.

    Half widths are two deviations. Lots and recipes take their usual part of the doubt, as far
    as there is so much, and bases the rest.
    """
    if unknown.of == "method":
        return METHOD_DOUBT[unknown.name] / 2.0
    quantity = Quantity(unknown.quantity)
    total = totals[quantity, unknown.agent]
    lot = min(LOT_DOUBT[quantity], total)
    if unknown.of == "lot":
        return lot / 2.0
    recipe = min(RECIPE_DOUBT[quantity], sqrt(total**2 - lot**2))
    if unknown.of == "recipe":
        return recipe / 2.0
    return sqrt(max(total**2 - lot**2 - recipe**2, 0.0)) / 2.0
