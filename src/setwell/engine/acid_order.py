"""The two orders: acid in before the hold, or after cooling, and what each leaves."""

from dataclasses import replace
from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.domain.steps import Step, StepKind
from setwell.engine.acid_materials import acid_columns
from setwell.engine.acidity import acidity
from setwell.engine.chemistry_results import AcidOrder, AgentOrder, KeptCurve
from setwell.engine.gelling.acid import (
    LAW_PH,
    Course,
    Met,
    course_of,
    heat_met,
    loss_evidence,
    loss_laws,
    loss_rates,
)
from setwell.engine.history import PACE_FACTOR, history_read
from setwell.engine.origins import acidity_evidence
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.rules.dispersion import needed_c
from setwell.engine.rules.sour_base import is_sour_base, water_content
from setwell.engine.spans import Spans
from setwell.provenance import Estimate, Evidence, evidence_join
from setwell.science.gels.degradation import UNFLAGGED_LOSS
from setwell.units import duration_print, temperature_print

Array = NDArray[np.float64]

_MINUTES = np.arange(0.0, 31.0)
# Where hot acid hardly cuts chains within minutes (common practice) [°C].
_LATE_C = 60.0
# Acid goes in this far above the start of setting, and needs this much of a difference [°C].
_ABOVE_SETTING_C, _APART_C = 5.0, 5.0
# A hold when the steps tell none.
_USUAL_HOLD_MIN = 5.0
# A difference smaller than this is not worth a change of the method, % of the strength.
_WORTH_PCT = 3.0


def acid_order(bench: Bench, row: int = 0) -> AcidOrder | None:
    """Return what the moment of the acid costs; None without an acid or a law of loss."""
    water, process = bench.state.water, bench.state.process
    keys = [key for key in bench.agents if loss_laws(key) is not None]
    acids = acid_columns(bench.plan.materials)
    if not keys or not process.has_acid or not water.has_ph[row] or not acids.any():
        return None
    before = _ph_before(bench, acids, row)
    if before is None:
        return None
    ph = Spans(*(part[row : row + 1] for part in water.ph))
    agents = [_agent(bench, key, ph, before, row) for key in keys]
    found = tuple(agent for agent in agents if agent is not None)
    if not found:
        return None
    names = [m.name for m, is_acid in zip(bench.plan.materials, acids, strict=True) if is_acid]
    evidence = acidity_evidence(bench.plan, bench.state, row)
    return AcidOrder(
        ph.estimate(unit="pH", model="pH of the batch", evidence=evidence),
        before.estimate(unit="pH", model="the batch without its acids", evidence=evidence),
        tuple(dict.fromkeys(names)),
        found,
    )


def _ph_before(bench: Bench, acids: NDArray[np.bool_], row: int) -> Spans | None:
    """Return the pH of the batch before its acids go in; None when little is left then."""
    masses = bench.state.masses[row : row + 1]
    materials = bench.plan.materials
    brought = water_content(materials) * masses[0]
    if not brought.sum() > 0 or is_sour_base(bench, row):
        return None
    left = np.array([float(brought[~acids].sum())])
    found = acidity(np.where(acids, 0.0, masses), materials, left)
    return found.ph if found.is_solved[0] else None


def _agent(bench: Bench, key: str, ph: Spans, before: Spans, row: int) -> AgentOrder | None:
    state, path = bench.state.agents[key], bench.state.process.agents[key]
    peak, is_told = float(path.peak_c[0]), bool(np.isfinite(path.peak_c[0]))
    peak = peak if is_told else needed_c(key)
    set_c = None if state.set_c is None else float(state.set_c.value[row])
    late_c = _LATE_C if set_c is None else max(_LATE_C, np.ceil(set_c + _ABOVE_SETTING_C))
    if peak - late_c < _APART_C:
        return None
    early, late, is_in_range = _curves(key, peak, float(late_c), (ph, before), set_c)
    hold = float(path.hold_min[0])
    flags = () if is_in_range else ("outside the range of the model",)
    order = AgentOrder(
        key=key,
        name=bench.name(key),
        peak_c=peak,
        is_peak_told=is_told,
        late_c=float(late_c),
        minutes=tuple(_MINUTES.tolist()),
        early=early,
        late=late,
        sentence="",
        own=_own(bench, key, row),
        own_minutes=hold if np.isfinite(hold) else None,
        own_acid_c=_own_acid_c(bench),
        setting=_setting(bench, key, row),
        flags=flags,
        evidence=_evidence(key),
    )
    return _with_sentence(order)


def _curves(
    key: str, peak: float, late_c: float, ph: tuple[Spans, Spans], set_c: float | None
) -> tuple[KeptCurve, KeptCurve, bool]:
    """Return the strength kept with the acid in early and late, and whether the law covers it."""
    gels = None if set_c is None else np.array([set_c])
    met = [heat_met(courses, gels) for courses in _courses(peak, late_c)]
    sour, mild = (loss_rates(key, np.array(part)) for part in ph)
    early, is_early_in = _curve(met, (sour, sour, sour))
    late, is_late_in = _curve(met, (mild, mild, sour))
    is_in_range = is_early_in and is_late_in and float(ph[0].value[0]) >= LAW_PH[0]
    return early, late, is_in_range


def _curve(met: list[Met], rates: tuple[Array, Array, Array]) -> tuple[KeptCurve, bool]:
    """Return the strength kept after each hold; every minute of it takes the same share."""
    hold, cooling, rest = (rate * part.seconds for rate, part in zip(rates, met, strict=True))
    value, low, high = np.exp(-(hold * _MINUTES + (cooling + rest)))
    covered = sum(
        minutes * rate * (part.seconds - part.inside)
        for minutes, rate, part in zip((_MINUTES[-1], 1.0, 1.0), rates, met, strict=True)
    )
    parts = (value, np.minimum(value, low), np.maximum(value, high))
    curve = KeptCurve(*(tuple(part.tolist()) for part in parts))
    return curve, bool(np.all(covered <= UNFLAGGED_LOSS))


@lru_cache(maxsize=256)
def _courses(peak: float, late_c: float) -> tuple[tuple[Course, ...], ...]:
    """Return what a minute of hold, cooling, and the way on to the fridge are worth.

    Each of them in a middling, a slow and a quick kitchen.
    """
    hold = course_of((0.0, 1.0), (peak, peak))
    kitchens = []
    for pace in (1.0, PACE_FACTOR, 1.0 / PACE_FACTOR):
        down = history_read(
            (
                Step("", StepKind.HEAT, temperature_c=peak),
                Step("", StepKind.COOL, temperature_c=late_c),
                Step("", StepKind.ADD),
                Step("", StepKind.CHILL),
            ),
            pace=pace,
        )
        # The first point is the cold start, the second the end of the hold.
        times, celsius = tuple(down.minutes.tolist()), tuple(down.celsius.tolist())
        cooling, rest = (course_of(times[at], celsius[at]) for at in (slice(1, 3), slice(2, None)))
        kitchens.append((hold, cooling, rest))
    return tuple(zip(*kitchens, strict=True))


@cache
def _evidence(key: str) -> Evidence:
    return evidence_join([loss_evidence(key), PRACTICE])


def _own(bench: Bench, key: str, row: int) -> Estimate | None:
    process = bench.state.process
    if process.is_acid_apart and not process.acid_steps:
        return None
    kept = bench.state.agents[key].kept
    flags = () if kept.is_in_range[row] else ("outside the range of the model",)
    return kept.heat.scaled(100.0).estimate(
        unit="%",
        model="loss law over the steps",
        evidence=_evidence(key),
        flags=flags,
        row=row,
    )


def _own_acid_c(bench: Bench) -> float | None:
    hottest = float(bench.state.process.acid_c[0])
    return hottest if np.isfinite(hottest) else None


def _setting(bench: Bench, key: str, row: int) -> Estimate | None:
    """Return the share of its strength the gel forms with at this pH, however it was heated."""
    kept = bench.state.agents[key].kept
    value, low, high = (
        float(share[row] / heat[row]) if heat[row] > 0 else 0.0
        for share, heat in zip(kept.share, kept.heat, strict=True)
    )
    if low > 0.995:
        return None
    return Estimate(100.0 * value, "%", 100.0 * low, 100.0 * high, "drawn curve", PRACTICE)


def _with_sentence(order: AgentOrder) -> AgentOrder:
    minutes = _USUAL_HOLD_MIN if order.own_minutes is None else order.own_minutes
    row = order.at(minutes)
    held = f"with a hold of {duration_print(row.minutes)}" if row.minutes else "without a hold"
    late, early = temperature_print(order.late_c), temperature_print(round(order.peak_c))
    if row.late.value - row.early.value < _WORTH_PCT:
        said = (
            f"The order hardly matters here: {held}, {order.name} keeps {_percent(row.early)} of "
            f"its strength with the acid in at {early}, and {_percent(row.late)} with the acid "
            f"added at {late}."
        )
    else:
        said = (
            f"Added at {late} instead of {early}, {held}, {order.name} keeps "
            f"{_percent(row.late)} of its strength instead of {_percent(row.early)}."
        )
    return replace(order, sentence=said)


def _percent(kept: Estimate) -> str:
    low, high = kept.low or 0.0, 100.0 if kept.high is None else kept.high
    return f"{kept.value:.0f} % ({low:.0f} to {high:.0f})"
