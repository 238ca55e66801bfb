"""Every citation leads somewhere, and every source is there for a reason."""

import ast
import csv
import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import setwell
import setwell.science
from setwell.provenance import Grade
from setwell.tables.sources import sources

SOURCE = Path(setwell.__file__).parent
TABLES = SOURCE / "tables"
CSVS = sorted(TABLES.rglob("*.csv"))
# The kitchen's own entries are its own source.
OWN = {"this_kitchen"}


def rows() -> Iterator[tuple[str, dict[str, str]]]:
    for path in CSVS:
        with path.open(encoding="utf-8", newline="") as file:
            yield from ((path.name, row) for row in csv.DictReader(file))


@cache
def from_tables() -> set[str]:
    columns = ("source", "quoted_from")
    return {row[name] for _, row in rows() for name in columns if row.get(name)}


@cache
def from_code() -> set[str]:
    """Return the first argument of every Citation(...) written out in the sources."""
    found = set()
    for path in SOURCE.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        # A file that names it nowhere has no call to look into.
        for node in ast.walk(ast.parse(text if "Citation(" in text else "")):
            is_citation = isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Citation"
            if is_citation and isinstance(node.args[0], ast.Constant):
                found.add(node.args[0].value)
    return found


@cache
def from_docstrings() -> set[str]:
    found = set()
    for module in pkgutil.walk_packages(setwell.science.__path__, "setwell.science."):
        for _, function in inspect.getmembers(
            importlib.import_module(module.name), inspect.isfunction
        ):
            text = (inspect.getdoc(function) or "").partition("References\n----------\n")[2]
            listed = text.partition("\nExamples\n")[0]
            found |= set(re.findall(r"^([a-z]\w+)$", listed, re.MULTILINE))
    return found


def test_the_places_that_cite_are_found():
    assert len(CSVS) > 20
    assert "usda_sr28_2016" in from_tables()
    assert "iupac_2021" in from_code()
    assert "rochas_1984" in from_docstrings()


def test_every_citation_is_in_the_bibliography():
    cited = from_tables() | from_code() | from_docstrings()
    assert cited - set(sources()) == OWN


def test_every_source_is_cited():
    cited = from_tables() | from_code() | from_docstrings()
    assert set(sources()) - cited == set()


def test_every_row_with_a_source_has_a_locator_and_a_grade():
    grades = {grade.value for grade in Grade}
    for name, row in rows():
        if row.get("source"):
            assert row["locator"].strip(), (name, row)
            assert row["grade"] in grades, (name, row)


@pytest.mark.parametrize("source", sources().values(), ids=lambda source: source.id)
def test_every_source_has_a_printable_citation(source):
    assert source.title
    assert re.fullmatch(r"[a-z0-9_]+", source.id)
    assert source.title in source.citation
