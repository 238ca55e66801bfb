"""Readings, disputes and corrections in words and estimates."""

from collections.abc import Mapping
from math import exp

from setwell.engine.calibration import Fit, Found
from setwell.engine.disputes import Dispute
from setwell.engine.gelling.state import STIRRING_RATE, AgentState
from setwell.engine.rules.bench import Bench
from setwell.engine.spans import Spans
from setwell.engine.texture_observations import measured_of_check
from setwell.engine.texture_unknowns import Quantity, Target
from setwell.provenance import Citation, Estimate, Evidence, Grade
from setwell.services.texture_compare import Beside
from setwell.services.texture_results import QuantityRow, ReadingUse, TextureDispute
from setwell.store.texture_reading_rows import StoredLotCheck

KITCHEN: Evidence = (Citation("this_kitchen", "texture readings", Grade.MEASURED),)
_LABELS = {
    Quantity.STRENGTH: "firmness",
    Quantity.STRAIN: "how far it bends before it breaks",
    Quantity.SETTING: "setting temperature",
    Quantity.MELTING: "melting temperature",
    Quantity.FLOW: "thickness",
}
_SET_ASIDE = "Set aside"
_REPEAT = (
    "Measure once more, or set one of them aside with a reason. Until then the range is wide "
    "enough for all of them."
)
_ALONE = (
    "Measure once more. If it repeats, the tables are off for this powder and the range will "
    "follow; if not, set the odd one aside with a reason."
)


def use_told(beside: Beside, *, fit: Fit | None, is_disputed: bool) -> ReadingUse:
    """Return a reading beside what was computed for it."""
    stored, compared = beside.stored, beside.compared
    is_check = isinstance(stored, StoredLotCheck)
    if isinstance(stored, StoredLotCheck):
        check = stored.document
        common = measured_of_check(check)
        lot = f", lot {check.lot_code}" if check.lot_code else ""
        title, lots = f"Lot check of {check.agent}{lot}", {stored.agent: check.lot_code}
        kind, unit, value = check.kind.value, common.kind.unit, common.value
    else:
        reading = stored.document
        title, lots = stored.title, dict(reading.lots)
        kind, unit, value = reading.kind.value, reading.kind.unit, reading.value
    reason = f"{_SET_ASIDE}: {stored.reason}" if stored.reason else f"{_SET_ASIDE}."
    return ReadingUse(
        key=beside.key,
        id=stored.id,
        is_lot_check=is_check,
        title=title,
        formula_id=None if isinstance(stored, StoredLotCheck) else stored.formula_id,
        number=None if isinstance(stored, StoredLotCheck) else stored.number,
        kind=kind,
        measured=value,
        computed=compared.computed,
        unit=unit,
        lots=lots,
        taken_on=stored.document.taken_on,
        is_counted=stored.counts and bool(compared.observations),
        is_disputed=is_disputed,
        contradicts=compared.contradicts,
        deviations=None if fit is None else fit.deviations,
        remark=compared.remark if stored.counts else reason,
    )


def dispute_told(dispute: Dispute, uses: Mapping[str, ReadingUse]) -> TextureDispute:
    """Return a conflict with its readings named, and what to do."""
    readings = tuple(uses[key] for key in dispute.keys)
    listed, apart = "; ".join(one.words for one in readings), _apart(readings)
    if dispute.is_within:
        apart = ""
        sentence = f"The cups of one test differ by more than their doubts allow: {listed}."
    elif dispute.is_with_model:
        sentence = f"This reading is far from what the model and all else expect: {listed}.{apart}"
    else:
        sentence = f"These readings differ by more than their doubts allow: {listed}.{apart}"
    return TextureDispute(
        readings,
        dispute.ratio,
        sentence,
        _ALONE if dispute.is_with_model else _REPEAT,
        apart.strip(),
    )


def _apart(readings: tuple[ReadingUse, ...]) -> str:
    """Return how far readings in conflict are apart, beside what is computed for each."""
    known = [(one, one.measured, one.computed) for one in readings]
    pairs = [(one, m, c) for one, m, c in known if m is not None and c is not None]
    if len(pairs) < len(readings) or not pairs:
        return ""
    if all(one.unit == "°C" for one in readings):
        shifts = [measured - computed for _, measured, computed in pairs]
        if len(shifts) == 1:
            return f" The tables expect {pairs[0][2]:.0f} °C."
        return f" They lie {max(shifts) - min(shifts):.0f} °C apart."
    if any(one.unit == "°C" or computed <= 0 or measured <= 0 for one, measured, computed in pairs):
        return ""
    factors = [measured / computed for _, measured, computed in pairs]
    if len(factors) == 1:
        return f" The tables expect {pairs[0][2]:.3g} {readings[0].unit}."
    return f" They lie a factor of {_factor(max(factors) / min(factors))} apart."


def row_told(
    found: Found, bench: Bench, *, target: Target, uses: Mapping[str, ReadingUse]
) -> QuantityRow:
    """Return one corrected quantity, before and after."""
    correction, quantity = found.correction, found.quantity
    posterior = factor_estimate(
        quantity, correction.shift, float(correction.half_width), "calibrated", KITCHEN
    )
    name = bench.name(found.agent)
    return QuantityRow(
        agent=found.agent,
        agent_name=name,
        quantity=quantity.value,
        label=_LABELS[quantity],
        lot=target.lot,
        base=target.base,
        prior=factor_estimate(quantity, 0.0, found.prior_half_width, "law of the tables"),
        posterior=posterior,
        of_lot=len(found.of_lot),
        of_base=len(found.of_base),
        is_disputed=correction.is_disputed,
        readings=tuple(uses[key] for key in found.keys),
        sentence=_row_sentence(found, posterior, target, name),
    )


def factor_estimate(
    quantity: Quantity, shift: float, half_width: float, model: str, evidence: Evidence = ()
) -> Estimate:
    """Return a correction as a factor, or as a shift in K."""
    bounds = (shift, shift - half_width, shift + half_width)
    if not quantity.is_ratio:
        return Estimate(bounds[0], "K", bounds[1], bounds[2], model, evidence)
    value, low, high = (exp(bound) for bound in bounds)
    return Estimate(value, "×", low, high, model, evidence)


def range_words(estimate: Estimate) -> str:
    """Return a factor or a shift with its range, for a sentence."""
    low, high = estimate.low, estimate.high
    if estimate.unit == "K":
        return f"{estimate.value:+.1f} °C ({low:+.1f} to {high:+.1f})"
    value, lowest, highest = (_factor(bound) for bound in (estimate.value, low, high))
    return f"{value}× ({lowest} to {highest})"


def _factor(value: float | None) -> str:
    if value is None:
        return "unknown"
    return f"{value:.2g}" if value < 100 else f"{value:,.0f}"


def times_words(estimate: Estimate) -> str:
    """Return the strength of a lot with its range, for a sentence."""
    value, low, high = (_factor(bound) for bound in (estimate.value, estimate.low, estimate.high))
    return f"{value} times the usual ({low} to {high})"


def count_words(count: int) -> str:
    """Return on how many readings something rests."""
    return "1 own measurement" if count == 1 else f"{count} own measurements"


def _row_sentence(found: Found, posterior: Estimate, target: Target, name: str) -> str:
    lot = f"lot {target.lot}" if target.lot else "no named lot"
    told = (
        f"{name}, {_LABELS[found.quantity]}: {range_words(posterior)} against the tables, on "
        f"{count_words(found.correction.readings)} ({len(found.of_lot)} of {lot}, "
        f"{len(found.of_base)} in {target.base} bases)."
    )
    return told + dispute_words(found)


def dispute_words(found: Found) -> str:
    """Return what to add to a sentence where readings are in conflict; nothing where not."""
    if not found.correction.is_disputed:
        return ""
    if len(found.keys) == 1:
        return " That is far from what the tables expect: measure once more."
    return " Some of them contradict each other or the tables."


def numbers_of(
    bench: Bench, agent: str, quantity: str, *, is_calibrated: bool = False
) -> Estimate | None:
    """Return a quantity of one agent as a number, where the batch has one."""
    state = bench.state.agents.get(agent)
    if state is None:
        return None
    spans, unit = _spans(state, Quantity(quantity))
    if spans is None:
        return None
    evidence = (*KITCHEN, *state.evidence) if is_calibrated else state.evidence
    return spans.estimate(unit=unit, model=state.model, evidence=evidence)


def _spans(state: AgentState, quantity: Quantity) -> tuple[Spans | None, str]:
    if quantity is Quantity.SETTING:
        return state.set_c, "°C"
    if quantity is Quantity.MELTING:
        return state.melt_c, "°C"
    if quantity is Quantity.FLOW:
        return (
            None if state.flow is None else state.flow.at(STIRRING_RATE).scaled(1000.0)
        ), "mPa·s"
    if state.gel is None:
        return None, ""
    if quantity is Quantity.STRAIN:
        return state.gel.fracture_strain, ""
    return state.gel.modulus.scaled(0.001), "kPa"
