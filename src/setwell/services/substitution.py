"""Replace one agent of a saved or typed formula, with what this kitchen has and has measured."""

from dataclasses import dataclass

from setwell.domain.formula import Formula
from setwell.engine.assess import bench_build
from setwell.engine.substitution.ask import EGG, SubstitutionAsk, name_of
from setwell.engine.substitution.original import KEPT_NAMES
from setwell.engine.substitution.results import (
    Candidate,
    Helper,
    Keep,
    ProcessChange,
    Remark,
    StepChange,
    Substitution,
    Swap,
    ValueChange,
)
from setwell.engine.substitution.substitute import substitute as _substitute
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.texture_calibration import corrections_for

__all__ = [
    "KEPT_NAMES",
    "Candidate",
    "Helper",
    "Keep",
    "ProcessChange",
    "Remark",
    "Replaceable",
    "StepChange",
    "Substitution",
    "SubstitutionAsk",
    "Swap",
    "ValueChange",
    "formula_substitute",
    "replaceable",
]


@dataclass(frozen=True, slots=True)
class Replaceable:
    """Something in a formula that can be replaced; `is_gelatin` where it can change its Bloom."""

    name: str
    line: int
    is_gelatin: bool


def replaceable(formula: Formula) -> tuple[Replaceable, ...]:
    """Return the agents and the egg of a formula, each once, in its order."""
    bench = bench_build(formula, catalog=kitchen_catalog(), parts=parts_for(formula))
    found: dict[str, Replaceable] = {}
    for position in bench.plan.used:
        reading = bench.plan.readings[position]
        material = reading.material
        if material is None or (material.agent is None and material.group != EGG):
            continue
        key = EGG if material.agent is None else material.agent.key
        found.setdefault(key, Replaceable(name_of(reading), reading.number, key == "gelatin"))
    return tuple(found.values())


def formula_substitute(
    *,
    formula: Formula,
    ask: SubstitutionAsk,
    formula_id: int | None = None,
    number: int | None = None,
) -> Substitution:
    """Return what replaces an agent of a formula, or which agents could.

    `formula_id` and `number` name a stored version, so that its readings count. Raises
    InputError, with the field it belongs to, for what cannot be answered.
    """
    known = corrections_for(formula=formula, formula_id=formula_id, number=number)
    return _substitute(
        formula,
        ask,
        catalog=kitchen_catalog(),
        parts=parts_for(formula),
        corrections=known.corrections,
    )
