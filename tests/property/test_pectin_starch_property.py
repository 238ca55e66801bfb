"""Laws of pectin, alginate, cellulose ethers and starch that hold for any batch."""

from dataclasses import replace

import numpy as np
from builders_gels import input_of
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.engine.gelling.models import agent_state
from setwell.engine.gelling.state import YES, AgentInput, AgentState
from setwell.engine.spans import Spans

HOT = "Stir the powder into the liquid\nBoil 3 min, stirring\nPour\nChill"
COLD_THEN_HOT = "Stir the powder into the liquid\nChill\nRest at 4 °C for 12 h\nHeat to 95 °C"
STEPS = {"methylcellulose": COLD_THEN_HOT, "hpmc E": COLD_THEN_HOT, "hpmc K": COLD_THEN_HOT}
AGENTS = (
    "sodium alginate", "rapid set pectin", "HM pectin", "LM pectin", "pectin NH",
    "methylcellulose", "hpmc E", "hpmc K", "cornstarch", "wheat starch", "rice starch",
    "potato starch", "tapioca starch", "waxy maize starch", "modified starch",
    "pregelatinized starch", "starch sodium octenyl succinate",
)  # fmt: skip
FEW = settings(max_examples=60, derandomize=True, deadline=None)

batches = st.fixed_dictionaries(
    {
        "agent": st.sampled_from(AGENTS),
        "water": st.integers(50, 700),
        "milk": st.sampled_from([0, 0, 200]),
        "sugar": st.sampled_from([0, 30, 300, 650]),
        "salt": st.sampled_from([0, 4]),
        "calcium": st.sampled_from([0, 0.15, 0.4, 2.0]),
        "ph": st.sampled_from([2.4, 3.1, 3.6, 5.0, 6.6]),
        "served": st.sampled_from([4.0, 35.0, 45.0, 70.0]),
    }
)
doses = st.lists(st.floats(0.2, 60.0), min_size=2, max_size=6).map(sorted)


def given_to(batch: dict, grams: list[float], *, per_gram: bool = True) -> AgentInput:
    """Return n batches that differ in the grams of the agent, with calcium per gram of it."""
    agent = batch["agent"]
    lines = (
        f"{batch['water']} g distilled water", f"{batch['milk']} g whole milk",
        f"{batch['sugar']} g sugar", f"{batch['salt']} g salt", "1 g calcium lactate",
        f"1 g {agent}",
    )  # fmt: skip
    weighed = np.array(grams, dtype=np.float64)
    columns = [batch[name] for name in ("water", "milk", "sugar", "salt")]
    masses = np.empty((len(grams), 6))
    masses[:, :4] = columns
    masses[:, 4] = batch["calcium"] * (weighed if per_gram else 1.0)
    masses[:, 5] = weighed
    return input_of(
        *lines, steps=STEPS.get(agent, HOT), masses=masses, ph=batch["ph"],
        serving_temperature_c=batch["served"],
    )  # fmt: skip


def spans_of(state: AgentState) -> dict[str, Spans]:
    found = {
        "hydrated": state.hydrated, "effective": state.effective_pct, "set": state.set_c,
        "melt": state.melt_c, "haze": state.haze, "weeps": state.weeps_pct,
    }  # fmt: skip
    if state.gel is not None:
        found |= {"modulus": state.gel.modulus, "stress": state.gel.fracture_stress}
        found |= {"strain": state.gel.fracture_strain}
    if state.flow is not None:
        found["flow"] = state.flow.viscosity
    return {name: spans for name, spans in found.items() if spans is not None}


@FEW
@given(batches, doses)
def test_every_range_is_finite_and_contains_its_middle(batch, grams):
    for name, spans in spans_of(agent_state(given_to(batch, grams))).items():
        assert np.isfinite(spans.value).all(), name
        assert (spans.low <= spans.value * (1 + 1e-12) + 1e-12).all(), name
        assert (spans.value <= spans.high * (1 + 1e-12) + 1e-12).all(), name


@FEW
@given(batches, doses)
def test_a_batch_equals_the_loop(batch, grams):
    together = spans_of(agent_state(given_to(batch, grams)))
    for row, one in enumerate(grams):
        alone = spans_of(agent_state(given_to(batch, [one])))
        for name, spans in together.items():
            # The two tolerances add up here, to no more than a part in ten million.
            np.testing.assert_allclose(
                np.stack(spans)[:, row], np.stack(alone[name])[:, 0], 9e-8, 1e-10, err_msg=name
            )


@FEW
@given(batches, doses)
def test_more_agent_neither_softens_nor_thins(batch, grams):
    """With the water and all else the same; calcium rises with the gum that needs it."""
    given_in = given_to(batch, grams)
    first = {
        "water_share": given_in.water_share[:1], "fat_share": given_in.fat_share[:1],
    }  # fmt: skip
    same = replace(
        given_in, **{name: np.broadcast_to(part, len(grams)) for name, part in first.items()}
    )
    state = agent_state(same)
    if state.gel is not None:
        for part in state.gel.modulus:
            assert (np.diff(part) >= -1e-9 * (1 + part[1:])).all()
    added = state.flow.added.value
    assert (np.diff(added, axis=0) >= -1e-9 * (1 + added[1:])).all()


@FEW
@given(batches)
def test_nothing_never_sets_and_adds_nothing(batch):
    state = agent_state(given_to(batch, [0.0]))
    assert state.sets[0] != YES
    assert state.gel is None or state.gel.modulus.high[0] == 0
    assert state.flow.added.high.max() == 0


@FEW
@given(batches, st.floats(2.0, 40.0), st.floats(0.05, 0.99))
def test_a_weaker_lot_is_never_firmer_nor_thicker(batch, grams, strength):
    full = given_to(batch, [grams])
    weak = replace(full, active_pct=full.active_pct * strength)
    strong_state, weak_state = agent_state(full), agent_state(weak)
    assert weak_state.sets[0] <= strong_state.sets[0]
    assert (weak_state.flow.added.value <= strong_state.flow.added.value).all()
    if strong_state.gel is not None:
        pairs = zip(weak_state.gel.modulus, strong_state.gel.modulus, strict=True)
        assert all((weaker <= stronger).all() for weaker, stronger in pairs)


@FEW
@given(batches, doses)
def test_no_starch_thickens_when_it_is_served_hotter(batch, grams):
    given_in = given_to({**batch, "agent": "cornstarch"}, grams)
    cold, hot = (
        agent_state(replace(given_in, serving_c=np.full(len(grams), celsius)))
        for celsius in (5.0, 75.0)
    )
    assert (hot.flow.viscosity.value <= cold.flow.viscosity.value).all()
