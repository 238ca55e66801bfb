"""What a finished proposal gives up, alone and against the others, in plain lines."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from setwell.engine.alcohol_reach import is_unsure
from setwell.engine.assessment import Severity
from setwell.engine.cautions import cautions
from setwell.engine.diets import allergen_words, allergens
from setwell.engine.gelling.state import YES
from setwell.engine.proposals.labels import label_of
from setwell.engine.proposals.process_words import process_of_proposal
from setwell.engine.proposals.results import Proposal, WishAnswer
from setwell.engine.rules.bench import Bench
from setwell.engine.rules.book import findings
from setwell.engine.texture_results import Texture
from setwell.engine.verdict import Verdict

__all__ = ["allergens_of", "cautions_of", "compared", "label_of", "process_of_proposal", "traded"]

# From here on it is worth telling (our judgment): percent weeped in a week, the share of strength
# kept, how near to the least dose that gels, grams on a kitchen scale, parts of a price.
_WEEPS_PCT, _KEPT, _NEAR, _FINE_G, _DEARER = 1.0, 0.8, 1.5, 1.0, 1.25
# A base this rich in fat or protein hides how cloudy an agent is (our judgment).
_HIDES = 0.005
# Findings that tell how delicate a proposal is; the others are told by wishes and method.
_DELICATE = frozenset({
    "acid_hot", "calcium_first", "dose_high", "milk_curdles", "milk_parts", "not_acid_enough",
    "opposite_charges", "poured_too_cold", "raw_enzyme_fruit", "strong_alcohol", "too_alkaline",
    "too_cool", "undercooked_egg",
})  # fmt: skip


def allergens_of(bench: Bench) -> tuple[str, ...]:
    """Return the allergens of the whole batch, base included."""
    return allergen_words(bench.plan)


def cautions_of(bench: Bench, *, is_bite: bool = False) -> tuple[str, ...]:
    """Return the safety cautions that go with a proposal; each ends with who decides."""
    return tuple(one.text for one in cautions(bench, allergens(bench.plan), is_bite=is_bite))


def traded(bench: Bench, texture: Texture, wishes: Sequence[WishAnswer]) -> tuple[str, ...]:
    """Return what is given up: wishes missed or open, weeping, look, what it is touchy about."""
    keys = {wish.key for wish in wishes}
    told = [*_missed(wishes), *_weeps(texture, keys), *_looks(bench, texture, keys)]
    told += [*_touchy(bench), *_weighed(bench), *_spirit(bench)]
    told += [one.title for one in findings(bench)
             if one.code in _DELICATE and one.severity is not Severity.NOTE]  # fmt: skip
    return tuple(dict.fromkeys(told))


def _missed(wishes: Sequence[WishAnswer]) -> Iterator[str]:
    for wish in wishes:
        if wish.holds is Verdict.NO:
            yield f"Misses “{wish.asked}”: {wish.found}"
        elif wish.holds is Verdict.CANNOT_TELL:
            yield f"May miss “{wish.asked}”: {wish.found}"


def _weeps(texture: Texture, keys: set[str]) -> Iterator[str]:
    weeps = texture.weeps_pct
    if weeps is not None and weeps.value >= _WEEPS_PCT and "weeping" not in keys:
        yield f"Weeps about {weeps.value:.2g} % in a week in the fridge"


def _looks(bench: Bench, texture: Texture, keys: set[str]) -> Iterator[str]:
    batch = bench.state.composition
    is_rich = any(float(batch.share(name)[0]) > _HIDES for name in ("fat_g", "protein_g"))
    if texture.clarity in {"cloudy", "opaque"} and "clarity" not in keys and not is_rich:
        yield f"Looks {texture.clarity}"


def _touchy(bench: Bench) -> Iterator[str]:
    """Yield what loses strength, or gels only just."""
    for key, agent in bench.state.agents.items():
        kept = float(agent.kept.share.value[0])
        name = bench.name(key)
        if kept < _KEPT:
            lost = 100.0 * (1.0 - kept)
            yield f"{name} loses about {lost:.0f} % of its strength to acid and heat"
        if agent.critical_pct is None or int(agent.sets[0]) != YES:
            continue
        least, dose = float(agent.critical_pct.value[0]), float(agent.effective_pct.value[0])
        if np.isfinite(least) and dose < _NEAR * least:
            gum = name_within(bench, key)
            yield f"Little more {gum} than it takes to gel ({least:.2g} %): weigh exactly"


def _spirit(bench: Bench) -> Iterator[str]:
    """Yield that alcohol makes gels weaker by nobody here knows how much."""
    strength = float(bench.state.water.alcohol_by_volume.value[0])
    names = [name_within(bench, key) for key in bench.state.agents if is_unsure(key, strength)]
    if names:
        yield (
            f"No law here tells how much {strength:.0f} % alcohol by volume weakens "
            f"{' and '.join(names)}: prove it in a cup"
        )


def name_within(bench: Bench, key: str) -> str:
    """Return an agent as it stands within a sentence; the kitchen's own keeps its capitals."""
    name = bench.name(key).replace(",", "")
    is_own = bench.agents[key].materials[0].key.startswith("own:")
    return name if is_own else f"{name[:1].lower()}{name[1:]}"


def _weighed(bench: Bench) -> Iterator[str]:
    for key, columns in bench.agents.items():
        grams = float(bench.state.masses[0, list(columns.columns)].sum())
        if 0.0 < grams < _FINE_G:
            yield f"Only {grams:.2g} g of {name_within(bench, key)} in the batch: take a fine scale"


def compared(proposals: Sequence[Proposal]) -> tuple[Proposal, ...]:
    """Return proposals with what each gives up against the others: cost, ingredients."""
    fewest = min((one.ingredients for one in proposals), default=0)
    priced = [one for one in proposals if _cost(one) > 0.0]
    cheapest = min(priced, key=_cost, default=None)
    return tuple(
        replace(one, traded=(*one.traded, *_against(one, cheapest, fewest))) for one in proposals
    )


def _cost(proposal: Proposal) -> float:
    cost = proposal.cost_per_portion
    return 0.0 if cost is None else cost.value


def _against(one: Proposal, cheapest: Proposal | None, fewest: int) -> Iterator[str]:
    if cheapest is not None and _cost(one) >= _DEARER * _cost(cheapest):
        ratio = _cost(one) / _cost(cheapest)
        yield f"Costs {ratio:.2g} times as much as {cheapest.name}, as far as prices are known"
    more = one.ingredients - fewest
    if more > 0:
        yield f"{more} more ingredient{'s' if more > 1 else ''} than the simplest"
