"""Sodium alginate: thick by itself, a gel that heat cannot melt with calcium."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.needs import (
    calcium_at_hand,
    calcium_ratio,
    modulus_of,
)
from setwell.engine.gelling.parameters import constant, evidence_of, parameter
from setwell.engine.gelling.sol import SOL_DOUBT, sol_flow
from setwell.engine.gelling.state import (
    CANNOT_TELL,
    NO,
    YES,
    AgentInput,
    AgentState,
    Codes,
    Condition,
    Origins,
    SetsOn,
)
from setwell.engine.gelling.window import inside
from setwell.engine.spans import Spans, log_half_width
from setwell.provenance import Evidence
from setwell.science.gels.ion_gel import calcium_stoichiometric, dose_tied, skin_thickness

Array = NDArray[np.float64]

_ME = "sodium_alginate"
# With calcium far above the need the gel breaks sooner (our judgment).
_BRITTLE = 0.7
_MOST_PCT, _MOST_ABV = 3.0, 20.0
# Five on gelling, and the rest.
_FIGURES = (
    "critical_concentration", "calcium_full_stoichiometry", "calcium_share_that_gels",
    "calcium_start", "ph_acid_gel_high", "modulus_at_reference", "modulus_exponent",
    "overlap_concentration", "haze", "weeping",
)  # fmt: skip


def alginate(agent: AgentInput) -> AgentState:
    """Return what alginate does in n batches."""
    kept = strength_kept(_ME, agent.water.ph, agent.acid)
    work = working(agent, kept)
    effective = work.effective_pct
    count = len(agent.dose_pct)
    calcium = calcium_at_hand(agent)
    ratio = calcium_ratio(agent, calcium)
    limits, stiffness = parameter(_ME, "critical_concentration"), _stiffness()
    return AgentState(
        key=_ME,
        working=work,
        critical_pct=constant(limits, count),
        conditions=(_calcium_condition(ratio), _acid_condition(agent)),
        sets_on=SetsOn.IONS,
        gel=gel_of(_ME, _modulus(effective, calcium), strain=_strain(ratio)),
        flow=sol_flow(agent, effective),
        haze=constant(parameter(_ME, "haze"), count),
        weeps_pct=_weeping(ratio),
        frozen=np.full(count, CANNOT_TELL),
        doubt=LawDoubt(
            strength=log_half_width(stiffness[0], stiffness[1]),
            strain=strain_doubt(_ME),
            flow=SOL_DOUBT,
        ),
        is_extrapolated=(effective.value > _MOST_PCT)
        | (agent.water.alcohol_by_volume.value > _MOST_ABV),
        origins=Origins(hydration=work.evidence, **_sources()),
        model="alginate: as much as the calcium ties, power law",
    )


@cache
def _sources() -> dict[str, Evidence]:
    """Return where the numbers of alginate come from, besides dissolving."""
    found = {name: parameter(_ME, name) for name in _FIGURES}
    return {
        "gelling": evidence_of(*(found[name] for name in _FIGURES[:5])),
        "strength": evidence_of(found["modulus_at_reference"], found["modulus_exponent"]),
        "fracture": fracture_evidence(_ME),
        "flow": evidence_of(found["overlap_concentration"]),
        "look": evidence_of(found["haze"], found["weeping"]),
    }


def skin_in_bath(dose_pct: Array, bath_mmol: Array, seconds: Array) -> tuple[Codes, Spans]:
    """Return whether drops get a skin in a bath of so much free calcium, and its mm.

    `bath_mmol` is mmol of calcium per kg of bath.
    """
    start = _full_mg_g() * parameter(_ME, "calcium_start").high / 100.0
    grams = 10.0 * np.asarray(dose_pct, dtype=np.float64)
    ties = np.asarray(bath_mmol) * 40.078 > start * grams
    critical = parameter(_ME, "critical_concentration")
    holds = np.where(dose_pct >= critical.high, YES, np.where(dose_pct < critical.low, NO, 0))
    codes = np.where(ties, holds, NO).astype(np.int8)
    pace = parameter(_ME, "skin_diffusion")
    need = np.maximum(_full_mg_g() * grams / 40.078, 1e-12)
    thick = Spans(
        *(
            np.where(codes > NO, 1e3 * skin_thickness(
                seconds, bath_mmol, need, diffusion=1e-9 * bound), 0.0)
            for bound in pace[:3]
        )
    )  # fmt: skip
    return codes, thick


@cache
def _full_mg_g() -> float:
    weight = parameter(_ME, "equivalent_weight").value / 1000.0
    return 1000.0 * float(calcium_stoichiometric(weight))


def _stiffness() -> tuple[float, float]:
    figure = parameter(_ME, "modulus_at_reference")
    return figure.low, figure.high


@cache
def _need_mg_g() -> tuple[float, float, float]:
    """Return calcium from which it gels, that ties all of it, and that is too much, mg/g."""
    full = _full_mg_g()
    start = parameter(_ME, "calcium_start").value / 100.0
    ties = parameter(_ME, "calcium_share_that_gels").value / 100.0
    return full * start, full * ties, full * parameter(_ME, "calcium_excess").value


def _modulus(effective: Spans, calcium: Spans) -> Spans:
    _, need, _ = _need_mg_g()
    dose, there = np.array(effective) / 100.0, np.array(calcium)
    tied = Spans(*(100.0 * dose_tied(dose, there, need=need / 1000.0)))
    return modulus_of(_ME, tied)


def _calcium_condition(ratio: Spans) -> Condition:
    start = parameter(_ME, "calcium_start")
    full = _full_mg_g()
    low, high = full * start.low / 100.0, full * start.high / 100.0
    _, ties, _ = _need_mg_g()
    need = (
        f"about {full * start.value / 100:.0f} mg of free calcium per gram of alginate to gel, "
        f"{ties:.0f} for all of its strength; magnesium does not count"
    )
    return Condition("calcium", inside(ratio, (high, np.inf), (low, np.inf)), ratio, "mg/g", need)


def _acid_condition(agent: AgentInput) -> Condition:
    edge = parameter(_ME, "ph_acid_gel_high")
    holds = inside(agent.water.ph, (edge.high, np.inf), (edge.low, np.inf))
    need = f"pH {edge.high:.1f} or more: below, it turns to grainy alginic acid"
    return Condition("acidity", holds, agent.water.ph, "pH", need)


def _strain(ratio: Spans) -> Spans:
    known = parameter(_ME, "fracture_strain").value
    _, _, most = _need_mg_g()
    return Spans(
        *(
            np.where(part > most, known * _BRITTLE, known)
            for part in (ratio.value, ratio.high, ratio.low)
        )
    )


def _weeping(ratio: Spans) -> Spans:
    calm, much = parameter(_ME, "weeping"), parameter(_ME, "excess_weeping")
    _, _, most = _need_mg_g()
    over = ratio.value > most
    return Spans(*(np.where(over, b, a) for a, b in zip(calm[:3], much[:3], strict=True)))
