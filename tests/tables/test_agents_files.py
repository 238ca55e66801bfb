"""Files of the agents and rules folders: sidecars, sources, grades, order."""

import hashlib
import json
import re
from collections import Counter
from pathlib import Path

import pytest
from builders_tables import TABLES, lines, sidecar

from setwell.provenance import Grade

FILES = sorted(path for room in ("agents", "rules") for path in (TABLES / room).glob("*.csv"))
IN_SIZE_ORDER = {"firmness_bands", "flow_words", "viscosity_landmarks"}

# Recalled figures, counted so that none slips in or turns into a finding unnoticed.
RECALLED = {
    "agents/agar_gellan_gelatin": 22,
    "agents/alginate": 6,
    "agents/blends": 36,
    "agents/carrageenan": 12,
    "agents/cellulose_ether": 32,
    "agents/composition": 502,
    "agents/counter_ion": 6,
    "agents/degradation": 34,
    "agents/description": 359,
    "agents/dose": 99,
    "agents/flow": 37,
    "agents/fracture": 24,
    "agents/hydration": 114,
    "agents/hydration_rate": 384,
    "agents/hysteresis": 15,
    "agents/identity": 14,
    "agents/melting": 43,
    "agents/pectin": 48,
    "agents/ph_window": 48,
    "agents/regulation": 156,
    "agents/setting": 24,
    "agents/starch": 68,
    "agents/strength": 48,
    "rules/cautions": 4,
    "rules/food_code": 8,
    "rules/lethality_targets": 1,
    "rules/spreads": 2,
    "rules/swallowing_bands": 1,
}


def name(path: Path) -> str:
    return f"{path.parent.name}/{path.stem}"


every_file = pytest.mark.parametrize("path", FILES, ids=name)


def test_both_folders_hold_tables():
    assert len(FILES) == 39


@every_file
def test_sidecar_matches_its_table(path):
    told, rows = sidecar(path), lines(path)
    assert told["rows"] == len(rows)
    assert told["sha256"] == hashlib.sha256(path.read_bytes()).hexdigest()
    assert list(told["columns"]) == list(rows[0])
    for entry in ("title", "purpose", "missing_values", "license"):
        assert told[entry]
    assert set(told["key"]) <= set(rows[0])


@every_file
def test_keys_are_unique_and_sorted(path):
    rows, key = lines(path), sidecar(path)["key"]
    keys = [tuple(row[column] for column in key) for row in rows]
    assert len(set(keys)) == len(keys)
    if path.stem not in IN_SIZE_ORDER:
        assert keys == sorted(keys)


@every_file
def test_every_line_names_a_known_source_a_place_and_a_grade(path):
    known = {
        entry["id"]
        for file in (TABLES / "bibliography").glob("*.json")
        for entry in json.loads(file.read_text(encoding="utf-8"))
    }
    for row in lines(path):
        assert row["source"] in known, row
        assert row["locator"].strip(), row
        assert row["grade"] in set(Grade), row


@every_file
def test_files_are_plain_utf8_with_unix_line_ends(path):
    data = path.read_bytes()
    assert b"\r" not in data
    assert not data.startswith(b"\xef\xbb\xbf")
    assert data.decode("utf-8").endswith("\n")


@every_file
def test_recalled_lines_are_unverified_and_counted(path):
    rows = lines(path)
    for row in rows:
        if "recalled" in row["source"] or "recalled" in row["locator"]:
            assert row["grade"] == Grade.UNVERIFIED, row
        if row["source"] == "common_practice":
            assert row["grade"] == Grade.ESTIMATED, row
            assert row["locator"] == "common practice, no source", row
    counted = Counter(row["grade"] for row in rows)[Grade.UNVERIFIED]
    assert counted == RECALLED.get(name(path), 0)


@every_file
def test_values_lie_inside_their_range(path):
    for row in lines(path):
        if not {"value", "low", "high"} <= set(row):
            continue
        value = float(row["value"])
        assert not row["low"] or float(row["low"]) <= value, row
        assert not row["high"] or value <= float(row["high"]), row


@every_file
def test_wording_is_american(path):
    british = re.compile(r"fibre|colour|flavour|gelatinis|mould|stabilis|sulph|pasteuris", re.I)
    for row in lines(path):
        words = " ".join(v for k, v in row.items() if k not in ("alias", "source", "locator"))
        assert not british.search(words), row


@pytest.mark.parametrize("file", ["agents.json", "rules.json"])
def test_bibliography_is_sorted_and_every_entry_is_used(file):
    entries = json.loads((TABLES / "bibliography" / file).read_text(encoding="utf-8"))
    ids = [entry["id"] for entry in entries]
    used = {row["source"] for path in FILES for row in lines(path)}
    assert ids == sorted(ids)
    assert len(set(ids)) == len(ids)
    assert set(ids) <= used
    assert all(entry["title"] and entry["type"] for entry in entries)
