"""Laws of kappa, iota and brown powder that hold in any cup."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell import assess_many, catalog_build, formula_make
from setwell.domain.pantry import Lot, Pantry
from setwell.engine.gelling.state import NO, AgentState
from setwell.engine.rules.bench import Bench
from setwell.engine.spans import Spans

NAMES = {
    "kappa_carrageenan": "kappa carrageenan",
    "iota_carrageenan": "iota carrageenan",
    "processed_eucheuma": "processed eucheuma",
}
OTHERS = ("whole milk", "sugar", "potassium chloride", "salt", "calcium chloride", "citric acid")
STEPS = (
    "Whisk in the powder\nBoil 2 min, stirring\nChill to 4 °C",
    "Whisk in the powder\nHeat to 80 °C, stirring\nCool to 20 °C",
    "Boil 2 min\nCool to 60 °C\nAdd the citric acid\nChill to 4 °C",
)
FEW = settings(max_examples=40, derandomize=True, deadline=None)
CATALOG = catalog_build()

keys = st.sampled_from(sorted(NAMES))
steps = st.sampled_from(STEPS)
doses = st.lists(st.floats(0.0, 30.0), min_size=2, max_size=6)


@st.composite
def cups(draw: st.DrawFn, potassium: float = 15.0) -> list[float]:
    """Return grams beside a liter of water, none of it beyond the best ions."""
    most = (1000.0, 400.0, potassium, 10.0, 1.0, 3.0)
    return [draw(st.floats(0.0, top)) for top in most]


def bench(key: str, masses: np.ndarray, method: str, catalog: object = CATALOG) -> Bench:
    names = ("distilled water", *OTHERS, NAMES[key])
    text = "\n".join(f"1 g {name}" for name in names)
    formula = formula_make(title="Any", ingredients=text, steps=method)
    return assess_many(formula, masses, catalog=catalog)


def gels(key: str, cup: list[float], grams: list[float], method: str, **more: object) -> AgentState:
    rows = np.array([[1000.0, *cup, gram] for gram in grams])
    return bench(key, rows, method, **more).state.agents[key]


def spans_of(state: AgentState) -> dict[str, Spans]:
    return {
        "set": state.set_c, "melt": state.melt_c, "modulus": state.gel.modulus,
        "stress": state.gel.fracture_stress, "strain": state.gel.fracture_strain,
        "haze": state.haze, "weeps": state.weeps_pct, "critical": state.critical_pct,
    }  # fmt: skip


@FEW
@given(keys, cups(potassium=2.0), doses, steps)
def test_more_agent_never_softens_below_the_best_ions(key, cup, grams, method):
    found = gels(key, cup, sorted(grams), method)
    for part in (found.gel.modulus.value, found.gel.fracture_stress.value):
        assert (np.diff(part) >= -1e-9 * part[1:]).all()
    assert (np.diff(found.sets) >= 0).all()


@FEW
@given(keys, cups(), steps)
def test_no_agent_never_sets(key, cup, method):
    found = gels(key, cup, [0.0, 5.0], method)
    assert found.sets[0] == NO
    assert found.gel.modulus.high[0] == 0.0
    assert found.haze.high[0] == 0.0


@FEW
@given(keys, cups(), st.floats(0.1, 20.0), st.floats(0.2, 1.0), steps)
def test_a_weaker_lot_is_never_firmer(key, cup, grams, factor, method):
    lot = Lot(agent=NAMES[key], lot_code="W-1", strength_factor=factor, in_use=True)
    weak = gels(key, cup, [grams], method, catalog=catalog_build(Pantry(lots=(lot,))))
    full = gels(key, cup, [grams], method)
    for name in ("modulus", "fracture_stress"):
        weaker, whole = getattr(weak.gel, name), getattr(full.gel, name)
        for low, high in zip(weaker, whole, strict=True):
            assert low[0] <= high[0] * (1 + 1e-9)
    assert weak.sets[0] <= full.sets[0]


@FEW
@given(keys, cups(potassium=60.0), doses, steps)
def test_ranges_contain_the_middle(key, cup, grams, method):
    for name, spans in spans_of(gels(key, cup, grams, method)).items():
        assert (spans.low <= spans.value * (1 + 1e-12)).all(), name
        assert (spans.value <= spans.high * (1 + 1e-12)).all(), name
        assert np.isfinite(np.stack(spans)).all(), name


@FEW
@given(keys, st.lists(cups(potassium=60.0), min_size=2, max_size=4), st.floats(0.1, 30), steps)
def test_a_batch_equals_its_cups_one_by_one(key, several, grams, method):
    # What the milk factor leaves open is one figure for a whole batch, so no cup here has milk.
    rows = np.array([[1000.0, 0.0, *cup[1:], grams] for cup in several])
    together = bench(key, rows, method).state.agents[key]
    for number, row in enumerate(rows):
        alone = bench(key, row[None], method).state.agents[key]
        assert together.sets[number] == alone.sets[0]
        for name, spans in spans_of(together).items():
            for part, single in zip(spans, spans_of(alone)[name], strict=True):
                assert part[number] == pytest.approx(single[0], rel=1e-9, abs=1e-9), name


@FEW
@given(keys, cups(), st.floats(0.1, 30.0), steps)
def test_no_gel_melts_below_where_it_sets(key, cup, grams, method):
    found = gels(key, cup, [grams], method)
    assert (found.melt_c.value >= found.set_c.value).all()
