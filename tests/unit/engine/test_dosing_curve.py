"""Titration curves: where they start, that they agree with the doses, what lies on the way."""

import numpy as np
import pytest
from builders_engine import formula_of

from setwell.engine.acid_additives import additive_find
from setwell.engine.assess import bench_build
from setwell.engine.dosing import dose_for
from setwell.engine.titration_curve import POINTS, titrate
from setwell.errors import InputError

MILK = ("1000 g whole milk", "3 g iota carrageenan")


def bench_of(*lines):
    return bench_build(formula_of(*lines))


def test_both_curves_start_at_the_ph_of_the_batch():
    bench = bench_of(*MILK)
    found = titrate(bench)
    acid, buffer = found.curves
    assert (acid.name, buffer.name) == ("citric acid", "trisodium citrate")
    for curve in found.curves:
        assert len(curve.ph) == len(curve.grams_per_kg) == POINTS == 41
        assert curve.ph[0] == pytest.approx(found.ph.value, abs=1e-4)
        assert curve.ph_low[0] == pytest.approx(found.ph.low, abs=1e-4)
        assert curve.ph_high[0] == pytest.approx(found.ph.high, abs=1e-4)
    assert (np.diff(acid.ph) < 0).all()
    assert (np.diff(buffer.ph) > 0).all()


def test_the_range_holds_the_curve():
    for curve in titrate(bench_of("500 g water", "300 g passion fruit")).curves:
        assert (np.array(curve.ph_low) <= curve.ph).all()
        assert (np.array(curve.ph_high) >= curve.ph).all()


@pytest.mark.parametrize(("name", "target"), [("citric acid", 5.4), ("lemon juice", 5.4)])
def test_the_curve_passes_through_the_dose(name, target):
    bench, one = bench_of(*MILK), additive_find(name)
    (curve,) = titrate(bench, one).curves
    grams = dose_for(bench, target, one).grams.value * 1000.0 / bench.state.masses.sum()
    met = np.interp(grams, curve.grams_per_kg, curve.ph)
    assert met == pytest.approx(target, abs=0.02)


def test_the_curve_is_long_enough_to_look_at():
    for lines in (MILK, ("500 g water",), ("450 g water", "50 g lemon juice")):
        curves = titrate(bench_of(*lines)).curves
        assert max(one.ph[-1] for one in curves) >= 5.0
        assert min(one.ph[-1] for one in curves) <= 3.5


def test_windows_and_casein_are_on_the_way():
    found = titrate(bench_of(*MILK))
    ((window),) = found.windows
    assert (window.agent, window.low, window.high) == ("Iota carrageenan", 4.0, 10.0)
    assert [point.ph for point in found.points] == [4.6]
    assert window.evidence
    assert titrate(bench_of("500 g water")).points == ()


def test_salt_beyond_the_model_is_marked_from_where_it_begins():
    (curve,) = titrate(bench_of("500 g water", "80 g citric acid"),
                       additive_find("trisodium citrate")).curves  # fmt: skip
    assert curve.beyond_from is not None
    assert 0.0 < curve.beyond_from <= curve.grams_per_kg[-1]
    assert titrate(bench_of("500 g water")).curves[0].beyond_from is None


def test_a_batch_without_water_has_no_curve():
    with pytest.raises(InputError, match="too little to speak of a pH"):
        titrate(bench_of("100 g sugar"))
