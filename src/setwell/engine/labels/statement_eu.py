"""The ingredient statement for the European Union (Regulation (EU) No 1169/2011)."""

from setwell.domain.brief import Market
from setwell.engine.diets import diets
from setwell.engine.labels.additive_rules import additive_findings, category_of
from setwell.engine.labels.allergen_statement import (
    allergen_questions,
    declared_allergens,
    with_sulfites,
)
from setwell.engine.labels.gluten import gluten
from setwell.engine.labels.quid import quid_candidates
from setwell.engine.labels.statement_checks import (
    alcohol_finding,
    blocks_of,
    findings_of,
    part_questions,
    unread,
)
from setwell.engine.labels.statement_items import ListRules, added_water, flat, items_of
from setwell.engine.labels.statement_parts import parts_of
from setwell.engine.labels.statement_results import LabelChoices, QuidCandidate, Statement
from setwell.engine.labels.statement_runs import eu_runs
from setwell.engine.labels.sulfites import sulfites
from setwell.engine.rules.bench import Bench
from setwell.provenance import evidence_join
from setwell.tables.labels.food_categories import OTHER

_CHOICES = LabelChoices()


def eu_statement(
    bench: Bench, *, category: str = OTHER, choices: LabelChoices = _CHOICES
) -> Statement:
    """Return the statement of the first candidate; a draft, whatever it says.

    Names go by falling weight as added; plain water counts as what is left of it in the finished
    food. Additives are told by class and name, or class and number.
    """
    composition, food = bench.state.composition, category_of(category)
    finished = float(composition.finished_g[0])
    alcohol = 100.0 * float(composition.share("alcohol_g")[0])
    parts = parts_of(bench)
    sulfite, grain = sulfites(bench, Market.EU, choices), gluten(bench, Market.EU, choices)
    rules = ListRules(
        Market.EU, choices, finished, sulfite.source_keys if sulfite.is_declared else frozenset()
    )
    water = added_water(
        finished_g=finished if any(part.is_water for part in parts) else 0.0,
        others_g=sum(part.grams for part in parts if not part.is_water),
        lists_all=food.lists_all_water,
    )
    items = items_of(parts, rules, water)
    allergens = with_sulfites(declared_allergens(bench.plan, Market.EU, choices), sulfite)
    additives = additive_findings(bench, Market.EU, category)
    candidates = quid_candidates(bench, food, choices)
    questions = (
        *allergen_questions(bench.plan, Market.EU, choices), *part_questions(items, choices)
    )  # fmt: skip
    fits = diets(bench.plan, alcohol_pct=alcohol, is_complete=not unread(bench.plan))
    return Statement(
        market=Market.EU,
        category=category,
        title=bench.formula.title,
        ingredients=items,
        minor=(),
        minor_phrase="",
        runs=eu_runs(items, by_number=choices.by_number, shares=_shares(candidates, choices)),
        allergens=allergens,
        contains="",
        may_contain=" ".join(choices.may_contain.split()),
        sulfites=sulfite,
        gluten=grain,
        alcohol=alcohol_finding(bench, Market.EU, category),
        added_water=water if any(part.is_water for part in parts) else None,
        quid=candidates,
        additives=additives,
        diets=fits,
        questions=questions,
        findings=findings_of(
            bench, Market.EU, category=category, items=items, choices=choices, diets=fits
        ),
        blocks=blocks_of(
            bench.plan, items=items, allergens=allergens, additives=additives, questions=questions
        ),
        evidence=evidence_join(
            [
                *(item.evidence for item in flat(items)),
                *(one.evidence for one in allergens),
                *(one.evidence for one in additives),
                *(one.evidence for one in candidates),
                sulfite.evidence,
                grain.evidence,
                water.evidence,
            ]
        ),
    )


def _shares(candidates: tuple[QuidCandidate, ...], choices: LabelChoices) -> dict[str, str]:
    """Return the names that are printed with their share."""
    return {one.name: one.wording for one in candidates if one.name in choices.shares_shown}
