"""A dry kit: bags, weights with tolerances, lots; typed, read-only results."""

import datetime as dt
from dataclasses import dataclass

from setwell.engine.scale_up.results import LargePremix


@dataclass(frozen=True, slots=True)
class KitItem:
    """One powder in one bag. `shown_g` is what the scale is to show, give or take `tolerance_g`;
    None: the scale cannot hold what the dose asks.

    `total_g` is what all kits take with the spare; `lots` are the lots in use, with their day.
    """

    line: int
    name: str
    grams: float
    shown_g: float
    tolerance_g: float | None
    total_g: float
    is_agent: bool
    lots: tuple[tuple[str, dt.date | None], ...]
    advice: str = ""


@dataclass(frozen=True, slots=True)
class KitBag:
    """One bag of a kit; all of it goes into the pot at the same moment."""

    letter: str
    heading: str
    items: tuple[KitItem, ...]
    net_g: float
    tolerance_g: float


@dataclass(frozen=True, slots=True)
class Kit:
    """What goes into one kit, and what all of them take.

    `left_out` are the lines the cook adds; `allergens` those of the powders alone, with "check"
    ones apart.
    """

    title: str
    kits: int
    spare_pct: float
    bags: tuple[KitBag, ...]
    net_g: float
    usable_g: float
    left_out: tuple[tuple[int, str, float], ...]
    allergens: tuple[str, ...]
    allergens_check: tuple[str, ...]
    best_before: dt.date | None
    premixes: tuple[LargePremix, ...]
    remarks: tuple[str, ...]

    @property
    def items(self) -> tuple[KitItem, ...]:
        """Everything that is weighed for one kit."""
        return tuple(item for bag in self.bags for item in bag.items)
