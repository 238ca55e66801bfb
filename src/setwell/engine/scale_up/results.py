"""What it takes to make a formula large: typed, read-only results."""

from dataclasses import dataclass

from setwell.domain.pantry import Vessel
from setwell.provenance import Estimate


@dataclass(frozen=True, slots=True)
class BatchSplit:
    """The whole divided into equal batches of one vessel; no vessel: nothing heats or holds it.

    `each_g` is weighed in for one batch, `each_ml` what that takes, `fill_pct` of the vessel.
    """

    vessel: Vessel | None
    count: int
    each_g: float
    each_ml: float
    fill_pct: float
    is_best: bool = False

    @property
    def words(self) -> str:
        """Where and how often, in words."""
        times = "one batch" if self.count == 1 else f"{self.count} batches"
        if self.vessel is None:
            return f"{times}, no vessel known"
        return f"{times} in {self.vessel.name}, {self.fill_pct:.0f} % full"


@dataclass(frozen=True, slots=True)
class PremixPart:
    """One agent in a premix, and how evenly a share of the premix brings it.

    `spread_pct` is the relative standard deviation of its dose from a well mixed powder.
    """

    name: str
    line: int
    grams: float
    dose_g: float
    spread_pct: Estimate


@dataclass(frozen=True, slots=True)
class LargePremix:
    """Powders mixed dry once for all batches, and the share that one batch takes."""

    heading: str
    parts: tuple[PremixPart, ...]
    carrier: str
    carrier_line: int
    carrier_g: float
    whole_g: float
    batches: int
    take_g: float
    carrier_left_g: float
    weighing_pct: float
    text: str
    note: str


@dataclass(frozen=True, slots=True)
class ToBuy:
    """One material to buy: what is needed with its waste, packs, and what is left over.

    `stock_g` is what of it comes off the shelf, None where no stock is noted; `packs` and
    `bought_g` are for the rest.
    """

    name: str
    needed_g: float
    waste_pct: float
    stock_g: float | None
    pack_g: float | None
    packs: int | None
    bought_g: float
    left_g: float
    paid: float | None


@dataclass(frozen=True, slots=True)
class ShoppingShelf:
    """What to buy from one supplier; no name: no supplier is known."""

    supplier: str
    items: tuple[ToBuy, ...]


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """What to buy for all of it. `paid` is a lower bound while prices are missing."""

    shelves: tuple[ShoppingShelf, ...]
    currency: str
    paid: Estimate | None
    water_g: float
    remarks: tuple[str, ...]

    @property
    def items(self) -> tuple[ToBuy, ...]:
        """Everything to buy."""
        return tuple(item for shelf in self.shelves for item in shelf.items)
