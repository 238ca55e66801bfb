"""Texture agents of the tables and of the kitchen as materials."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache

import numpy as np

from setwell.domain.pantry import Lot, OwnAgent
from setwell.engine.bought import with_bought
from setwell.engine.gelatin_grade import material_of_animal
from setwell.engine.material import (
    NUTRIENT_KEYS,
    AgentSide,
    Allergen,
    Material,
    MaterialKind,
    Measure,
    Span,
)
from setwell.engine.names import name_find, name_normalize
from setwell.provenance import evidence_join
from setwell.science.gels.degradation import strength_molar_mass
from setwell.tables.agents import AgentRow, agent_aliases, agent_rows, gelatin_grades

# Powders vary more than foods: half of any figure (our judgment, no source).
_POWDER_SPREAD = 0.5
_GELATIN = "gelatin"


@cache
def _table_materials() -> Mapping[str, Material]:
    return {f"agent:{key}": _material(row) for key, row in agent_rows().items()}


def agent_materials(lots: Iterable[Lot] = ()) -> Mapping[str, Material]:
    """Return every table agent as a material, with the lot in use where there is one."""
    materials = dict(_table_materials())
    for lot in lots:
        target = name_find(lot.agent, _names())
        if lot.in_use and target is not None:
            materials[target] = with_lot(materials[target], lot)
    return materials


def own_agent_materials(
    agents: Iterable[OwnAgent], lots: Iterable[Lot], known: Mapping[str, Material]
) -> list[Material]:
    """Return the kitchen's trade products as materials; one of unknown kind is left out."""
    made = (_own(agent, tuple(lots), known) for agent in agents)
    return [material for material in made if material is not None]


def with_lot(material: Material, lot: Lot) -> Material:
    """Return the material as this lot delivers it."""
    side = material.agent
    if side is None:
        return material
    bought = with_bought(material, lot, ("lot", f"{lot.agent} · {lot.lot_code}"))
    return replace(
        bought,
        agent=AgentSide(
            side.key,
            side.strength_factor * lot.strength_factor * _by_chain_length(side.key, lot),
            side.bloom if lot.bloom is None else lot.bloom,
            lot.lot_code,
        ),
    )


def _by_chain_length(agent: str, lot: Lot) -> float:
    """Return what shorter or longer chains make of a dose; 1 where the lot does not say."""
    if lot.molar_mass_kda is None or not takes_molar_mass(agent):
        return 1.0
    row = agent_rows()[agent]
    share = strength_molar_mass(
        lot.molar_mass_kda,
        original_molar_mass=row.figure("usual_molar_mass").value,
        critical_molar_mass=row.figure("critical_molar_mass").value,
        exponent=row.figure("molar_mass_exponent").value,
    )
    # The stiffness goes with about the square of the dose.
    return float(np.sqrt(share))


def takes_molar_mass(agent: str) -> bool:
    """True where the tables know from which length on the chains gel."""
    return "critical_molar_mass" in agent_rows()[agent].properties


@cache
def _names() -> Mapping[str, str]:
    names = {name_normalize(alias): f"agent:{to.key}" for alias, to in agent_aliases().items()}
    names.update({name_normalize(row.name): f"agent:{key}" for key, row in agent_rows().items()})
    names.update({name_normalize(key): f"agent:{key}" for key in agent_rows()})
    return names


def _own(agent: OwnAgent, lots: tuple[Lot, ...], known: Mapping[str, Material]) -> Material | None:
    target = name_find(agent.based_on, _names())
    if target is None:
        return None
    base = known[target]
    own = replace(
        base,
        key=f"own:{agent.name.casefold()}",
        name=agent.name,
        agent=AgentSide(target.removeprefix("agent:"), agent.strength_factor, agent.bloom, ""),
    )
    own = replace(own, allergens=material_of_animal(own, agent.name).allergens)
    own = with_bought(own, agent, ("agent", agent.name), is_another=True)
    for lot in lots:
        if lot.in_use and lot.agent.casefold() == agent.name.casefold():
            own = with_lot(own, lot)
    return own


def _material(row: AgentRow) -> Material:
    figures = row.composition
    values = [figures[key].value if key in figures else np.nan for key in NUTRIENT_KEYS]
    citations = evidence_join([(figure.citation,) for figure in figures.values()])
    return Material(
        key=f"agent:{row.key}",
        name=row.name,
        kind=MaterialKind.AGENT,
        group="agent",
        nutrients=np.array([np.nan if value is None else value for value in values]),
        spread=np.full(len(NUTRIENT_KEYS), _POWDER_SPREAD),
        evidence=citations,
        measures=_sheets() if row.key == _GELATIN else None,
        buffering=Span(0.1, 0.02, 0.5),
        dissolved=np.array([[1.0] * 4, [0.5] * 4, [1.0] * 4]),
        allergens=_allergens(row),
        vegan=row.vegan,
        vegetarian=row.vegetarian,
        diet_reason=row.diet_note,
        agent=AgentSide(row.key),
    )


def _allergens(row: AgentRow) -> tuple[Allergen, ...]:
    if not row.allergen:
        return ()
    if row.allergen == "check":
        return (Allergen("gluten", "", "check"),)
    if row.allergen == "fish_check":
        return (Allergen("fish", "", "check"),)
    return (Allergen(row.allergen, "", "contains"),)


def _sheets() -> Mapping[str, Measure]:
    """Sheets of the common grades; each sheet is meant to set the same amount."""
    return {
        f"sheet:{name}": Measure(grade.sheet_mass, f"one {name} sheet, {grade.bloom:g} Bloom")
        for name, grade in gelatin_grades().items()
    }
