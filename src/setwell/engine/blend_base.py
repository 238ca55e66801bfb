"""The base of a blend: a saved formula without its agents, as lines and as one weight."""

from collections.abc import Mapping

from setwell.domain.formula import Formula
from setwell.engine.catalog import Catalog
from setwell.engine.plan import Plan, plan_build
from setwell.engine.resolve import Reading
from setwell.errors import InputError


def formula_base(
    formula: Formula, catalog: Catalog, parts: Mapping[str, Formula]
) -> tuple[tuple[str, ...], float, tuple[str, ...]]:
    """Return the lines of a formula without its agents, their weight, and remarks."""
    plan = plan_build(formula, catalog=catalog, parts=parts)
    weights = dict(zip(plan.used, plan.line_masses()[0], strict=True))
    by_number = {r.number: (n, r) for n, r in enumerate(plan.readings)}
    lines: list[str] = []
    grams, left_out = 0.0, 0
    for number, typed in enumerate(formula.ingredients.splitlines(), start=1):
        position, reading = by_number.get(number, (-1, None))
        if reading is None:
            lines.append(typed)
        elif reading.material is None or reading.material.agent is None:
            weight = weights.get(position)
            left_out += weight is None
            grams += float(weight or 0.0)
            lines.append(_in_grams(reading, weight))
    if grams <= 0.0:
        raise InputError(
            f"“{formula.title}” has nothing left without its agents.",
            field="formula",
            hint="Choose another formula, or name a base.",
        )
    return tuple(lines), grams, _base_remarks(plan, formula, left_out)


def _in_grams(reading: Reading, weight: float | None) -> str:
    """Return a line as typed; what depends on the rest of the batch comes in grams."""
    if weight is None or not reading.is_relative:
        return reading.line.text
    note = f", {reading.line.note}" if reading.line.note else ""
    return f"{grams_text(float(weight))} g {reading.line.name}{note}"


def _base_remarks(plan: Plan, formula: Formula, left_out: int) -> tuple[str, ...]:
    remarks = [f"The base is “{formula.title}” without its agents; the steps are those below."]
    if left_out:
        remarks.append(f"{left_out} line(s) of it could not be read and are not counted.")
    if any(m.agent for inner in plan.inner.values() for m in inner.materials):
        remarks.append("A formula within it brings agents of its own; these stay.")
    return tuple(remarks)


def grams_text(value: float) -> str:
    """Return grams as they are weighed: three digits below 100 g, whole tenths above."""
    return f"{value:.3g}" if value < 100.0 else f"{value:.1f}".removesuffix(".0")
