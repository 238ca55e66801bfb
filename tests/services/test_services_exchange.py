"""Formulas in and out: JSON, plain text, and recipes from web pages."""

import json

import pytest
from builders_kitchen import formula_of
from hypothesis import given
from hypothesis import strategies as st

from setwell.domain.formula import Diet, Formula, Goal, MoldPlan
from setwell.errors import DocumentError, InputError
from setwell.services.exchange import (
    SIZE_LIMIT,
    formula_export_json,
    formula_export_text,
    formula_import,
    formula_schema_json,
)

FULL = formula_of(
    "Bay slice",
    goal=Goal.SLICE,
    diets=(Diet.VEGETARIAN, Diet.NO_ALCOHOL),
    portions=12,
    molds=MoldPlan(count=2, volume_ml=450.5),
    evaporation_pct=2.5,
    loss_pct=3,
    serving_temperature_c=6,
    notes="First line.\n\nThird line.",
    parts={"Bay syrup": "a" * 64},
)


def test_json_comes_back_with_its_hash() -> None:
    back = formula_import(text=formula_export_json(formula=FULL))
    assert back == FULL
    assert back.content_hash == FULL.content_hash


def test_a_byte_order_mark_and_space_around_do_no_harm() -> None:
    assert formula_import(text="\ufeff\n " + formula_export_json(formula=FULL) + "\n") == FULL


def test_plain_text_is_for_people() -> None:
    assert formula_export_text(formula=FULL).splitlines()[:9] == [
        "Bay slice",
        "goal: slice",
        "diets: no alcohol, vegetarian",
        "portions: 12",
        "molds: 2 x 450.5 mL",
        "evaporation: 2.5 %",
        "loss: 3 %",
        "serve: 6 °C",
        "notes: First line. ¶  ¶ Third line.",
    ]


def test_plain_text_comes_back_without_the_pins() -> None:
    back = formula_import(text=formula_export_text(formula=FULL))
    unpinned = FULL.revised(
        parts={}, ingredients=FULL.ingredients.strip(), steps=FULL.steps.strip()
    )
    assert back == unpinned


WORDS = st.text(st.sampled_from("abc é°%½ 123.,-()"), min_size=1, max_size=12).filter(
    lambda text: any(letter in "abc" for letter in text)
)
LINES = st.lists(WORDS | st.just(""), max_size=5).map("\n".join)


@given(
    ingredients=LINES,
    steps=LINES,
    notes=LINES,
    goal=st.sampled_from(Goal),
    diets=st.sets(st.sampled_from(Diet)).map(tuple),
    portions=st.none() | st.integers(1, 100_000),
    molds=st.none()
    | st.builds(MoldPlan, count=st.integers(1, 10_000), volume_ml=st.floats(0.5, 99_000)),
    evaporation_pct=st.floats(0, 90).map(lambda value: round(value, 3)),
    serving_temperature_c=st.none() | st.floats(-40, 120).map(lambda value: round(value, 2)),
)
def test_plain_text_keeps_what_was_written(**fields: object) -> None:
    formula = formula_of("Any gel", **fields)
    back = formula_import(text=formula_export_text(formula=formula))
    assert [line.rstrip() for line in back.ingredients.split("\n")] == _outer(formula.ingredients)
    assert [line.rstrip() for line in back.steps.split("\n")] == _outer(formula.steps)
    assert back.notes.split() == formula.notes.split()
    for field in ("goal", "diets", "portions", "evaporation_pct"):
        assert getattr(back, field) == getattr(formula, field)
    if formula.molds:
        assert back.molds.volume_ml == pytest.approx(formula.molds.volume_ml, rel=1e-7)
    if formula.serving_temperature_c is not None:
        celsius = formula.serving_temperature_c
        assert back.serving_temperature_c == pytest.approx(celsius, abs=1e-9)


def _outer(text: str) -> list[str]:
    lines = [line.rstrip() for line in text.split("\n")]
    while lines and not lines[0]:
        lines.pop(0)
    while lines and not lines[-1]:
        lines.pop()
    return lines or [""]


@pytest.mark.parametrize(
    ("line", "field", "message"),
    [
        ("goal: wobble", "goal", "this is not a goal. Write one of unspecified, slice"),
        ("diets: vegan, paleo", "diets", "this is not a diet. Write one or more of vegan"),
        ("portions: 2.5", "portions", "portions come in whole numbers"),
        ("portions: 0", "portions", "greater than or equal to 1"),
        ("molds: many", "molds", "does not say how many molds"),
        ("molds: 0 x 80 mL", "molds", "outside 1 to 10,000 molds"),
        ("evaporation: lots", "evaporation_pct", "lots"),
        ("loss: 95 %", "loss_pct", "less than or equal to 90"),
        ("serve: warm", "serving_temperature_c", "is not a temperature"),
    ],
)
def test_a_header_line_that_cannot_be_read_says_so(line: str, field: str, message: str) -> None:
    with pytest.raises(InputError, match=message.replace("(", r"\(")) as caught:
        formula_import(text=f"Gel\n{line}\n\n500 g milk\n")
    assert caught.value.field == field


def test_fahrenheit_in_the_header_is_converted() -> None:
    formula = formula_import(text="Gel\nserve: 41 °F\nmolds: 4 x 1 cup\n\n500 g milk\n")
    assert formula.serving_temperature_c == pytest.approx(5.0)
    assert formula.molds.volume_ml == pytest.approx(236.588, abs=0.001)


def test_a_text_that_cannot_be_printed_points_to_json() -> None:
    formula = formula_of(ingredients="1 g salt\nMethod:\n2 g sugar\n")
    with pytest.raises(DocumentError, match="Or export it as JSON"):
        formula_export_text(formula=formula)


@pytest.mark.parametrize(
    ("text", "filename", "message"),
    [
        ("", "", "nothing in it"),
        ("  \n ", "", "nothing in it"),
        ("{", "", "not valid JSON"),
        ("[" * 100_000, "", "not valid JSON"),
        ("[" + "1" * 5_000 + "]", "", "not valid JSON"),
        ("{}", "", "neither a Setwell formula .* nor a schema.org Recipe"),
        ("[1, 2]", "", "neither a Setwell formula"),
        ('{"format": "setwell-formula", "format_version": 9}', "", "format version 9"),
        ('{"format": "setwell-formula", "format_version": 1}', "", "title: Field required"),
        ("hello", "card.json", "does not start as JSON"),
        ("<!doctype html><html><body>hi</body></html>", "", "no schema.org Recipe"),
        ("x" * (SIZE_LIMIT + 1), "", "3,000,001 characters; at most 3,000,000"),
    ],
)
def test_what_is_no_formula_is_refused_with_what_was_expected(
    text: str, filename: str, message: str
) -> None:
    with pytest.raises(DocumentError, match=message):
        formula_import(text=text, filename=filename)


def test_an_unknown_field_is_refused_rather_than_dropped() -> None:
    raw = json.loads(formula_export_json(formula=FULL)) | {"flavor": "bay"}
    with pytest.raises(DocumentError, match="flavor"):
        formula_import(text=json.dumps(raw))


@pytest.mark.parametrize("field", ["title", "notes", "ingredients", "steps"])
def test_half_a_character_is_refused(field: str) -> None:
    raw = json.loads(formula_export_json(formula=FULL)) | {field: "\ud800"}
    with pytest.raises(DocumentError, match="unicode"):
        formula_import(text=json.dumps(raw))


def test_the_schema_describes_the_document() -> None:
    schema = json.loads(formula_schema_json())
    assert set(schema["properties"]) == set(Formula.model_fields)


@given(st.text(max_size=300))
def test_any_text_gives_a_formula_or_a_plain_sentence(text: str) -> None:
    said = ""
    try:
        said = formula_import(text=text, filename="pasted.txt").title
    except InputError as error:
        said = str(error)
    assert said.strip()
