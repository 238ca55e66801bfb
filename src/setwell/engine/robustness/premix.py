"""Doses below what a scale can weigh, and what to mix and weigh instead."""

import math

from setwell.engine.material import Material
from setwell.engine.robustness.draws import Case
from setwell.engine.robustness.results import PremixAdvice, PremixRecipe
from setwell.engine.robustness.weighing import (
    PREMIX_ERROR,
    PREMIX_STEPS,
    agent_rows_of,
    row_error,
)
from setwell.units import mass_print

# A dose of fewer steps of the display than this is off by more than 5 % at worst (our judgment).
_LEAST_STEPS = 10.0
# A dry premix is carried by a powder, a stock by water; neither takes more than this part of it.
_MOST_OF_LINE = 0.9


def premix_advice(case: Case) -> tuple[PremixAdvice, ...]:
    """Return what to do about every agent whose dose the scale cannot hold."""
    return tuple(_advice(case, row) for row in rows_too_light(case))


def rows_too_light(case: Case) -> tuple[int, ...]:
    """Return the rows of agents whose dose is below what the scale can weigh."""
    least = _LEAST_STEPS * case.profile.scale_g
    return tuple(
        row
        for row in sorted(agent_rows_of(case.plan))
        if 0.0 < case.line_masses[row] < least * (1.0 - 1e-9) and row_error(case.plan, row) is None
    )


def _advice(case: Case, row: int) -> PremixAdvice:
    reading = case.plan.readings[case.plan.used[row]]
    grams, step = float(case.line_masses[row]), case.profile.scale_g
    error, least = 100.0 * 0.5 * step / grams, _LEAST_STEPS * step
    recipe = _recipe(case, row)
    name = reading.material.name if reading.material is not None else reading.line.name
    key = reading.material.agent.key if reading.material and reading.material.agent else ""
    told = (
        f"{mass_print(grams)} of {name} on a scale that shows steps of {step:g} g may be off by "
        f"{min(error, 100.0):.0f} %; such a scale needs at least {mass_print(least)}. "
    )
    return PremixAdvice(
        agent=key,
        name=name,
        line=reading.number,
        grams=grams,
        error_pct=error,
        least_g=least,
        text=told + _said(recipe, name, step),
        recipe=recipe,
    )


def _said(recipe: PremixRecipe | None, name: str, step: float) -> str:
    if recipe is None:
        return f"Weigh it on a scale of {step / 10.0:g} g, or make a larger batch."
    mix = "Stir" if recipe.kind == "stock" else "Mix dry"
    keeps = " Make it fresh and cold-keep it for a day at most." if recipe.kind == "stock" else ""
    return (
        f"{mix} {mass_print(recipe.agent_g)} {name} with {mass_print(recipe.carrier_g)} "
        f"{recipe.carrier} from the recipe, and take {mass_print(recipe.take_g)} of it for a "
        f"batch; leave {mass_print(recipe.take_g * recipe.carrier_g / _whole(recipe))} "
        f"{recipe.carrier} out elsewhere.{keeps}"
    )


def _whole(recipe: PremixRecipe) -> float:
    return recipe.agent_g + recipe.carrier_g


def _recipe(case: Case, row: int) -> PremixRecipe | None:
    """Return a mix of which twenty steps of the display hold the dose."""
    grams, step = float(case.line_masses[row]), case.profile.scale_g
    carrier = _carrier(case, row)
    if carrier is None:
        return None
    kind, material, left = carrier
    agent = max(PREMIX_STEPS * step, grams)
    take = max(PREMIX_STEPS * step, 2.0 * grams)
    if take - grams > _MOST_OF_LINE * left:
        return None
    whole = agent * take / grams
    return PremixRecipe(
        kind=kind,
        carrier=material.name,
        agent_g=agent,
        carrier_g=_rounded(whole - agent, step),
        take_g=take,
        error_pct=100.0 * PREMIX_ERROR,
        batches=whole / take,
    )


def _rounded(grams: float, step: float) -> float:
    return round(grams / step) * step


def _carrier(case: Case, row: int) -> tuple[str, Material, float] | None:
    """Return the heaviest powder of the recipe, or its water, and how much of it there is."""
    found: list[tuple[str, Material, float]] = []
    for other, position in enumerate(case.plan.used):
        material = case.plan.readings[position].material
        if material is None or other == row or material.agent is not None:
            continue
        weight = float(case.line_masses[other])
        if material.group in {"sugar", "sugars", "sweetener"} and not material.is_liquid:
            found.append(("dry premix", material, weight))
        elif material.key.startswith("water"):
            found.append(("stock", material, weight))
    found.sort(key=lambda one: (one[0] != "dry premix", -one[2]))
    needed = PREMIX_STEPS * case.profile.scale_g - float(case.line_masses[row])
    enough = [one for one in found if _MOST_OF_LINE * one[2] >= needed]
    best = enough or found
    return best[0] if best and math.isfinite(best[0][2]) else None
