"""Laws of agar, gellan, gelatin and konjac that hold for any batch."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell import catalog_build, formula_make
from setwell.engine.gelling.state import NO, AgentState
from setwell.engine.material import Span
from setwell.engine.pipeline import batch_assess
from setwell.engine.plan import Plan, plan_build

CATALOG = catalog_build()
FEW = settings(max_examples=25, derandomize=True, deadline=None)
BOILED = "Whisk the powder into the liquid\nBoil 3 min, stirring\nChill to 4 °C"
BLOOMED = "Bloom the gelatin\nWarm to 60 °C, stirring\nChill to 0 °C\nRest 12 h"
AGENTS = {
    "agar": BOILED,
    "low acyl gellan": BOILED,
    "high acyl gellan": BOILED,
    "gelatin": BLOOMED,
    "fish gelatin": BLOOMED,
    "konjac": BOILED,
}
# Grams of each line beside the agent, in a kilogram or so.
BASE = ("distilled water", "whole milk", "sugar", "salt", "lemon juice", "vodka")
every_agent = pytest.mark.parametrize("name", AGENTS)
bases = st.tuples(
    st.floats(300, 900), st.floats(0, 500), st.floats(0, 400), st.floats(0, 20), st.floats(0, 60),
    st.floats(0, 300),
)  # fmt: skip
doses = st.floats(0.0, 40.0)


@cache
def plan_of(name: str, steps: str, grade: str = "") -> Plan:
    lines = [*(f"100 g {food}" for food in BASE), f"10 g {name}{grade}"]
    formula = formula_make(title="Any", ingredients="\n".join(lines), steps=steps)
    return plan_build(formula, catalog=CATALOG, parts={})


def states(name: str, rows: list, *, grade: str = "", ph: float | None = None) -> AgentState:
    plan = plan_of(name, AGENTS[name], grade)
    measured = None if ph is None else Span(ph, ph - 0.1, ph + 0.1)
    found = batch_assess(plan, np.array(rows, dtype=float), measured_ph=measured).agents
    return next(iter(found.values()))


def ranges(state: AgentState) -> dict[str, tuple]:
    named = {
        "set": state.set_c,
        "melt": state.melt_c,
        "modulus": state.gel.modulus,
        "stress": state.gel.fracture_stress,
        "strain": state.gel.fracture_strain,
        "haze": state.haze,
        "weeps": state.weeps_pct,
        "effective": state.effective_pct,
    }
    return {key: value for key, value in named.items() if value is not None}


@every_agent
@FEW
@given(base=bases, dose=doses)
def test_ranges_contain_the_middle_and_nothing_is_negative(name, base, dose):
    found = states(name, [(*base, dose)])
    for key, (value, low, high) in ranges(found).items():
        assert np.isfinite([value, low, high]).all(), key
        assert (low <= value + 1e-9).all(), key
        assert (value <= high + 1e-9).all(), key
        if key not in ("set", "melt"):
            assert (low >= 0).all(), key
    if found.set_c is not None and found.melt_c is not None:
        assert (found.melt_c.value >= found.set_c.value).all()


@every_agent
@FEW
@given(base=bases)
def test_no_agent_never_sets_and_has_no_modulus(name, base):
    found = states(name, [(*base, 0.0)])
    assert found.sets[0] == NO
    assert found.gel.modulus.high[0] == 0


@every_agent
@FEW
@given(base=bases, small=st.floats(0.1, 20.0), ratio=st.floats(1.0, 2.5))
def test_more_agent_never_softens(name, base, small, ratio):
    # Lemon and milk set the pH, which more powder must not move here.
    found = states(name, [(*base, small), (*base, small * ratio)], ph=6.5)
    for side in found.gel.modulus:
        assert side[1] >= side[0] * (1 - 1e-9)


@every_agent
@FEW
@given(base=bases, dose=st.floats(1.0, 40.0))
def test_more_agent_never_turns_a_gel_into_none(name, base, dose):
    found = states(name, [(*base, dose), (*base, 1.3 * dose)], ph=6.5)
    assert found.sets[1] >= found.sets[0]


@FEW
@given(base=bases, dose=doses, weak=st.integers(50, 299), more=st.integers(1, 100))
def test_lower_bloom_is_never_firmer_and_never_melts_warmer(base, dose, weak, more):
    strong = min(weak + more, 300)
    low, high = (
        states("gelatin", [(*base, dose)], grade=f" ({bloom} bloom)") for bloom in (weak, strong)
    )
    assert low.gel.modulus.value[0] <= high.gel.modulus.value[0] * (1 + 1e-9)
    assert low.melt_c.value[0] <= high.melt_c.value[0] + 1e-9


@every_agent
@settings(max_examples=15, derandomize=True, deadline=None)
@given(rows=st.lists(st.tuples(bases, doses), min_size=2, max_size=6))
def test_a_batch_is_the_same_as_one_at_a_time(name, rows):
    table = [(*base, dose) for base, dose in rows]
    together = states(name, table)
    for place, row in enumerate(table):
        alone = states(name, [row])
        assert alone.sets[0] == together.sets[place]
        assert alone.frozen[0] == together.frozen[place]
        one, many = ranges(alone), ranges(together)
        for key, spans in one.items():
            for mine, theirs in zip(spans, many[key], strict=True):
                assert mine[0] == pytest.approx(theirs[place], rel=1e-6, abs=1e-9), key
        for mine, theirs in zip(alone.conditions, together.conditions, strict=True):
            assert mine.holds[0] == theirs.holds[place]


@settings(max_examples=30, derandomize=True, deadline=None)
@given(base=bases, grams=st.lists(st.floats(0, 15), min_size=2, max_size=2))
def test_more_salt_never_lowers_the_setting_of_low_acyl_gellan(base, grams):
    low, high = sorted(grams)
    rows = [(*base[:3], salt, *base[4:], 5.0) for salt in (low, high)]
    found = states("low acyl gellan", rows, ph=6.5)
    assert found.set_c.value[1] >= found.set_c.value[0] - 1e-6
