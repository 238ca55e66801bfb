"""How a gelling agent thickens a liquid that it has not set."""

import numpy as np

from setwell.engine.gelling.liquid import added_flow, liquid_of
from setwell.engine.gelling.parameters import parameter
from setwell.engine.gelling.state import AgentInput, Flow
from setwell.engine.gelling.thickeners import CoilLaw, coil_thickness
from setwell.engine.spans import Spans

# Random coils in general: powers of the dose and thickening where they overlap (Morris and
# others); thinning, warmth and syrup as for other gums (our judgment).
_EXPONENTS, _AT_OVERLAP = (1.4, 3.3), 10.0
_HALF_STRESS_PA, _ENERGY_J, _SYRUP_POWER = 10.0, 20e3, 0.75
# Grades and salts: a factor of six either way (our judgment).
SOL_DOUBT = float(np.log(6.0))


def sol_flow(agent: AgentInput, effective: Spans) -> Flow:
    """Return the flow of an agent as a sol, whether or not it then sets."""
    liquid = liquid_of(agent)
    law = CoilLaw(
        overlap_pct=parameter(agent.key, "overlap_concentration").value,
        at_overlap=_AT_OVERLAP,
        exponents=_EXPONENTS,
        half_stress=_HALF_STRESS_PA,
        activation_energy=_ENERGY_J,
        syrup_power=_SYRUP_POWER,
    )
    added = coil_thickness(np.array(effective) / liquid.serum, law, liquid)
    return added_flow(Spans(*added), liquid.base, half_stress=law.half_stress)
