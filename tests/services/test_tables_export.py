"""Every table leaves as CSV and as a workbook, with the same cells and nothing that runs."""

import csv
import io

import pytest
from openpyxl import load_workbook

from setwell.domain.formula import formula_make
from setwell.domain.pantry import Lot, OwnFood, Price
from setwell.errors import InputError
from setwell.services import formulas, pantry
from setwell.services.tables_export import table_csv, table_list, tables_xlsx

pytestmark = pytest.mark.django_db


def rows_of(key):
    return list(csv.DictReader(io.StringIO(table_csv(key=key))))


@pytest.fixture
def filled():
    given = formula_make(
        title='=HYPERLINK("x")', ingredients="500 g whole milk\n4 g kappa carrageenan",
        steps="Boil\nChill", portions=4,
    )  # fmt: skip
    pantry.food_save(id=None, document=OwnFood(name="Oat base", nutrients={"water_g": 90.0}))
    pantry.lot_save(id=None, document=Lot(agent="kappa carrageenan", lot_code="00123"))
    return formulas.formula_create(formula=given).formula_id


def test_every_table_has_a_header_and_rows_of_its_length(filled):
    for table in table_list():
        rows = list(csv.reader(io.StringIO(table_csv(key=table.key))))
        assert {len(row) for row in rows} == {len(rows[0])}, table.key
        assert len(set(rows[0])) == len(rows[0]), table.key


def test_lines_and_nutrition_are_those_of_the_assessment(filled):
    lines = rows_of("lines")
    assert [(row["material"], float(row["grams"])) for row in lines] == [
        ("Milk, whole 3.25%", 500.0), ("Kappa carrageenan", 4.0),
    ]  # fmt: skip
    energy = next(row for row in rows_of("nutrition") if row["nutrient"] == "Energy")
    assert float(energy["low"]) < float(energy["per_100g"]) < float(energy["high"])


def test_a_nutrient_that_was_never_analyzed_is_empty_and_not_zero(filled):
    oats = next(row for row in rows_of("pantry-food") if row["name"] == "Oat base")
    assert (float(oats["water_g"]), oats["protein_g"]) == (90.0, "")


def test_the_workbook_has_one_sheet_for_each_table_with_the_same_cells(filled):
    book = load_workbook(io.BytesIO(tables_xlsx()))
    assert len(book.sheetnames) == len(table_list())
    for table in table_list():
        sheet = book[table.title[:31]]
        assert sheet.max_row == len(list(csv.reader(io.StringIO(table_csv(key=table.key)))))


def test_text_that_looks_like_a_formula_or_a_number_stays_text(filled):
    book = load_workbook(io.BytesIO(tables_xlsx(keys=["versions", "pantry-lot"])))
    title = book["Versions"]["C2"]
    assert (title.value, title.data_type) == ('=HYPERLINK("x")', "s")
    code = next(cell for cell in book["Pantry, lots"][2] if cell.value == "00123")
    assert code.data_type == "s"
    assert rows_of("versions")[0]["title"].startswith("'=")


def test_numbers_are_numbers(filled):
    book = load_workbook(io.BytesIO(tables_xlsx(keys=["lines"])))
    grams = [row[7].value for row in book["Ingredient lines"].iter_rows(min_row=2)]
    assert grams == [500, 4]


def test_statements_about_agents_name_their_sources(filled):
    rows = rows_of("agent-table")
    assert len(rows) > 100
    assert all(row["sources"] and row["grade"] for row in rows)


def test_an_unknown_table_is_told(filled):
    with pytest.raises(InputError, match="choose versions"):
        table_csv(key="secrets")


def test_prices_of_all_days_leave_with_the_moment_they_were_written_down():
    row = pantry.price_save(id=None, document=Price(material="sugar", price_per_kg=1.1))
    pantry.price_save(id=row, document=Price(material="sugar", pack_g=500, pack_price=0.75))
    first, second = rows_of("price-history")
    assert (first["name"], first["currency"], first["price_per_kg"]) == ("sugar", "USD", "1.1")
    assert (second["price_per_kg"], second["pack_g"]) == ("1.5", "500.0")
    assert first["recorded_at"] <= second["recorded_at"]
