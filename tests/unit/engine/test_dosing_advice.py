"""What the warning about acid advises: grams that work, or why not."""

import re

import pytest
from builders_engine import HOT, assess_of, formula_of

from setwell.engine.assess import bench_build
from setwell.engine.rules import acidity
from setwell.engine.rules.book import rule_masks
from setwell.engine.sweep import assess_many

LEMON = ("450 g water", "50 g lemon juice", "2.5 g kappa carrageenan")
LATE = "Boil\nCool to 55 °C\nAdd the lemon juice\nChill"


def acid_findings(*lines, steps=HOT):
    found = assess_of(*lines, steps=steps).findings
    return [finding for finding in found if finding.code in {"too_acid", "maybe_too_acid"}]


def test_the_advised_buffer_brings_the_batch_there():
    (found,) = acid_findings(*LEMON)
    said = re.search(r"[Bb]uffer to pH ([\d.]+) with ([\d.]+) g \(([\d.]+) to ", found.action)
    target, grams = float(said[1]), float(said[2])
    state = bench_build(formula_of(*LEMON, f"{grams} g trisodium citrate")).state
    assert target == 4.5
    assert float(state.water.ph.value[0]) == pytest.approx(target, abs=0.05)


def test_the_sourest_line_is_named():
    (found,) = acid_findings(*LEMON)
    assert "add the lemon juice after cooling below 60 °C (140 °F)" in found.action
    (found,) = acid_findings("700 g orange juice", "60 g lime juice", "4 g iota carrageenan")
    assert "orange juice" in found.action or "lime juice" in found.action


def test_acid_that_is_late_already_is_not_told_to_come_late():
    (found,) = acid_findings(*LEMON, steps=LATE)
    assert "after cooling" not in found.action
    assert "Buffer to pH 4.5" in found.action


def test_a_buffer_that_would_be_tasted_is_not_advised():
    (found,) = acid_findings("450 g lemon juice", "50 g water", "3 g konjac")
    assert not found.action.startswith("Buffer")
    assert re.search(r"takes \d+ g .* is likely to taste (salty|soapy)\.", found.action)


def test_where_it_is_only_perhaps_too_acid_no_buffer_is_pressed_on_the_cook():
    (found,) = acid_findings("500 g oat milk", "10 g lemon juice", "2.5 g kappa carrageenan")
    assert found.code == "maybe_too_acid"
    assert "perhaps below the window" in found.text
    assert "uffer" not in found.action


def test_doses_are_worked_out_only_for_who_is_told(monkeypatch):
    def refuse(*_arguments, **_options):
        raise AssertionError

    monkeypatch.setattr(acidity, "dose_for", refuse)
    bench = assess_many(formula_of(*LEMON), [[450.0, 50.0, 2.5], [450.0, 0.5, 2.5]])
    assert rule_masks(bench)["too_acid"].tolist() == [True, False]


def test_too_little_acid_for_pectin_names_grams_that_reach_it():
    lines = ("300 g pear puree", "400 g sugar", "100 g water", "1% HM pectin")
    said = next(f for f in assess_of(*lines).findings if f.code == "not_acid_enough").action
    grams = re.match(
        r"About ([0-9.]+) g \([0-9.]+ to [0-9.]+\) citric acid reaches pH 3\.3\.", said
    )
    assert grams is not None, said
    dosed = assess_of(*lines, f"{grams[1]} g citric acid").figure("ph").estimate
    assert dosed.value == pytest.approx(3.3, abs=0.03)
