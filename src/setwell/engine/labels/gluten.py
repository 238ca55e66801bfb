"""Gluten summed over the grains, and what may be said about it."""

from collections.abc import Iterator

from setwell.domain.brief import Market
from setwell.engine.labels.allergen_statement import material_tags, question_key
from setwell.engine.labels.amounts_summed import Brought, Total, reaches_limit, summed, total_of
from setwell.engine.labels.statement_results import LabelChoices, ThresholdSum
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.engine.rules.bench import Bench
from setwell.engine.verdict import Verdict
from setwell.tables.labels.thresholds import label_thresholds

_MG_PER_KG_OF_PERCENT = 1e4


def gluten(bench: Bench, market: Market, choices: LabelChoices) -> ThresholdSum:
    """Return the gluten of the finished food: at most all protein of what holds a grain."""
    threshold = label_thresholds()[("gluten", market.value)]
    total = total_of(bench, market, _brought(bench.plan.materials, choices))
    reaches = reaches_limit(total, threshold.value, market=market)
    return summed("gluten", total, threshold, reaches, _text(total, threshold.value, reaches))


def _brought(materials: tuple[Material, ...], choices: LabelChoices) -> Iterator[Brought]:
    for material in materials:
        if not _may_hold(material, choices):
            continue
        if material.agent is not None and not _surely_holds(material):
            # Gums hold little protein, but what a fermentation fed on is anybody's guess.
            yield Brought(material, 0.0, None)
            continue
        protein = float(material.nutrients[NUTRIENT_INDEX["protein_g"]])
        # A protein of zero is a rounded one, and 0.01 % are 100 mg/kg already.
        most = protein * _MG_PER_KG_OF_PERCENT if protein > 0.0 else None
        yield Brought(material, 0.0, most, material.evidence[0] if material.evidence else None)


def _surely_holds(material: Material) -> bool:
    tags = material_tags(material)
    return any(a in {"gluten", "wheat"} and sure == "contains" for a, _, sure in tags)


def _may_hold(material: Material, choices: LabelChoices) -> bool:
    if question_key(material, "gluten") in choices.cleared and not _surely_holds(material):
        return False
    return any(allergen in {"gluten", "wheat"} for allergen, _, _ in material_tags(material))


def _text(total: Total, limit: float, reaches: Verdict) -> str:
    if not total.sources:
        return (
            "No ingredient is known to hold gluten. The words “gluten-free” still need less than "
            f"{limit:g} mg/kg in the food as sold: test it, and keep the kitchen's flour away."
        )
    names = ", ".join(total.sources)
    if reaches is Verdict.NO:
        return (
            f"Gluten can come from {names}, {total.words} if all their protein were gluten; the "
            f"limit of “gluten-free” is {limit:g} mg/kg. Only a test of the food bears the claim."
        )
    return (
        f"Gluten can come from {names} ({total.words}); the limit of “gluten-free” is {limit:g} "
        "mg/kg. Do not call it gluten-free."
    )
