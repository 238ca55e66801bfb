"""A damaged table is refused on loading, with file and line."""

import pytest
from builders_tables import damage, tables_copied

from setwell.errors import TableError
from setwell.tables.agents import agent_aliases, agent_rows, gelatin_grades


@pytest.fixture
def folder(tmp_path):
    return tables_copied("agents", tmp_path)


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        ("dose.csv", "agar,dose,0.77,", "agar,dose,much,", r"value is “much”, not a number"),
        ("dose.csv", "agar,dose,0.77,", "agar,dose,7.7,", "lies outside its range"),
        ("dose.csv", "agar,dose,0.77,", "agar,dose,,", "value is blank"),
        ("dose.csv", "unverified", "certain", "“certain” is not a grade"),
        ("dose.csv", "agar,dose,0.77,", "kelp,dose,0.77,", "No agent is called kelp"),
        ("dose.csv", "agent,property,value", "agent,property,figure", "column value is missing"),
        ("dose.csv", "agar,dose,0.77,", "agar,dose,0.77,9,", r"12 cells under 11 columns"),
        ("dose.csv", "firm gel", "bakery", "agar dose_typical stands there twice"),
        ("description.csv", "agar,clarity,", "agar,texture,", "agar texture stands there twice"),
        ("description.csv", "common_practice", "", "source is blank"),
        ("identity.csv", "cold-set gel", "magic", "class is “magic”"),
        ("identity.csv", "xanthan=0.5", "xanthan=0.6", "do not add up to one"),
        ("identity.csv", "xanthan=0.5", "xanthan=half", "is not a part=share"),
        ("identity.csv", "xanthan=0.5 ", "kelp=0.5 ", "no agent is called kelp"),
    ],
)
def test_damaged_agent_tables_are_refused(folder, file, old, new, told):
    damage(folder / file, old, new)
    with pytest.raises(TableError, match=told):
        agent_rows(folder)


def test_a_missing_table_is_named(folder):
    (folder / "melting.csv").unlink()
    with pytest.raises(TableError, match=r"melting\.csv cannot be read"):
        agent_rows(folder)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("\nagar,agar,", "\nagar,kelp,", "no agent is called kelp"),
        ("\nagar agar,", "\nAgar Agar,", "not lower case"),
        ("\nagar agar,", "\nagar,", "twice"),
    ],
)
def test_damaged_names_are_refused(folder, old, new, told):
    damage(folder / "aliases.csv", old, new)
    with pytest.raises(TableError, match=told):
        agent_aliases(folder)


def test_a_sheet_grade_outside_its_range_is_refused(folder):
    damage(folder / "grades.csv", "gold,205,", "gold,300,")
    with pytest.raises(TableError, match="Bloom strength lies outside"):
        gelatin_grades(folder)
