"""Acid: outside an agent's window, added hot, or curdling milk."""

from collections.abc import Callable, Iterable
from functools import cache, partial

import numpy as np

from setwell.engine.acid_additives import CITRATE_BUFFER, CITRIC_ACID, additive_find
from setwell.engine.assessment import Severity
from setwell.engine.dose_search import acid_loads
from setwell.engine.dosing import DoseResult, Taste, dose_for
from setwell.engine.rules.bench import PRACTICE, Bench, Hit
from setwell.engine.rules.sour_base import is_sour_base, sour_base_action
from setwell.engine.titration_curve import ph_window
from setwell.tables.agents import agent_rows
from setwell.units import temperature_print, text_quote

# Warm casein flocculates below about pH 5.2, cold at 4.6 (dairy chemistry, recalled).
_CURDLES_PH = 5.2
_MILK_PROTEIN_LEAST = 0.005
_HOT_ACID_C = 70.0
_NEUTRAL_PH = 6.0
Buffered = Callable[[int, float], DoseResult | None]
# How far inside its window an agent is to stand, because the pH is an estimate.
_MARGIN_PH = 0.5
# Acid costs taste, so an agent that wants it gets no more than this below its edge.
_INSIDE_PH = 0.1
# Acid that comes in at this temperature or below does little harm.
_LATE_C = 60.0


def ph_text(bench: Bench, row: int) -> str:
    """Return the pH with its range as a cook reads it."""
    ph = bench.state.water.ph
    value, low, high = (float(part[row]) for part in ph)
    return f"pH {value:.1f} ({low:.1f} to {high:.1f}, {_origin(bench)})"


def _origin(bench: Bench) -> str:
    water = bench.state.water
    if water.is_measured:
        return "with your reading"
    return "estimated" if water.ph is water.acidity.ph else "moved by an earlier reading"


def acid_window(bench: Bench) -> Iterable[Hit]:
    """Say when the batch is more acid, or more alkaline, than an agent takes."""
    ph = bench.state.water.ph
    has_ph = bench.state.water.has_ph
    # Agents that share a target share the answer, which takes a while to work out.
    buffered = cache(partial(_buffered, bench))
    for key in bench.state.agents:
        window = ph_window(key)
        if window is None:
            continue
        low, high, evidence = window
        name, lines = bench.name(key), bench.lines_of(key)
        severity_sure, severity_likely = _acid_severity(key)
        for code, severity, mask, where in (
            ("too_acid", severity_sure, ph.high < low, "below"),
            ("too_acid", severity_likely, (ph.value < low) & (ph.high >= low), "probably below"),
            ("maybe_too_acid", Severity.NOTE, (ph.value >= low) & (ph.low < low), "perhaps below"),
        ):
            yield Hit(
                code, severity, mask & has_ph,
                lambda row, name=name, low=low, high=high, key=key, where=where: (  # type: ignore[misc]
                    f"{name}: acid",
                    f"{ph_text(bench, row)}: {where} the window of {name}, which works best "
                    f"above pH {low:g}.",
                    _acid_advice(bench, row, key, _target(low, high), buffered),
                ),
                lines, bench.state.process.acid_steps, evidence,
            )  # fmt: skip
        needs_acid = high < _NEUTRAL_PH
        title = "not acid enough" if needs_acid else "alkaline"
        yield Hit(
            "not_acid_enough" if needs_acid else "too_alkaline", Severity.WARN,
            (ph.value > high) & has_ph,
            lambda row, name=name, high=high, title=title, acid=needs_acid: (  # type: ignore[misc]
                f"{name}: {title}",
                f"{ph_text(bench, row)}; {name} sets or thickens well only up to pH {high:g}.",
                _sour_advice(bench, row, high) if acid
                else "Less baking soda, or check with a pH strip."),
            lines, (), evidence,
        )  # fmt: skip


def _acid_severity(agent: str) -> tuple[Severity, Severity]:
    """Return how grave it is to be surely and probably too acid.

    Acid stops the carrageenans. Gelatin only weakens: wine and fruit jellies are all there.
    """
    if "ph_gelling_low" in agent_rows()[agent].properties:
        return Severity.STOP, Severity.WARN
    if agent == "gelatin":
        return Severity.NOTE, Severity.NOTE
    return Severity.WARN, Severity.WARN


def _target(low: float, high: float) -> float:
    """Return a pH well inside a window."""
    return round(min(low + _MARGIN_PH, (low + high) / 2.0), 1)


def _buffered(bench: Bench, row: int, target: float) -> DoseResult | None:
    """Return the buffer that brings one candidate to a pH; None when it is there already."""
    has_ph = bench.state.water.acidity.is_solved[row]
    if not has_ph or bench.state.water.ph.value[row] >= target:
        return None
    return dose_for(bench, target, additive_find(CITRATE_BUFFER), row=row)


def _acid_advice(bench: Bench, row: int, agent: str, target: float, buffered: Buffered) -> str:
    """Return what to do, with the weight of buffer worked out for this batch."""
    if agent == "gelatin":
        return "If it is too soft, raise the dose by about a fifth, or the Bloom."
    buffer = buffered(row, target)
    sour = _sourest(bench, row, target) or "acid"
    ways = []
    if buffer is not None and buffer.is_pleasant:
        ways.append(f"buffer to pH {target:g} with {_dose_text(buffer)}")
    if "ph_set_gel_low" not in agent_rows()[agent].properties:
        ways.append("raise the dose")
    elif not (bench.state.process.acid_c[0] <= _LATE_C or is_sour_base(bench, row)):
        ways.append(f"add the {sour} after cooling below 60 °C (140 °F)")
    ways.append(f"use less {sour}")
    advice = f"{', or '.join(ways)}; measure the pH, a reading settles it."
    why_not = "" if buffer is None or buffer.is_pleasant else f" {_no_buffer(buffer)}"
    return f"{advice[0].upper()}{advice[1:]}{why_not}"


def _sour_advice(bench: Bench, row: int, high: float) -> str:
    """Return how much citric acid brings a batch just inside a window."""
    careful = "Add acid in small steps and read the pH."
    if not bench.state.water.acidity.is_solved[row]:
        return careful
    target = high - _INSIDE_PH
    dose = dose_for(bench, target, additive_find(CITRIC_ACID), row=row)
    return (
        f"About {_dose_text(dose)} reaches pH {target:g}. {careful}" if dose.reachable else careful
    )


def _dose_text(buffer: DoseResult) -> str:
    grams = buffer.grams
    if grams is None:
        return buffer.name
    if grams.low is None or grams.high is None:
        return f"at least {_weight(grams.value)} g {buffer.name}"
    ends = f"{_weight(grams.low)} to {_weight(grams.high)}"
    return f"{_weight(grams.value)} g ({ends}) {buffer.name}"


def _weight(grams: float) -> str:
    return f"{grams:.0f}" if grams >= 10 else f"{grams:.1f}" if grams >= 1 else f"{grams:.2f}"


def _no_buffer(buffer: DoseResult) -> str:
    """Say why a citrate buffer is no way out here."""
    if not buffer.reachable:
        return f"Buffering is no way out: {buffer.name} cannot bring it to pH {buffer.target_ph:g}."
    tasted = "salty" if buffer.sodium_taste is Taste.TOO_MUCH else "soapy"
    return (
        f"Buffering to pH {buffer.target_ph:g} takes {_dose_text(buffer)} and is likely to taste "
        f"{tasted}."
    )


def _sourest(bench: Bench, row: int, target: float) -> str:
    """Return the name of the line that brings the most acid, above a pH; empty without one."""
    plan, state = bench.plan, bench.state
    loads = state.line_masses[row] * (plan.expansion @ acid_loads(plan.materials, target))
    if not loads.size or not loads.max() > 0:
        return ""
    reading = plan.readings[plan.used[int(loads.argmax())]]
    if reading.part is not None:
        return text_quote(reading.part.title)
    return reading.line.name or (reading.material.name if reading.material else "")


def acid_hot(bench: Bench) -> Iterable[Hit]:
    """Say when the acid goes in while the batch is hot."""
    acid_c = bench.state.process.acid_c
    hot = np.nan_to_num(acid_c, nan=0.0) > _HOT_ACID_C
    ph = bench.state.water.ph
    for key in bench.state.agents:
        limit = agent_rows()[key].properties.get("ph_hot_hold_low")
        if not limit:
            continue
        name = bench.name(key)
        yield Hit(
            "acid_hot", Severity.WARN, np.broadcast_to(hot, ph.value.shape)
            & (ph.value < limit[0].value) & bench.state.water.has_ph,
            lambda row, name=name, key=key: (  # type: ignore[misc]
                f"{name}: acid while hot",
                f"The acid meets the batch at up to {temperature_print(float(acid_c[0]))} and "
                f"{ph_text(bench, row)}: hot acid cuts the chains of {name} within minutes.",
                _late_advice(bench, row, key),
            ),
            bench.lines_of(key), bench.state.process.acid_steps,
            (limit[0].citation, *PRACTICE),
        )  # fmt: skip


def _late_advice(bench: Bench, row: int, agent: str) -> str:
    """Return what to do about hot acid: let it wait, or what can be done where it is the base."""
    if is_sour_base(bench, row):
        return sour_base_action(bench, row, agent)
    return "Add the acid last, at or below 60 °C (140 °F), and pour at once."


def milk_curdles(bench: Bench) -> Iterable[Hit]:
    """Say when acid would curdle the milk protein."""
    ph = bench.state.water.ph
    milky = bench.state.water.milk_protein_share > _MILK_PROTEIN_LEAST
    for severity, mask in (
        (Severity.WARN, ph.value < _CURDLES_PH),
        (Severity.NOTE, (ph.value >= _CURDLES_PH) & (ph.low < _CURDLES_PH)),
    ):
        yield Hit(
            "milk_curdles", severity, milky & mask & bench.state.water.has_ph,
            lambda row: (
                "Milk protein may curdle",
                f"{ph_text(bench, row)}: warm milk protein flocculates below about pH "
                f"{_CURDLES_PH:g}, cold milk at 4.6.",
                "Use less acid, add it cold under stirring, or buffer first.",
            ),
            (), bench.state.process.acid_steps, PRACTICE,
        )  # fmt: skip
