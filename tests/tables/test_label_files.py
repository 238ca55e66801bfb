"""Every table of labels: its sidecar, its keys, its sources and how much of it is recalled."""

import hashlib
from collections import Counter

import pytest
from builders_tables import TABLES, lines, sidecar

from setwell.provenance import Grade
from setwell.tables.sources import sources

# Recalled lines, counted so that none slips in or turns into a finding unnoticed.
RECALLED = {
    "additive_limits": 108,
    "additives": 74,
    "allergens": 0,
    "daily_amounts": 0,
    "energy_factors": 1,
    "fiber_rules": 0,
    "food_categories": 33,
    "food_names": 0,
    "panel_rows": 10,
    "reference_amounts": 27,
    "rounding": 6,
    "sulfites": 33,
    "thresholds": 7,
    "tolerances": 26,
}
every_file = pytest.mark.parametrize(
    "path", [TABLES / "labels" / f"{stem}.csv" for stem in RECALLED], ids=lambda path: path.stem
)


def test_no_table_of_labels_is_forgotten():
    assert {path.stem for path in (TABLES / "labels").glob("*.csv")} == set(RECALLED)


@every_file
def test_sidecar_matches_its_table(path):
    told, rows = sidecar(path), lines(path)
    assert told["rows"] == len(rows)
    assert told["sha256"] == hashlib.sha256(path.read_bytes()).hexdigest()
    assert list(told["columns"]) == list(rows[0])
    assert all(told["columns"].values())
    for entry in ("title", "purpose", "missing_values", "license", "compiled"):
        assert told[entry]


@every_file
def test_keys_are_unique_and_sorted(path):
    key = sidecar(path)["key"]
    keys = [tuple(row[column] for column in key) for row in lines(path)]
    assert len(set(keys)) == len(keys)
    assert keys == sorted(keys)


@every_file
def test_recalled_lines_are_unverified_and_counted(path):
    rows = lines(path)
    for row in rows:
        assert row["source"] in sources(), row
        assert ("recalled" in row["locator"]) == (row["grade"] == Grade.UNVERIFIED), row
        if row["source"] == "common_practice":
            assert row["grade"] == Grade.ESTIMATED, row
    assert Counter(row["grade"] for row in rows)[Grade.UNVERIFIED] == RECALLED[path.stem]
