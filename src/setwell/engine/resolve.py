"""Read a formula against the catalog: each line to a material and a weight."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from setwell.domain.amounts import AmountKind
from setwell.domain.formula import Formula
from setwell.domain.lines import Line
from setwell.domain.phases import Phase, PhaseKind, lines_parse
from setwell.engine.catalog import Catalog, Found
from setwell.engine.gelatin_grade import line_bloom, material_of_animal, material_of_grade
from setwell.engine.material import Material
from setwell.engine.names import name_forms, name_normalize
from setwell.engine.weighing import line_weigh

# A kind is named in a word or two; what is longer tells what to do.
_KIND_WORDS = 2
# "eggs, whites only" are egg whites.
_ONLY = re.compile(r" only$", re.IGNORECASE)
_RELATIVE = frozenset({AmountKind.PERCENT, AmountKind.PERCENT_TARGET, AmountKind.MASS_TARGET})


@dataclass(frozen=True, slots=True)
class Reading:
    """One line as read; `part` is set when the line names another formula."""

    number: int
    heading: str
    phase: PhaseKind
    line: Line
    material: Material | None = None
    part: Formula | None = None
    grams: float | None = None
    assumptions: tuple[str, ...] = ()
    problem: str = ""
    is_unknown: bool = False

    @property
    def kind(self) -> AmountKind | None:
        """How the amount was given."""
        return self.line.amount.kind if self.line.amount else None

    @property
    def is_usable(self) -> bool:
        """True when the line takes part in the computation."""
        return not self.problem and (self.material is not None or self.part is not None)

    @property
    def is_relative(self) -> bool:
        """True when the grams depend on the rest of the batch."""
        return (self.kind in _RELATIVE or self.is_ratio) and self.line.stated_grams is None

    @property
    def is_ratio(self) -> bool:
        """True when the line is weighed as so many times the agents."""
        return self.kind is AmountKind.UNSTATED and self.line.ratio_with_agent is not None


@lru_cache(maxsize=256)
def _phases(text: str) -> tuple[Phase, ...]:
    return lines_parse(text)


def formula_read(
    formula: Formula, *, catalog: Catalog, parts: Mapping[str, Formula]
) -> tuple[Reading, ...]:
    """Return how each ingredient line was read."""
    readings: list[Reading] = []
    for phase in _phases(formula.ingredients):
        for number, line in zip(phase.numbers, phase.lines, strict=True):
            reading = Reading(number, phase.heading, phase.kind, line)
            readings.append(_read(reading, catalog, parts))
    return tuple(readings)


def _read(reading: Reading, catalog: Catalog, parts: Mapping[str, Formula]) -> Reading:
    line = reading.line
    if line.problem is not None:
        said = " ".join(part for part in (line.problem.message, line.problem.suggestion) if part)
        return replace(reading, problem=said)
    part = parts.get(name_normalize(line.name))
    if part is not None and ("formula" in line.note.casefold() or not catalog.find(line.name)):
        return _read_part(reading, part)
    found = _by_whole_name(line, catalog) or catalog.find(line.name)
    if found is None:
        return replace(
            reading,
            is_unknown=True,
            problem=f"“{line.name}” is not in the tables or the pantry. Pick one of the "
            "nearest names, or add it to the pantry.",
        )
    material, assumed = _graded(line, found)
    reading = replace(reading, material=material, assumptions=assumed)
    if reading.is_relative:
        return replace(reading, assumptions=(*assumed, _relative_assumption(reading)))
    weighed = line_weigh(line, material)
    return replace(
        reading,
        grams=weighed.grams,
        assumptions=(*assumed, *weighed.assumptions),
        problem=weighed.problem,
    )


def _by_whole_name(line: Line, catalog: Catalog) -> Found | None:
    """Return what has a name that goes on after a comma or in brackets: "egg, white", "egg (yolk)".

    The longest name counts; what follows it tells how it is, as in "egg, white, cold".
    """
    if not line.note:
        return None
    notes = [_ONLY.sub("", part.strip()) for part in line.note.split(",")]
    for count in range(len(notes), 0, -1):
        for name in name_forms(line.name):
            found = catalog.find(f"{name} {' '.join(notes[:count])}")
            if found is not None:
                return _told(found, line, catalog)
    return _turned_round(line.name, notes[0], catalog)


def _told(found: Found, line: Line, catalog: Catalog) -> Found:
    """Say what the note made of the name, where the name alone is something else."""
    plain = catalog.find(line.name)
    if found.assumption or plain is None or plain.material.key == found.material.key:
        return found
    return Found(found.material, f"read with its note, as {found.material.name}")


def _turned_round(name: str, note: str, catalog: Catalog) -> Found | None:
    """Return "soy milk" for "milk, soy": read as plain milk, an allergen would be missed."""
    if len(note.split()) > _KIND_WORDS:
        return None
    return catalog.find(f"{note} {name}")


def _graded(line: Line, found: Found) -> tuple[Material, tuple[str, ...]]:
    """Return the material, and what was assumed; a stated gelatin grade replaces the usual one."""
    material = material_of_animal(found.material, f"{line.name} {line.note}")
    bloom = line_bloom(line, found.material)
    if bloom is not None:
        is_open = material is found.material
        said = f"{bloom:g} g Bloom" + (", mammalian; state the animal" if is_open else "")
        return material_of_grade(material, bloom), (said,)
    return material, (found.assumption,) if found.assumption else ()


def _read_part(reading: Reading, part: Formula) -> Reading:
    amount = reading.line.amount
    grams = reading.line.stated_grams
    if grams is None and amount is not None and amount.kind is AmountKind.MASS:
        grams = amount.grams
    if grams is None and not reading.is_relative:
        return replace(
            reading, part=part, problem=f"“{part.title}” is a formula: give its weight in grams."
        )
    return replace(reading, part=part, grams=grams, assumptions=("one of your formulas",))


def _relative_assumption(reading: Reading) -> str:
    if reading.is_ratio:
        return f"{reading.line.ratio_with_agent:g} times the weight of the texture agents"
    if reading.kind is AmountKind.PERCENT:
        return "percent of the finished batch"
    if reading.kind is AmountKind.PERCENT_TARGET:
        return "brought up to this percent of the finished batch, other lines of it counted"
    return "makes the ingredients up to this weight"


def part_titles(formula: Formula, known_titles: Iterable[str]) -> tuple[str, ...]:
    """Return the known formula titles that lines of this formula name, as they are written."""
    by_name = {name_normalize(title): title for title in known_titles}
    used: dict[str, None] = {}
    for phase in _phases(formula.ingredients):
        for line in phase.lines:
            for form in name_forms(line.name):
                if form in by_name:
                    used[by_name[form]] = None
    return tuple(used)
