"""The Bloom a gelatin line states: as a number, or by the grade of its sheets."""

import re
from dataclasses import replace

from setwell.domain.lines import Line
from setwell.engine.material import Material
from setwell.tables.agents import gelatin_grades

_GELATIN = "gelatin"
_SHEET = "sheet"
_DEFAULT_SHEET = "gold"
_STATED = re.compile(
    r"(?<![\d.,])(\d{2,3})\s*(?:g\s*)?bloom\b|bloom\s+(?:strength|value|number)\s*:?\s*(\d{2,3})\b",
    re.IGNORECASE,
)
_LAND_ANIMAL = re.compile(
    r"\b(?:pork|pig(?:skin)?|porcine|beef|bovine|cattle|cow|calf|veal|hide|mammalian)\b",
    re.IGNORECASE,
)
# What a pantry entry may hold too; outside, the number is no Bloom strength.
_LEAST, _MOST = 30.0, 400.0


def grade_words() -> tuple[str, ...]:
    """Return the trade names of the sheet grades."""
    return tuple(gelatin_grades())


def line_bloom(line: Line, material: Material) -> float | None:
    """Return the Bloom in grams that a line states for its gelatin, or None."""
    if material.agent is None or material.agent.key != _GELATIN:
        return None
    stated = _STATED.search(line.text)
    if stated is not None:
        number = float(stated[1] or stated[2])
        return number if _LEAST <= number <= _MOST else None
    words = f"{line.name} {line.note}".casefold().split()
    written = next((grade for grade in grade_words() if grade in words), None)
    if written is not None:
        return gelatin_grades()[written].bloom
    is_sheet = line.amount is not None and line.amount.unit == _SHEET
    return gelatin_grades()[_DEFAULT_SHEET].bloom if is_sheet and _is_open(material) else None


def material_of_grade(material: Material, bloom: float) -> Material:
    """Return the gelatin with this Bloom; another Bloom is another material."""
    if material.agent is None:
        return material
    return replace(
        material,
        key=f"{material.key}:{bloom:g}",
        agent=replace(material.agent, bloom=bloom),
    )


def material_of_animal(material: Material, words: str) -> Material:
    """Return the gelatin without the doubt about fish where the words name a land animal."""
    is_gelatin = material.agent is not None and material.agent.key == _GELATIN
    if not is_gelatin or not _LAND_ANIMAL.search(words):
        return material
    sure = tuple(tag for tag in material.allergens if tag.allergen != "fish")
    return replace(material, key=f"{material.key}:land", allergens=sure)


def _is_open(material: Material) -> bool:
    return material.agent is not None and material.agent.bloom is None
