"""What computed batches come to, in the numbers that wishes are judged by."""

import numpy as np
import pytest
from builders_refine import batches_of, draft_of

from setwell.domain.pantry import Pantry, Price
from setwell.engine.assess import assess
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.predicted import predicted_of
from setwell.engine.proposals.prices import cost_of, prices_of


def test_the_numbers_are_those_of_the_formula_alone():
    draft = draft_of("kappa carrageenan", "locust bean gum", helpers=("potassium chloride",))
    # Whole grams in 1000 g of base, so that the lines say exactly this.
    percents = np.array([[4.0, 3.0, 1.0], [6.0, 2.0, 0.0]]) / 10.08
    found = predicted_of(batches_of(draft, percents))
    alone = assess(draft.formula(percents[0]), catalog=draft.base.catalog).texture
    assert found.sets.tolist() == [1, 1]
    assert found.modulus[0] == pytest.approx(alone.modulus_kpa.value, rel=1e-9)
    assert found.stress[0] == pytest.approx(alone.fracture_stress_kpa.value, rel=1e-9)
    assert found.strain[0] == pytest.approx(alone.fracture_strain.value, rel=1e-9)
    assert found.thickness[0] == pytest.approx(alone.viscosity_mpa_s.value, rel=1e-9)
    assert found.set_c[0] == pytest.approx(alone.first_set_c.value, abs=1e-6)
    assert found.melt_c[0] == pytest.approx(alone.melt_c.value, abs=1e-6)
    assert np.isnan(found.cost).all()


def test_what_sets_by_heat_is_a_gel_when_hot_and_none_when_cold():
    hot, cold = (
        predicted_of(batches_of(draft_of("methylcellulose A", serving_c=at), np.array([[2.0]])))
        for at in (75.0, 4.0)
    )
    assert hot.sets[0] > -1
    assert hot.modulus[0] > 0
    assert np.isposinf(hot.melt_c[0])
    assert cold.sets[0] == -1
    assert cold.modulus[0] == 0
    assert np.isnan(cold.melt_c[0])
    assert np.isnan(cold.strain[0])


def test_a_thickener_has_thickness_and_no_gel():
    found = predicted_of(batches_of(draft_of("xanthan gum"), np.array([[0.3]])))
    assert found.sets[0] == -1
    assert found.thickness[0] > 10.0
    assert np.isnan(found.set_c[0])


def test_the_price_counts_agents_and_helpers_in_use():
    pantry = Pantry(prices=(Price(material="agar", price_per_kg=40.0),))
    draft = draft_of("agar", helpers=("potassium chloride",), catalog=catalog_build(pantry))
    prices = prices_of(draft)
    assert prices[0] == 40.0
    found = cost_of(prices, np.array([[0.5, 0.0], [0.5, 0.1]]))
    assert found[0] == pytest.approx(0.2)
    assert np.isnan(found[1])
