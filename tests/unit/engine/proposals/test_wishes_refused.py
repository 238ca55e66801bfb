"""Wishes that contradict each other are told at the field to change."""

import pytest

from setwell.errors import InputError, UnknownNameError
from tests.builders_wishes import wishes_from

CONTRADICTIONS = [
    ({}, "texture"),
    ({"clarity": "clear"}, "texture"),
    ({"texture": {"modulus_low": 5.0, "modulus_high": 2.0}}, "texture.modulus_low"),
    ({"texture": {"strain_low": 2.0, "strain_high": 1.0}}, "texture.strain_low"),
    ({"texture": {"word": "soft", "modulus_low": 3.0}}, "texture.modulus_low"),
    ({"texture": {"word": "elastic", "strain_high": 0.5}}, "texture.strain_high"),
    ({"texture": {"word": "coating", "sets": True}}, "texture.word"),
    ({"texture": {"word": "elastic", "sets": False}}, "texture.word"),
    ({"texture": {"sets": False, "stress_low": 3.0}}, "texture.stress_low"),
    ({"texture": {"sets": False, "modulus_low": 3.0}}, "texture.modulus_low"),
    ({"texture": {"like": "Cup of last week"}}, "texture.like"),
    ({"texture": {"word": "coating"}, "plating": "unmolds"}, "plating"),
    ({"texture": {"word": "elastic"}, "plating": "pours"}, "plating"),
    ({"texture": {"word": "weak"}, "plating": "unmolds"}, "plating"),
    ({"texture": {"modulus_low": 10.0}, "plating": "spoons"}, "plating"),
    ({"texture": {"word": "soft"}, "mouth": "melts", "holds_c": 45.0}, "mouth"),
    ({"texture": {"word": "soft"}, "mouth": "melts", "serving_c": 50.0}, "mouth"),
    ({"texture": {"word": "soft"}, "serving_c": 60.0, "holds_c": 50.0}, "holds_c"),
    ({"texture": {"word": "coating"}, "holds_c": 50.0}, "holds_c"),
    ({"texture": {"word": "coating"}, "mouth": "holds"}, "mouth"),
    ({"texture": {"word": "coating"}, "limits": {"set_within_h": 2.0}}, "limits.set_within_h"),
    ({"texture": {"word": "soft"}, "serving_c": 70.0, "limits": {"max_temperature_c": 60.0}},
     "limits.max_temperature_c"),
]  # fmt: skip


@pytest.mark.parametrize(("fields", "field"), CONTRADICTIONS)
def test_a_contradiction_is_told_at_its_field(fields, field):
    with pytest.raises(InputError) as told:
        wishes_from(**fields)
    assert told.value.field == field
    assert told.value.hint


def test_an_unknown_word_comes_with_the_nearest():
    with pytest.raises(UnknownNameError) as told:
        wishes_from(texture={"word": "elstic"})
    assert told.value.field == "texture.word"
    assert told.value.nearest == ("elastic",)


def test_a_word_like_no_other_comes_with_all():
    with pytest.raises(UnknownNameError, match="brittle, elastic"):
        wishes_from(texture={"word": "qqq"})
