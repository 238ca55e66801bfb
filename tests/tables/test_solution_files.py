"""Files of the solution folder: sidecars, sources, grades, order."""

import hashlib
import json
import re
from collections import Counter
from pathlib import Path

import pytest
from builders_tables import TABLES, lines, sidecar

from setwell.provenance import Grade

FILES = sorted((TABLES / "solution").glob("*.csv"))
BIBLIOGRAPHY = TABLES / "bibliography"

# Recalled figures, counted so that none slips in or turns into a finding unnoticed.
RECALLED = {
    "complexes": 15,
    "dissociation": 73,
    "food_acids": 14,
    "milk_salts": 7,
    "solubility": 12,
    "water": 29,
    "water_activity": 15,
}


def listed(path: Path) -> list[dict]:
    return json.loads(path.read_text(encoding="utf-8"))


every_file = pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)


def test_the_folder_holds_tables():
    assert len(FILES) == 15


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
def test_every_line_names_a_known_source_a_place_and_a_grade(path):
    known = {entry["id"] for file in BIBLIOGRAPHY.glob("*.json") for entry in listed(file)}
    for row in lines(path):
        assert row["source"] in known, row
        assert row["locator"].strip(), row
        assert row["grade"] in set(Grade), row


@every_file
def test_recalled_lines_are_unverified_and_counted(path):
    rows = lines(path)
    for row in rows:
        assert ("recalled" in row["locator"]) == (row["grade"] == Grade.UNVERIFIED), row
        if row["source"] == "common_practice":
            assert row["grade"] == Grade.ESTIMATED, row
            assert row["locator"] == "common practice, no source", row
    counted = Counter(row["grade"] for row in rows)[Grade.UNVERIFIED]
    assert counted == RECALLED.get(path.stem, 0)


@every_file
def test_values_lie_inside_their_range(path):
    for row in lines(path):
        if {"value", "low", "high"} <= set(row):
            value = float(row["value"])
            assert not row["low"] or float(row["low"]) <= value, row
            assert not row["high"] or value <= float(row["high"]), row


@every_file
def test_files_are_plain_utf8_with_unix_line_ends(path):
    data = path.read_bytes()
    assert b"\r" not in data
    assert data.decode("utf-8").endswith("\n")


@every_file
def test_wording_is_american(path):
    british = re.compile(r"fibre|colour|flavour|litre|neutralis|sulph|crystallis", re.I)
    for row in lines(path):
        assert not british.search(" ".join(row.values())), row


def test_bibliography_is_sorted_new_and_every_entry_is_used():
    ids = [entry["id"] for entry in listed(BIBLIOGRAPHY / "solution.json")]
    used = {row["source"] for path in FILES for row in lines(path)}
    others = {
        entry["id"]
        for file in BIBLIOGRAPHY.glob("*.json")
        if file.stem != "solution"
        for entry in listed(file)
    }
    assert ids == sorted(ids)
    assert set(ids) <= used
    assert others.isdisjoint(ids)
