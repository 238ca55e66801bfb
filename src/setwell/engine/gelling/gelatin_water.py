"""What the water around gelatin does to it: raw enzyme fruit, alcohol, alkali and much salt."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import Parameter, parameter
from setwell.engine.gelling.state import NO, YES, AgentInput, Condition
from setwell.engine.gelling.window import inside
from setwell.engine.spans import Spans

Array = NDArray[np.float64]

_ME = "gelatin"
# Weaker from this pH on; the table says how much at the second one.
_ALKALI_PH = (9.0, 10.0)
# Kitchen brines up to the first leave it alone; the table says how much at the second [mmol/kg].
_SALT_MMOL = (200.0, 1000.0)
# Nothing is known of worse cases: the weakening stops at twice the table's step.
_STEPS_MOST = 2.0


def water_conditions(agent: AgentInput) -> tuple[Condition, ...]:
    """Return the conditions that no raw enzyme fruit and not too much alcohol are in."""
    count = len(agent.dose_pct)
    limit = parameter(_ME, "alcohol_limit")
    alcohol = agent.water.alcohol_by_volume
    enzyme = np.full(count, NO if agent.has_enzyme else YES)
    return (
        Condition("raw enzyme fruit", enzyme, Spans.exact(np.zeros(count)), "", "none"),
        Condition(
            "alcohol",
            inside(alcohol, (0.0, limit.low), (0.0, limit.high)),
            alcohol,
            "% vol",
            f"less than {limit.low:g} % alcohol by volume",
        ),
    )


def weakening(agent: AgentInput) -> Spans:
    """Return the share of strength left in alkali and in strong brine."""
    alkali, salt = _figures()
    brine = [
        sodium + potassium
        for sodium, potassium in zip(agent.salts["sodium"], agent.salts["potassium"], strict=True)
    ]
    ph = agent.water.ph
    # The weakest gel is in the strongest alkali and brine.
    cases = (
        (ph.value, brine[0], alkali.value, salt.value),
        (ph.high, brine[2], alkali.low, salt.low),
        (ph.low, brine[1], alkali.high, salt.high),
    )
    return Spans(
        *(
            _left(acidity, _ALKALI_PH, per_alkali) * _left(ions, _SALT_MMOL, per_salt)
            for acidity, ions, per_alkali, per_salt in cases
        )
    )


def weakening_figures() -> tuple[Parameter, ...]:
    """Return the figures behind the weakening."""
    return _figures()


def _figures() -> tuple[Parameter, Parameter]:
    return (
        parameter(_ME, "alkali_strength", "pH 10"),
        parameter(_ME, "salt_strength", "1 mol/kg of sodium and potassium"),
    )


def _left(found: Array, window: tuple[float, float], at_end: float) -> Array:
    steps = np.clip((found - window[0]) / (window[1] - window[0]), 0.0, _STEPS_MOST)
    return np.asarray(at_end**steps)
