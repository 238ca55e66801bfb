"""The pages that read, list, compare and scale versions."""

import datetime as dt
import re
import time

import pytest

from setwell.domain.formula import formula_make
from setwell.services import formulas
from setwell.web.marks import moment

pytestmark = pytest.mark.django_db


@pytest.fixture
def two(saved):
    """A formula with two versions."""
    one = saved()
    changed = formula_make(title="Milk blocks", ingredients="700 g whole milk\n7 g agar")
    formulas.formula_save(
        formula_id=one.formula_id, formula=changed, base_number=1, note="agar instead"
    )
    return f"/formulas/{one.formula_id}/"


@pytest.fixture
def zone(monkeypatch):
    def turn(name):
        monkeypatch.setenv("TZ", name)
        time.tzset()

    yield turn
    monkeypatch.undo()
    time.tzset()


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="this system has no time zone to turn")
@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("UTC0", "3 Jul 2026, 23:30"),
        # Summer time counts on the day that is shown, not today.
        ("EST5EDT,M3.2.0,M11.1.0", "3 Jul 2026, 19:30"), ("IST-5:30", "4 Jul 2026, 05:00"),
    ],
)  # fmt: skip
def test_a_moment_is_told_by_the_clock_of_the_kitchen(zone, name, shown):
    zone(name)
    assert moment(dt.datetime(2026, 7, 3, 23, 30, tzinfo=dt.UTC)) == shown


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="this system has no time zone to turn")
def test_the_history_shows_local_times(bench, two, zone):
    zone("XYZ-11")
    formula_id = int(two.strip("/").rpartition("/")[2])
    saved = formulas.version_get(formula_id=formula_id, number=1).summary.saved_at
    page = bench.get(f"{two}history/").content.decode()
    ahead = saved + dt.timedelta(hours=11)
    assert f">{ahead.day} {ahead:%b %Y, %H:%M}<" in page
    assert "UTC" not in page


def test_the_history_lists_every_version_with_its_note(bench, two):
    page = bench.get(f"{two}history/").content.decode()
    assert "Version 1" in page
    assert "agar instead" in page
    assert page.count('name="first"') == 2


def test_the_history_offers_the_newest_against_the_one_before_it(bench, two):
    third = formula_make(title="Milk blocks", ingredients="700 g whole milk\n8 g agar")
    formulas.formula_save(formula_id=int(two.split("/")[2]), formula=third, base_number=2)
    page = bench.get(f"{two}history/").content.decode()
    assert re.findall(r'name="(\w+)" value="(\d)" checked', page) == [
        ("second", "3"),
        ("first", "2"),
    ]


def test_the_history_needs_the_same_queries_for_many_versions(bench, two, query_counter):
    with query_counter() as few:
        bench.get(f"{two}history/")
    formula_id = int(two.split("/")[2])
    for number in range(3, 9):
        changed = formula_make(title="Milk blocks", ingredients=f"{number} g agar")
        formulas.formula_save(formula_id=formula_id, formula=changed, base_number=number - 1)
    with query_counter() as many:
        bench.get(f"{two}history/")
    assert len(many) == len(few)


def test_an_old_version_is_shown_and_cannot_be_changed(bench, two):
    page = bench.get(f"{two}versions/1/").content.decode()
    assert "kappa carrageenan" in page
    assert "cannot be changed" in page
    assert "formula-form" not in page
    assert 'name="line_text"' not in page


def test_a_version_that_is_not_there_is_not_found(bench, two):
    assert bench.get(f"{two}versions/9/").status_code == 404
    assert bench.get("/formulas/99/history/").status_code == 404


def test_comparing_shows_lines_and_values_side_by_side(bench, two):
    page = bench.get(f"{two}compare/", {"first": 1, "second": 2}).content.decode()
    assert "4 g kappa carrageenan" in page
    assert "7 g agar" in page
    assert 'class="change-changed"' in page
    assert "What was computed" in page


def test_a_change_below_the_digits_that_are_shown_is_not_marked(bench, two):
    finer = formula_make(title="Milk blocks", ingredients="700.01 g whole milk\n7 g agar")
    formulas.formula_save(formula_id=int(two.split("/")[2]), formula=finer, base_number=2)
    page = bench.get(f"{two}compare/", {"first": 2, "second": 3}).content.decode()
    computed = page[page.index("What was computed") :]
    assert 'class="change-hardly"' in computed
    assert 'class="change-changed"' not in computed


def test_comparing_asks_for_both_versions(bench, two):
    page = bench.get(f"{two}compare/", {"first": "x"}).content.decode()
    assert "Choose the second version." in page
    assert bench.get(f"{two}compare/").status_code == 200
    assert bench.get(f"{two}compare/", {"first": 1, "second": 9}).status_code == 404


def test_scaling_to_a_weight_shows_what_to_weigh(bench, two):
    query = {"target": "grams", "to_grams": "1414", "readability_g": "1"}
    page = bench.get(f"{two}scale/", query).content.decode()
    assert "1,400 g" in page
    assert "Dose change" in page
    assert "this scale weighs to 1 %" in page


@pytest.mark.parametrize(
    "query",
    [
        {"target": "portions", "portion_count": "40", "portion_g": "60"},
        {"target": "molds", "mold_count": "12", "mold_ml": "80", "readability_g": "0.01"},
    ],
)
def test_scaling_to_portions_and_molds(bench, two, query):
    page = bench.get(f"{two}scale/", query).content.decode()
    assert 'id="scaled-title"' in page


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ({"target": "grams"}, "Fill in “Finished batch, g”."),
        ({"target": "molds", "mold_count": "3"}, "Fill in “Volume of one, mL”."),
        ({"target": "grams", "to_grams": "-5"}, "-5 is not possible here"),
        ({"target": "grams", "to_grams": "9e6"}, "1000 kg"),
        ({"target": "moon", "to_grams": "5"}, "Select a valid choice"),
        ({"target": "grams", "to_grams": "5", "readability_g": "7"}, "Select a valid choice"),
    ],
)
def test_a_target_that_cannot_be_reached_is_explained(bench, two, query, said):
    answer = bench.get(f"{two}scale/", query)
    assert answer.status_code == 200
    assert said in answer.content.decode()


def test_live_scaling_gets_only_the_table(bench, two):
    query = {"target": "grams", "to_grams": "500"}
    answer = bench.get(f"{two}scale/", query, headers={"hx-request": "true"})
    assert b"<html" not in answer.content
    assert b"scaled-title" in answer.content


def test_a_formula_without_weights_cannot_be_scaled_and_says_so(bench, saved):
    one = saved(ingredients="some love")
    query = {"target": "grams", "to_grams": "500"}
    page = bench.get(f"/formulas/{one.formula_id}/scale/", query).content.decode()
    assert "Nothing in this formula has a weight yet" in page


def test_only_reading_is_answered(bench, two):
    for path in ("history/", "compare/", "versions/1/", "scale/", "card/"):
        assert bench.post(f"{two}{path}").status_code == 405
