"""The form of a mold as geometry: lengths in meters, volume, and how it is computed."""

import math
from dataclasses import dataclass
from enum import StrEnum

from setwell.domain.equipment import LONGEST_MM, MoldForm, MoldShape, WallMaterial
from setwell.errors import InputError

# Larger than this is a tank, not a mold [L].
_MOST_L = 500.0
# Food thinner than this sets while it is poured [mm].
_THINNEST_MM = 1.0
# Volume and lengths may differ by rounded corners and slanted walls, up to this share.
_VOLUME_SLACK = 0.10
_MM = 1e-3
_ML = 1e-6
SHAPE_ASSUMED = "shape assumed: a cylinder as high as wide"
_ROUND = frozenset({MoldShape.CUP, MoldShape.JAR})
_BOXES = frozenset({MoldShape.TRAY, MoldShape.BLOCK})


class Scheme(StrEnum):
    """How a mold is computed."""

    DIRECTIONS = "each direction by itself, multiplied"
    GRID = "a grid of cells with wall and headspace"


@dataclass(frozen=True, slots=True)
class MoldGeometry:
    """A mold in meters; lengths are those of the food.

    `lengths` are length and width of a box, the diameter twice of what is round; `volume` [m3],
    `surface` all faces of the food [m2], `half_thickness` from its middle to the nearest face
    [m]. `wall` is None where the mold is bare.
    """

    shape: MoldShape
    lengths: tuple[float, float]
    height: float
    volume: float
    surface: float
    scheme: Scheme
    wall: WallMaterial | None
    wall_thickness: float | None
    headspace: float
    lid: bool
    flags: tuple[str, ...] = ()

    @property
    def half_thickness(self) -> float:
        """Half of the smallest length [m]."""
        if self.shape is MoldShape.HEMISPHERE:
            return self.height / 2.0
        return min(*self.lengths, self.height) / 2.0

    @property
    def radius(self) -> float:
        """Half of the diameter, or of the width of a box [m]."""
        return self.lengths[1] / 2.0

    @property
    def is_round(self) -> bool:
        """True for a standing cylinder."""
        return self.shape in _ROUND

    @property
    def is_box(self) -> bool:
        """True for a tray or a block."""
        return self.shape in _BOXES

    @property
    def is_open(self) -> bool:
        """True where the food lies open above and gives off steam."""
        return not self.lid and self.shape not in {MoldShape.BLOCK, MoldShape.SPHERE}

    def described(self) -> str:
        """Return the form in words, such as "jar, 70 mm wide and 90 mm high"."""
        wide, high = self.lengths[0] / _MM, self.height / _MM
        if self.shape is MoldShape.SPHERE:
            return f"sphere, {wide:.3g} mm wide"
        if self.shape is MoldShape.HEMISPHERE:
            return f"hemisphere, {wide:.3g} mm wide"
        if self.is_box:
            deep = self.lengths[1] / _MM
            return f"{self.shape.value}, {wide:.3g} × {deep:.3g} mm and {high:.3g} mm high"
        return f"{self.shape.value}, {wide:.3g} mm wide and {high:.3g} mm high"


def mold_geometry(form: MoldForm) -> MoldGeometry:
    """Return the geometry of a mold.

    Raises InputError, at its field, for a mold no kitchen has: too large, too thin, a wall
    thicker than the mold, or a volume that contradicts the lengths.
    """
    lengths, height = _lengths(form)
    shape = MoldShape.CUP if form.shape is MoldShape.OTHER else form.shape
    volume, surface = _volume_surface(shape, lengths, height)
    _check_size(form, lengths, height, volume)
    _check_wall(form, min(*lengths, height))
    return MoldGeometry(
        shape=shape,
        lengths=lengths,
        height=height,
        volume=volume,
        surface=surface,
        scheme=_scheme(form, shape),
        wall=form.wall,
        wall_thickness=None if form.wall_mm is None else form.wall_mm * _MM,
        headspace=form.headspace_mm * _MM if shape in _ROUND or shape in _BOXES else 0.0,
        lid=form.lid,
        flags=(SHAPE_ASSUMED,) if form.shape is MoldShape.OTHER else (),
    )


def _lengths(form: MoldForm) -> tuple[tuple[float, float], float]:
    """Return length and width, and the height; one that is missing comes from the volume."""
    volume = (form.volume_ml or 0.0) * _ML
    if form.shape is MoldShape.OTHER:
        wide = (4.0 * volume / math.pi) ** (1.0 / 3.0)
        return (wide, wide), wide
    wide = (form.length_mm if form.shape in _BOXES else form.diameter_mm) or 0.0
    deep = (form.width_mm if form.shape in _BOXES else form.diameter_mm) or 0.0
    lengths = (wide * _MM, deep * _MM)
    if form.shape is MoldShape.SPHERE:
        return lengths, lengths[0]
    if form.shape is MoldShape.HEMISPHERE:
        return lengths, lengths[0] / 2.0
    if form.height_mm is not None:
        return lengths, form.height_mm * _MM
    ground = lengths[0] * lengths[1] * (1.0 if form.shape in _BOXES else math.pi / 4.0)
    return lengths, volume / ground


def _volume_surface(
    shape: MoldShape, lengths: tuple[float, float], height: float
) -> tuple[float, float]:
    long, wide = lengths
    radius = wide / 2.0
    if shape is MoldShape.SPHERE:
        return 4.0 / 3.0 * math.pi * radius**3, 4.0 * math.pi * radius**2
    if shape is MoldShape.HEMISPHERE:
        return 2.0 / 3.0 * math.pi * radius**3, 3.0 * math.pi * radius**2
    if shape in _BOXES:
        return long * wide * height, 2.0 * (long * wide + (long + wide) * height)
    ground = math.pi * radius**2
    return ground * height, 2.0 * ground + 2.0 * math.pi * radius * height


def _check_size(form: MoldForm, lengths: tuple[float, float], height: float, volume: float) -> None:
    told = form.volume_ml
    field = "volume_ml" if form.shape is MoldShape.OTHER or form.height_mm is None else "height_mm"
    if height > LONGEST_MM * _MM:
        raise InputError(
            f"{told:g} mL in a mold this narrow would stand {height:.1f} m high.",
            field="volume_ml",
            hint="Check the volume and the width.",
        )
    if volume > _MOST_L * 1e-3:
        raise InputError(
            f"This mold would hold {volume * 1e3:.0f} L, more than any mold here ({_MOST_L:g} L).",
            field="volume_ml" if told is not None else "diameter_mm",
            hint="Lengths are in millimeters and volumes in milliliters: check the units.",
        )
    thinnest = min(*lengths, height) / _MM
    if thinnest < _THINNEST_MM:
        raise InputError(
            f"The food in this mold would be {thinnest:.2g} mm thick; it is computed from "
            f"{_THINNEST_MM:g} mm on.",
            field=field,
            hint="Lengths are in millimeters: check the number.",
        )
    if told is not None and abs(volume / (told * _ML) - 1.0) > _VOLUME_SLACK:
        raise InputError(
            f"These lengths hold {volume / _ML:.4g} mL, but the volume says {told:.4g} mL.",
            field="volume_ml",
            hint="Correct one of them, or leave the volume out.",
        )


def _check_wall(form: MoldForm, smallest: float) -> None:
    if form.wall_mm is None:
        return
    if form.wall is None:
        raise InputError(
            f"A wall {form.wall_mm:g} mm thick, but of what?",
            field="wall",
            hint="Choose the material, or leave the thickness out.",
        )
    if form.wall_mm * _MM > smallest / 2.0:
        raise InputError(
            f"A wall of {form.wall_mm:g} mm is thicker than the mold allows: the food inside is "
            f"only {smallest / _MM:.3g} mm across.",
            field="wall_mm",
            hint="Give the thickness of one wall, and the lengths inside.",
        )


def _scheme(form: MoldForm, shape: MoldShape) -> Scheme:
    if shape is MoldShape.HEMISPHERE:
        return Scheme.GRID
    has_shell = form.wall is not None or form.headspace_mm > 0
    return Scheme.GRID if shape in _ROUND and has_shell else Scheme.DIRECTIONS
