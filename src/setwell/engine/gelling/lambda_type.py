"""Lambda carrageenan: it thickens and never gels."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.liquid import added_flow, liquid_of
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import (
    AgentInput,
    AgentState,
    Flow,
    Origins,
    SetsOn,
)
from setwell.engine.gelling.thickeners import (
    coil_law,
    coil_thickness,
    flow_doubt,
    flow_evidence,
    freezing_of,
    haze_of,
    look_evidence,
)
from setwell.engine.spans import Spans

Array = NDArray[np.float64]

_ME = "lambda_carrageenan"
_FRESH, _SALTED = "25 °C, no added sodium", "25 °C, 20 mmol/L sodium"
# Sodium of the salted measurement; protein and sodium (mmol per kg of water) of plain milk.
_SALTY_MMOL, _MILK_PROTEIN, _MILK_SODIUM = 20.0, 0.0315, 21.0
# Doses beyond this many times the overlap lie outside what was measured.
_MEASURED_UP_TO = 4.0


def lambda_type(agent: AgentInput) -> AgentState:
    """Return what lambda carrageenan does in n batches."""
    count = len(agent.dose_pct)
    kept = strength_kept(_ME, agent.water.ph, agent.acid)
    work = working(agent, kept)
    effective = work.effective_pct
    overlap = _overlap(agent.salts["sodium"], _milk(agent))
    return AgentState(
        key=_ME,
        working=work,
        sets_on=SetsOn.NOTHING,
        flow=_flow(agent, effective, overlap),
        haze=haze_of(_ME, count),
        frozen=freezing_of(_ME, count),
        doubt=LawDoubt(flow=flow_doubt(_ME)),
        is_extrapolated=effective.value > _MEASURED_UP_TO * overlap.value,
        origins=Origins(
            acid=loss_evidence(_ME),
            hydration=work.evidence,
            flow=(
                *evidence_of(
                    parameter(_ME, "overlap_concentration", _FRESH),
                    parameter(_ME, "overlap_concentration", _SALTED),
                    parameter(_ME, "milk_gain"),
                ),
                *flow_evidence(_ME),
            ),
            look=look_evidence(_ME),
        ),
        model="lambda: overlap law of random coils",
    )


def _milk(agent: AgentInput) -> Array:
    """Return how much of plain milk the batch is, by its protein."""
    return np.clip(agent.water.milk_protein_share / _MILK_PROTEIN, 0.0, 1.0)


def _overlap(sodium: Spans, milk: Array) -> Spans:
    """Return the overlap dose in percent; sodium shrinks the coils, so that more is needed.

    The gain in milk was seen with milk's own sodium in it, which therefore does not count twice.
    """
    fresh = parameter(_ME, "overlap_concentration", _FRESH).value
    salted = parameter(_ME, "overlap_concentration", _SALTED).value
    share = (np.clip((part - _MILK_SODIUM * milk) / _SALTY_MMOL, 0.0, 1.0) for part in sodium)
    return Spans(*(fresh + (salted - fresh) * part for part in share))


def _flow(agent: AgentInput, effective: Spans, overlap: Spans) -> Flow:
    liquid = liquid_of(agent)
    law = coil_law(_ME)
    gain = 1.0 + (parameter(_ME, "milk_gain").value - 1.0) * _milk(agent)
    # The more sodium, the thinner: the low side has the high overlap.
    starts = np.stack((overlap.value, overlap.high, overlap.low))
    doses = np.stack(effective) / liquid.serum
    rest = gain * coil_thickness(doses, law, liquid, overlap_pct=starts)
    return added_flow(Spans(*rest), liquid.base, half_stress=law.half_stress)
