"""Files of the nutrition panels: their wording, and what refuses to load."""

import re

import pytest
from builders_tables import TABLES, damage, lines, tables_copied

from setwell.errors import TableError
from setwell.tables.agents import agent_rows
from setwell.tables.foods import food_rows
from setwell.tables.labels.panel_tables import (
    daily_amounts,
    energy_factors,
    panel_lines,
    roundings,
)
from setwell.tables.labels.serving_tables import fiber_rules, reference_amounts, tolerances

STEMS = (
    "daily_amounts",
    "energy_factors",
    "fiber_rules",
    "panel_rows",
    "reference_amounts",
    "rounding",
    "tolerances",
)
FILES = [TABLES / "labels" / f"{stem}.csv" for stem in STEMS]
every_file = pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)


@every_file
def test_wording_is_american_but_for_the_word_of_the_regulation(path):
    british = re.compile(r"fibre|colour|flavour|litre|stabilis", re.IGNORECASE)
    found = [row for row in lines(path) if british.search(" ".join(row.values()))]
    assert [row.get("label") for row in found] in ([], ["Fibre"])


def test_every_powder_has_a_fiber_rule_in_both_markets():
    single = {key for key, row in agent_rows().items() if not row.parts}
    for market in ("us", "eu"):
        rules = fiber_rules(market)
        assert single <= set(rules)
        assert set(rules) - single <= set(food_rows())


def test_every_line_of_a_panel_can_be_rounded_in_its_own_unit():
    for market in ("us", "eu"):
        for line in panel_lines(market):
            assert roundings(market)[line.row].unit == line.unit, line
            daily = daily_amounts(market).get(line.row)
            assert daily is None or daily.unit == line.unit, line
            assert line.share == "none" or daily is not None, line


def test_the_us_panel_has_fifteen_core_lines():
    # 21 CFR 101.9(c) and (f).
    assert sum(line.is_mandatory for line in panel_lines("us")) == 15


def test_vitamins_and_minerals_are_insignificant_below_two_percent():
    # 21 CFR 101.9(c)(8)(iii).
    for line in panel_lines("us"):
        if line.share == "stepped":
            daily = daily_amounts("us")[line.row].amount
            assert line.insignificant_below == pytest.approx(0.02 * daily)


def test_kilojoules_and_calories_of_a_factor_agree_within_rounding():
    for factor in energy_factors("eu").values():
        assert factor.kj_per_g == pytest.approx(4.184 * factor.kcal_per_g, abs=0.8)


def test_tolerance_bands_rise():
    for market in ("us", "eu"):
        for bands in tolerances(market).values():
            assert [band.low for band in bands] == sorted({band.low for band in bands})


@pytest.mark.parametrize(
    ("file", "old", "new", "load"),
    [
        ("rounding", "nearest,0.1,", "nearest,,", lambda f: roundings("eu", f)),
        ("rounding", "text,,< 0.5 g", "text,,", lambda f: roundings("eu", f)),
        ("rounding", ",2,g,0.5,", ",2,g,0,", lambda f: roundings("eu", f)),
        ("panel_rows", ",plain,", ",round,", lambda f: panel_lines("eu", f)),
        ("reference_amounts", "g,,g,", "g,1 cup,g,", reference_amounts),
        ("fiber_rules", ",yes,analyzed", ",yes,guessed", lambda f: fiber_rules("eu", f)),
        ("daily_amounts", "eu,fat,70", "eu,fat,much", lambda f: daily_amounts("eu", f)),
    ],
)
def test_a_damaged_table_is_named_with_its_line(tmp_path, file, old, new, load):
    folder = tables_copied("labels", tmp_path)
    damage(folder / f"{file}.csv", old, new)
    with pytest.raises(TableError, match=rf"{file}\.csv, line \d+"):
        load(folder)


def test_a_market_without_tables_is_refused():
    with pytest.raises(TableError, match="us and eu"):
        roundings("mars")
