"""Words for a thickness, and the ranges of the 2002 diet."""

import shutil
from pathlib import Path

import pytest

from setwell.errors import TableError
from setwell.tables.rules import flow_words, swallowing_band, swallowing_bands
from setwell.tables.rules.bands import FOLDER


@pytest.mark.parametrize(
    ("viscosity", "key"),
    [
        (1.0, "pourable"),
        (99.9, "pourable"),
        (100.0, "coating"),
        (1000.0, "spoonable_thick"),
        (2500.0, "spreads"),
        (1e6, "spreads"),
    ],
)
def test_every_thickness_has_one_word(viscosity, key):
    assert [word.key for word in flow_words() if word.contains(viscosity)] == [key]


def test_a_gap_between_words_is_refused(tmp_path: Path):
    shutil.copy(FOLDER / "flow_words.csv", tmp_path)
    table = tmp_path / "flow_words.csv"
    table.write_text(table.read_text(encoding="utf-8").replace("100,600,", "100,500,"), "utf-8")
    with pytest.raises(TableError, match="gap between coating and spoonable_thick"):
        flow_words(tmp_path)


@pytest.mark.parametrize(
    ("viscosity", "level"),
    [(0.9, "1"), (50, "1"), (50.4, "1"), (51, "2"), (350, "2"), (351, "3"), (1750, "3"),
     (1751, "4"), (1e5, "4")],
)  # fmt: skip
def test_ranges_of_the_diet_leave_no_hole(viscosity, level):
    assert swallowing_band(viscosity).level == level


def test_no_viscosity_is_ever_told_as_a_level_of_the_syringe_test():
    assert {swallowing_band(v).scale for v in (0.5, 10, 75, 300, 1000, 5000)} == {"ndd"}
    assert all(b.unit == "mL" for b in swallowing_bands() if b.scale == "iddsi")
