"""What a batch costs, line by line: typed, read-only results."""

from dataclasses import dataclass

from setwell.provenance import Estimate


@dataclass(frozen=True, slots=True)
class CostAsk:
    """What the pantry does not know: hands and their price, and how the batch is divided.

    Portions come from `portions`, else from `portion_g`, else from the formula. A rate left out
    is that of the kitchen.
    """

    labor_min: float | None = None
    labor_per_hour: float | None = None
    portions: int | None = None
    portion_g: float | None = None


@dataclass(frozen=True, slots=True)
class LinePrice:
    """One material of a line: what is bought for it and where its price comes from."""

    name: str
    grams: float
    bought_g: float
    price_per_kg: float | None
    waste_pct: float
    paid: float | None
    price_from: tuple[str, str] = ("", "")
    is_free: bool = False


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of the formula; `paid` counts what is known of it, None where nothing is."""

    number: int
    name: str
    grams: float
    bought_g: float
    paid: float | None
    share_pct: float | None
    is_driver: bool
    missing: tuple[str, ...]
    parts: tuple[LinePrice, ...]

    @property
    def price(self) -> LinePrice | None:
        """The one material of a plain line."""
        return self.parts[0] if len(self.parts) == 1 else None


@dataclass(frozen=True, slots=True)
class CostSheet:
    """What one batch costs. Money is a lower bound while prices are missing.

    `weighed_g` goes into the pot, `finished_g` is left after steam, `usable_g` after the
    handling loss; `yield_pct` is the last of the first.
    """

    title: str
    currency: str
    lines: tuple[CostLine, ...]
    ingredients: Estimate | None
    labor: Estimate | None
    batch: Estimate | None
    per_portion: Estimate | None
    per_100g: Estimate | None
    portions: int | None
    portion_g: float | None
    weighed_g: float
    finished_g: float
    usable_g: float
    yield_pct: float
    unpriced: tuple[str, ...]
    unpriced_pct: float
    remarks: tuple[str, ...]

    @property
    def drivers(self) -> tuple[CostLine, ...]:
        """The fewest lines that make up most of the price, the dearest first."""
        found = [line for line in self.lines if line.is_driver]
        return tuple(sorted(found, key=lambda line: -(line.paid or 0.0)))
