"""Spreads between kitchens as loaded."""

import shutil
from pathlib import Path

import pytest

from setwell.errors import MissingDataError, TableError
from setwell.provenance import Grade
from setwell.tables.agents import agent_rows
from setwell.tables.rules.spreads import lot_spread, spread, spreads

TABLE = Path(__file__).parents[2] / "src" / "setwell" / "tables" / "rules" / "spreads.csv"


def test_what_has_no_source_says_so():
    for one in spreads().values():
        is_practice = one.citation.source == "common_practice"
        assert one.citation.grade is (Grade.ESTIMATED if is_practice else Grade.UNVERIFIED)


def test_lots_with_a_row_are_agents_of_the_tables():
    named = [key.partition(":")[2] for key in spreads() if ":" in key]
    assert named
    assert set(named) <= set(agent_rows())


def test_agents_without_a_row_differ_as_usual():
    assert lot_spread("konjac") is spread("lot_strength")
    assert lot_spread("gelatin").value < lot_spread("agar").value


def test_an_unknown_spread_is_named():
    with pytest.raises(MissingDataError, match="moonlight"):
        spread("moonlight")


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("pH of the foods", "pH of the foods", ""),
        (",0.05,log,normal,", ",-0.05,log,normal,", "zero or more"),
        (",rectangular,", ",round,", "not one of"),
    ],
)
def test_broken_rows_are_refused(tmp_path, old, new, message):
    shutil.copy(TABLE, tmp_path)
    text = TABLE.read_text(encoding="utf-8")
    assert old in text
    (tmp_path / "spreads.csv").write_text(text.replace(old, new), encoding="utf-8")
    if not message:
        assert spreads(tmp_path)
        return
    with pytest.raises(TableError, match=message):
        spreads(tmp_path)


def test_a_row_that_stands_twice_is_refused(tmp_path):
    text = TABLE.read_text(encoding="utf-8")
    (tmp_path / "spreads.csv").write_text(text + text.splitlines()[-1] + "\n", encoding="utf-8")
    with pytest.raises(TableError, match="twice"):
        spreads(tmp_path)
