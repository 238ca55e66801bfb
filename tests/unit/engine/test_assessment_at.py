"""An assessment told for another batch: weights and yield follow, everything else stays."""

import pytest
from builders_engine import formula_of

from setwell.engine.assess import assess
from setwell.engine.catalog import catalog_build
from setwell.engine.scaled_batch import BatchYield, assessment_at
from setwell.engine.scaling import scale

CATALOG = catalog_build()
MOLDS = {"count": 6, "volume_ml": 100}
CUP = formula_of("495 g whole milk", "agar, 1%", "salt to taste").revised(portions=5)


def told(formula, asked=None, **size):
    scaled = scale(formula, catalog=CATALOG, **size)
    return assessment_at(assess(formula), scaled, asked)


def test_a_batch_is_all_that_is_weighed_in():
    steamed = CUP.revised(evaporation_pct=10, loss_pct=20)
    found = scale(steamed, catalog=CATALOG, batch_g=1000.0, readability_g=1)
    assert found.weighed_g == pytest.approx(1000)
    assert sum(line.exact_g for line in found.lines) == pytest.approx(1000)
    assert found.batch_g == pytest.approx(900)
    assert found.usable_g == pytest.approx(720)
    assert found.factor == pytest.approx(1000 / found.written_g)
    assert found.left_out == 1


def test_lines_and_sizes_follow_and_what_was_not_read_stays():
    found = told(CUP, batch_g=1000.0, readability_g=1)
    assert [line.grams for line in found.lines] == [990.0, 10.0, None]
    assert found.batch.ingredients_g == pytest.approx(1000)
    before = assess(CUP).batch
    assert found.batch.volume_ml.value == pytest.approx(2 * before.volume_ml.value)
    assert found.batch.volume_ml.low == pytest.approx(2 * before.volume_ml.low)
    assert (found.batch.portions, found.batch.portion_g) == (10, pytest.approx(100))


def test_a_scale_too_coarse_never_says_to_weigh_nothing():
    found = told(CUP, batch_g=20.0, readability_g=1)
    assert found.lines[1].grams == pytest.approx(0.2)


def test_molds_are_told_while_they_are_full():
    formula = CUP.revised(molds=MOLDS, portions=None)
    assert told(formula, batch_g=1000.0).formula.molds.count == 12
    between = told(formula, batch_g=1040.0)
    assert between.formula.molds is None
    assert between.batch.portions == 12


def test_what_was_asked_for_is_what_it_makes():
    portions = told(CUP, BatchYield(portions_of=(8, 60.0)), portions_of=(8, 60.0))
    assert (portions.batch.portions, portions.batch.portion_g) == (8, 60.0)
    molds = told(CUP, BatchYield(molds=(4, 50.0)), molds=(4, 50.0))
    assert (molds.formula.molds.count, molds.formula.molds.volume_ml) == (4, 50.0)
    assert molds.batch.portions == 4


def test_what_was_asked_for_is_dropped_once_the_batch_is_another():
    portions = told(CUP, BatchYield(portions_of=(8, 60.0)), batch_g=1000.0)
    assert portions.batch.portions == 10
    molds = told(CUP, BatchYield(molds=(4, 50.0)), batch_g=1000.0)
    assert molds.formula.molds is None
