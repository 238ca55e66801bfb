"""Rounding at the edges of every band, and what refuses to be rounded."""

import math

import numpy as np
import pytest

from setwell.errors import InputError
from setwell.science.panels.energy import factor_energy
from setwell.science.panels.pieces import serving_pieces
from setwell.science.panels.rounding import amounts_round, day_share
from setwell.tables.labels.panel_tables import roundings

RULES = [(market, row) for market in ("us", "eu") for row in roundings(market)]


def rule(market, row):
    bands = roundings(market)[row].bands
    codes = {"zero": 0.0, "text": math.nan}
    return {
        "lows": [band.low for band in bands],
        "includes_low": [band.includes_low for band in bands],
        "steps": [codes.get(band.action, band.step) for band in bands],
    }


@pytest.mark.parametrize(("market", "row"), RULES)
def test_the_edge_of_a_band_belongs_where_the_rule_says(market, row):
    bands = roundings(market)[row].bands
    for number, band in enumerate(bands[1:], start=1):
        amounts = [band.low * (1 - 1e-6), band.low, band.low * (1 + 1e-6)]
        found = amounts_round(amounts, **rule(market, row)).bands.tolist()
        assert found == [number - 1, number if band.includes_low else number - 1, number]


@pytest.mark.parametrize(("market", "row"), RULES)
def test_half_a_step_goes_up_and_a_hair_less_goes_down(market, row):
    for band in roundings(market)[row].bands:
        if band.step is None:
            continue
        count = math.ceil(band.low / band.step) + 3
        half = (count + 0.5) * band.step
        ends = [b.low for b in roundings(market)[row].bands if b.low > band.low]
        if ends and half >= ends[0]:
            continue
        up, down = amounts_round([half, half - 1e-4 * band.step], **rule(market, row)).values
        assert up == pytest.approx((count + 1) * band.step)
        assert down == pytest.approx(count * band.step)


def test_what_binary_fractions_blur_still_counts_as_on_the_edge():
    # 0.1 + 0.1 + 0.3 and 5 x 0.55 fall a hair short of 0.5 and 2.75.
    found = amounts_round([0.1 + 0.1 + 0.3, sum([0.55] * 5)], **rule("us", "fat"))
    assert found.values.tolist() == [0.5, 3.0]


@pytest.mark.parametrize("amount", [-0.1, math.nan])
def test_an_impossible_amount_is_refused(amount):
    with pytest.raises(InputError, match="negative or not a number"):
        amounts_round([amount], **rule("us", "fat"))


@pytest.mark.parametrize("lows", [[1.0, 2.0], [0.0, 2.0, 2.0]])
def test_bands_that_do_not_rise_from_zero_are_refused(lows):
    flat = [1.0] * len(lows)
    with pytest.raises(InputError, match="begin at zero and rise"):
        amounts_round([1.0], lows=lows, includes_low=[True] * len(lows), steps=flat)


def test_other_impossible_figures_are_refused():
    with pytest.raises(InputError, match="daily amount"):
        day_share([1.0], daily_amount=0.0)
    with pytest.raises(InputError, match="3 components"):
        factor_energy([[1.0, 2.0, 3.0]], factors=[4.0, 9.0])
    with pytest.raises(InputError, match="weigh something"):
        serving_pieces([0.0], reference=30.0)


def test_pieces_at_the_limits_of_the_rule():
    # 21 CFR 101.9(b)(2)(i): one piece from 67 % of the reference amount on.
    np.testing.assert_array_equal(
        serving_pieces([0.669 * 30, 0.67 * 30, 15.0, 60.0], reference=30.0), [1, 1, 2, 1]
    )
