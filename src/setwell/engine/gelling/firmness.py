"""From the working dose to the modulus: a power law that vanishes at the critical dose."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import Parameter
from setwell.engine.spans import Spans
from setwell.science.gels.cascade import modulus_near_threshold
from setwell.science.gels.strength import modulus_power_law

Array = NDArray[np.float64]


def gel_modulus(
    effective_pct: Spans,
    *,
    reference: Parameter,
    reference_pct: float,
    exponent: float,
    critical: Parameter,
) -> Spans:
    """Return the modulus [Pa] of a gel whose `reference` is known in kPa at one dose."""
    near = near_threshold(effective_pct, critical=critical, reference_pct=reference_pct)
    return Spans(
        *(
            share
            * modulus_power_law(
                np.maximum(dose, 0.0) / 100.0,
                modulus_at_reference=reference.value * 1000.0,
                reference_dose=reference_pct / 100.0,
                exponent=exponent,
            )
            for share, dose in zip(near, effective_pct, strict=True)
        )
    )


def near_threshold(effective_pct: Spans, *, critical: Parameter, reference_pct: float) -> Spans:
    """Return the share of a power law that is left near the critical dose; one at the reference.

    The low side has the least dose against the highest critical one. Where the law was anchored
    the anchor stays what it is.
    """
    whole = _share(reference_pct, critical.value)
    return Spans(
        modulus_near_threshold(effective_pct.value, critical.value) / whole,
        modulus_near_threshold(effective_pct.low, critical.high) / whole,
        modulus_near_threshold(effective_pct.high, critical.low) / whole,
    )


def _share(dose_pct: float, critical_pct: float) -> float:
    return float(modulus_near_threshold(dose_pct, critical_pct))
