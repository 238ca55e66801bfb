"""Blends keep their promises whatever the doses."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell import assess_many, formula_make
from setwell.tables.agents import agent_rows

COLD = "Boil 5 min, stirring\nChill overnight at 4 °C\nServe at 20 °C"
SINGLE = sorted(key for key, row in agent_rows().items() if not row.is_blend)
dose = st.floats(0.05, 8.0)
# Each example is a whole assessment, or several.
FEW = settings(max_examples=25)


def texture(names, grams, base="whole milk"):
    lines = [f"1000 g {base}", *(f"1 g {agent_rows()[name].name}" for name in names)]
    formula = formula_make(title="Blend", ingredients="\n".join(lines), steps=COLD)
    rows = np.atleast_2d(np.asarray(grams, dtype=float))
    return assess_many(formula, np.column_stack([np.full(len(rows), 1000.0), rows])).state.texture


def numbers(found, row):
    parts = []
    if found.gel is not None:
        parts += [*found.gel.modulus, *found.gel.fracture_stress, *found.gel.fracture_strain]
    if found.flow is not None:
        parts += [*found.flow.at(50.0)]
    parts += [*(found.haze or ()), *(found.weeps_pct or ())]
    return np.array([part[row] for part in parts])


@FEW
@given(pair=st.lists(st.sampled_from(SINGLE), min_size=2, max_size=3, unique=True), data=st.data())
def test_any_agents_together_give_ordered_finite_numbers(pair, data):
    grams = [data.draw(dose) for _ in pair]
    found = texture(pair, grams)
    gel = found.gel
    spans = [] if gel is None else [gel.modulus, gel.fracture_stress, gel.fracture_strain]
    spans += [] if found.flow is None else [found.flow.at(50.0)]
    spans += [part for part in (found.haze, found.weeps_pct) if part is not None]
    for value, low, high in spans:
        assert np.isfinite([value[0], low[0], high[0]]).all()
        assert low[0] <= value[0] * (1 + 1e-9)
        assert value[0] <= high[0] * (1 + 1e-9)
    for note in found.notes:
        assert note.tell(0).endswith((".", "judgment)."))


@FEW
@given(pair=st.lists(st.sampled_from(SINGLE), min_size=3, max_size=3, unique=True), data=st.data())
def test_a_row_of_many_is_the_row_alone(pair, data):
    rows = [[data.draw(dose) for _ in pair] for _ in range(3)]
    many = texture(pair, rows)
    for row, grams in enumerate(rows):
        alone = texture(pair, [grams])
        np.testing.assert_allclose(numbers(many, row), numbers(alone, 0), rtol=1e-9)
        assert many.sets[row] == alone.sets[0]


@pytest.mark.parametrize("key", SINGLE)
def test_an_agent_at_zero_is_as_if_it_were_not_there(key):
    found = texture([key, "agar"], [[0.0, 6.0]])
    alone = texture(["agar"], [[6.0]])
    if key == "agar":
        return
    assert found.gel.modulus.value[0] == pytest.approx(alone.gel.modulus.value[0])
    assert found.gel.fracture_stress.value[0] == pytest.approx(alone.gel.fracture_stress.value[0])
    assert found.sets[0] == alone.sets[0]


@pytest.mark.parametrize("blend", [key for key, row in agent_rows().items() if row.is_blend])
@pytest.mark.parametrize("base", ["whole milk", "water"])
def test_a_sold_blend_is_its_parts(blend, base):
    parts = agent_rows()[blend].parts
    sold = texture([blend], [[12.0]], base)
    mixed = texture(list(parts), [[12.0 * share for share in parts.values()]], base)
    assert sold.sets[0] == mixed.sets[0]
    for one, other in (
        (sold.gel.modulus, mixed.gel.modulus),
        (sold.gel.fracture_strain, mixed.gel.fracture_strain),
    ):
        # The slowest part speaks for the hydration of a sold blend.
        assert one.value[0] == pytest.approx(other.value[0], rel=0.05)
