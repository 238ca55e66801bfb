"""Grades, evidence, estimates and the bibliography."""

import json

import pytest

from setwell.errors import TableError
from setwell.provenance import (
    Citation,
    Estimate,
    Grade,
    bibliography_parse,
    evidence_join,
    grade_worst,
)

GOOD = Citation("one_2001", "table 1", Grade.STANDARD)
WEAK = Citation("two_2002", "page 3", Grade.UNVERIFIED)


def estimate(**changes: object) -> Estimate:
    fields = {"value": 1.0, "unit": "g", "low": 0.5, "high": 2.0, "model": "m", "evidence": (GOOD,)}
    return Estimate(**{**fields, **changes})


def test_grades_are_ordered_from_standard_to_unverified():
    ranks = [grade.rank for grade in Grade]
    assert ranks == sorted(ranks)
    assert Grade.STANDARD.rank == 0
    assert Grade.UNVERIFIED.rank == max(ranks)


def test_every_grade_has_a_meaning_of_its_own():
    assert len({grade.meaning for grade in Grade}) == len(Grade)


def test_the_worst_grade_speaks_for_all():
    assert grade_worst([Grade.STANDARD, Grade.FITTED, Grade.MEASURED]) is Grade.FITTED
    assert estimate(evidence=(GOOD, WEAK)).grade is Grade.UNVERIFIED


def test_no_evidence_is_the_worst():
    assert grade_worst([]) is Grade.UNVERIFIED
    assert estimate(evidence=()).grade is Grade.UNVERIFIED


def test_joined_evidence_holds_each_citation_once_in_order():
    assert evidence_join([(WEAK, GOOD), (GOOD,), ()]) == (WEAK, GOOD)


@pytest.mark.parametrize(
    ("low", "high", "answer"),
    [(1.0, None, True), (1.0, 2.0, False), (None, None, False), (None, 2.0, False)],
)
def test_a_lower_bound_is_open_above(low, high, answer):
    assert estimate(low=low, high=high).is_lower_bound is answer


def entry(**fields: object) -> dict[str, object]:
    return {"id": "roe_1999", "title": "On gels", **fields}


def test_an_entry_prints_as_one_line():
    raw = entry(
        author=[{"family": "Roe"}, {"literal": "The Gel Group"}],
        issued={"date-parts": [[1999, 4]]},
        page="12",
        volume=3,
        DOI="10.1/x",
        **{"container-title": "Journal of Gels"},
    )
    found = bibliography_parse(json.dumps([raw]))["roe_1999"]
    assert found.citation == (
        "Roe; The Gel Group, 1999. On gels. Journal of Gels, 3:12, doi 10.1/x"
    )


def test_a_bare_entry_prints_its_title():
    assert bibliography_parse(json.dumps([entry()]))["roe_1999"].citation == "On gels"


def test_the_same_id_twice_is_refused():
    with pytest.raises(TableError, match="same id twice"):
        bibliography_parse(json.dumps([entry(), entry()]))
