"""From a kitchen's word for a mold to the form that is computed."""

import math

import pytest
from pydantic import ValidationError

from setwell.domain.equipment import MoldShape, WallMaterial
from setwell.domain.mold_shapes import shape_find, volume_of
from setwell.domain.pantry import Mold


@pytest.mark.parametrize(
    ("words", "shape"),
    [
        ("frame", MoldShape.TRAY),
        ("Hotel pan", MoldShape.TRAY),
        ("block", MoldShape.BLOCK),
        ("loaf", MoldShape.BLOCK),
        ("2 cm cubes", MoldShape.BLOCK),
        ("coupe glass", MoldShape.CUP),
        ("ramekin", MoldShape.CUP),
        ("jar", MoldShape.JAR),
        ("ball", MoldShape.SPHERE),
        ("half sphere", MoldShape.HEMISPHERE),
        ("Dome", MoldShape.HEMISPHERE),
        ("star", MoldShape.OTHER),
        ("barrel", MoldShape.OTHER),
        ("", MoldShape.OTHER),
    ],
)
def test_words_of_the_trade_name_a_shape(words, shape):
    assert shape_find(words) is shape


def test_a_mold_with_its_lengths_has_a_form():
    mold = Mold(name="Frame", shape="frame", volume_ml=1_100, length_mm=200, width_mm=200,
                height_mm=27.5, wall=WallMaterial.STEEL, wall_mm=1.2, lid=True)  # fmt: skip
    form = mold.form()
    assert (form.shape, form.length_mm, form.height_mm) == (MoldShape.TRAY, 200, 27.5)
    assert (form.wall, form.wall_mm, form.lid) == (WallMaterial.STEEL, 1.2, True)
    assert volume_of(form) == pytest.approx(1_100)


def test_a_missing_height_is_left_to_the_volume():
    form = Mold(name="Glass", shape="glass", volume_ml=120, diameter_mm=76).form()
    assert (form.shape, form.height_mm, form.volume_ml) == (MoldShape.CUP, None, 120)
    assert volume_of(form) is None


def test_a_mold_without_lengths_is_its_volume():
    form = Mold(name="Frame", shape="frame", volume_ml=1_100).form()
    assert (form.shape, form.volume_ml) == (MoldShape.OTHER, 1_100)


@pytest.mark.parametrize(
    ("shape", "diameter"),
    [("sphere", (6 * 35_000 / math.pi) ** (1 / 3)), ("dome", (12 * 35_000 / math.pi) ** (1 / 3))],
)
def test_a_round_mold_needs_no_length(shape, diameter):
    form = Mold(name="Small", shape=shape, volume_ml=35).form()
    assert form.diameter_mm == pytest.approx(diameter, abs=0.001)
    assert volume_of(form) == pytest.approx(35, rel=1e-4)


def test_a_cube_needs_no_length_but_takes_one():
    assert Mold(name="Cubes", shape="cube", volume_ml=8).form().length_mm == pytest.approx(20)
    form = Mold(name="Cubes", shape="cube", volume_ml=8, height_mm=10).form()
    assert (form.height_mm, form.length_mm) == (10, pytest.approx(20))


@pytest.mark.parametrize(
    ("shape", "lengths", "milliliters"),
    [
        ("frame", {"length_mm": 200, "width_mm": 200, "height_mm": 27.5}, 1_100.0),
        ("cup", {"diameter_mm": 70, "height_mm": 50}, 192.4),
        ("dome", {"diameter_mm": 60}, 56.5),
    ],
)
def test_lengths_alone_tell_the_volume(shape, lengths, milliliters):
    mold = Mold(name="Own", shape=shape, **lengths)
    assert mold.volume_ml == pytest.approx(milliliters, rel=1e-3)
    assert Mold(name="Own", shape=shape, volume_ml=90, **lengths).volume_ml == 90


@pytest.mark.parametrize(
    ("shape", "lengths"),
    [
        ("cup", {"diameter_mm": 70}), ("star", {"diameter_mm": 70, "height_mm": 50}), ("", {}),
        ("sphere", {"diameter_mm": 9_000}), ("sphere", {"diameter_mm": 0}),
    ],
)  # fmt: skip
def test_a_mold_needs_its_volume_where_lengths_do_not_tell_it(shape, lengths):
    with pytest.raises(ValidationError, match="volume_ml"):
        Mold(name="Own", shape=shape, **lengths)
