"""Sulfites summed over gelatin, pectin, dried fruit, wine and the rest."""

from collections.abc import Iterator
from dataclasses import replace

from setwell.domain.brief import Market
from setwell.engine.labels.allergen_statement import material_tags
from setwell.engine.labels.amounts_summed import Brought, Total, reaches_limit, summed, total_of
from setwell.engine.labels.statement_results import LabelChoices, ThresholdSum
from setwell.engine.material import Material
from setwell.engine.plan import Plan
from setwell.engine.rules.bench import Bench
from setwell.engine.verdict import Verdict
from setwell.tables.agents import agent_rows
from setwell.tables.labels.thresholds import SulfiteSource, label_thresholds, sulfite_sources

# Among the cleared keys: the certificates of all lots together stay below the limit.
SULFITES = "sulfites"


def sulfites(bench: Bench, market: Market, choices: LabelChoices) -> ThresholdSum:
    """Return the sulfites of the finished food, as sulfur dioxide.

    Where it cannot be told they are declared, unless the kitchen cleared them by certificates.
    """
    threshold = label_thresholds()[("sulfites", market.value)]
    total = total_of(bench, market, _brought(bench.plan))
    reaches = reaches_limit(total, threshold.value, market=market)
    found = summed("sulfites", total, threshold, reaches, _text(total, threshold.value, reaches))
    if reaches is Verdict.CANNOT_TELL and SULFITES in choices.cleared:
        said = f"{found.text.partition(' Declared to be safe')[0]} Not declared, by your "
        return replace(found, is_declared=False, text=f"{said}suppliers' certificates.")
    return found


def _brought(plan: Plan) -> Iterator[Brought]:
    for material in plan.materials:
        rows = _rows(material)
        if rows:
            high = sum(row.high * share for row, share in rows)
            low = sum(row.low * share for row, share in rows)
            yield Brought(material, low, high, rows[0][0].citation)
        elif _is_tagged(material):
            yield Brought(material, 0.0, None)


def _is_tagged(material: Material) -> bool:
    return any(allergen == "sulfite" for allergen, _, _ in material_tags(material))


def _rows(material: Material) -> list[tuple[SulfiteSource, float]]:
    """Return the figures for a material with the share they hold for; a mix has its parts."""
    known = sulfite_sources()
    if material.agent is None:
        # What the kitchen says of its own food goes before the figure of the food it copies.
        is_own = material.key.startswith("own:") and _is_tagged(material)
        row = None if is_own else known.get(material.table_key)
        return [] if row is None else [(row, 1.0)]
    parts = agent_rows()[material.agent.key].parts or {material.agent.key: 1.0}
    found = ((known.get(f"agent:{key}"), share) for key, share in parts.items())
    return [(row, share) for row, share in found if row is not None]


def _text(total: Total, limit: float, reaches: Verdict) -> str:
    if not total.sources:
        return "No ingredient is known to bring sulfites."
    names = ", ".join(total.sources)
    if reaches is Verdict.NO:
        return (
            f"Sulfites from {names}: {total.words}, less than the {limit:g} mg/kg that "
            "have to be declared."
        )
    if reaches is Verdict.YES:
        return f"Sulfites from {names}: {total.words}, and {limit:g} mg/kg have to be declared."
    return (
        f"Sulfites from {names}: {total.words}; {limit:g} mg/kg have to be declared. Declared to "
        "be safe, until the suppliers' certificates say less."
    )
