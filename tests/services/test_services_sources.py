"""Sources, and what stands behind one number."""

import csv
from pathlib import Path

import setwell.tables
from setwell.provenance import Citation, Grade
from setwell.services.sources import evidence_describe, source_list
from setwell.tables.sources import sources

TABLES = Path(setwell.tables.__file__).parent


def test_every_source_of_the_bibliography_is_listed_once() -> None:
    listed = [row.source.id for row in source_list()]
    assert sorted(listed) == sorted(sources())


def test_citations_are_counted_by_table() -> None:
    with (TABLES / "agents" / "dose.csv").open(encoding="utf-8", newline="") as file:
        expected = sum(row["source"] == "trade_recalled" for row in csv.DictReader(file))
    row = next(row for row in source_list() if row.source.id == "trade_recalled")
    counted = {table.table: table.rows for table in row.cited_by}
    assert counted["agents: dose"] == expected > 0
    assert Grade.UNVERIFIED in row.grades


def test_the_weakest_citation_is_described_first() -> None:
    evidence = (
        Citation("usda_sr28_2016", "NDB 01077", Grade.COMPILED),
        Citation("trade_recalled", "recalled", Grade.UNVERIFIED),
        Citation("this_kitchen", "entered in the pantry", Grade.MEASURED),
        Citation("no_longer_there", "p. 3", Grade.COMPILED),
    )
    lines = evidence_describe(evidence=evidence)
    assert lines[0].grade is Grade.UNVERIFIED
    assert {line.citation for line in lines} >= {"This kitchen", "no_longer_there"}
    citation, locator, grade, meaning = lines[1]
    assert citation == sources()["usda_sr28_2016"].citation
    assert (locator, grade, meaning) == ("NDB 01077", Grade.COMPILED, Grade.COMPILED.meaning)


def test_no_evidence_is_described_by_nothing() -> None:
    assert evidence_describe(evidence=()) == ()
