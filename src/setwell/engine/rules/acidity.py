"""Acid: outside an agent's window, added hot, or curdling milk."""

from collections.abc import Iterable

import numpy as np

from setwell.engine.assessment import Severity
from setwell.engine.rules.bench import PRACTICE, Bench, Hit
from setwell.engine.spans import Spans
from setwell.errors import MissingDataError
from setwell.provenance import Evidence
from setwell.tables.agents import agent_rows
from setwell.units import temperature_print

# Warm casein flocculates below about pH 5.2, cold at 4.6 (dairy chemistry, recalled).
_CURDLES_PH = 5.2
_MILK_PROTEIN_LEAST = 0.005
_HOT_ACID_C = 70.0
_NEUTRAL_PH = 6.0


def ph_text(ph: Spans, row: int) -> str:
    """Return a pH with its range as a cook reads it."""
    value, low, high = (float(part[row]) for part in ph)
    return f"pH {value:.1f} ({low:.1f} to {high:.1f}, estimated)"


def acid_window(bench: Bench) -> Iterable[Hit]:
    """Say when the batch is more acid, or more alkaline, than an agent takes."""
    ph = bench.state.water.ph
    has_ph = bench.state.water.has_ph
    for key in bench.state.agents:
        low, high, evidence = _window(key)
        if low is None or high is None:
            continue
        name, lines = bench.name(key), bench.lines_of(key)
        severity_sure, severity_likely = _acid_severity(key)
        for code, severity, mask in (
            ("too_acid", severity_sure, ph.high < low),
            ("too_acid", severity_likely, (ph.value < low) & (ph.high >= low)),
            ("maybe_too_acid", Severity.NOTE, (ph.value >= low) & (ph.low < low)),
        ):
            yield Hit(
                code, severity, mask & has_ph,
                lambda row, name=name, low=low, key=key: (  # type: ignore[misc]
                    f"{name}: acid",
                    f"{ph_text(ph, row)}; {name} works best above pH {low:g}.",
                    _acid_advice(key),
                ),
                lines, bench.state.process.acid_steps, evidence,
            )  # fmt: skip
        needs_acid = high < _NEUTRAL_PH
        title, advice = (
            ("not acid enough", "Add acid in small steps and read the pH.")
            if needs_acid
            else ("alkaline", "Less baking soda, or check with a pH strip.")
        )
        yield Hit(
            "not_acid_enough" if needs_acid else "too_alkaline", Severity.WARN,
            (ph.value > high) & has_ph,
            lambda row, name=name, high=high, title=title, advice=advice: (  # type: ignore[misc]
                f"{name}: {title}",
                f"{ph_text(ph, row)}; {name} sets or thickens well only up to pH {high:g}.",
                advice,
            ),
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


def _acid_advice(agent: str) -> str:
    if "ph_set_gel_low" in agent_rows()[agent].properties:
        return (
            "Buffer with a little sodium citrate, or add the acid after cooling below 60 °C "
            "(140 °F); measure the pH, a reading settles it."
        )
    if agent == "gelatin":
        return "If it is too soft, raise the dose by about a fifth, or the Bloom."
    return (
        "Use less acid, buffer with a little sodium citrate, or raise the dose; measure the pH, a "
        "reading settles it."
    )


def _window(agent: str) -> tuple[float | None, float | None, Evidence]:
    row = agent_rows()[agent]
    try:
        window = row.figure("ph_window")
    except MissingDataError:
        return None, None, ()
    gelling = row.properties.get("ph_gelling_low")
    low = gelling[0].value if gelling else window.low
    citations = (window.citation, *((gelling[0].citation,) if gelling else ()))
    return low, window.high, citations


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
            lambda row, name=name: (  # type: ignore[misc]
                f"{name}: acid while hot",
                f"The acid meets the batch at up to {temperature_print(float(acid_c[0]))} and "
                f"{ph_text(ph, row)}: hot acid cuts the chains of {name} within minutes.",
                "Add the acid last, at or below 60 °C (140 °F), and pour at once.",
            ),
            bench.lines_of(key), bench.state.process.acid_steps,
            (limit[0].citation, *PRACTICE),
        )  # fmt: skip


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
                f"{ph_text(ph, row)}: warm milk protein flocculates below about pH "
                f"{_CURDLES_PH:g}, cold milk at 4.6.",
                "Use less acid, add it cold under stirring, or buffer first.",
            ),
            (), bench.state.process.acid_steps, PRACTICE,
        )  # fmt: skip
