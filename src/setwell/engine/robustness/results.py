"""What the engine says of a formula in other kitchens: typed, read-only results."""

from dataclasses import dataclass

from setwell.provenance import Estimate, Evidence


@dataclass(frozen=True, slots=True)
class Failure:
    """One way to miss the window, and the share of all batches that do; ways may overlap."""

    key: str
    text: str
    share: float


@dataclass(frozen=True, slots=True)
class Driver:
    """One thing that differs between kitchens, and how much of the spread it brings.

    `first_order` is the share it brings by itself, `total` with all it does together with
    others, both of the main quantity from 0 to 1. `failing` is its total share in hitting or
    missing the window, None where next to all or next to none do. `spread` says how much the
    thing itself varies, `text` the whole in one sentence.
    """

    key: str
    name: str
    spread: str
    first_order: Estimate
    total: Estimate
    failing: Estimate | None
    text: str
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class Change:
    """Something to change in the formula, the chance with it, and what it asks for.

    `chance` and `gain` are shares from 0 to 1 on the same draws; `gain_error` is one standard
    error of the gain. `price` is what it costs the cook in words; `effort` sorts the cheap ones
    first, 1 (a word in the method) to 4 (something to buy or make beforehand).
    """

    key: str
    title: str
    text: str
    price: str
    effort: int
    chance: float
    gain: float
    gain_error: float


@dataclass(frozen=True, slots=True)
class Quantity:
    """How a quantity of the batch spreads over other kitchens.

    `quantiles` are (share of batches, value), rising; `planned` is the value as written.
    """

    key: str
    name: str
    unit: str
    planned: float
    quantiles: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class PremixRecipe:
    """A dilution to weigh instead of a dose the scale cannot hold.

    `agent_g` and `carrier_g` make the mix; `take_g` of it is one batch's dose. `error_pct` is
    what the scale still leaves open in the dose, `batches` for how many it lasts.
    """

    kind: str
    carrier: str
    agent_g: float
    carrier_g: float
    take_g: float
    error_pct: float
    batches: float


@dataclass(frozen=True, slots=True)
class PremixAdvice:
    """One agent whose dose is below what the scale can weigh."""

    agent: str
    name: str
    line: int
    grams: float
    error_pct: float
    least_g: float
    text: str
    recipe: PremixRecipe | None


@dataclass(frozen=True, slots=True)
class Robustness:
    """The chance that a stranger's batch lands in the window.

    `chance` is given the model; its low and high are twice its Monte Carlo error on either side.
    `chance_low` and `chance_high` widen it by what the laws themselves leave open, which all
    strangers share and no number of draws averages out; `doubt_text` says so. `is_planned_in`
    tells whether the batch as written lands in the window. `failures` are sorted by share,
    `drivers` by total share, `changes` by gain and effort. `assumed` lists what was taken as
    usual, `remarks` what the draws leave out.
    """

    chance: Estimate
    error: float
    chance_low: float
    chance_high: float
    doubt_text: str
    draws: int
    seed: int
    index_draws: int
    profile: str
    window_text: str
    is_planned_in: bool
    sentence: str
    failures: tuple[Failure, ...]
    drivers: tuple[Driver, ...]
    changes: tuple[Change, ...]
    quantities: tuple[Quantity, ...]
    premixes: tuple[PremixAdvice, ...]
    assumed: tuple[str, ...]
    remarks: tuple[str, ...]
    evidence: Evidence = ()
