"""A first trial set around a proposal, as a page and as a sheet to take to the bench."""

from setwell.domain.brief import Brief
from setwell.engine.proposals.trials import (
    CUP_G,
    SCALE_G,
    CupAmount,
    StockMix,
    TrialCup,
    TrialSet,
    trial_set,
)
from setwell.services.proposals import proposal_find

__all__ = ["CUP_G", "SCALE_G", "CupAmount", "StockMix", "TrialCup", "TrialSet", "trial_set_for"]


def trial_set_for(
    brief: Brief, code: str, *, cup_g: float = CUP_G, scale_g: float = SCALE_G, seed: int = 1
) -> TrialSet:
    """Return a first trial set around a proposal of a brief; `seed` draws order and codes.

    Raises NotFoundError where the brief has no such proposal any more, and InputError at `cup`,
    `scale` or the field of the brief.
    """
    asked, proposal = proposal_find(brief, code)
    return trial_set(
        proposal,
        brief,
        asked.base,
        seed=seed,
        cup_g=cup_g,
        scale_g=scale_g,
        corrections=asked.corrections,
    )
