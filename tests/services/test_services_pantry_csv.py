"""The pantry as CSV files: what spreadsheets write, and what is wrong with a file."""

import datetime as dt

import pytest
from builders_kitchen import food_of, lot_of

from setwell.domain.pantry import Mold, Price
from setwell.errors import InputError
from setwell.services import pantry
from setwell.services.csv_text import ROWS_LIMIT, SIZE_LIMIT
from setwell.services.pantry import pantry_export_csv, pantry_import_csv

pytestmark = pytest.mark.django_db

MOLDS = "name,shape,volume_ml,count,note\nFrame,block,900,2,\nCoupe,glass,120.5,24,for tastings\n"


def imported(text: str | bytes, entity: str = "mold") -> pantry.ImportReport:
    data = text.encode() if isinstance(text, str) else text
    return pantry_import_csv(entity=entity, data=data)


def molds() -> list[Mold]:
    return [row.mold for row in pantry.mold_list()]


BOTH = [
    Mold(name="Coupe", shape="glass", volume_ml=120.5, count=24, note="for tastings"),
    Mold(name="Frame", shape="block", volume_ml=900, count=2),
]


def test_a_file_adds_what_is_new_and_updates_what_is_there() -> None:
    pantry.mold_save(id=None, document=Mold(name="FRAME", volume_ml=1))
    report = imported(MOLDS)
    assert (report.added, report.updated, report.problems, report.notes) == (1, 1, (), ())
    assert molds() == BOTH


@pytest.mark.parametrize(
    "data",
    [
        b"\xef\xbb\xbf" + MOLDS.encode(),
        MOLDS.encode("utf-16"),
        b"\xfe\xff" + MOLDS.encode("utf-16-be"),
        MOLDS.replace("\n", "\r\n").encode(),
        MOLDS.replace(",", ";").encode(),
        MOLDS.replace(",", ";").replace("120.5", "120,5").encode(),
        MOLDS.replace("\n", "\n\n").encode(),
        MOLDS.replace("name", " NAME ").encode(),
        ("\n".join(f'"{line}"'.replace(",", '","') for line in MOLDS.splitlines())).encode(),
    ],
    ids=["BOM", "UTF-16", "UTF-16 BE", "CRLF", "semicolon", "decimal comma", "blank lines",
         "heading in capitals", "quoted"],
)  # fmt: skip
def test_a_file_is_read_as_spreadsheets_write_it(data: bytes) -> None:
    assert imported(data).problems == ()
    assert molds() == BOTH


def test_an_old_encoding_is_read_with_a_note() -> None:
    report = imported("name,volume_ml\nTerrine brûlée,800\n".encode("cp1252"))
    assert report.problems == ()
    assert "Windows-1252" in report.notes[0]
    assert molds()[0].name == "Terrine brûlée"


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("", "The file is empty."),
        ("count,volume_ml\n2,30\n", "Row 1: the column “name” is missing."),
        ("name,count\nA,2\n", "Row 2, column volume_ml: is empty; it needs a value."),
        (
            "name,shape,diameter_mm\nA,cup,70\n",
            "Row 2, column volume_ml: is empty; it needs a value.",
        ),
        ("name,volume_ml,color\nA,2,red\n", "Row 1: there is no column “color” for a mold."),
        ("name,volume_ml,name\nA,2,B\n", "Row 1: the column “name” is there twice."),
        ("name,volume_ml\nA,big\n", "Row 2, column volume_ml: “big” is not a number."),
        ("name,volume_ml\nA,\n", "Row 2, column volume_ml: is empty; it needs a value."),
        ("name,volume_ml\n,5\n", "Row 2, column name: is empty; it needs a value."),
        ("name,volume_ml\nA,-5\n", "Row 2, column volume_ml: Input should be greater than 0."),
        ("name,volume_ml\nA,nan\n", "Row 2, column volume_ml: “nan” is not a number."),
        ("name,volume_ml\nA,1_000\n", "Row 2, column volume_ml: “1_000” is not a number."),
        ("name,volume_ml\nA,٣\n", "Row 2, column volume_ml: “٣” is not a number."),
        ('name,volume_ml\nA,"1,5"\n', "Write a decimal point, not a comma"),
        ("name,volume_ml,count\nA,5,2.5\n", "Row 2, column count: “2.5” is not a whole number."),
        ("name,volume_ml\nA,5\na ,6\n", "Row 3, “a” is already in row 2."),
        ("name,volume_ml\nA,5,6\n", "Row 2, after the last column: “6” belongs to no column."),
        ('name,volume_ml\n"A,5\n', "opened and not closed"),
        ("name,volume_ml\nA\x00,5\n", "characters that no text has"),
        ("name,volume_ml\n***,5\n", "Row 2, column name: “***” has no letter or digit"),
    ],
)
def test_a_problem_names_row_and_column_and_changes_nothing(text: str, problem: str) -> None:
    good_first = text.replace("\n", "\n", 1)
    report = imported(good_first)
    assert any(problem in one for one in report.problems), report.problems
    assert (report.added, report.updated) == (0, 0)
    assert molds() == []


def test_one_bad_row_keeps_the_good_ones_out_too() -> None:
    report = imported(MOLDS + "Cup,,huge,,\nTray,,wide,,\n")
    assert [problem[:5] for problem in report.problems] == ["Row 4", "Row 5"]
    assert molds() == []


def test_rows_keep_the_numbers_a_spreadsheet_shows() -> None:
    report = imported('name,volume_ml,note\nA,5,"two\nlines"\n\nB,x,\n')
    assert report.problems[0].startswith("Row 4, column volume_ml")


def test_a_file_full_of_problems_stops_complaining() -> None:
    report = imported("name,volume_ml\n" + "".join(f"m{n},x\n" for n in range(200)))
    assert len(report.problems) == 51
    assert report.problems[-1] == "There are more problems; correct these first."


def test_files_beyond_the_limits_are_refused() -> None:
    too_big = imported(b"name,volume_ml\n" + b" " * SIZE_LIMIT)
    assert "5.0 MB; at most 5 MB fit" in too_big.problems[0]
    rows = "".join(f"m{n},5\n" for n in range(ROWS_LIMIT + 1))
    assert "20,001 rows; at most 20,000" in imported(f"name,volume_ml\n{rows}").problems[0]


def test_a_long_file_goes_in_with_few_queries(query_counter) -> None:
    rows = "".join(f"m{n},5\n" for n in range(2_000))
    with query_counter() as queries:
        assert imported(f"name,volume_ml\n{rows}").added == 2_000
    assert len(queries) < 30


def test_an_unknown_shelf_names_the_known_ones() -> None:
    with pytest.raises(InputError, match="choose food, agent, lot, price, mold, vessel"):
        pantry_export_csv(entity="spice rack")


def test_a_column_left_out_stays_and_an_empty_cell_clears() -> None:
    pantry.food_save(
        id=None, document=food_of("Must", price_per_kg=2.0, note="ripe", allergens=("celery",))
    )
    assert imported("name,price_per_kg,note\nmust,3.5,\n", "food").problems == ()
    food = pantry.food_list()[0].food
    assert (food.price_per_kg, food.note) == (3.5, "")
    assert food.nutrients == {"sugars_g": 11.0, "water_g": 86.0}
    assert food.allergens == ("celery",)


def test_an_empty_nutrient_becomes_unknown() -> None:
    pantry.food_save(id=None, document=food_of("Must"))
    imported("name,sugars_g,fat_g\nMust,,0\n", "food")
    assert pantry.food_list()[0].food.nutrients == {"fat_g": 0.0, "water_g": 86.0}


def test_no_allergens_and_allergens_not_said_are_told_apart() -> None:
    report = imported("name,allergens\nA,none\nB,\nC,celery; mustard\n", "food")
    assert report.problems == ()
    allergens = {row.food.name: row.food.allergens for row in pantry.food_list()}
    assert allergens == {"A": (), "B": None, "C": ("celery", "mustard")}


def test_values_of_a_food_are_checked_as_in_the_form() -> None:
    text = "name,based_on,water_g,ph,vegan\nA,no_food,,,\nB,,101,,\nC,,,15,\nD,,,,perhaps\n"
    problems = imported(text, "food").problems
    assert len(problems) == 4
    assert "Row 2, column based_on: “no_food” is not the key" in problems[0]
    assert "Row 3, column nutrients: water_g is 101 g in 100 g of food" in problems[1]
    assert "Row 4, column ph: Input should be less than or equal to 14" in problems[2]
    assert "Row 5, column vegan: Input should be 'yes', 'no' or 'check'" in problems[3]


def test_lots_are_read_with_days_and_yes_or_no() -> None:
    text = "agent,lot_code,best_before,in_use\nagar,A1,2027-03-31,Yes\ngelatin,G1,,no\n"
    assert imported(text, "lot").problems == ()
    lots = {row.lot.lot_code: row.lot for row in pantry.lot_list()}
    assert lots["A1"].best_before == dt.date(2027, 3, 31)
    assert lots["A1"].in_use
    assert not lots["G1"].in_use


def test_days_and_answers_that_cannot_be_read_say_how_to_write_them() -> None:
    text = "agent,lot_code,best_before,in_use\nagar,A1,31.3.2027,\nagar,A2,,maybe\n"
    problems = imported(text, "lot").problems
    assert "Write it as year-month-day, such as 2027-03-31" in problems[0]
    assert "“maybe” is neither yes nor no" in problems[1]


def test_two_lots_in_use_of_one_agent_are_a_problem() -> None:
    text = "agent,lot_code,in_use\nkappa carrageenan,A,yes\nkappa,B,yes\n"
    assert "the lot in row 2 of the same agent is in use too" in imported(text, "lot").problems[0]


def test_an_imported_lot_in_use_relieves_the_one_before() -> None:
    pantry.lot_save(id=None, document=lot_of("OLD", in_use=True))
    imported("agent,lot_code,in_use\nkappa carrageenan,NEW,yes\n", "lot")
    in_use = [row.lot.lot_code for row in pantry.lot_list() if row.lot.in_use]
    assert in_use == ["NEW"]


@pytest.mark.parametrize("text", ["=1+1", "+SUM(A1)", "-x", "@cmd", "'=quoted", "\tindented"])
def test_text_that_a_spreadsheet_would_run_is_made_harmless_and_comes_back(text: str) -> None:
    pantry.mold_save(id=None, document=Mold(name="Cup", volume_ml=5, note=text))
    exported = pantry_export_csv(entity="mold")
    cell = exported.splitlines()[1].split(",")[-1].strip('"')
    assert cell.startswith("'")
    imported(exported)
    assert molds()[0].note == text


def test_a_guard_typed_by_a_spreadsheet_user_is_taken_off() -> None:
    imported("name,volume_ml,note\nCup,5,'=1+1\nTub,6,'tis fine\n")
    assert [mold.note for mold in molds()] == ["=1+1", "'tis fine"]


def test_what_is_computed_follows_an_import() -> None:
    pantry.price_save(id=None, document=Price(material="sugar", price_per_kg=1.0))
    report = imported("material,price_per_kg\nSUGAR,2.5\nwhole milk,1.2\n", "price")
    assert (report.added, report.updated) == (1, 1)
    assert sorted(price.price_per_kg for price in pantry.pantry_get().prices) == [1.2, 2.5]
