"""Assess writing that belongs to a saved formula: its earlier pH readings move the estimate."""

from setwell.domain.formula import Formula
from setwell.engine.assess import assess, bench_build
from setwell.engine.assessment import Assessment
from setwell.services.assessment import measured_span
from setwell.services.formulas import version_get
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.readings import measured_ph_before

# Above any version number: every saved version is earlier than what is being written.
_AFTER_ALL = 10**9


def draft_assess(*, formula: Formula, formula_id: int | None = None) -> Assessment:
    """Return everything computed for what is being written.

    A reading on this very content wins. Otherwise the newest reading on a version of the same
    formula moves the computed pH by as much as that version was measured off.
    """
    measured = measured_span(formula)
    offset = 0.0 if measured is not None or formula_id is None else _offset(formula_id)
    return assess(
        formula,
        catalog=kitchen_catalog(),
        parts=parts_for(formula),
        measured_ph=measured,
        ph_offset=offset,
    )


def _offset(formula_id: int) -> float:
    """Return how far the newest measured version was from its computed pH; 0 without any."""
    before = measured_ph_before(formula_id=formula_id, number=_AFTER_ALL)
    if before is None:
        return 0.0
    number, reading = before
    earlier = version_get(formula_id=formula_id, number=number).formula
    bench = bench_build(earlier, catalog=kitchen_catalog(), parts=parts_for(earlier))
    return float(reading.ph - bench.state.water.acidity.ph.value[0])
