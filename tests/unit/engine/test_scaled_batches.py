"""Scaling to a weight, portions or molds, and what a scale can show."""

import pytest
from builders_engine import formula_of

from setwell.engine.catalog import catalog_build
from setwell.engine.scaling import scale
from setwell.errors import InputError, OutOfRangeError

CATALOG = catalog_build()
CUP = formula_of("495 g whole milk", "agar, 1%")


def test_scaling_to_a_weight_keeps_the_shares():
    found = scale(CUP, catalog=CATALOG, to_grams=1000)
    assert [line.exact_g for line in found.lines] == pytest.approx([990, 10])
    assert found.factor == pytest.approx(2)
    assert [line.percent_exact for line in found.lines] == pytest.approx([99, 1])


def test_handling_loss_comes_on_top():
    found = scale(CUP.revised(loss_pct=20), catalog=CATALOG, to_grams=400)
    assert found.batch_g == pytest.approx(500)
    assert found.usable_g == pytest.approx(400)


def test_portions_and_molds():
    assert scale(CUP, catalog=CATALOG, portions_of=(5, 80)).usable_g == pytest.approx(400)
    molds = scale(formula_of("100 g distilled water"), catalog=CATALOG, molds=(10, 50))
    assert molds.batch_g == pytest.approx(500 * 0.9982, rel=1e-4)
    assert "10 molds of 50 mL" in molds.target


def test_a_coarse_scale_is_told_with_its_error():
    found = scale(CUP, catalog=CATALOG, to_grams=120, readability_g=1)
    agar = found.lines[1]
    assert (agar.exact_g, agar.rounded_g) == pytest.approx((1.2, 1.0))
    assert agar.below_one_percent
    assert "premix" in agar.advice
    # 1 g of 119.8 or 120 g instead of 1 %.
    assert agar.dose_change_pct == pytest.approx(100 * (1 / 120 / 0.01 - 1), abs=0.3)
    assert any("Agar" in warning for warning in found.warnings)


def test_a_fine_scale_is_quiet():
    found = scale(CUP, catalog=CATALOG, to_grams=500, readability_g=0.01)
    assert not any(line.below_one_percent for line in found.lines)
    assert found.warnings == ()


def test_lines_that_cannot_be_read_are_told():
    broken = formula_of("495 g whole milk", "3 feathers")
    assert any(
        "1 line" in warning for warning in scale(broken, catalog=CATALOG, to_grams=9).warnings
    )


@pytest.mark.parametrize(
    ("size", "message"),
    [
        ({}, "0 were given"),
        ({"to_grams": 5, "molds": (1, 1)}, "2 were given"),
        ({"to_grams": 0.0}, "between 0.1 g and 1000 kg"),
        ({"to_grams": -5.0}, "between 0.1 g and 1000 kg"),
        ({"to_grams": 2e6}, "between 0.1 g and 1000 kg"),
        ({"to_grams": float("nan")}, "between 0.1 g and 1000 kg"),
        ({"to_grams": float("inf")}, "between 0.1 g and 1000 kg"),
        ({"portions_of": (0, 50)}, "at least 1"),
        ({"molds": (-2, 50)}, "at least 1"),
        ({"to_grams": 100, "readability_g": 0.0}, "not plausible"),
        ({"to_grams": 100, "readability_g": float("nan")}, "not plausible"),
    ],
)
def test_a_size_that_makes_no_sense_is_refused(size, message):
    with pytest.raises(InputError, match=message):
        scale(CUP, catalog=CATALOG, **size)


def test_a_formula_without_weight_cannot_be_scaled():
    with pytest.raises(InputError, match="cannot be scaled"):
        scale(formula_of("3 feathers"), catalog=CATALOG, to_grams=100)


def test_out_of_range_names_its_field():
    with pytest.raises(OutOfRangeError) as caught:
        scale(CUP, catalog=CATALOG, to_grams=5e6)
    assert caught.value.field == "weight"
