"""What changed between two versions: lines, steps and computed values."""

import difflib
from collections.abc import Iterator
from dataclasses import dataclass

from setwell.engine.assessment import Assessment, LineReading
from setwell.provenance import Estimate

_TEXT_FIELDS = frozenset({"ingredients", "steps", "format", "format_version"})


@dataclass(frozen=True, slots=True)
class LineDifference:
    """One line beside its counterpart; `kind` is same, changed, added or removed."""

    kind: str
    first: str
    second: str
    first_g: float | None = None
    second_g: float | None = None


@dataclass(frozen=True, slots=True)
class ValueDifference:
    """One computed value in both versions."""

    label: str
    first: Estimate | None
    second: Estimate | None
    first_text: str
    second_text: str
    is_changed: bool


@dataclass(frozen=True, slots=True)
class FormulaDifference:
    """Two versions side by side."""

    first: Assessment
    second: Assessment
    lines: tuple[LineDifference, ...]
    steps: tuple[LineDifference, ...]
    settings: tuple[ValueDifference, ...]
    values: tuple[ValueDifference, ...]

    @property
    def is_same(self) -> bool:
        """True when both versions are the same document."""
        return self.first.formula_hash == self.second.formula_hash


def compare(first: Assessment, second: Assessment) -> FormulaDifference:
    """Return what differs between two assessed versions."""
    return FormulaDifference(
        first,
        second,
        tuple(_ingredient_lines(first, second)),
        tuple(LineDifference(kind, a, b) for kind, a, b in _paired(_steps(first), _steps(second))),
        tuple(_settings(first, second)),
        tuple(_values(first, second)),
    )


def _steps(assessment: Assessment) -> list[str]:
    return [step.text.strip() for step in assessment.steps]


def _ingredient_lines(first: Assessment, second: Assessment) -> Iterator[LineDifference]:
    grams_first, grams_second = _grams(first.lines), _grams(second.lines)
    for kind, a, b in _paired([_key(x) for x in first.lines], [_key(x) for x in second.lines]):
        first_g, second_g = grams_first.get(a), grams_second.get(b)
        if kind == "same" and not _is_close(first_g, second_g):
            kind = "changed"  # noqa: PLW2901 - the same words can weigh more in a larger batch
        yield LineDifference(kind, a, b, first_g, second_g)


def _key(line: LineReading) -> str:
    return " ".join(line.text.split())


def _grams(lines: tuple[LineReading, ...]) -> dict[str, float | None]:
    return {_key(line): line.grams for line in lines}


def _is_close(first: float | None, second: float | None) -> bool:
    if first is None or second is None:
        return first is second
    return abs(first - second) <= 1e-9 * max(abs(first), abs(second), 1e-9)


def _paired(first: list[str], second: list[str]) -> Iterator[tuple[str, str, str]]:
    """Yield (kind, first, second) rows; replaced runs are paired in order."""
    matcher = difflib.SequenceMatcher(a=first, b=second, autojunk=False)
    for tag, a0, a1, b0, b1 in matcher.get_opcodes():
        if tag == "equal":
            yield from (("same", a, b) for a, b in zip(first[a0:a1], second[b0:b1], strict=True))
            continue
        left, right = first[a0:a1], second[b0:b1]
        shared = min(len(left), len(right))
        yield from (("changed", left[n], right[n]) for n in range(shared))
        yield from (("removed", text, "") for text in left[shared:])
        yield from (("added", "", text) for text in right[shared:])


def _settings(first: Assessment, second: Assessment) -> Iterator[ValueDifference]:
    before, after = first.formula.model_dump(mode="json"), second.formula.model_dump(mode="json")
    for key in before:
        if key not in _TEXT_FIELDS and before[key] != after[key]:
            yield _text(key.replace("_", " "), str(before[key]), str(after[key]))


def _values(first: Assessment, second: Assessment) -> Iterator[ValueDifference]:
    yield _text("Texture", first.texture.sentence, second.texture.sentence)
    yield _text("Sets", first.texture.sets.value, second.texture.sets.value)
    yield from _texture(first, second)
    yield from _solution(first, second)
    names = dict.fromkeys(agent.name for agent in (*first.agents, *second.agents))
    for name in names:
        yield from _agent(name, first, second)
    for key in ("energy_kcal", "fat_g", "sugars_g", "protein_g", "sodium_mg"):
        before, after = first.nutrient(key), second.nutrient(key)
        if before is not None and after is not None:
            yield _number(f"{before.label} per 100 g", before.per_100g, after.per_100g)
    yield _number("Cost of the batch", first.cost.batch, second.cost.batch)
    yield _text("Allergens", _allergens(first), _allergens(second))


def _texture(first: Assessment, second: Assessment) -> Iterator[ValueDifference]:
    """Compare what is there on either side: a gel has no thickness, a liquid no break."""
    before, after = first.texture, second.texture
    for label, a, b in (
        ("Stiffness", before.modulus_kpa, after.modulus_kpa),
        ("Stress at break", before.fracture_stress_kpa, after.fracture_stress_kpa),
        ("Strain at break", before.fracture_strain, after.fracture_strain),
        ("Thickness when stirred", before.viscosity_mpa_s, after.viscosity_mpa_s),
        ("Weeps in a week", before.weeps_pct, after.weeps_pct),
    ):
        if a is not None or b is not None:
            yield _number(label, a, b)


def _solution(first: Assessment, second: Assessment) -> Iterator[ValueDifference]:
    """Pair the figures by key: a reading, or too little water, gives one side more of them."""
    for key in dict.fromkeys(figure.key for figure in (*first.solution, *second.solution)):
        a, b = first.figure(key), second.figure(key)
        labels = dict.fromkeys(figure.label for figure in (a, b) if figure is not None)
        yield _number(
            " / ".join(labels),
            None if a is None else a.estimate,
            None if b is None else b.estimate,
        )


def _agent(name: str, first: Assessment, second: Assessment) -> Iterator[ValueDifference]:
    before = next((agent for agent in first.agents if agent.name == name), None)
    after = next((agent for agent in second.agents if agent.name == name), None)
    for label, field in (
        ("dose", "dose_pct"),
        ("sets at", "set_temperature_c"),
        ("melts at", "melt_temperature_c"),
        ("modulus", "modulus_kpa"),
    ):
        a = getattr(before, field) if before else None
        b = getattr(after, field) if after else None
        if a is not None or b is not None:
            yield _number(f"{name}, {label}", a, b)


def _allergens(assessment: Assessment) -> str:
    return ", ".join(dict.fromkeys(result.allergen for result in assessment.allergens)) or "none"


def _text(label: str, first: str, second: str) -> ValueDifference:
    return ValueDifference(label, None, None, first, second, first != second)


def _number(label: str, first: Estimate | None, second: Estimate | None) -> ValueDifference:
    a, b = (None if part is None else part.value for part in (first, second))
    return ValueDifference(label, first, second, "", "", not _is_close(a, b))
