"""Profiles of other kitchens."""

import pytest

from setwell.domain.kitchen_profile import HOME, PROFILES, KitchenProfile, profile_make
from setwell.errors import DocumentError


def test_presets_get_finer_from_home_to_lab():
    assert list(PROFILES) == ["home", "pro", "lab"]
    steps = [profile.scale_g for profile in PROFILES.values()]
    assert steps == [1.0, 0.1, 0.01]
    assert [profile.has_thermometer for profile in PROFILES.values()] == [False, True, True]


def test_a_profile_survives_its_json():
    again = KitchenProfile.model_validate_json(HOME.canonical_json())
    assert again == HOME
    assert again.content_hash == HOME.content_hash


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"name": "ours", "water_low": 3.0, "water_high": 1.0}, "swap the two"),
        ({"name": "ours", "fridge_low_c": 9.0, "fridge_high_c": 1.0}, "swap the two"),
        ({"name": "ours", "scale_g": 0.0}, "scale_g"),
        ({"name": "ours", "thermometer_error_k": float("nan")}, "thermometer_error_k"),
        ({"name": "ours", "oven": 1}, "oven"),
    ],
)
def test_what_no_kitchen_has_is_refused_by_name(fields, message):
    with pytest.raises(DocumentError, match=message):
        profile_make(**fields)
