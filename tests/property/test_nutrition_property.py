"""Panels keep their promises whatever is in the pot."""

import numpy as np
import pytest
from builders_engine import formula_of
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.engine.assess import bench_build
from setwell.engine.labels.nutrition_eu import eu_panel
from setwell.engine.labels.nutrition_us import us_panel
from setwell.engine.labels.panel_results import Form
from setwell.engine.labels.printing import amount_print
from setwell.engine.labels.servings import ServingAsk
from setwell.science.panels.rounding import amounts_round
from setwell.tables.labels.panel_tables import panel_lines, roundings

LINES = [(market, line.row) for market in ("us", "eu") for line in panel_lines(market)]
FOODS = ("whole milk", "skim milk", "heavy cream", "sugar", "strawberries", "egg yolk", "honey",
         "xanthan", "erythritol", "citric acid", "vodka")  # fmt: skip
amount = st.floats(0.0, 3000.0, allow_subnormal=False)
weights = st.lists(st.floats(0.5, 900.0), min_size=len(FOODS), max_size=len(FOODS))
# Each example is a whole assessment.
FEW = settings(max_examples=8)


@given(st.sampled_from(LINES), amount)
def test_a_shown_number_is_within_half_the_step_of_its_band(line, unrounded):
    printed = amount_print(*line, unrounded)
    band = [b for b in roundings(line[0])[line[1]].bands if b.low <= unrounded + 1e-9][-1]
    if unrounded == band.low and not band.includes_low:
        return
    if band.step is not None:
        assert abs(printed.value - unrounded) <= 0.5 * band.step + 1e-6
    elif unrounded > 0:
        assert printed.form is (Form.ZERO if band.action == "zero" else Form.LESS_THAN)


@given(st.sampled_from(LINES), amount, amount)
def test_more_of_a_nutrient_never_shows_a_smaller_number(line, one, other):
    low, high = sorted((one, other))
    shown = [amount_print(*line, part) for part in (low, high)]
    if shown[0].value is not None and shown[1].value is not None:
        assert shown[0].value <= shown[1].value


@given(st.lists(amount, min_size=1, max_size=20), st.sampled_from(LINES))
def test_many_amounts_round_like_each_alone(amounts, line):
    bands = roundings(line[0])[line[1]].bands
    rule = {
        "lows": [b.low for b in bands],
        "includes_low": [b.includes_low for b in bands],
        "steps": [b.step if b.step else (0.0 if b.action == "zero" else np.nan) for b in bands],
    }
    together = amounts_round(amounts, **rule)
    alone = [amounts_round([one], **rule) for one in amounts]
    np.testing.assert_array_equal(together.values, np.concatenate([a.values for a in alone]))
    np.testing.assert_array_equal(together.bands, np.concatenate([a.bands for a in alone]))


def bench(grams, factor=1.0):
    lines = [f"{weight * factor:.3f} g {food}" for weight, food in zip(grams, FOODS, strict=True)]
    return bench_build(formula_of(*lines))


@FEW
@given(weights, st.floats(0.2, 20.0))
def test_the_size_of_the_batch_changes_no_panel(grams, factor):
    one, other = (eu_panel(bench(grams, size)) for size in (1.0, factor))
    for a, b in zip(one.rows, other.rows, strict=True):
        assert b.cells[0].estimate.value == pytest.approx(
            a.cells[0].estimate.value, rel=2e-3, abs=1e-4
        )


@FEW
@given(weights)
def test_ranges_hold_their_value_and_unknown_is_never_shown_as_a_number(grams):
    made = bench(grams)
    panels = (us_panel(made, serving=ServingAsk("yogurt")), eu_panel(made, portion_g=80.0))
    for panel in panels:
        for row in panel.rows:
            for cell in row.cells:
                estimate = cell.estimate
                assert estimate.low <= estimate.value
                assert estimate.high is None or estimate.value <= estimate.high
                assert (cell.printed.form is Form.UNKNOWN) == row.is_unknown
                assert not (row.is_unknown and (cell.share or row.is_insignificant))
        open_rows = {row.key for row in panel.rows if row.is_mandatory and row.is_unknown}
        assert open_rows <= {key for blocker in panel.blockers for key in blocker.rows}
        assert panel.is_final == (not panel.blockers)


@FEW
@given(weights)
def test_eu_energy_lies_between_its_bounds(grams):
    panel = eu_panel(bench(grams))
    kj, kcal = (panel.row(key).cells[0].estimate.value for key in ("energy_kj", "energy_kcal"))
    # Each factor in kJ is 4 to 4.34 times the one in kcal.
    assert 4.0 * kcal <= kj + 1e-9 <= 4.35 * kcal + 1e-6
