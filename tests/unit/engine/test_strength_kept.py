"""What the engine reads off one curve is what the science integrates stretch by stretch."""

import numpy as np
import pytest

from setwell.domain.steps import steps_parse
from setwell.engine.gelling.acid import AcidPath, loss_laws, strength_kept
from setwell.engine.gelling.parameters import parameter
from setwell.engine.history import histories
from setwell.engine.spans import Spans
from setwell.science.gels.degradation import remaining_strength
from setwell.tables.agents import agent_rows

STEPS = "Heat to 90 °C and hold 12 min\nCool to 60 °C\nRest 20 min\nChill 3 h at 4 °C"
AGENTS = [key for key in agent_rows() if loss_laws(key) is not None]


@pytest.mark.parametrize("key", AGENTS)
@pytest.mark.parametrize("acidity", [3.2, 4.0, 5.5])
@pytest.mark.parametrize("set_c", [None, 40.0])
def test_the_engine_loses_what_the_law_says(key, acidity, set_c):
    # The published checks hold the stretch-by-stretch form; this ties the engine to it.
    path = AcidPath(*histories(steps_parse(STEPS)), is_told=True)
    setting = None if set_c is None else np.array([set_c])
    found = strength_kept(key, Spans.exact([acidity]), path, set_c=setting).heat
    gel = parameter("kappa_carrageenan", "protected_share", "gel state")
    cases = zip(
        (path.middle, path.slow, path.quick),
        loss_laws(key),
        (gel.value, gel.high, gel.low),
        strict=True,
    )
    left = [
        remaining_strength(
            60.0 * history.minutes,
            history.celsius + 273.15,
            acidity,
            law=law,
            setting_temperature=0.0 if set_c is None else set_c + 273.15,
            protected_share=share,
        ).share
        for history, law, share in cases
    ]
    assert float(found.value[0]) == pytest.approx(float(left[0]), rel=1e-9)
    assert float(found.low[0]) == pytest.approx(min(map(float, left[:2])), rel=1e-9)
    assert float(found.high[0]) == pytest.approx(max(float(left[0]), float(left[2])), rel=1e-9)
