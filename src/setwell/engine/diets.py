"""Allergens and diets, with the lines that carry or break them."""

import numpy as np

from setwell.domain.formula import Diet
from setwell.engine.assessment import AllergenResult, DietResult, Finding, Severity, Verdict
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.engine.plan import Plan

# Alcohol in the finished batch that counts as none, % by weight (our judgment, no source).
_TRACE_ALCOHOL_PCT = 0.1


def material_lines(plan: Plan) -> dict[str, tuple[int, ...]]:
    """Return, per material, the numbers of the lines that bring it, parts included."""
    numbers: dict[str, tuple[int, ...]] = {}
    for column, material in enumerate(plan.materials):
        rows = plan.expansion[:, column].nonzero()[0]
        numbers[material.key] = tuple(plan.readings[plan.used[row]].number for row in rows)
    return numbers


def allergens(plan: Plan) -> tuple[AllergenResult, ...]:
    """Return every allergen of every material; what is certain comes first."""
    where = material_lines(plan)
    found: dict[tuple[str, str], list[tuple[Material, str]]] = {}
    for material in plan.materials:
        for tag in material.allergens:
            found.setdefault((tag.allergen, tag.kind), []).append((material, tag.certainty))
    results = [
        AllergenResult(
            allergen=allergen,
            kind=kind,
            certainty="contains" if any(c == "contains" for _, c in holders) else "check",
            lines=_numbers(where, [material for material, _ in holders]),
            materials=tuple(dict.fromkeys(material.name for material, _ in holders)),
        )
        for (allergen, kind), holders in found.items()
    ]
    return tuple(sorted(results, key=lambda r: (r.certainty != "contains", r.allergen, r.kind)))


def allergen_words(plan: Plan) -> tuple[str, ...]:
    """Return the allergens of a batch in words; what a label has to confirm is marked."""
    told = (
        one.allergen.replace("_", " ") + ("" if one.certainty == "contains" else " (check)")
        for one in allergens(plan)
    )
    return tuple(dict.fromkeys(told))


def _numbers(where: dict[str, tuple[int, ...]], materials: list[Material]) -> tuple[int, ...]:
    return tuple(sorted({number for m in materials for number in where[m.key]}))


def diets(plan: Plan, *, alcohol_pct: float, is_complete: bool) -> tuple[DietResult, ...]:
    """Return the verdict on every diet; unread lines leave it open."""
    where = material_lines(plan)
    return tuple(_diet(plan, diet, where, alcohol_pct, is_complete) for diet in Diet)


def _diet(
    plan: Plan,
    diet: Diet,
    where: dict[str, tuple[int, ...]],
    alcohol_pct: float,
    is_complete: bool,  # noqa: FBT001
) -> DietResult:
    answers = {
        material.key: diet_answer(material, diet, alcohol_pct) for material in plan.materials
    }
    breaking = [m for m in plan.materials if answers[m.key] == "no"]
    doubtful = [m for m in plan.materials if answers[m.key] == "check"]
    claimed = diet in plan.formula.diets
    if breaking:
        reason = "; ".join(f"{m.name}{_because(m, diet)}" for m in breaking)
        return DietResult(diet.value, Verdict.NO, claimed, _numbers(where, breaking), reason)
    if doubtful or not is_complete or not plan.materials:
        reason = "; ".join(f"check the label of {m.name}" for m in doubtful)
        reason = reason or "not every line could be read"
        return DietResult(
            diet.value, Verdict.CANNOT_TELL, claimed, _numbers(where, doubtful), reason
        )
    return DietResult(diet.value, Verdict.YES, claimed, (), "")


def diet_answer(material: Material, diet: Diet, alcohol_pct: float = 0.0) -> str:
    """Return whether a material fits a diet: yes, no or check."""
    if diet is Diet.VEGAN:
        return material.vegan
    if diet is Diet.VEGETARIAN:
        return material.vegetarian
    if diet is Diet.NO_GLUTEN:
        grains = [t for t in material.allergens if t.allergen in {"gluten", "wheat"}]
        if not grains:
            return "yes"
        return "no" if any(tag.certainty == "contains" for tag in grains) else "check"
    return _alcohol_answer(material, alcohol_pct)


def _alcohol_answer(material: Material, alcohol_pct: float) -> str:
    content = material.nutrients[NUTRIENT_INDEX["alcohol_g"]]
    if np.isnan(content):
        return "check" if material.group in {"alcohol", "own"} else "yes"
    if content <= 0:
        return "yes"
    return "no" if alcohol_pct > _TRACE_ALCOHOL_PCT else "check"


def _because(material: Material, diet: Diet) -> str:
    if diet in {Diet.VEGAN, Diet.VEGETARIAN} and material.diet_reason:
        return f" ({material.diet_reason})"
    return ""


def broken_claims(results: tuple[DietResult, ...]) -> tuple[Finding, ...]:
    """Return a finding for each claimed diet that a line breaks or leaves open."""
    told = []
    for result in results:
        if not result.claimed or result.verdict is Verdict.YES:
            continue
        broken = result.verdict is Verdict.NO
        told.append(
            Finding(
                code="diet_broken" if broken else "diet_open",
                severity=Severity.STOP if broken else Severity.WARN,
                title=f"Not {result.diet}" if broken else f"Is it {result.diet}?",
                text=f"The formula says {result.diet}; {result.reason}.",
                action="Replace the ingredient or take the claim away."
                if broken
                else "Read the supplier's label and keep it with the lot.",
                lines=result.lines,
            )
        )
    return tuple(told)
