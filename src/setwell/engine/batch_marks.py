"""What tells one batch from another: the lots that went in, and the recipe."""

from setwell.domain.formula import Formula, Goal
from setwell.engine.material import Material, MaterialKind
from setwell.engine.rules.bench import Bench


def lots_of(bench: Bench) -> dict[str, str]:
    """Return the lot of each agent in a batch, by agent key; "" where none is named."""
    return {
        key: " + ".join(dict.fromkeys(lot_label(material) for material in group.materials))
        for key, group in bench.agents.items()
    }


def recipe_of(formula: Formula) -> str:
    """Return the same text for formulas that are made the same way, whatever they are called."""
    made = formula.revised(
        title="recipe", notes="", goal=Goal.UNSPECIFIED, diets=(), portions=None, molds=None,
        loss_pct=0.0, serving_temperature_c=None,
    )  # fmt: skip
    return made.content_hash


def lot_label(material: Material) -> str:
    """Return how a lot is told apart: by its code, with the name of an own trade product."""
    side = material.agent
    if side is None or material.kind is not MaterialKind.AGENT:
        return ""
    if material.key.startswith("own:"):
        return " · ".join(part for part in (material.name, side.lot) if part)
    return side.lot
