"""The ingredient statement for the European Union (Regulation (EU) No 1169/2011)."""

from setwell.domain.brief import Market
from setwell.engine.labels.additive_rules import category_of
from setwell.engine.labels.allergen_statement import declared_allergens, with_sulfites
from setwell.engine.labels.quid import quid_candidates
from setwell.engine.labels.statement_items import added_water, items_of
from setwell.engine.labels.statement_parts import parts_of
from setwell.engine.labels.statement_results import LabelChoices, QuidCandidate, Statement
from setwell.engine.labels.statement_runs import eu_runs
from setwell.engine.labels.statement_whole import statement_made, sums_of
from setwell.engine.rules.bench import Bench
from setwell.tables.labels.food_categories import OTHER

_CHOICES = LabelChoices()


def eu_statement(
    bench: Bench, *, category: str = OTHER, choices: LabelChoices = _CHOICES
) -> Statement:
    """Return the statement of the first candidate; a draft, whatever it says.

    Names go by falling weight as added; plain water counts as what is left of it in the finished
    food. Additives are told by class and name, or class and number.
    """
    food, parts = category_of(category), parts_of(bench)
    sums = sums_of(bench, Market.EU, choices)
    has_water = any(part.is_water for part in parts)
    water = added_water(
        finished_g=float(bench.state.composition.finished_g[0]) if has_water else 0.0,
        others_g=sum(part.grams for part in parts if not part.is_water),
        lists_all=food.lists_all_water,
    )
    items = items_of(parts, sums.rules, water)
    candidates = quid_candidates(bench, food, choices)
    return statement_made(
        bench,
        sums,
        category=category,
        items=items,
        allergens=with_sulfites(declared_allergens(bench.plan, Market.EU, choices), sums.sulfites),
        ingredients=items,
        minor=(),
        minor_phrase="",
        runs=eu_runs(items, by_number=choices.by_number, shares=_shares(candidates, choices)),
        contains="",
        added_water=water if has_water else None,
        quid=candidates,
        evidence=(*(one.evidence for one in candidates), water.evidence),
    )


def _shares(candidates: tuple[QuidCandidate, ...], choices: LabelChoices) -> dict[str, str]:
    """Return the names that are printed with their share."""
    return {one.name: one.wording for one in candidates if one.name in choices.shares_shown}
