"""How clear a gel is, how much water it gives off, and how it bears the freezer."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import Codes
from setwell.engine.spans import Spans
from setwell.provenance import Evidence

Array = NDArray[np.float64]

# Sugar at which the tables say what is left of haze and weeping [°Bx].
_SUGAR_BX = 50.0
# Weeping is known per mass of a gel of about this dose, between these [%].
_REFERENCE_PCT, _DOSES_PCT, _MOST_PCT = 1.0, (0.1, 10.0), 40.0


class Look(NamedTuple):
    """Haze from 0 to 1, water given off in a week in percent, and freezing."""

    haze: Spans
    weeps_pct: Spans
    frozen: Codes
    evidence: Evidence


def look_of(agent: str, effective_pct: Spans, brix: Array) -> Look:
    """Return how the gel of an agent looks and keeps; sugar clears it and holds its water."""
    haze, weeping = parameter(agent, "haze"), parameter(agent, "weeping_at_1pct")
    clearing = parameter(agent, "haze_left_with_sugar", "50 °Bx")
    holding = parameter(agent, "weeping_left_with_sugar", "50 °Bx")
    freezing = parameter(agent, "frozen")
    weak = _weaker(effective_pct, parameter(agent, "weeping_dose_power").value)
    return Look(
        haze=_with_sugar(haze, clearing, brix),
        weeps_pct=Spans(
            *(
                np.minimum(part * more, _MOST_PCT)
                for part, more in zip(_with_sugar(weeping, holding, brix), weak, strict=True)
            )
        ),
        frozen=np.full(len(brix), int(freezing.value), dtype=np.int8),
        evidence=evidence_of(haze, weeping, freezing),
    )


def _with_sugar(plain: Parameter, left: Parameter, brix: Array) -> Spans:
    part = np.minimum(brix / _SUGAR_BX, 1.0)
    return Spans(
        *(p * (1.0 - part * (1.0 - at)) for p, at in zip(plain[:3], left[:3], strict=True))
    )


def _weaker(effective_pct: Spans, power: float) -> Spans:
    """Return how much more a thinner gel weeps than the one of the table."""
    less, least, most = (np.clip(part, *_DOSES_PCT) / _REFERENCE_PCT for part in effective_pct)
    return Spans(less**-power, most**-power, least**-power)
