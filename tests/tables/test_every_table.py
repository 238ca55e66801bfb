"""Every shipped table: its sidecar, its keys, its sources, and how much of it is recalled."""

import hashlib
import json
import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from builders_tables import TABLES, lines, sidecar

from setwell.provenance import Grade
from setwell.tables.sources import sources

EVERY = sorted(TABLES.glob("*/*.csv"))
BIBLIOGRAPHIES = sorted((TABLES / "bibliography").glob("*.json"))

# Unverified lines, counted so that none slips in or turns into a finding unnoticed.
UNVERIFIED = {
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
    "foods/buffering": 3,
    "foods/composition": 4,
    "foods/density": 16,
    "foods/dissolved": 8,
    "foods/ph": 92,
    "foods/portions": 142,
    "foods/sugars": 2,
    "heat/components": 1,
    "heat/hobs": 3,
    "heat/mixing_rules": 7,
    "heat/spirit_excess": 4,
    "heat/surfaces": 10,
    "heat/walls": 17,
    "labels/additive_limits": 108,
    "labels/additives": 74,
    "labels/energy_factors": 1,
    "labels/food_categories": 33,
    "labels/panel_rows": 10,
    "labels/reference_amounts": 27,
    "labels/rounding": 6,
    "labels/sulfites": 33,
    "labels/thresholds": 7,
    "labels/tolerances": 26,
    "rules/cautions": 4,
    "rules/food_code": 8,
    "rules/lethality_targets": 1,
    "rules/spreads": 2,
    "rules/swallowing_bands": 1,
    "solution/complexes": 15,
    "solution/dissociation": 73,
    "solution/food_acids": 14,
    "solution/milk_salts": 7,
    "solution/solubility": 12,
    "solution/water": 29,
    "solution/water_activity": 15,
}
# A rule that was read, but stretched to what it does not speak of; foods stretch by their kind.
STRETCHED = {"agents/regulation": 1, "rules/food_code": 7, "rules/spreads": 2}
# Judgment of the kitchen or names, not figures of somebody else.
WITHOUT_SOURCES = {"foods/aliases", "foods/allergens", "foods/diets", "foods/nutrients"}
IN_ORDER_OF_SIZE = {
    "foods/spread", "rules/firmness_bands", "rules/flow_words", "rules/viscosity_landmarks",
}  # fmt: skip
BRITISH = re.compile(
    r"fibre|colour|flavour|litre|gelatinis|mould|stabilis|neutralis|sulph|crystallis|pasteuris",
    re.IGNORECASE,
)


def name(path: Path) -> str:
    return f"{path.parent.name}/{path.stem}"


every_table = pytest.mark.parametrize("path", EVERY, ids=name)
every_sourced = pytest.mark.parametrize(
    "path", [path for path in EVERY if name(path) not in WITHOUT_SOURCES], ids=name
)
rows_of = cache(lines)


def in_order(cell: str) -> tuple[float, str]:
    """Numbers go by size, words by the alphabet."""
    try:
        return float(cell), ""
    except ValueError:
        return 0.0, cell


def test_every_room_holds_its_tables():
    found = Counter(path.parent.name for path in EVERY)
    assert found == {
        "agents": 25, "foods": 13, "heat": 10, "labels": 14, "rules": 14, "solution": 15,
    }  # fmt: skip
    assert set(UNVERIFIED) | WITHOUT_SOURCES | IN_ORDER_OF_SIZE <= set(map(name, EVERY))


@every_table
def test_sidecar_matches_its_table(path):
    told, rows = sidecar(path), rows_of(path)
    assert told["rows"] == len(rows)
    assert told["sha256"] == hashlib.sha256(path.read_bytes()).hexdigest()
    assert list(told["columns"]) == list(rows[0])
    for about in told["columns"].values():
        assert about["meaning"] if isinstance(about, dict) else about
    for entry in ("title", "purpose", "missing_values", "license", "compiled"):
        assert told[entry]


@every_table
def test_keys_are_unique_and_sorted(path):
    key = sidecar(path)["key"]
    keys = [tuple(row[column] for column in key) for row in rows_of(path)]
    assert len(set(keys)) == len(keys)
    ordered = sorted(keys), sorted(keys, key=lambda cells: [in_order(cell) for cell in cells])
    assert keys in ordered or name(path) in IN_ORDER_OF_SIZE


@every_sourced
def test_every_line_names_a_known_source_a_place_and_a_grade(path):
    for row in rows_of(path):
        assert row["source"] in sources(), row
        assert row["locator"].strip(), row
        assert row["grade"] in set(Grade), row


@every_sourced
def test_recalled_lines_are_unverified_and_counted(path):
    unverified, read = 0, 0
    for row in rows_of(path):
        is_unseen = "recalled" in row["locator"] or "second-hand" in row["locator"]
        is_unverified = row["grade"] == Grade.UNVERIFIED
        assert is_unverified or not is_unseen, row
        unverified += is_unverified
        read += is_unverified and not is_unseen
    assert unverified == UNVERIFIED.get(name(path), 0)
    if path.parent.name != "foods":
        assert read == STRETCHED.get(name(path), 0)


@every_sourced
def test_a_custom_of_the_trade_is_never_more_than_an_estimate(path):
    weak = {Grade.ESTIMATED, *([Grade.UNVERIFIED] if path.parent.name == "foods" else [])}
    for row in rows_of(path):
        if row["source"] == "common_practice":
            assert row["grade"] in weak, row
            assert row["locator"] == "common practice, no source", row


@every_table
def test_values_lie_inside_their_range(path):
    for row in rows_of(path):
        if row.get("value") and {"low", "high"} <= set(row):
            value = float(row["value"])
            assert not row["low"] or float(row["low"]) <= value, row
            assert not row["high"] or value <= float(row["high"]), row


@every_table
def test_files_are_plain_utf8_with_unix_line_ends(path):
    data = path.read_bytes()
    assert b"\r" not in data
    assert not data.startswith(b"\xef\xbb\xbf")
    assert data.decode("utf-8").endswith("\n")


# The label tables quote European law in its own spelling; their tests say where.
@pytest.mark.parametrize("path", [p for p in EVERY if p.parent.name != "labels"], ids=name)
def test_wording_is_american(path):
    for row in rows_of(path):
        own = [v for k, v in row.items() if k not in {"alias", "source", "locator"}]
        assert not BRITISH.search(" ".join(own)), row


@pytest.mark.parametrize("path", BIBLIOGRAPHIES, ids=lambda path: path.stem)
def test_every_bibliography_is_sorted_and_its_entries_are_told(path):
    entries = json.loads(path.read_text(encoding="utf-8"))
    ids = [entry["id"] for entry in entries]
    assert ids == sorted(set(ids))
    assert all(entry["title"] and entry["type"] for entry in entries)
