"""A trade word as a wide measurement: where its region lies on the map of stress and strain."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import log, sqrt
from types import MappingProxyType
from typing import NamedTuple

from setwell.tables.rules import texture_regions

# How far an open side of a region reaches, as a factor (our judgment).
_OPEN_REACH = 4.0
# Neighbors on the map are mixed up easily, so a word is wider than its region (our judgment).
_MIXED_UP = 1.5


class Edges(NamedTuple):
    """From where to where a region reaches; None is an open side."""

    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class WordRegion:
    """Where a trade word lies: true stress [Pa] and strain at break."""

    stress_pa: Edges
    strain: Edges


class Told(NamedTuple):
    """What a word says against a computed number: ln(center / computed), and its half width."""

    value: float
    half_width: float


def word_told(edges: Edges, computed: float) -> Told | None:
    """Return what a region says of a computed number; None where it reaches everywhere.

    On an open side there is no center to be drawn to: a number that lies there already stays.
    """
    if edges.low is None and edges.high is None:
        return None
    high = edges.high if edges.high is not None else (edges.low or 0.0) * _OPEN_REACH
    low = edges.low if edges.low is not None else high / _OPEN_REACH
    center = sqrt(low * high)
    beyond = (edges.high is None and computed > center) or (edges.low is None and computed < center)
    half_width = _MIXED_UP * log(high / low) / 2.0
    return Told(0.0 if beyond else log(center / computed), half_width)


@cache
def word_regions() -> Mapping[str, WordRegion]:
    """Return the region of every word of the tables, by its key."""
    return MappingProxyType(
        {
            row.key: WordRegion(
                _edges(row.stress_low, row.stress_high, scale=1000.0),
                _edges(row.strain_low, row.strain_high, scale=1.0),
            )
            for row in texture_regions()
        }
    )


def _edges(low: float, high: float | None, *, scale: float) -> Edges:
    """Return edges in SI units; a lower edge of nothing is an open side."""
    return Edges(low * scale if low > 0 else None, None if high is None else high * scale)
