"""From one grade of gelatin to another: the Bloom relation."""

import numpy as np

from setwell.engine.substitution.ask import GELATIN
from setwell.engine.substitution.draft import Draft
from setwell.engine.substitution.results import Keep
from setwell.engine.substitution.search import Search
from setwell.provenance import Citation, Evidence, Grade

BLOOM_RELATION: Evidence = (
    Citation(
        "trade_recalled",
        "gelatin handbooks, C1 sqrt(B1) = C2 sqrt(B2); recalled, no source seen",
        Grade.UNVERIFIED,
    ),
)


def bloom_ratio(draft: Draft) -> float | None:
    """Return how many times the old weight the new grade takes; None where the rule is silent.

    The rule speaks of gelatin alone, of two stated Blooms, and of the firmness they give.
    """
    original = draft.original
    old = original.material.agent
    new = None if draft.material is None else draft.material.agent
    if old is None or new is None or not old.key == new.key == GELATIN:
        return None
    if new.bloom is None or old.bloom is None or len(original.bench.agents) > 1:
        return None
    if original.keep not in {Keep.FIRMNESS, Keep.BREAK}:
        return None
    strength = old.strength_factor / new.strength_factor
    return strength * float(np.sqrt(old.bloom / new.bloom))


def by_bloom(draft: Draft, found: Search) -> Search:
    """Return the dose by the relation; its range holds the model's dose and the linear rule.

    Sheets are sized by the linear rule, mass inversely with the Bloom.
    """
    ratio = bloom_ratio(draft)
    old = draft.original.material.agent
    if ratio is None or old is None or draft.material is None or draft.material.agent is None:
        return found._replace(low=found.grams, high=found.grams)
    grams = draft.original.grams
    strength = old.strength_factor / draft.material.agent.strength_factor
    linear = grams * ratio**2 / strength
    ends = (grams * ratio, linear, *((found.grams,) if found.is_reached else ()))
    is_reached = True
    return found._replace(grams=grams * ratio, low=min(ends), high=max(ends), is_reached=is_reached)
