"""Doses against mixtures in print: the weights of buffers whose pH is known."""

import pytest
from builders_engine import formula_of

from setwell.engine.acid_additives import additive_find
from setwell.engine.assess import bench_build
from setwell.engine.dosing import dose_for

CITRIC, TRISODIUM, DISODIUM = 192.123, 294.099, 141.958


def grams_for(target, additive, *lines):
    bench = bench_build(formula_of("1000 g distilled water", *lines))
    return dose_for(bench, target, additive_find(additive)).grams.value


def test_the_standard_citrate_buffer_is_mixed_from_acid_and_salt():
    # 0.05 mol/kg potassium dihydrogen citrate has pH 3.776 at 25 °C (Staples and Bates 1969,
    # abstract); two parts of acid and one of tripotassium citrate give the same mixture.
    made = grams_for(3.776, "tripotassium citrate", f"{CITRIC / 30:.4f} g citric acid")
    assert made == pytest.approx(324.408 / 60, rel=0.01)


@pytest.mark.parametrize(
    ("target", "sodium", "within"),
    # Sodium in 0.1 mol/L citrate, common laboratory table, recalled; the table is good to
    # 0.08 pH, which is 13 % of the little salt at pH 3.
    [(3.0, 0.054, 0.14), (3.4, 0.081, 0.08), (4.0, 0.123, 0.05), (4.4, 0.1515, 0.05),
     (5.0, 0.195, 0.05), (5.4, 0.2235, 0.05)],
)  # fmt: skip
def test_the_laboratory_table_of_citrate_buffers(target, sodium, within):
    salt = sodium / 3
    made = grams_for(target, "trisodium citrate", f"{(0.1 - salt) * CITRIC:.4f} g citric acid")
    assert made == pytest.approx(salt * TRISODIUM, rel=within)


@pytest.mark.parametrize(
    ("target", "phosphate", "citric"),
    # McIlvaine 1921, Journal of Biological Chemistry 49:183, mol/L.
    [(4.0, 0.0771, 0.06145), (5.0, 0.103, 0.0485)],
)
def test_the_table_of_phosphate_and_citrate(target, phosphate, citric):
    # Its scale sits about 0.04 pH lower, and its salt is near the end of the model: within 7 %.
    made = grams_for(target, "disodium phosphate", f"{citric * CITRIC:.4f} g citric acid")
    assert made == pytest.approx(phosphate * DISODIUM, rel=0.07)


def test_cheese_practice_lies_within_the_range_for_milk():
    # 1.2 to 1.5 g of citric acid bring a liter of milk to about pH 5.6 (cheese practice,
    # recalled). The middle comes out some 5 % above: the groups of milk are the estimate.
    bench = bench_build(formula_of("1030 g whole milk"))
    found = dose_for(bench, 5.6, additive_find("citric acid")).grams
    assert found.low < 1.2
    assert found.high > 1.5
    assert 1.2 < found.value < 1.6
