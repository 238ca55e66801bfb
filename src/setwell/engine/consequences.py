"""What limits what in this water phase: acid, milk protein, ions, water, cold, heat, alcohol."""

from collections.abc import Iterable

import numpy as np

from setwell.engine.chemistry_results import AcidOrder, Consequence, Tone
from setwell.engine.consequences_of_ions import ion_consequences
from setwell.engine.consequences_of_water import water_consequences
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.spans import Spans
from setwell.engine.titration_curve import CASEIN_PH, ph_window
from setwell.provenance import Evidence, evidence_join

# Casein curdles warm below about this (dairy chemistry, recalled).
_WARM_CURD_PH = 5.2
_MILK_PROTEIN_LEAST = 0.005
# Strength the other order would save before it is worth a word, in percent.
_ORDER_COSTS = 3.0
# Shares of the doubt smaller than this are not named, and not more than so many.
_LEAST_DOUBT, _NAMED_DOUBTS = 0.1, 3


def consequences(
    bench: Bench, order: AcidOrder | None = None, row: int = 0
) -> tuple[Consequence, ...]:
    """Return what follows for the dish, in plain sentences with their figures."""
    if not bench.plan.used:
        return ()
    return (
        *_acid(bench, order, row),
        *ion_consequences(bench, row),
        *water_consequences(bench, row),
    )


def ph_doubt(bench: Bench, row: int = 0) -> tuple[tuple[str, float], ...]:
    """Return the ingredients that widen the range of the computed pH most, by share of it."""
    acids = bench.state.water.acidity
    if not acids.is_solved[row]:
        return ()
    squares = acids.pulls[row] ** 2
    total = float(squares.sum())
    if total <= 0:
        return ()
    shares: dict[str, float] = {}
    for material, square in zip(bench.plan.materials, squares, strict=True):
        shares[material.name] = shares.get(material.name, 0.0) + float(square) / total
    ranked = sorted(shares.items(), key=lambda item: -item[1])[:_NAMED_DOUBTS]
    return tuple((name, share) for name, share in ranked if share >= _LEAST_DOUBT)


def _acid(bench: Bench, order: AcidOrder | None, row: int) -> Iterable[Consequence]:
    if not bench.state.water.has_ph[row]:
        return
    yield from _windows(bench, row)
    if float(bench.state.water.milk_protein_share[row]) > _MILK_PROTEIN_LEAST:
        yield _casein(bench.state.water.ph, row)
    if order is not None:
        yield from _order(order)


def _windows(bench: Bench, row: int) -> Iterable[Consequence]:
    """Hold the pH against each agent's window; those that fit share one sentence."""
    ph = bench.state.water.ph
    fits, evidence = [], []
    for key in bench.agents:
        window = ph_window(key)
        if window is None:
            continue
        low, high, cited = window
        name = bench.name(key)
        if ph.low[row] >= low and ph.high[row] <= high:
            fits.append(f"{name} ({low:g} to {high:g})")
            evidence.append(cited)
        else:
            yield _outside(name, ph, (low, high), cited, row)
    if fits:
        yield Consequence(
            "pH and the agents",
            f"{_ph(ph, row)} lies inside the window of {_listed(fits)}.",
            Tone.GOOD,
            evidence_join(evidence),
        )


def _outside(
    name: str, ph: Spans, window: tuple[float, float], cited: Evidence, row: int
) -> Consequence:
    low, high = window
    value = float(ph.value[row])
    is_acid = value < low or (value <= high and float(ph.low[row]) < low)
    limit, side = (low, "below") if is_acid else (high, "above")
    if low <= value <= high:
        text = (
            f"{_ph(ph, row)} may lie {side} {limit:g}, the edge for {name}: a reading settles it."
        )
        return Consequence(f"{name}: close to the edge", text, Tone.NOTE, cited)
    text = f"{_ph(ph, row)} is {side} {limit:g}, so {name} gives less than its dose promises."
    return Consequence(f"{name}: {'acid' if is_acid else 'pH'} limits it", text, Tone.WATCH, cited)


def _casein(ph: Spans, row: int) -> Consequence:
    value, low = float(ph.value[row]), float(ph.low[row])
    title = "Milk protein and the acid"
    if value < _WARM_CURD_PH:
        where = "below" if value < CASEIN_PH else "close to"
        text = (
            f"{_ph(ph, row)} is {where} pH {CASEIN_PH:g}, where casein curdles cold; warm it "
            f"begins near {_WARM_CURD_PH:g}."
        )
        return Consequence(title, text, Tone.WATCH, PRACTICE)
    if low < _WARM_CURD_PH:
        text = (
            f"{_ph(ph, row)} may reach {_WARM_CURD_PH:g}, where warm casein begins to curdle: "
            "read the pH before heating."
        )
        return Consequence(title, text, Tone.WATCH, PRACTICE)
    text = (
        f"{_ph(ph, row)} stays {value - _WARM_CURD_PH:.1f} above {_WARM_CURD_PH:g}, where warm "
        f"casein begins to curdle (cold at {CASEIN_PH:g})."
    )
    return Consequence(title, text, Tone.GOOD, PRACTICE)


def _order(order: AcidOrder) -> Iterable[Consequence]:
    for agent in order.agents:
        minutes = 5.0 if agent.own_minutes is None else agent.own_minutes
        row = agent.at(minutes)
        if row.late.value - row.early.value < _ORDER_COSTS:
            continue
        is_late = agent.own is not None and agent.own.value >= row.late.value - 5.0
        tone = Tone.GOOD if is_late else Tone.WATCH
        end = " Your steps add it late." if is_late else ""
        yield Consequence(
            f"{agent.name}: when the acid goes in", agent.sentence + end, tone, agent.evidence
        )


def _listed(names: list[str]) -> str:
    return " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)


def _ph(ph: Spans, row: int) -> str:
    value, low, high = (float(np.round(part[row], 2)) for part in ph)
    return f"pH {value:.1f} ({low:.1f} to {high:.1f})"
