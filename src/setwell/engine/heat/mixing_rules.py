"""The rules that join water and solids to one conductivity, by name."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from setwell.errors import UnknownNameError
from setwell.provenance import Evidence
from setwell.science.heat.mixing import (
    conductivity_kopelman_across,
    conductivity_kopelman_along,
    conductivity_kopelman_isotropic,
    conductivity_levy,
    conductivity_maxwell_eucken,
    conductivity_parallel,
    conductivity_series,
)
from setwell.tables.heat.mixing_rules import mixing_rules

Array = NDArray[np.float64]
Rule = Callable[[Array, Array, Array], Array]

USUAL_RULE = "maxwell_eucken"


def _parallel(continuous: Array, dispersed: Array, share: Array) -> Array:
    return conductivity_parallel(_two(continuous, dispersed), fractions=_two(1.0 - share, share))


def _series(continuous: Array, dispersed: Array, share: Array) -> Array:
    return conductivity_series(_two(continuous, dispersed), fractions=_two(1.0 - share, share))


def _two(first: Array, second: Array) -> Array:
    return np.stack(np.broadcast_arrays(first, second), axis=-1)


# Each takes the conductivity around, that of what lies in it, and the volume share of the latter.
RULES: Mapping[str, Rule] = MappingProxyType(
    {
        "maxwell_eucken": lambda c, d, v: conductivity_maxwell_eucken(c, d, dispersed_fraction=v),
        "kopelman": lambda c, d, v: conductivity_kopelman_isotropic(c, d, dispersed_fraction=v),
        "kopelman_along": lambda c, d, v: conductivity_kopelman_along(c, d, dispersed_fraction=v),
        "kopelman_across": lambda c, d, v: conductivity_kopelman_across(c, d, dispersed_fraction=v),
        "levy": lambda c, d, v: conductivity_levy(d, c, first_fraction=v),
        "parallel": _parallel,
        "series": _series,
    }
)


def rule_of(name: str) -> Rule:
    """Return a mixing rule by name; an unknown name is told with the known ones."""
    if name not in RULES:
        known = ", ".join(RULES)
        raise UnknownNameError(
            f"There is no mixing rule “{name}” for the conductivity of food.",
            field="mixing",
            hint=f"Take one of: {known}.",
            nearest=tuple(RULES),
        )
    return RULES[name]


def rule_half_width(name: str) -> float:
    """Return how far a rule may be off, as a share of the conductivity."""
    return mixing_rules()[name].half_width / 100.0


def rule_evidence(name: str) -> Evidence:
    """Return what a rule was checked against."""
    return (mixing_rules()[name].citation,)


def rule_label(name: str) -> str:
    """Return the name of a rule as it stands beside a figure."""
    return mixing_rules()[name].label
