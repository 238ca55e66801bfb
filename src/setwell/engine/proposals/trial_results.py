"""A first trial set: typed, read-only results."""

from dataclasses import dataclass

from setwell.engine.assessment import Caution
from setwell.engine.proposals.results import AgentDose, HelperDose
from setwell.engine.texture_results import Texture
from setwell.provenance import Evidence


@dataclass(frozen=True, slots=True)
class CupAmount:
    """What one cup takes of one thing.

    `grams` is what has to be in; where that is too little for the scale, `stock_g` is what to
    weigh of the stock instead, which is part of the cup's base.
    """

    name: str
    grams: float
    stock_g: float | None = None


@dataclass(frozen=True, slots=True)
class StockMix:
    """A weak mixture of a powder in the base, for doses the scale cannot hold.

    `powder_g` in `base_g`; `share` is grams of powder in a gram of it.
    """

    name: str
    powder_g: float
    base_g: float
    share: float
    text: str


@dataclass(frozen=True, slots=True)
class TrialCup:
    """One cup: its place in the order, its blind code, what goes in and what it is to show.

    `base_g` is what is weighed of the finished base besides stocks and late acid. `against` says
    how it should differ from the center, empty for the center itself.
    """

    number: int
    code: str
    key: str
    change: str
    question: str
    base_g: float
    amounts: tuple[CupAmount, ...]
    late: tuple[CupAmount, ...]
    agents: tuple[AgentDose, ...]
    helpers: tuple[HelperDose, ...]
    texture: Texture
    expected: str
    against: str


@dataclass(frozen=True, slots=True)
class TrialSet:
    """A first trial set in the order to make it; `base` is one batch for all cups, in grams."""

    title: str
    brief_title: str
    cups: tuple[TrialCup, ...]
    cup_g: float
    start_g: float
    scale_g: float
    base: tuple[CupAmount, ...]
    base_total_g: float
    stocks: tuple[StockMix, ...]
    steps: tuple[str, ...]
    dose_step: float
    measure: tuple[str, ...]
    remarks: tuple[str, ...]
    cautions: tuple[Caution, ...]
    allergens: tuple[str, ...]
    seed: int
    evidence: Evidence

    @property
    def codes(self) -> tuple[str, ...]:
        """The blind codes in the order of making."""
        return tuple(cup.code for cup in self.cups)
