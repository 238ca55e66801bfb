"""What the statements of both markets have in common: sums before the list, checks after it."""

from typing import Any, NamedTuple

from setwell.domain.brief import Market
from setwell.engine.diets import diets
from setwell.engine.labels.additive_rules import additive_findings
from setwell.engine.labels.allergen_statement import allergen_questions
from setwell.engine.labels.gluten import gluten
from setwell.engine.labels.statement_checks import (
    alcohol_finding,
    blocks_of,
    findings_of,
    part_questions,
    unread,
)
from setwell.engine.labels.statement_items import ListRules, flat
from setwell.engine.labels.statement_results import (
    DeclaredAllergen,
    LabelChoices,
    ListedIngredient,
    Statement,
    ThresholdSum,
)
from setwell.engine.labels.sulfites import sulfites
from setwell.engine.rules.bench import Bench
from setwell.provenance import Evidence, evidence_join


class Sums(NamedTuple):
    """What is summed over the batch before its list is written, and the rules of the list."""

    sulfites: ThresholdSum
    gluten: ThresholdSum
    rules: ListRules


def sums_of(bench: Bench, market: Market, choices: LabelChoices) -> Sums:
    """Return sulfites and gluten of the first candidate, and how its list is written."""
    sulfite = sulfites(bench, market, choices)
    keys = sulfite.source_keys if sulfite.is_declared else frozenset()
    finished = float(bench.state.composition.finished_g[0])
    return Sums(sulfite, gluten(bench, market, choices), ListRules(market, choices, finished, keys))


def statement_made(
    bench: Bench,
    sums: Sums,
    *,
    category: str,
    items: tuple[ListedIngredient, ...],
    allergens: tuple[DeclaredAllergen, ...],
    evidence: tuple[Evidence, ...],
    **own: Any,  # noqa: ANN401 - the fields of Statement that one market fills its own way
) -> Statement:
    """Return a statement with all its checks; `own` are the fields that go by the market."""
    market, choices = sums.rules.market, sums.rules.choices
    alcohol = 100.0 * float(bench.state.composition.share("alcohol_g")[0])
    fits = diets(bench.plan, alcohol_pct=alcohol, is_complete=not unread(bench.plan))
    additives = additive_findings(bench, market, category)
    questions = (
        *allergen_questions(bench.plan, market, choices), *part_questions(items, choices)
    )  # fmt: skip
    told = [one.evidence for group in (flat(items), allergens, additives) for one in group]
    return Statement(
        market=market,
        category=category,
        title=bench.formula.title,
        allergens=allergens,
        may_contain=" ".join(choices.may_contain.split()),
        sulfites=sums.sulfites,
        gluten=sums.gluten,
        alcohol=alcohol_finding(bench, market, category),
        additives=additives,
        diets=fits,
        questions=questions,
        findings=findings_of(
            bench, market, category=category, items=items, choices=choices, diets=fits
        ),
        blocks=blocks_of(
            bench.plan, items=items, allergens=allergens, additives=additives, questions=questions
        ),
        evidence=evidence_join([*told, *evidence, sums.sulfites.evidence, sums.gluten.evidence]),
        **own,
    )
