"""pH readings as documents, and several of them as one."""

import datetime as dt

import pytest
from pydantic import ValidationError

from setwell.domain.document import document_error
from setwell.domain.pantry import Kitchen, WaterHardness
from setwell.domain.reading import IngredientReading, VersionReading, readings_mean

DAY = dt.date(2026, 11, 20)


@pytest.mark.parametrize(
    ("make", "fields", "field"),
    [
        (VersionReading, {}, "ph"),
        (VersionReading, {"ph": 15}, "ph"),
        (VersionReading, {"ph": float("nan")}, "ph"),
        (VersionReading, {"ph": 4, "plus_minus": 0}, "plus_minus"),
        (VersionReading, {"ph": 4, "plus_minus": 1.1}, "plus_minus"),
        (VersionReading, {"ph": 4, "temperature_c": 400}, "temperature_c"),
        (IngredientReading, {"material": "", "ph": 4}, "material"),
        (IngredientReading, {"material": "milk", "ph": -0.1}, "ph"),
        (IngredientReading, {"material": "milk", "ph": 6.6, "taken_on": "soon"}, "taken_on"),
        (Kitchen, {"water_hardness": "wet"}, "water_hardness"),
        (Kitchen, {"water_calcium_mmol_l": -1}, "water_calcium_mmol_l"),
    ],
)
def test_a_wrong_entry_names_its_field(make, fields, field):
    with pytest.raises(ValidationError) as caught:
        make(**fields)
    assert document_error(caught.value).field == field


def test_a_reading_is_as_sure_as_a_meter_unless_said_otherwise():
    assert VersionReading(ph=4.2).plus_minus == 0.05
    assert IngredientReading(material="milk", ph=6.6).in_use


def test_settings_from_before_the_water_was_asked_for_are_medium():
    stored = '{"name":"Quay","currency":"SEK","scale_readability_g":0.1}'
    kitchen = Kitchen.model_validate_json(stored)
    assert kitchen.water_hardness is WaterHardness.MEDIUM
    assert kitchen.water_hardness == "medium"
    assert kitchen.water_calcium_mmol_l is None


def test_no_reading_has_no_mean():
    assert readings_mean(()) is None


def test_one_reading_stays_as_it_was_taken():
    one = VersionReading(ph=4.23, plus_minus=0.01, taken_on=DAY, temperature_c=21, note="firm")
    mean = readings_mean((one,))
    assert mean.model_dump(exclude={"count"}) == one.model_dump()
    assert mean.count == 1


def test_the_mean_is_as_unsure_as_the_readings_lie_apart():
    mean = readings_mean((VersionReading(ph=4.0), VersionReading(ph=4.1), VersionReading(ph=4.5)))
    assert mean.ph == pytest.approx(4.2)
    assert mean.plus_minus == pytest.approx(0.3)
    assert mean.count == 3


def test_the_mean_is_never_surer_than_the_least_sure_reading_or_a_meter():
    strip = VersionReading(ph=4.2, plus_minus=0.5)
    fine = VersionReading(ph=4.2, plus_minus=0.01)
    assert readings_mean((strip, fine)).plus_minus == 0.5
    assert readings_mean((fine, fine)).plus_minus == 0.05


def test_readings_that_contradict_each_other_leave_a_wide_range():
    mean = readings_mean((VersionReading(ph=0), VersionReading(ph=14)))
    assert (mean.ph, mean.plus_minus) == (7, 7)


def test_the_mean_keeps_what_all_readings_share_and_the_last_day():
    later = VersionReading(ph=4, taken_on=DAY + dt.timedelta(1), note="a", temperature_c=20)
    mean = readings_mean((later, VersionReading(ph=4, taken_on=DAY, note="b", temperature_c=20)))
    assert (mean.taken_on, mean.note, mean.temperature_c) == (later.taken_on, "", 20)
