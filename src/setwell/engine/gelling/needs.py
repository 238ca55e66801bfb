"""What a gel needs besides its dose: windows of pH, solids and calcium, and what they leave."""

from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import parameter
from setwell.engine.gelling.state import AgentInput
from setwell.engine.spans import Spans
from setwell.science.gels.cascade import modulus_near_threshold
from setwell.science.gels.ion_gel import calcium_per_gum
from setwell.science.gels.strength import modulus_power_law

Array = NDArray[np.float64]


def share_inside(found: Spans, places: Sequence[float], shares: Sequence[float]) -> Spans:
    """Return the share of the strength from a curve with one flat top, least to most."""
    top = [place for place, share in zip(places, shares, strict=True) if share == max(shares)]
    nearest = np.minimum(np.maximum(found.value, top[0]), top[-1])
    nearest = np.minimum(np.maximum(nearest, found.low), found.high)
    value, low, high, most = np.interp(np.array([*found, nearest]), places, shares)
    return Spans(value, np.minimum(np.minimum(low, high), value), np.maximum(most, value))


def soluble_solids(agent: AgentInput) -> Spans:
    """Return the dissolved solids of the fat-free part, in percent.

    At least the sugar, at most all that is neither water nor fat, in between halfway.
    """
    lean = np.maximum(1.0 - agent.fat_share, 1e-9)
    dry = 100.0 * np.maximum(lean - agent.water_share, 0.0) / lean
    sugar = agent.water.brix
    most = np.maximum(dry, sugar.high)
    return Spans((sugar.value + np.maximum(dry, sugar.value)) / 2.0, sugar.low, most)


def calcium_at_hand(agent: AgentInput) -> Spans:
    """Return the calcium that a gum can take, in mol per kg of batch.

    Free calcium; in milk also a part of what its serum holds, which it hands on.
    """
    free, dissolved = agent.water.free.calcium, agent.water.free.dissolved["calcium"]
    share = parameter(agent.key, "milk_calcium_share")
    milky = agent.water.milk_protein_share > 0
    held = np.where(milky, np.maximum(dissolved.value - free.value, 0.0), 0.0)
    per_batch = agent.water_share / 1000.0
    parts = zip(free, share[:3], strict=True)
    return Spans(*((part + by * held) * per_batch for part, by in parts))


def calcium_ratio(agent: AgentInput, calcium: Spans) -> Spans:
    """Return the calcium there is for each gram of gum as weighed, in mg/g."""
    dose = agent.dose_pct / 100.0
    return Spans(*(1000.0 * calcium_per_gum(np.array(calcium), dose)))


def modulus_of(key: str, dose_pct: Spans, *, conditions: str = "") -> Spans:
    """Return the modulus in Pa by the power law, which vanishes at the critical dose."""
    reference = parameter(key, "modulus_at_reference").value * 1000.0
    at_pct = parameter(key, "reference_dose", conditions).value
    return anchored_modulus(key, dose_pct, reference_pa=reference, reference_pct=at_pct)


def anchored_modulus(
    key: str, dose_pct: Spans, *, reference_pa: float, reference_pct: float
) -> Spans:
    """Return the modulus in Pa from one known at a reference dose."""
    exponent = parameter(key, "modulus_exponent").value
    critical = parameter(key, "critical_concentration").value
    anchor = reference_pa / _share_at(reference_pct, critical)
    dose = np.array(dose_pct)
    plain = modulus_power_law(
        dose, modulus_at_reference=anchor, reference_dose=reference_pct, exponent=exponent
    )
    return Spans(*(plain * modulus_near_threshold(dose, critical)))


@cache
def _share_at(dose_pct: float, critical_pct: float) -> float:
    return float(modulus_near_threshold(dose_pct, critical_pct))
