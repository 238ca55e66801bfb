"""The formula as a document: what it takes, what it refuses, and its hash."""

import json

import jsonschema
import pytest

from setwell.domain.formula import (
    DOCUMENT_LIMIT,
    Diet,
    Formula,
    Goal,
    formula_from_json,
    formula_make,
    formula_schema,
)
from setwell.errors import DocumentError

CUP = formula_make(title="Cup", ingredients="100 g whole milk\n1 g agar", steps="Boil", portions=2)


def test_the_least_is_a_title():
    found = formula_make(title="Cup")
    assert (found.ingredients, found.steps, found.goal) == ("", "", Goal.UNSPECIFIED)


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"title": ""}, "title: "),
        ({"title": "   "}, "title: give the formula a name"),
        ({"title": "x" * 121}, "title: "),
        ({"title": "A", "portions": 0}, "portions: "),
        ({"title": "A", "evaporation_pct": 91}, "evaporation_pct: "),
        ({"title": "A", "evaporation_pct": float("nan")}, "evaporation_pct: "),
        ({"title": "A", "loss_pct": -1}, "loss_pct: "),
        ({"title": "A", "goal": "wobble"}, "goal: "),
        ({"title": "A", "diets": ["carnivore"]}, "diets.0: "),
        ({"title": "A", "molds": {"count": 0, "volume_ml": 5}}, "molds.count: "),
        ({"title": "A", "flavor": "sour"}, "flavor: "),
        ({"title": "A\x00"}, "NUL"),
        ({"title": "A\ud800"}, "half of a character|title"),
        ({"title": "A", "ingredients": "x" * 100_001}, "ingredients: "),
        ({}, "title: "),
    ],
)
def test_a_wrong_field_is_named(fields, message):
    with pytest.raises(DocumentError, match=message):
        formula_make(**fields)


def test_several_wrong_fields_are_counted():
    with pytest.raises(DocumentError, match=r"\(and 1 more\)") as caught:
        formula_make(title="A", portions=0, loss_pct=-3)
    assert caught.value.field == "portions"


def test_the_title_is_trimmed_and_the_rest_is_kept_to_the_letter():
    found = formula_make(title="  Two   words ", ingredients="  100 g  milk \n\n", notes=" x ")
    assert found.title == "Two words"
    assert found.ingredients == "  100 g  milk \n\n"
    assert found.notes == " x "


def test_diets_are_kept_once_each():
    found = formula_make(title="A", diets=["vegan", "no gluten", "vegan"])
    assert found.diets == (Diet.NO_GLUTEN, Diet.VEGAN)
    assert found.content_hash == formula_make(title="A", diets=["no gluten", "vegan"]).content_hash


def test_a_formula_cannot_be_changed_in_place():
    with pytest.raises(ValueError, match="frozen"):
        CUP.title = "Bowl"


def test_a_revision_is_checked_and_leaves_the_first_alone():
    later = CUP.revised(portions=5)
    assert (CUP.portions, later.portions) == (2, 5)
    assert later.content_hash != CUP.content_hash
    with pytest.raises(DocumentError, match="portions"):
        CUP.revised(portions=-1)


def test_json_round_trip():
    assert formula_from_json(CUP.canonical_json()) == CUP


def test_the_hash_does_not_see_key_order_or_blanks():
    turned = dict(reversed(json.loads(CUP.canonical_json()).items()))
    assert formula_from_json(json.dumps(turned, indent=4)).content_hash == CUP.content_hash


@pytest.mark.parametrize(
    ("one", "two"),
    [
        ("100 g milk\n1 g agar", "100 g milk\r\n1 g agar"),
        ("100 g milk\n1 g agar", "100 g milk\r1 g agar"),
        ("10 g crème", "10 g cre\u0300me"),
    ],
)
def test_the_hash_does_not_see_line_ends_or_composition(one, two):
    hashes = {formula_make(title="A", ingredients=text).content_hash for text in (one, two)}
    assert len(hashes) == 1


@pytest.mark.parametrize(
    "change",
    [
        {"title": "Cups"},
        {"ingredients": "100 g whole milk\n2 g agar"},
        {"steps": "Boil."},
        {"goal": "slice"},
        {"loss_pct": 1.0},
        {"serving_temperature_c": 5.0},
        {"parts": {"Base": "0" * 64}},
    ],
)
def test_the_hash_sees_every_change(change):
    assert CUP.revised(**change).content_hash != CUP.content_hash


def test_the_hash_of_a_known_formula_is_pinned():
    # Pinned, not a reference: a change here breaks every stored version.
    assert formula_make(title="Cup", ingredients="1 g salt").content_hash == (
        "98147c0b06889928dd79ec78c1a19e036ffd89e11866a5b60c60be619da01180"
    )


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("{", "not valid JSON"),
        ("", "not valid JSON"),
        ("[" * 100_000, "not valid JSON"),
        ("[]", '"format" should be "setwell-formula"'),
        ('{"format": "soup"}', "schema.org Recipe"),
        ('{"format": "setwell-formula", "format_version": 2}', "format version 2"),
        ('{"format": "setwell-formula"}', "format version None"),
        ('{"format": "setwell-formula", "format_version": 1}', "title"),
        (
            '{"format": "setwell-formula", "format_version": 1, "title": "A", "portions": NaN}',
            "portions",
        ),
        ("x" * (DOCUMENT_LIMIT + 1), "Is this the right file"),
    ],
)
def test_a_file_that_is_no_formula_says_why(text, message):
    with pytest.raises(DocumentError, match=message):
        formula_from_json(text)


def test_the_schema_accepts_what_is_written_and_refuses_what_is_not():
    schema = formula_schema()
    jsonschema.validate(json.loads(CUP.canonical_json()), schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"title": "A", "flavor": "sour"}, schema)


@pytest.mark.parametrize(
    ("goal", "wants"), [(goal, goal in {Goal.SLICE, Goal.SPOON}) for goal in Goal]
)
def test_goals_that_need_a_gel(goal, wants):
    assert goal.wants_gel is wants
    assert Formula(title="A", goal=goal).goal is goal
