"""The gel of one agent by itself, in numbers and in what it needs."""

import numpy as np

from setwell.engine.gelling.state import AgentState, Condition
from setwell.engine.texture_results import AgentGel, Requirement, ZoneShare
from setwell.engine.verdict import verdict

_ZONES = ("bottom", "middle", "top")


def agent_gel(state: AgentState, row: int) -> AgentGel:
    """Return what one agent's gel is like in one candidate."""
    stress = strain = other = None
    if state.gel is not None and state.sets[row] >= 0 and state.gel.fracture_stress.high[row] > 0:
        stress = state.gel.fracture_stress.scaled(0.001).estimate(
            unit="kPa", model=state.model, evidence=state.origins.fracture, row=row
        )
        strain = state.gel.fracture_strain.estimate(
            unit="", model="Hencky strain at break", evidence=state.origins.fracture, row=row
        )
    if state.other_set is not None:
        other = state.other_set.set_c.estimate(
            unit="°C", model=state.other_set.name, evidence=state.origins.setting, row=row
        )
    return AgentGel(
        sets_on=state.sets_on.value,
        fracture_stress_kpa=stress,
        fracture_strain=strain,
        other_set_c=other,
        other_set_name="" if state.other_set is None else state.other_set.name,
        requirements=tuple(_requirement(condition, row) for condition in state.conditions),
        zones=_zones(state, row),
        readings=state.readings,
    )


def _requirement(condition: Condition, row: int) -> Requirement:
    value, low, high = (float(part[row]) for part in condition.found)
    found = ""
    if condition.unit:
        same = np.isclose(low, high, rtol=1e-3)
        around = "" if same else f" ({low:.3g} to {high:.3g})"
        found = f"{value:.3g}{around} {condition.unit}"
    return Requirement(condition.what, condition.need, found, verdict(condition.holds[row]))


def _zones(state: AgentState, row: int) -> tuple[ZoneShare, ...]:
    if np.isnan(state.working.zones[:, row]).any():
        return ()
    return tuple(
        ZoneShare(name, float(share))
        for name, share in zip(_ZONES, state.working.zones[:, row], strict=True)
    )
