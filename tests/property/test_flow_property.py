"""What holds for every thickener: dose, shear and heat each push one way, and batches agree."""

from dataclasses import replace

import numpy as np
import pytest
from builders_flow import agent_input, exact_dose
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.engine.gelling.doubt import UNCORRECTED
from setwell.engine.gelling.finish import finish
from setwell.engine.gelling.lambda_type import lambda_type
from setwell.engine.gelling.state import AgentInput
from setwell.engine.gelling.thickeners import thickener, thickener_flow
from setwell.engine.spans import Spans
from setwell.science.flow.syrup import sucrose_viscosity_genotelle_1978

GUMS = ("xanthan", "guar gum", "locust bean gum", "tara gum", "cmc", "gum arabic")
COILS_AND_LAMBDA = (*GUMS, "konjac gum", "lambda carrageenan")
MIX = ("300 g whole milk", "100 g sugar", "50 g heavy cream", "20 g lemon juice", "1 g salt")
BASES = {name: agent_input(*MIX, f"2 g {name}") for name in COILS_AND_LAMBDA}
ROWS = 40

doses = st.lists(st.floats(1e-4, 30.0), min_size=2, max_size=6).map(sorted)
celsius = st.floats(-5.0, 105.0)
names = st.sampled_from(COILS_AND_LAMBDA)


def viscosity(agent: AgentInput, percent: float, degrees: float):
    """Return the viscosity at every shear rate for a dose that is all dissolved, (g,)."""
    given_dose = np.array([percent])
    # The liquid stays as it is: the powder's own weight is not taken from it.
    told = replace(agent, serving_c=np.array([degrees]), active_pct=given_dose)
    if agent.key != "lambda_carrageenan":
        return thickener_flow(told, Spans.exact(given_dose)).viscosity.value[0]
    return lambda_type(told).flow.viscosity.value[0]


@given(names, doses, celsius)
def test_more_thickener_is_never_thinner(name, percents, degrees):
    found = np.array([viscosity(BASES[name], dose, degrees) for dose in percents])
    assert (np.diff(found, axis=0) >= -1e-12 * found[1:]).all()


@given(names, st.floats(1e-4, 30.0), celsius, st.floats(0.0, 60.0))
def test_hotter_is_never_thicker(name, percent, degrees, rise):
    cold, hot = (viscosity(BASES[name], percent, t) for t in (degrees, degrees + rise))
    assert (hot <= cold * (1 + 1e-12)).all()


@given(names, st.floats(1e-4, 30.0), celsius)
def test_faster_shear_is_never_thicker(name, percent, degrees):
    found = viscosity(BASES[name], percent, degrees)
    assert (np.diff(found) <= 1e-12 * found[1:]).all()
    assert (found > 0).all()


@given(st.floats(0.0, 0.8), celsius, st.floats(0.0, 60.0), st.floats(0.0, 0.05))
def test_syrup_is_thinner_warm_and_thicker_with_sugar(share, degrees, rise, more):
    here, warm = (
        float(sucrose_viscosity_genotelle_1978(share, temperature=t + 273.15))
        for t in (degrees, degrees + rise)
    )
    sweet = float(sucrose_viscosity_genotelle_1978(share + more, temperature=degrees + 273.15))
    assert warm <= here * (1 + 1e-12)
    assert sweet >= here * (1 - 1e-12)


def batch(name: str, rows: int = ROWS) -> tuple[AgentInput, np.ndarray]:
    factors = np.random.default_rng(7).uniform(0.3, 2.0, (rows, len(MIX) + 1))
    return agent_input(*MIX, f"2 g {name}", factors=factors), factors


def state_of(agent: AgentInput):
    return lambda_type(agent) if agent.key == "lambda_carrageenan" else thickener(agent)


@pytest.mark.parametrize("name", [*GUMS, "lambda carrageenan"])
def test_ranges_contain_the_middle(name):
    agent, _ = batch(name)
    for state in (state_of(agent), finish(state_of(agent), agent, UNCORRECTED)):
        for part in (state.flow.added, state.flow.viscosity, state.haze, state.flow.at(50.0)):
            assert (part.low <= part.value).all()
            assert (part.value <= part.high).all()


@pytest.mark.parametrize("name", [*GUMS, "lambda carrageenan"])
def test_a_batch_equals_a_loop(name):
    agent, factors = batch(name, 6)
    together = state_of(agent)
    for row, factor in enumerate(factors):
        alone = state_of(agent_input(*MIX, f"2 g {name}", factors=factor[None, :]))
        for one, many in zip(alone.flow.viscosity, together.flow.viscosity, strict=True):
            assert one[0] == pytest.approx(many[row], rel=1e-5)
        assert alone.is_extrapolated[0] == together.is_extrapolated[row]
        assert alone.frozen[0] == together.frozen[row]


@settings(max_examples=20)
@given(st.sampled_from(GUMS), st.floats(0.01, 1.0), st.floats(1.0, 3.0))
def test_a_wider_dose_gives_a_wider_flow(name, low, stretch):
    agent = BASES[name]
    dose = exact_dose(agent)
    wide = Spans(dose.value, dose.value * low, dose.value * stretch)
    found = thickener_flow(agent, wide).added
    exact = thickener_flow(agent, dose).added
    assert (found.low <= exact.low * (1 + 1e-12)).all()
    assert (found.high >= exact.high * (1 - 1e-12)).all()
