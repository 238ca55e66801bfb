"""The brief as a document: what it takes, what it refuses, and what its JSON keeps."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setwell.domain.brief import (
    DOCUMENT_LIMIT,
    Brief,
    Clarity,
    Helper,
    Market,
    Mouth,
    Plating,
    brief_from_json,
    brief_make,
)
from setwell.domain.formula import Diet
from setwell.errors import DocumentError

FULL = {
    "title": "Plum slice",
    "composition": {"name": "plum", "sugar_g": 12, "ph": 3.4},
    "texture": {"word": "short", "modulus_low": 2, "modulus_high": 9, "sets": True},
    "clarity": "clear",
    "serving_c": 8,
    "mouth": "melts",
    "is_frozen": True,
    "plating": "unmolds",
    "diets": ["vegan"],
    "without_allergens": ["milk"],
    "market": "eu",
    "limits": {"max_temperature_c": 70, "has_blender": False, "set_within_h": 2},
    "shelf": ["agar"],
    "helpers": ["calcium lactate"],
    "agents_most": 1,
    "portion_g": 80,
    "cost_most": 0.2,
}


def test_a_brief_with_a_name_alone_asks_for_nothing():
    brief = brief_make(title="Anything")
    assert (brief.clarity, brief.mouth, brief.plating) == (Clarity.ANY, Mouth.ANY, Plating.ANY)
    assert (brief.market, brief.shelf, brief.helpers) == (Market.ANY, (), tuple(Helper))
    assert brief.limits.max_temperature_c == 100.0


def test_a_brief_from_before_particles_could_be_asked_for_is_the_same_word_for_word():
    old, asks = brief_make(**FULL), brief_make(**FULL, keeps_afloat=True)
    assert not old.keeps_afloat
    assert "keeps_afloat" not in old.canonical_json()
    assert brief_from_json(asks.canonical_json()).keeps_afloat
    assert brief_make(**FULL, keeps_afloat=False).content_hash == old.content_hash
    assert asks.content_hash != old.content_hash
    # The hash under which such briefs stand in kitchens.
    anything = "f170038539eb6cf6a9339a3da2b0a54a86fcca6df78c96cd94ba767cdbbec204"
    assert brief_make(title="Anything").content_hash == anything


def test_whether_particles_stay_up_is_yes_or_no():
    with pytest.raises(DocumentError) as told:
        brief_make(title="Cup", keeps_afloat="cocoa")
    assert told.value.field == "keeps_afloat"


def test_a_full_brief_comes_back_from_its_own_json():
    brief = brief_make(**FULL)
    again = brief_from_json(brief.canonical_json())
    assert again == brief
    assert again.content_hash == brief.content_hash
    assert again.diets == (Diet.VEGAN,)


@given(
    low=st.floats(min_value=1e-6, max_value=1e7),
    serving=st.floats(min_value=-5, max_value=120),
    title=st.text(st.characters(exclude_characters="\x00", codec="utf-8"), min_size=1, max_size=60),
)
def test_any_brief_comes_back_from_its_own_json(low, serving, title):
    brief = Brief.model_validate(
        {"title": title, "serving_c": serving, "texture": {"stress_low": low}}
    )
    assert brief_from_json(brief.canonical_json()) == brief


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        ({"title": ""}, "title"),
        ({"title": "a\x00b"}, "title"),
        ({"title": "x" * 121}, "title"),
        ({"base": "y" * 20_001}, "base"),
        ({"serving_c": float("inf")}, "serving_c"),
        ({"serving_c": 300}, "serving_c"),
        ({"clarity": "milky"}, "clarity"),
        ({"diets": ["paleo"]}, "diets"),
        ({"agents_most": 4}, "agents_most"),
        ({"portion_g": 0}, "portion_g"),
        ({"cost_most": -1}, "cost_most"),
        ({"shelf": ["agar"] * 61}, "shelf"),
        ({"helpers": ["borax"]}, "helpers"),
        ({"color": "red"}, "color"),
        ({"format": "setwell-formula"}, "format"),
        ({"format_version": 2}, "format_version"),
        ({"texture": {"modulus_low": -1}}, "texture.modulus_low"),
        ({"texture": {"like_number": 0}}, "texture.like_number"),
        ({"composition": {"ph": 15}}, "composition.ph"),
        ({"limits": {"set_within_h": 0}}, "limits.set_within_h"),
    ],
)
def test_what_cannot_be_is_refused_with_its_place(fields, where):
    with pytest.raises(DocumentError) as refused:
        brief_make(**{"title": "Plum slice", **fields})
    assert refused.value.message.startswith(f"{where}")
    assert refused.value.field == where


@pytest.mark.parametrize(
    "both",
    [
        {"base": "500 g water", "base_formula": "Plum"},
        {"base": "500 g water", "composition": {}},
        {"base_formula": "Plum", "composition": {}},
    ],
)
def test_a_base_is_told_once(both):
    with pytest.raises(DocumentError, match="give the base once"):
        brief_make(title="Plum slice", **both)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "not JSON"),
        ("[]", "list or a single value"),
        ('{"title": "a", "serving_c": 1e999}', "serving_c"),
        ("x" * (DOCUMENT_LIMIT + 1), "at most 200,000"),
        (json.dumps({"format": "setwell-brief"}), "title"),
    ],
)
def test_what_is_no_brief_is_refused_in_words(text, said):
    with pytest.raises(DocumentError, match=said):
        brief_from_json(text)


@pytest.mark.parametrize(
    ("fields", "place"),
    [
        ({"texture": {"modulus_low": -1}}, "texture.modulus_low"),
        ({"limits": {"max_temperature_c": "warm"}}, "limits.max_temperature_c"),
        ({"composition": {"ph": 99}}, "composition.ph"),
        ({"shelf": ["agar", ""]}, "shelf"),
        ({"agents_most": 9}, "agents_most"),
    ],
)
def test_a_problem_is_told_at_its_whole_dotted_field(fields, place):
    with pytest.raises(DocumentError) as told:
        brief_make(title="Plum slice", **fields)
    assert told.value.field == place
    body = json.dumps({"title": "Plum slice", **fields})
    with pytest.raises(DocumentError) as told:
        brief_from_json(body)
    assert told.value.field == place


@pytest.mark.parametrize(
    "deep", ["[" * 90_000 + "]" * 90_000, '{"a":' * 30_000 + "1" + "}" * 30_000]
)
def test_a_json_that_nests_without_end_is_refused_in_words(deep):
    with pytest.raises(DocumentError, match="nested too deeply"):
        brief_from_json('{"title": "x", "note": ' + deep + "}")


def test_a_number_too_long_to_read_is_refused_in_words():
    with pytest.raises(DocumentError, match="not JSON"):
        brief_from_json('{"title": "x", "portion_g": ' + "9" * 5_000 + "}")
