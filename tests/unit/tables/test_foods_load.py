"""A broken food table is refused with a message that says where."""

from pathlib import Path

import pytest
from builders_tables import damage, tables_copied

from setwell.errors import TableError
from setwell.provenance import Grade
from setwell.tables.foods import MINERALS, food_rows, nutrient_spread
from setwell.tables.foods.aliases import food_aliases_read
from setwell.tables.foods.load import food_rows_read
from setwell.tables.sources import sources_read


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tables_copied("foods", tmp_path)


def test_a_copy_of_the_tables_reads_like_the_original(folder):
    assert food_rows_read(folder) == food_rows()


@pytest.mark.parametrize(
    ("file", "old", "new", "message"),
    [
        ("composition.csv", ",compiled,", ",certain,", "“certain” is not a grade"),
        ("composition.csv", "usda_sr28_2016", "", "“source” is blank"),
        ("composition.csv", "\nagave_syrup,", "\nagar_dried,", "there twice"),
        ("composition.csv", ",85.56,", ",much,", "not a number"),
        ("density.csv", ",liquid,", ",gas,", "'gas', not liquid, bulk"),
        ("diets.csv", "\nagar_dried,yes,yes,", "", "no line in diets.csv"),
        ("ph.csv", "\napple,", "\ntree,", "ph.csv speaks of “tree”"),
        ("ph.csv", "\napple,3.65,3.3", "\napple,3.65,3.9", "3.65 is not between 3.9 and 4"),
        ("ph.csv", "\napple,3.65", "\napple,", "a number is needed"),
        ("ph.csv", "key,value", "name,value", "column “key” is missing"),
        ("dissolved.csv", "default,,sodium", "default,,gold", "'gold', not sodium"),
        ("portions.csv", "each:clove,3,", "each:clove,3,3,", "number of cells"),
    ],
)
def test_a_broken_table_is_refused(folder, file, old, new, message):
    damage(folder / file, old, new)
    with pytest.raises(TableError, match=message):
        food_rows_read(folder)


def test_a_missing_table_is_refused(folder):
    (folder / "enzymes.csv").unlink()
    with pytest.raises(TableError, match=r"enzymes\.csv cannot be read"):
        food_rows_read(folder)


def test_a_word_for_two_foods_is_refused(folder):
    damage(folder / "aliases.csv", "\nacacia honey,", "\nabricot,apricot,\nabricot,")
    with pytest.raises(TableError, match="stands for two foods"):
        food_aliases_read(folder)


def test_a_source_defined_twice_is_refused(tmp_path):
    entry = '[{"id": "a_2000", "title": "A"}]'
    (tmp_path / "one.json").write_text(entry, encoding="utf-8")
    (tmp_path / "two.json").write_text(entry, encoding="utf-8")
    with pytest.raises(TableError, match=r"“a_2000” in two\.json is defined twice"):
        sources_read(tmp_path)


def test_a_source_list_without_titles_is_refused(tmp_path):
    (tmp_path / "one.json").write_text('[{"id": "a_2000"}]', encoding="utf-8")
    with pytest.raises(TableError, match=r"one\.json cannot be read"):
        sources_read(tmp_path)


def test_an_unknown_kind_of_spread_is_refused():
    with pytest.raises(TableError, match="no default line"):
        nutrient_spread("imaginary")


def test_buffering_resolves_from_key_to_group():
    rows = food_rows()
    assert rows["juice_lemon"].buffering.value > 100
    assert rows["oil_olive"].buffering == rows["oil_corn"].buffering
    assert rows["oil_olive"].buffering.value == 0


def test_dissolved_minerals_resolve_for_every_food():
    for food in food_rows().values():
        assert tuple(food.dissolved) == MINERALS
    milk = food_rows()["milk_whole"].dissolved["calcium"]
    assert milk.value == pytest.approx(381 / 1142, abs=0.001)
    assert milk.citation.grade is Grade.COMPILED
    assert food_rows()["calcium_chloride_dihydrate"].dissolved["calcium"].value == 1
