"""Formulas, what is computed of them and what was measured of them, as rows of plain cells."""

from collections.abc import Iterator

from setwell.engine.assessment import Assessment
from setwell.provenance import Estimate
from setwell.services.assessment import formula_assess
from setwell.services.exported_shelves import Cell, Rows
from setwell.services.formulas import (
    FormulaSummary,
    formula_list,
    version_get,
    version_history,
)
from setwell.services.probe_logs import probe_log_list
from setwell.services.readings import version_reading_list
from setwell.store.publication_rows import publication_rows

_NAMED = ("formula_id", "version", "title")


def version_rows() -> Rows:
    """Yield every saved version of every formula."""
    yield [*_NAMED, "saved_at", "started_from", "note", "content_hash", "is_put_away"]
    for formula in _formulas():
        for one in version_history(formula_id=formula.id):
            yield [
                formula.id, one.number, one.title, one.saved_at.isoformat(), one.parent_number,
                one.note, one.hash, "yes" if formula.archived else "no",
            ]  # fmt: skip


def line_rows() -> Rows:
    """Yield every line of the newest version of every formula, as it was read."""
    yield [*_NAMED, "line", "heading", "text", "material", "grams", "percent", "problem"]
    for named, found in _assessed():
        for line in found.lines:
            yield [
                *named, line.number, line.heading, line.text.strip(), line.material_name,
                line.grams, line.percent, line.problem,
            ]  # fmt: skip


def step_rows() -> Rows:
    """Yield every step of the newest version of every formula, as it was read."""
    yield [*_NAMED, "step", "text", "kind", "reading", "problem"]
    for named, found in _assessed():
        for step in found.steps:
            yield [*named, step.number, step.text, step.kind, step.reading, step.problem]


def nutrition_rows() -> Rows:
    """Yield nutrients per 100 g of the finished batch; unknown ones name their ingredients."""
    yield [*_NAMED, "nutrient", "per_100g", "low", "high", "unit", "grade", "unknown_in"]
    for named, found in _assessed():
        for one in found.nutrients:
            unknown = "; ".join(one.unknown_in)
            yield [*named, one.label, *_estimate(one.per_100g), unknown]


def figure_rows() -> Rows:
    """Yield what is computed of each formula: pH, solids, setting, stiffness and others."""
    yield [*_NAMED, "figure", "value", "low", "high", "unit", "grade"]
    for named, found in _assessed():
        for label, estimate in _figures(found):
            yield [*named, label, *_estimate(estimate)]


def cost_rows() -> Rows:
    """Yield what each formula costs; a lower bound where prices are missing."""
    yield [*_NAMED, "currency", "batch", "per_portion", "per_100g", "most_for", "without_price"]
    for named, found in _assessed():
        cost = found.cost
        amounts = (cost.batch, cost.per_portion, cost.per_100g)
        told = [None if one is None else one.value for one in amounts]
        yield [*named, cost.currency, *told, cost.driver, "; ".join(cost.unpriced)]


def allergen_rows() -> Rows:
    """Yield the allergens of each formula and what brings them."""
    yield [*_NAMED, "allergen", "certainty", "from"]
    for named, found in _assessed():
        for one in found.allergens:
            yield [*named, one.allergen, one.certainty, "; ".join(one.materials)]


def acidity_reading_rows() -> Rows:
    """Yield every pH that was measured of a saved version."""
    head = ("formula_id", "version", "ph", "plus_minus", "taken_on", "temperature_c", "note")
    yield [*head, "recorded_at"]
    for formula in _formulas():
        for row in version_reading_list(formula_id=formula.id):
            one = row.document
            day = one.taken_on.isoformat() if one.taken_on else None
            yield [
                row.formula_id, row.number, one.ph, one.plus_minus, day, one.temperature_c,
                one.note, row.recorded_at.isoformat(),
            ]  # fmt: skip


def probe_log_rows() -> Rows:
    """Yield the probe logs; each has its readings as a file of its own on its page."""
    yield ["id", "formula_id", "version", "title", "recorded_at", "counts"]
    for row in probe_log_list():
        counts = "yes" if row.counts else "no"
        moment = row.recorded_at.isoformat()
        yield [row.id, row.formula_id, row.number, row.document.title, moment, counts]


def publication_rows_told() -> Rows:
    """Yield what was published, and what was withdrawn."""
    yield [*_NAMED, "page", "published_at", "withdrawn_at", "reason", "changes"]
    for page in publication_rows():
        gone = page.withdrawn_at.isoformat() if page.withdrawn_at else None
        for one in page.versions:
            yield [
                page.formula_id, one.number, one.title, page.name, one.published_at.isoformat(),
                gone, page.reason, "; ".join(one.changes),
            ]  # fmt: skip


def _formulas() -> tuple[FormulaSummary, ...]:
    found = (*formula_list(), *formula_list(archived=True))
    return tuple(sorted(found, key=lambda one: one.id))


def _assessed() -> Iterator[tuple[tuple[Cell, ...], Assessment]]:
    for formula in _formulas():
        detail = version_get(formula_id=formula.id)
        number = detail.summary.number
        found = formula_assess(formula=detail.formula, formula_id=formula.id, number=number)
        yield (formula.id, number, detail.formula.title), found


def _figures(found: Assessment) -> Iterator[tuple[str, Estimate]]:
    for figure in found.solution:
        if not figure.is_none:
            yield figure.label, figure.estimate
    for agent in found.agents:
        for label, estimate in (
            ("dose", agent.dose_pct),
            ("sets at", agent.set_temperature_c),
            ("melts at", agent.melt_temperature_c),
            ("modulus", agent.modulus_kpa),
        ):
            if estimate is not None:
                yield f"{agent.name}, {label}", estimate


def _estimate(one: Estimate) -> tuple[Cell, ...]:
    return one.value, one.low, one.high, one.unit, one.grade.value
