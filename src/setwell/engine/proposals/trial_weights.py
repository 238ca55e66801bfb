"""What is weighed for each cup of a trial set: one batch of base, powders, stocks and late acid."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.plan import Plan
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.trial_results import CupAmount, StockMix
from setwell.engine.robustness.weighing import PREMIX_STEPS
from setwell.units import mass_print

Array = NDArray[np.float64]

# Powder in a gram of stock: gums at more than this are too thick to pour, salts dissolve.
_GUM_STOCKS, _SALT_STOCK = (0.01, 0.02, 0.05), 0.05
# No stock takes more than this share of a cup's base.
_MOST_OF_BASE = 0.6
# Base made beyond what the cups take: what clings to the pot and one cup that goes wrong.
_SPARE = 1.15
_BASE_STEP_G, _STOCK_STEP_G = 10.0, 10.0


@dataclass(frozen=True, slots=True)
class Weighed:
    """The base as one batch, the stocks, and for each cup its base, powders and late acid."""

    base: tuple[CupAmount, ...]
    base_total_g: float
    stocks: tuple[StockMix, ...]
    base_g: tuple[float, ...]
    amounts: tuple[tuple[CupAmount, ...], ...]
    late: tuple[tuple[CupAmount, ...], ...]
    too_light: tuple[str, ...]


def weighed(
    draft: ProposalDraft, plan: Plan, rows: Array, *, cup_g: float, scale_g: float
) -> Weighed:
    """Return what to weigh for cups of one finished weight; `rows` (cups, L) are any size."""
    grams = rows * (cup_g / (rows.sum(axis=1) * (1.0 - draft.base.evaporation)))[:, None]
    names = [plan.readings[n].line.name for n in plan.used]
    is_late = np.array([n >= draft.added and name in _late(draft) for n, name in enumerate(names)])
    is_base = ~is_late
    is_base[: draft.added] = False
    base = grams[:, is_base].sum(axis=1)
    light = _light(draft, grams, scale_g)
    stocks = _stocks(draft, names, grams, base, scale_g, light)
    by_name = {stock.name: stock for stock in stocks}
    amounts = tuple(
        tuple(_amount(names[n], row[n], by_name) for n in range(draft.added)) for row in grams
    )
    drawn = np.array([sum(_of_base(one) for one in cup) for cup in amounts])
    total = float(np.ceil((base.sum() * _SPARE + _spare(stocks)) / _BASE_STEP_G) * _BASE_STEP_G)
    shares = grams[0, is_base] / base[0]
    return Weighed(
        base=tuple(
            CupAmount(names[n], float(total * share))
            for n, share in zip(np.flatnonzero(is_base).tolist(), shares.tolist(), strict=True)
        ),
        base_total_g=total,
        stocks=stocks,
        base_g=tuple((base - drawn).tolist()),
        amounts=amounts,
        late=tuple(
            tuple(CupAmount(names[n], float(row[n])) for n in np.flatnonzero(is_late).tolist())
            for row in grams
        ),
        too_light=tuple(names[n] for n in light if names[n] not in by_name),
    )


def _late(draft: ProposalDraft) -> frozenset[str]:
    hot = draft.brief.limits.is_acid_hot
    return frozenset() if hot else frozenset(draft.base.late_acids)


def _amount(name: str, grams: float, stocks: dict[str, StockMix]) -> CupAmount:
    stock = stocks.get(name)
    taken = None if stock is None or grams <= 0 else float(grams / stock.share)
    return CupAmount(name, float(grams), taken)


def _of_base(amount: CupAmount) -> float:
    """Return how much base comes in with a stock."""
    return 0.0 if amount.stock_g is None else amount.stock_g - amount.grams


def _spare(stocks: Sequence[StockMix]) -> float:
    return sum(stock.base_g for stock in stocks)


def _light(draft: ProposalDraft, grams: Array, scale_g: float) -> tuple[int, ...]:
    """Return the columns of which some cup takes less than the scale weighs well."""
    taken = np.where(grams > 0, grams, np.inf)[:, : draft.added].min(axis=0)
    # Twenty steps of the display: off by at most 2.5 %.
    return tuple(np.flatnonzero(taken < PREMIX_STEPS * scale_g * (1.0 - 1e-9)).tolist())


def _stocks(
    draft: ProposalDraft,
    names: list[str],
    grams: Array,
    base: Array,
    scale_g: float,
    light: tuple[int, ...],
) -> tuple[StockMix, ...]:
    """Return a stock for everything that is too light, where the base can carry it."""
    found = []
    for n in light:
        share = _share(draft, n, grams[:, n], float(base.min()) / len(light))
        if share is not None:
            is_salt = n >= len(draft.agents)
            found.append(_stock(names[n], share, grams[:, n], scale_g, is_salt=is_salt))
    return tuple(found)


def _share(draft: ProposalDraft, column: int, taken: Array, base: float) -> float | None:
    """Return how strong a stock is; None where none is weak enough for the cup to hold it."""
    shares = _GUM_STOCKS if column < len(draft.agents) else (_SALT_STOCK,)
    fits = (share for share in shares if taken.max() / share <= _MOST_OF_BASE * base)
    return next(fits, None)


def _stock(name: str, share: float, taken: Array, scale_g: float, *, is_salt: bool) -> StockMix:
    needed = float(taken.sum()) / share * _SPARE
    whole = float(np.ceil(needed / _STOCK_STEP_G) * _STOCK_STEP_G)
    # The powder of the stock itself has to weigh well.
    whole = max(whole, PREMIX_STEPS * scale_g / share)
    powder = whole * share
    done = "until it is dissolved" if is_salt else "and keep it moving while you weigh from it"
    return StockMix(
        name=name,
        powder_g=powder,
        base_g=whole - powder,
        share=share,
        text=(
            f"A scale that shows {scale_g:g} g cannot hold these doses: stir {mass_print(powder)} "
            f"{name} into {mass_print(whole - powder)} of the cold base {done}. Make it fresh."
        ),
    )
