"""From the modulus of a gel to where it breaks."""

import numpy as np

from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import Gel
from setwell.engine.spans import Spans, log_half_width
from setwell.provenance import Evidence
from setwell.science.gels.fracture import fracture_stress


def gel_of(agent: str, modulus: Spans, *, strain: Spans | None = None) -> Gel:
    """Return the gel of an agent; the strain at break is the table's unless one is given."""
    known = parameter(agent, "fracture_strain")
    stiffening = parameter(agent, "stiffening").value
    strain = strain or Spans.exact(np.full_like(modulus.value, known.value))
    stress = Spans(*(fracture_stress(m, strain.value, stiffening=stiffening) for m in modulus))
    return Gel(modulus, stress, strain)


def strain_doubt(agent: str) -> float:
    """Return the half width of an agent's strain at break on the log axis."""
    known = parameter(agent, "fracture_strain")
    return log_half_width(known.low, known.high)


def fracture_evidence(agent: str) -> Evidence:
    """Return the citations behind the break of an agent's gel."""
    return evidence_of(parameter(agent, "fracture_strain"), parameter(agent, "stiffening"))
