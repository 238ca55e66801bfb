"""What holds for any amounts of anything that can saturate the water."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.engine.food_materials import food_materials
from setwell.engine.rollup import composition_roll_up
from setwell.engine.saturation import loads
from setwell.engine.water_phase import water_phase
from setwell.tables.solution import solubilities

KEYS = tuple(key for row in solubilities().values() for key in row.materials)
MATERIALS = (food_materials()["water_pure"], *(food_materials()[key] for key in KEYS))
GRAMS = st.one_of(st.just(0.0), st.floats(1e-6, 1e6))
BATCH = st.lists(GRAMS, min_size=len(MATERIALS), max_size=len(MATERIALS))


@settings(max_examples=40, deadline=None)
@given(batches=st.lists(BATCH, min_size=1, max_size=4))
def test_no_amounts_bring_a_figure_that_is_no_number(batches):
    masses = np.array(batches)
    composition = composition_roll_up(masses, MATERIALS, np.zeros(len(masses)))
    phase = water_phase(masses, MATERIALS, composition)
    found = loads(masses, MATERIALS, phase.water_g, phase.acidity.is_solved)
    assert len(found) == len(solubilities())
    too_much = np.zeros(len(masses), dtype=bool)
    for load in found:
        assert np.isfinite(load.grams).all()
        assert (load.grams >= 0).all()
        too_much |= load.is_too_much
    assert not (phase.solids.is_in_range & too_much).any()
    for figure in (phase.solids.water_activity, phase.solids.boiling_c, phase.solids.freezing_c):
        assert all(np.isfinite(bound).all() for bound in figure)


@settings(max_examples=40, deadline=None)
@given(salt=st.floats(0.0, 1e4), water=st.floats(1.0, 1e4), times=st.floats(1e-3, 1e3))
def test_a_larger_batch_is_as_saturated(salt, water, times):
    materials = tuple(food_materials()[key] for key in ("water_pure", "sodium_chloride"))
    masses = np.array([[water, salt], [water * times, salt * times]])
    (found,) = loads(masses, materials, masses[:, 0], masses[:, 0] > 0)
    # Less than an atom is no number to compare by its digits.
    np.testing.assert_allclose(found.grams[0], found.grams[1], rtol=1e-9, atol=1e-30)
