"""Texture readings and lot checks as documents: what they repeat to, what cannot be."""

import datetime as dt

import pytest
from pydantic import ValidationError

from setwell.domain.document import document_error
from setwell.domain.texture_reading import LotCheck, LotTest, TextureKind, TextureReading

PENETRATION = {"kind": "penetration", "value": 300}


@pytest.mark.parametrize(
    ("fields", "field", "words"),
    [
        ({"kind": "firmness"}, "kind", "setting_temperature"),
        ({"kind": "penetration"}, "value", "give the reading in g"),
        ({"kind": "penetration", "value": 0}, "value", "record that it did not set"),
        ({"kind": "penetration", "value": -5}, "value", "set the scale to zero"),
        ({"kind": "penetration", "value": 5000}, "value", "5000 g on a plunger of 12.7 mm"),
        ({"kind": "penetration", "value": float("nan")}, "value", "finite"),
        ({"kind": "firmness_press", "value": 90}, "depth_mm", "4 mm is usual"),
        ({"kind": "firmness_press", "value": 90, "depth_mm": 14}, "depth_mm", "press less deep"),
        ({"kind": "setting_temperature", "value": 150}, "value", "150 °C: nothing sets there"),
        ({"kind": "melting_temperature", "value": -20}, "value", "nothing melts there"),
        ({"kind": "viscosity", "value": 200}, "shear_rate_per_s", "cannot be compared"),
        (
            {"kind": "viscosity", "value": 200, "shear_rate_per_s": 50},
            "shear_rate_per_s",
            "temperature of the sample",
        ),
        (
            {"kind": "viscosity", "value": 0.01, "shear_rate_per_s": 50, "temperature_c": 20},
            "value",
            "1 cp is 1 mpa·s",
        ),
        ({"kind": "outcome"}, "outcome", "say what happened"),
        ({"kind": "word", "word": "  "}, "word", "choose the word"),
        ({**PENETRATION, "plus_minus": 0}, "plus_minus", "greater"),
        ({**PENETRATION, "plunger_mm": 0.5}, "plunger_mm", "greater"),
    ],
)
def test_an_impossible_reading_names_its_field_and_what_to_do(fields, field, words):
    with pytest.raises(ValidationError) as caught:
        TextureReading.model_validate(fields)
    error = document_error(caught.value)
    assert error.field == field
    assert words in str(error).lower() or words in str(error)


def test_a_wide_plunger_carries_more():
    assert TextureReading(kind="penetration", value=5000, plunger_mm=30).value == 5000


@pytest.mark.parametrize(
    ("fields", "doubt"),
    [
        (PENETRATION, 20.0),
        ({**PENETRATION, "plus_minus": 8}, 8.0),
        ({"kind": "setting_temperature", "value": 38}, 2.0),
        ({"kind": "melting_temperature", "value": 60, "plus_minus": 0.5}, 0.5),
        ({"kind": "viscosity", "value": 90, "shear_rate_per_s": 50, "temperature_c": 20}, 20.0),
    ],
)
def test_a_reading_repeats_as_stated_or_as_its_tool_usually_does(fields, doubt):
    assert TextureReading.model_validate(fields).doubt == doubt


def test_a_reading_reads_back_from_its_json():
    reading = TextureReading(
        kind="penetration", value=310, plunger_mm=10, depth_mm=7, plus_minus=12,
        taken_on=dt.date(2026, 11, 20), temperature_c=8, hours=18, taken_by="Ana",
        lots={"kappa_carrageenan": "K-1"}, note="middle of the cup",
    )  # fmt: skip
    assert TextureReading.model_validate_json(reading.canonical_json()) == reading


def test_every_kind_has_a_unit_or_needs_none():
    without = {kind for kind in TextureKind if not kind.unit}
    assert without == {TextureKind.OUTCOME, TextureKind.WORD}


@pytest.mark.parametrize(
    ("fields", "field", "words"),
    [
        ({"kind": "potassium_gel"}, "values", "did not set"),
        ({"kind": "powder_control"}, "values", "control cup"),
        ({"kind": "potassium_gel", "values": (400, 0)}, "values", "the plunger met nothing"),
        ({"kind": "potassium_gel", "values": (4000,)}, "values", "11.28 mm"),
        ({"kind": "water_viscosity", "values": (90,)}, "shear_rate_per_s", "shear rate"),
        ({"kind": "bloom", "values": (200,), "dose_pct": 60}, "dose_pct", "less"),
        ({"kind": "bloom", "values": (200,), "color": "pink"}, "color", "brown"),
        ({"kind": "bloom", "values": tuple(range(1, 14))}, "values", "12"),
    ],
)
def test_an_impossible_check_names_its_field(fields, field, words):
    with pytest.raises(ValidationError) as caught:
        LotCheck.model_validate({"agent": "kappa", **fields})
    error = document_error(caught.value)
    assert error.field == field
    assert words in str(error)


def test_repeats_of_a_check_are_one_by_their_geometric_mean():
    check = LotCheck(agent="kappa", kind=LotTest.POTASSIUM_GEL, values=(400, 900))
    assert check.value == pytest.approx(600)
    assert LotCheck(agent="kappa", kind=LotTest.POTASSIUM_GEL, values=(420,)).value == 420
    assert LotCheck(agent="kappa", kind=LotTest.POTASSIUM_GEL, outcome="did_not_set").value is None


def test_tests_bring_their_own_plunger_and_depth():
    potassium = LotCheck(agent="kappa", kind=LotTest.POTASSIUM_GEL, values=(400,))
    bloom = LotCheck(agent="gelatin", kind=LotTest.BLOOM, values=(220,))
    assert (potassium.plunger, bloom.plunger, bloom.depth) == (11.28, 12.7, 4.0)
    assert LotCheck(agent="gelatin", kind="bloom", values=(220,), plunger_mm=10).plunger == 10
