"""Forms of molds as lengths, volume and way of computing, and what is refused."""

import math

import pytest

from setwell.domain.equipment import MoldForm, MoldShape, WallMaterial
from setwell.engine.heat.mold_body import mold_wall
from setwell.engine.heat.mold_form import SHAPE_ASSUMED, Scheme, mold_geometry
from setwell.errors import InputError


def test_a_tray_without_height_gets_it_from_its_volume():
    form = MoldForm(shape=MoldShape.TRAY, length_mm=300, width_mm=200, volume_ml=1200)
    mold = mold_geometry(form)
    assert mold.height == pytest.approx(0.020)
    assert mold.half_thickness == pytest.approx(0.010)
    assert mold.is_box
    assert mold.is_open


def test_a_cup_without_height_gets_it_from_its_volume():
    form = MoldForm(shape=MoldShape.CUP, diameter_mm=60, volume_ml=math.pi * 9 * 4)
    assert mold_geometry(form).height == pytest.approx(0.040)


def test_balls_and_half_balls_have_their_volumes():
    ball = mold_geometry(MoldForm(shape=MoldShape.SPHERE, diameter_mm=60))
    half = mold_geometry(MoldForm(shape=MoldShape.HEMISPHERE, diameter_mm=60))
    assert ball.volume == pytest.approx(113.097e-6, rel=1e-5)
    assert half.volume == pytest.approx(ball.volume / 2)
    assert half.half_thickness == pytest.approx(0.015)
    assert half.scheme is Scheme.GRID
    assert not ball.is_open


def test_another_mold_is_read_as_a_cylinder_as_high_as_wide():
    mold = mold_geometry(MoldForm(shape=MoldShape.OTHER, volume_ml=100))
    assert mold.height == pytest.approx(mold.lengths[0])
    assert mold.volume == pytest.approx(100e-6)
    assert SHAPE_ASSUMED in mold.flags


def test_a_wall_or_a_headspace_asks_for_cells():
    bare = MoldForm(shape=MoldShape.JAR, diameter_mm=70, height_mm=90)
    assert mold_geometry(bare).scheme is Scheme.DIRECTIONS
    for changes in ({"wall": WallMaterial.GLASS}, {"headspace_mm": 5.0}):
        assert mold_geometry(bare.model_copy(update=changes)).scheme is Scheme.GRID


@pytest.mark.parametrize(
    ("fields", "field", "said"),
    [
        ({"shape": "tray", "length_mm": 1900, "width_mm": 1900, "height_mm": 300}, "diameter_mm",
         "1083 L"),
        ({"shape": "other", "volume_ml": 900_000}, "volume_ml", "900 L"),
        ({"shape": "cup", "diameter_mm": 70, "height_mm": 0.01}, "height_mm", "0.01 mm thick"),
        ({"shape": "cup", "diameter_mm": 10, "volume_ml": 1000}, "volume_ml", "12.7 m high"),
        ({"shape": "cup", "diameter_mm": 70, "height_mm": 90, "volume_ml": 500}, "volume_ml",
         "hold 346.4 mL, but the volume says 500 mL"),
        ({"shape": "jar", "diameter_mm": 20, "height_mm": 90, "wall": "glass", "wall_mm": 15},
         "wall_mm", "15 mm is thicker"),
        ({"shape": "jar", "diameter_mm": 70, "height_mm": 90, "wall_mm": 3}, "wall", "but of what"),
    ],
)  # fmt: skip
def test_molds_that_cannot_be_are_refused_at_their_field(fields, field, said):
    with pytest.raises(InputError) as refused:
        mold_geometry(MoldForm(**fields))
    assert refused.value.field == field
    assert said in refused.value.message
    assert refused.value.hint


def test_a_volume_a_little_off_is_taken():
    form = MoldForm(shape=MoldShape.CUP, diameter_mm=70, height_mm=90, volume_ml=330)
    assert mold_geometry(form).volume == pytest.approx(346.36e-6, rel=1e-4)


def test_a_wall_without_thickness_has_the_usual_one():
    form = MoldForm(shape=MoldShape.JAR, diameter_mm=70, height_mm=90, wall=WallMaterial.GLASS)
    wall = mold_wall(mold_geometry(form))
    assert wall is not None
    assert wall.thickness_m == pytest.approx(0.003)


def test_a_usual_wall_too_thick_for_the_food_is_refused():
    form = MoldForm(shape=MoldShape.SPHERE, diameter_mm=8, wall=WallMaterial.STONEWARE)
    with pytest.raises(InputError, match="thicker"):
        mold_wall(mold_geometry(form))


@pytest.mark.parametrize(
    ("form", "words"),
    [
        (MoldForm(shape=MoldShape.SPHERE, diameter_mm=60), "sphere, 60 mm wide"),
        (MoldForm(shape=MoldShape.HEMISPHERE, diameter_mm=60), "hemisphere, 60 mm wide"),
        (MoldForm(shape=MoldShape.TRAY, length_mm=300, width_mm=200, height_mm=20),
         "tray, 300 × 200 mm and 20 mm high"),
        (MoldForm(shape=MoldShape.JAR, diameter_mm=70, height_mm=90),
         "jar, 70 mm wide and 90 mm high"),
    ],
)  # fmt: skip
def test_forms_are_described_in_words(form, words):
    assert mold_geometry(form).described() == words
