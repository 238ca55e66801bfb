"""A finding about acid says where its pH comes from."""

import pytest
from builders_engine import formula_of

from setwell.engine.assess import assess, bench_build
from setwell.engine.material import Span
from setwell.engine.rules.acidity import ph_text

LEMON = formula_of("400 g water", "4 g kappa carrageenan", "30 g lemon juice")


def text(**more):
    return ph_text(bench_build(LEMON, **more), 0)


def test_a_ph_that_nobody_measured_is_estimated():
    assert text().endswith(", estimated)")


@pytest.mark.parametrize("plus_minus", [0.01, 0.05, 0.1, 0.5, 1.0])
def test_a_reading_of_this_version_is_called_yours(plus_minus):
    reading = Span(3.2, 3.2 - plus_minus, 3.2 + plus_minus)
    low, high = reading.low, reading.high
    assert text(measured_ph=reading) == f"pH 3.2 ({low:.1f} to {high:.1f}, with your reading)"


@pytest.mark.parametrize("offset", [-0.01, 0.4, -2.3, -9.0, 12.0])
def test_a_ph_moved_by_an_earlier_reading_says_so_up_to_the_ends_of_the_scale(offset):
    assert text(ph_offset=offset).endswith(", moved by an earlier reading)")


def test_a_finding_tells_where_its_ph_comes_from():
    (found,) = (one for one in assess(LEMON, ph_offset=0.3).findings if one.code == "too_acid")
    assert "moved by an earlier reading" in found.text
