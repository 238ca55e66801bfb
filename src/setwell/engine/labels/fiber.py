"""Dietary fiber by market: what a food holds counts, what a powder brings counts by a list."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from setwell.engine.labels.panel_results import FiberFinding
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.provenance import Citation, Evidence, Grade, evidence_join
from setwell.tables.agents import AgentRow, agent_rows
from setwell.tables.labels.serving_tables import FiberRule, fiber_rules

_NO_RULE = "There is no rule for this powder here, so it is not counted."
_RECALLED: Evidence = (Citation("trade_recalled", "recalled, no source seen", Grade.UNVERIFIED),)


@dataclass(frozen=True, slots=True)
class FiberContent:
    """Grams in 100 g: what is not digested, and how much of it the market counts as fiber.

    `undigested` is None where it was never analyzed.
    """

    undigested: float | None
    counted_share: float
    evidence: Evidence


def fiber_content(material: Material, market: str) -> FiberContent:
    """Return the fiber of a material as a market sees it."""
    rules = fiber_rules(market)
    if material.agent is not None:
        row = agent_rows()[material.agent.key]
        if row.parts:
            return _blend(material, row, rules)
        return _powder(material, rules.get(row.key))
    rule = rules.get(material.table_key)
    if rule is not None:
        return _powder(material, rule)
    return FiberContent(_cell(material, "fiber_g"), 1.0, material.evidence)


def _powder(material: Material, rule: FiberRule | None) -> FiberContent:
    if rule is None:
        return FiberContent(_cell(material, "fiber_g"), 0.0, _RECALLED)
    found = _cell(material, "fiber_g")
    if rule.is_all_but_sugars:
        parts = [_cell(material, key) for key in ("carbohydrate_g", "sugars_g", "starch_g")]
        found = None if parts[0] is None else parts[0] - sum(part or 0.0 for part in parts[1:])
    return FiberContent(found, float(rule.is_counted), (rule.citation,))


def _blend(material: Material, row: AgentRow, rules: Mapping[str, FiberRule]) -> FiberContent:
    """A mix counts by the share of its fiber that comes from parts that count."""
    brought, counted, named = 0.0, 0.0, []
    for key, share in row.parts.items():
        figure = agent_rows()[key].composition.get("fiber_g")
        grams = share * (figure.value if figure is not None else 0.0)
        rule = rules.get(key)
        brought += grams
        counted += grams if rule is not None and rule.is_counted else 0.0
        named.append(_RECALLED if rule is None else (rule.citation,))
    share = counted / brought if brought > 0.0 else 0.0
    return FiberContent(_cell(material, "fiber_g"), share, evidence_join(named))


def fiber_findings(materials: Iterable[Material], market: str) -> tuple[FiberFinding, ...]:
    """Return, for every powder and listed food, whether its fiber counts in this market."""
    rules = fiber_rules(market)
    told = []
    for material in materials:
        is_listed = material.agent is not None or material.table_key in rules
        content = fiber_content(material, market)
        if not is_listed or not content.undigested:
            continue
        told.append(
            FiberFinding(
                material.name, content.counted_share > 0.0,
                content.undigested * content.counted_share, _text(material, rules),
                content.evidence,
            )
        )  # fmt: skip
    return tuple(told)


def _text(material: Material, rules: Mapping[str, FiberRule]) -> str:
    if material.agent is None:
        return rules[material.table_key].statement
    row = agent_rows()[material.agent.key]
    said = [rules[key].statement if key in rules else _NO_RULE for key in (row.parts or (row.key,))]
    return " ".join(dict.fromkeys(said))


def _cell(material: Material, nutrient: str) -> float | None:
    value = float(material.nutrients[NUTRIENT_INDEX[nutrient]])
    return None if np.isnan(value) else value
