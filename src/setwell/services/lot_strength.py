"""How strong a lot is: against the tables, beside other lots, and what to do about it."""

from collections.abc import Mapping
from dataclasses import replace
from math import exp

from setwell.domain.texture_reading import LotTest, PowderColor, PowderFlavor
from setwell.engine.assess import bench_build
from setwell.engine.batch_marks import recipe_of
from setwell.engine.calibration import Calibrated, Found, base_of, calibrate
from setwell.engine.gelling.doubt import Correction, Corrections
from setwell.engine.lot_check import (
    agent_row,
    dose_factor,
    lot_test_formula,
    lot_tests_of,
    strength_exponent,
)
from setwell.engine.lot_check_guide import lot_check_guide
from setwell.engine.rules.bench import Bench
from setwell.engine.texture_unknowns import Quantity, Target
from setwell.services.lot_checks import agent_key_of, lot_check_list, lot_check_meaning
from setwell.services.texture_calibration import counted, uses_of
from setwell.services.texture_compare import Beside, lot_named, lot_of_check, readings_beside
from setwell.services.texture_materials import catalog_with_lots
from setwell.services.texture_results import DoseAdvice, LotReport, QuantityRow, ReadingUse
from setwell.services.texture_words import (
    count_words,
    dispute_told,
    dispute_words,
    factor_estimate,
    numbers_of,
    row_told,
    times_words,
)
from setwell.store.texture_reading_rows import StoredLotCheck

_COLORS = {
    PowderColor.TAN: "tan, less refined: expect it to be weaker and to tint a pale batch",
    PowderColor.BROWN: "brown, little refined: expect it to be weaker, and to color and flavor",
}


def lot_report(*, agent: str, lot_code: str) -> LotReport:
    """Return what all readings of this kitchen say of one lot."""
    key = agent_key_of(agent)
    lot = lot_named(agent, lot_code)
    checks = tuple(row for row in lot_check_list(agent=agent) if lot_of_check(row) == lot)
    test = _test(key, checks)
    quantity = Quantity.FLOW if test is LotTest.WATER_VISCOSITY else Quantity.STRENGTH
    bench = _bench(key, lot, test)
    target = _target(bench, key, lot)
    beside = readings_beside({key})
    observations = [found for one in counted(beside) for found in one.compared.observations]
    calibrated = calibrate(observations, {key: target})
    found = next((one for one in calibrated.found if one.quantity is quantity), None)
    total = None if found is None else found.correction
    alone = calibrated.lots.get((quantity, key))
    uses = uses_of(beside, calibrated)
    ours = _of_lot(beside, key, lot)
    others = {one.key for one in beside} - ours
    return LotReport(
        agent=key,
        agent_name=agent_row(key).name,
        lot_code=lot_code,
        quantity=quantity.value,
        against_tables=total,
        beside_other_lots=alone if others else None,
        sentence=_sentence(found),
        beside_sentence=_beside(alone, quantity) if others else "",
        advice=None if total is None else dose_advice(key, total, quantity),
        flags=_flags(checks),
        checks=checks,
        readings=tuple(use for name, use in uses.items() if name in ours),
        disputes=tuple(
            dispute_told(one, uses) for one in calibrated.disputes if ours & set(one.keys)
        ),
        last_answer=next(
            (
                lot_check_meaning(document=row.document)
                for row in checks
                if row.counts and row.document.outcome
            ),
            None,
        ),
        test=test.value,
        test_title=lot_check_guide(key, test).title,
        of_lot=0 if found is None else len(found.of_lot),
        rows=_rows(
            calibrated, bench, _bench(key, lot, test, calibrated.corrections),
            target=target, uses=uses,
        ),
    )  # fmt: skip


def dose_advice(agent: str, strength: Correction, quantity: Quantity) -> DoseAdvice:
    """Return how to change the dose so that this lot sets, or thickens, as the tables expect."""
    exponent, is_known = strength_exponent(agent, is_flow=quantity is Quantity.FLOW)
    middle, low, high = (
        dose_factor(exp(strength.shift + side * float(strength.half_width)), exponent=exponent)
        for side in (0.0, 1.0, -1.0)
    )
    source = "the tables" if is_known else "our own judgment"
    return DoseAdvice(
        middle, low, high, exponent, is_known,
        f"Take {middle:.2f} times the dose ({low:.2f} to {high:.2f}); strength grows with the "
        f"dose to the power of {exponent:.2g} by {source}. Try one cup first.",
    )  # fmt: skip


def _test(key: str, checks: tuple[StoredLotCheck, ...]) -> LotTest:
    """Return what a lot is judged by: the test made last, or the one that suits the powder."""
    numbers = [row.document.kind for row in checks if row.document.values]
    suited = [test for test in lot_tests_of(key) if test is not LotTest.POWDER_CONTROL]
    return (numbers or suited or [LotTest.POWDER_CONTROL])[0]


def _bench(
    key: str, lot: str, test: LotTest, corrections: Mapping[str, Corrections] | None = None
) -> Bench:
    """Return a standard test of a lot, computed."""
    catalog = catalog_with_lots({key: lot})
    return bench_build(
        lot_test_formula(key, test).formula, catalog=catalog, corrections=corrections
    )


def _rows(
    calibrated: Calibrated,
    before: Bench,
    after: Bench,
    *,
    target: Target,
    uses: Mapping[str, ReadingUse],
) -> tuple[QuantityRow, ...]:
    """Return the quantities of the standard test, before and after."""
    return tuple(
        replace(
            row_told(found, before, target=target, uses=uses),
            computed=numbers_of(before, found.agent, found.quantity),
            calibrated=numbers_of(after, found.agent, found.quantity, is_calibrated=True),
        )
        for found in calibrated.found
    )


def _target(bench: Bench, key: str, lot: str) -> Target:
    doubt = bench.state.agents[key].doubt.at(0)
    return Target(lot, base_of(bench.state), doubt, recipe_of(bench.formula))


def _of_lot(beside: tuple[Beside, ...], key: str, lot: str) -> set[str]:
    """Return the readings that this lot was in."""
    return {
        one.key
        for one in beside
        if (lot_of_check(one.stored) if isinstance(one.stored, StoredLotCheck)
            else one.stored.document.lots.get(key)) == lot
    }  # fmt: skip


def _sentence(found: Found | None) -> str:
    if found is None:
        return "Not measured yet: taken to be as strong as usual."
    total = found.correction
    told = times_words(factor_estimate(found.quantity, total.shift, float(total.half_width), "lot"))
    if not found.of_lot:
        return (
            f"Not measured itself; by other readings of this powder {told}, on "
            f"{count_words(total.readings)}."
        )
    return f"{told}, on {count_words(len(found.of_lot))}.{dispute_words(found)}"


def _beside(alone: Correction | None, quantity: Quantity) -> str:
    if alone is None:
        return ""
    told = times_words(factor_estimate(quantity, alone.shift, float(alone.half_width), "lot"))
    return f"Beside our other lots and readings: {told}, on {count_words(alone.readings)}."


def _flags(checks: tuple[StoredLotCheck, ...]) -> tuple[str, ...]:
    seen = [row for row in checks if row.counts]
    colors = [row.document.color for row in seen if row.document.color is not None]
    flavors = [row.document.flavor for row in seen if row.document.flavor is not None]
    told = [_COLORS[colors[0]]] if colors and colors[0] in _COLORS else []
    if flavors and flavors[0] is PowderFlavor.MARINE:
        told.append("tastes of the sea: taste a cup before it goes into a mild batch")
    return tuple(told)
