"""What a line weighs: from volumes, pieces and sheets to grams, with what was assumed."""

from dataclasses import dataclass

from setwell.domain.amounts import Amount, AmountKind
from setwell.domain.lines import Line
from setwell.engine.gelatin_grade import grade_words
from setwell.engine.material import Material, MaterialKind
from setwell.units import UNITS, mass_print

# A US cup in milliliters, 1/16 of the 231 cubic inch gallon (NIST Handbook 44, Appendix C).
_CUP_ML = 231 * 2.54**3 / 16
_SPOONS = {"cup": _CUP_ML, "tbsp": _CUP_ML / 16, "tsp": _CUP_ML / 48}
_SIZES = ("large", "medium", "small")
_DEFAULT_SHEET = "gold"


@dataclass(frozen=True, slots=True)
class Weighed:
    """Grams of a line, or the problem that keeps it from being weighed."""

    grams: float | None
    assumptions: tuple[str, ...] = ()
    problem: str = ""


def line_weigh(line: Line, material: Material) -> Weighed:
    """Return the weight of a line with a weight, volume or count."""
    amount = line.amount
    if line.stated_grams is not None:
        said = f"the weight you gave, {mass_print(line.stated_grams)}"
        return Weighed(line.stated_grams, (said,))
    if amount is None:
        return Weighed(None, problem="No amount here: write a weight such as 12 g.")
    if amount.kind is AmountKind.MASS:
        return Weighed(amount.grams)
    if amount.kind is AmountKind.VOLUME:
        return _from_volume(amount, material)
    return _from_count(line, amount, material)


def _from_volume(amount: Amount, material: Material) -> Weighed:
    milliliters = amount.milliliters or 0.0
    if material.kind is MaterialKind.AGENT:
        return Weighed(
            None,
            problem=f"Texture agents are weighed: a spoon of {material.name} can differ twofold. "
            "Put its weight on the scale and write it, for example 2 tsp (4 g).",
        )
    if material.is_liquid and material.density is not None:
        grams = milliliters * material.density.value
        note = f"{material.density.value:.3f} g/mL"
        return Weighed(grams, (_said(amount, material, grams, note),))
    measure = (material.measures or {}).get(_measure_name(amount.unit))
    if measure is not None:
        grams = amount.value * measure.grams
        detail = measure.description or "table portion"
        return Weighed(grams, (_said(amount, material, grams, detail),))
    return _from_other_measure(amount, milliliters, material)


def _from_other_measure(amount: Amount, milliliters: float, material: Material) -> Weighed:
    """Use the spoon or cup weight that is known for another measure, or the bulk density."""
    for name, size_ml in _SPOONS.items():
        measure = (material.measures or {}).get(name)
        if measure is not None:
            grams = milliliters * measure.grams / size_ml
            note = f"from 1 {name} = {mass_print(measure.grams)}, loosely filled"
            return Weighed(grams, (_said(amount, material, grams, note),))
    if material.density is not None:
        grams = milliliters * material.density.value
        note = f"{material.density.value:.2f} g/mL, loosely filled"
        return Weighed(grams, (_said(amount, material, grams, note),))
    return Weighed(
        None,
        problem=f"No weight per volume is known for {material.name}. Weigh it once and write "
        f"the weight in parentheses, for example {amount.value:g} {amount.unit} (50 g).",
    )


def _measure_name(unit: str) -> str:
    return unit.replace(" ", "_")


def _said(amount: Amount, material: Material, grams: float, detail: str) -> str:
    unit = UNITS.get(amount.unit)
    if unit is not None and unit.is_assumed:
        detail = f"{detail}; a {amount.unit} is taken as {unit.factor:.2g} mL"
    return f"{amount.value:g} {amount.unit} of {material.name} = {mass_print(grams)} ({detail})"


def _from_count(line: Line, amount: Amount, material: Material) -> Weighed:
    measures = material.measures or {}
    for name in _count_names(line, amount):
        measure = measures.get(name)
        if measure is not None:
            grams = amount.value * measure.grams
            piece = measure.description or name.removeprefix("each:") or "piece"
            said = f"{amount.value:g} × {mass_print(measure.grams)} ({piece})"
            return Weighed(grams, (f"{said} = {mass_print(grams)}",))
    return Weighed(
        None,
        problem=f"How much one {line.name or material.name} weighs is not known. Weigh it and "
        f"write its weight in parentheses, for example {line.text.strip()[:80]} (50 g).",
    )


def _count_names(line: Line, amount: Amount) -> list[str]:
    """Return the measures to try, the most exact first."""
    if amount.unit == "sheet":
        words = f"{line.name} {line.note}".casefold().split()
        graded = [f"sheet:{grade}" for grade in grade_words() if grade in words]
        return [*graded, f"sheet:{_DEFAULT_SHEET}"]
    names = [f"each:{amount.unit}"] if amount.unit not in {"", "each"} else []
    if amount.size in _SIZES:
        return [*names, f"each:{amount.size}"]
    return [*names, "each"]
