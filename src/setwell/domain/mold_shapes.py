"""From the words a kitchen has for a mold to the form that is computed."""

import math
import re
from collections.abc import Mapping

from setwell.domain.equipment import LONGEST_MM, NEEDED, MoldForm, MoldShape, WallMaterial

# Words of the trade, the first that fits counts. A frame is open above, as a tray is.
_WORDS: tuple[tuple[MoldShape, str], ...] = (
    (MoldShape.HEMISPHERE, r"hemispheres?|half[- ]?(?:a )?spheres?|domes?"),
    (MoldShape.SPHERE, r"spheres?|balls?|pearls?"),
    (MoldShape.TRAY, r"trays?|frames?|sheets?|hotel pans?|pans?|dish|dishes|slabs?"),
    (MoldShape.BLOCK, r"blocks?|cubes?|bars?|loaf|loaves|terrines?|bricks?"),
    (MoldShape.JAR, r"jars?|bottles?"),
    (
        MoldShape.CUP,
        r"cups?|glass|glasses|ramekins?|verrines?|cylinders?|rings?|coupes?|pots?|darioles?"
        r"|tumblers?|bowls?",
    ),
)
_CUBE = re.compile(r"\bcubes?\b", re.IGNORECASE)
MM3_PER_ML = 1_000.0


def shape_find(words: str) -> MoldShape:
    """Return the computed shape that the words name, `other` for any other words."""
    for shape, pattern in _WORDS:
        if re.search(rf"\b(?:{pattern})\b", words, re.IGNORECASE):
            return shape
    return MoldShape.OTHER


def form_of(
    words: str,
    *,
    volume_ml: float,
    lengths: dict[str, float | None],
    wall: WallMaterial | None,
    wall_mm: float | None,
    headspace_mm: float,
    lid: bool,
) -> MoldForm:
    """Return the form of a mold; the one volume stands in where lengths are missing."""
    shape = shape_find(words)
    given = {**_from_volume(words, shape, volume_ml), **{k: v for k, v in lengths.items() if v}}
    missing = [name for name in NEEDED[shape] if name != "volume_ml" and name not in given]
    if missing not in ([], ["height_mm"]):
        shape, given = MoldShape.OTHER, {}
    return MoldForm(
        shape=shape,
        volume_ml=volume_ml,
        wall=wall,
        wall_mm=wall_mm,
        headspace_mm=headspace_mm,
        lid=lid,
        **given,
    )


def volume_of(form: MoldForm) -> float | None:
    """Return what a form holds by its lengths alone [mL]; None where they do not say."""
    length, width, height = form.length_mm, form.width_mm, form.height_mm
    diameter = form.diameter_mm
    if form.shape in {MoldShape.TRAY, MoldShape.BLOCK} and length and width and height:
        return length * width * height / MM3_PER_ML
    if form.shape in {MoldShape.CUP, MoldShape.JAR} and diameter and height:
        return math.pi / 4 * diameter**2 * height / MM3_PER_ML
    if form.shape in {MoldShape.SPHERE, MoldShape.HEMISPHERE} and diameter:
        whole = math.pi / 6 * diameter**3 / MM3_PER_ML
        return whole if form.shape is MoldShape.SPHERE else whole / 2
    return None


def volume_by_lengths(words: str, told: Mapping[str, object]) -> float | None:
    """Return what a mold of this shape holds by its lengths [mL]; None where they do not say."""
    shape = shape_find(words)
    numbers = {
        name: float(value)
        for name in NEEDED[shape]
        if isinstance(value := told.get(name), int | float) and 0 < value <= LONGEST_MM
    }
    if len(numbers) < len(NEEDED[shape]) or shape is MoldShape.OTHER:
        return None
    held = volume_of(MoldForm.model_validate({"shape": shape, **numbers}))
    return None if held is None else round(held, 3)


def _from_volume(words: str, shape: MoldShape, volume_ml: float) -> dict[str, float]:
    """Return the lengths of the shapes that a volume alone settles."""
    volume = volume_ml * MM3_PER_ML
    if shape is MoldShape.BLOCK and _CUBE.search(words):
        edge = round(volume ** (1 / 3), 3)
        return {"length_mm": edge, "width_mm": edge, "height_mm": edge}
    if shape is MoldShape.SPHERE:
        return {"diameter_mm": round((6 * volume / math.pi) ** (1 / 3), 3)}
    if shape is MoldShape.HEMISPHERE:
        return {"diameter_mm": round((12 * volume / math.pi) ** (1 / 3), 3)}
    return {}
