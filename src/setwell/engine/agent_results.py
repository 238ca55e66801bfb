"""Each agent of one candidate in words and numbers."""

from functools import cache

import numpy as np

from setwell.engine.agent_gel import agent_gel
from setwell.engine.assessment import AgentResult, Figure, Verdict
from setwell.engine.gelling.state import STIRRING_RATE, AgentState, SetsOn
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.rules.dispersion import needed_c
from setwell.engine.spans import Spans
from setwell.engine.texture_summary import regions_reached
from setwell.engine.texture_words import firmness_words, kilopascals
from setwell.engine.verdict import verdict
from setwell.errors import MissingDataError
from setwell.provenance import Estimate, Evidence
from setwell.tables.agents import AgentRow, PropertyRow, agent_rows
from setwell.units import temperature_print

# From this dissolved share on, more time matters more than what holds it back (our judgment).
_MOSTLY = 0.75
_GELATINS = frozenset({"gelatin", "gelatin_fish_cold"})
_PRACTICE_NOTE = (
    "Kitchens see it begin to set around here in rich bases. The ion law was drawn for gels in "
    "water with little salt; milk protein, sugar and a quick-cooling film on the spoon make a "
    "rich base look set earlier."
)


def agent_results(bench: Bench, row: int = 0) -> tuple[AgentResult, ...]:
    """Return what is known and computed for every agent."""
    return tuple(_result(bench, key, row) for key in bench.agents)


def _result(bench: Bench, key: str, row: int) -> AgentResult:
    state = bench.state.agents[key]
    table = agent_rows()[key]
    modulus = None
    if state.modulus is not None and state.sets[row] >= 0:
        # The loss to acid and heat has its own range of pH and temperature.
        kept = () if state.kept.is_in_range[row] else ("outside the range of the model",)
        modulus = kilopascals(
            state.modulus, row, model=state.model, evidence=state.origins.strength, flags=kept
        )
    dose, dose_verdict = _dose(bench, key, table, row)
    gel = agent_gel(state, row)
    lots = [m.agent.lot for m in bench.agents[key].materials if m.agent and m.agent.lot]
    flags = ("outside the range of the model",) if state.is_extrapolated[row] else ()
    return AgentResult(
        key=key,
        name=bench.name(key),
        lines=bench.lines_of(key),
        dose_pct=dose,
        typical=_typical(key),
        dose_verdict=dose_verdict,
        lot=", ".join(lots),
        hydrates=verdict(state.hydrates[row]),
        hydrated_fraction=_share(state, row),
        hydration_reason=_hydration_reason(bench, key, state, row),
        sets=verdict(state.sets[row]),
        set_reason=_set_reason(bench, key, state, row),
        set_temperature_c=_temperature(state.set_c, state, row, flags, state.origins.setting),
        melt_temperature_c=_temperature(state.melt_c, state, row, flags, state.origins.melting),
        practice_set_c=_practice(state, row),
        practice_note=_PRACTICE_NOTE if state.practice_set_c is not None else "",
        modulus_kpa=modulus,
        viscosity_mpa_s=_viscosity(state, row),
        firmness=firmness_words(modulus),
        words=regions_reached(gel.fracture_stress_kpa, gel.fracture_strain)[1],
        chart=_chart(key),
        evidence=tuple(dict.fromkeys((*state.evidence, *dose.evidence))),
        gel=gel,
    )


def _dose(bench: Bench, key: str, table: AgentRow, row: int) -> tuple[Estimate, str]:
    value = float(bench.state.doses_pct[key][row])
    try:
        usual = table.figure("dose")
    except MissingDataError:
        return Estimate(value, "%", value, value, "weighed dose", ()), "no usual range known"
    if usual.low is not None and value < usual.low * (1.0 - 1e-6):
        said = f"below the usual {usual.low:g} to {usual.high:g} %"
    elif usual.high is not None and value > usual.high * (1.0 + 1e-6):
        said = f"above the usual {usual.low:g} to {usual.high:g} %"
    else:
        said = f"within the usual {usual.low:g} to {usual.high:g} %"
    return Estimate(value, "%", value, value, "weighed dose", (usual.citation,)), said


@cache
def _typical(key: str) -> str:
    rows = agent_rows()[key].properties.get("dose_typical", ())
    return "; ".join(f"{_range(row)} {row.conditions}" for row in rows)


def _range(row: PropertyRow) -> str:
    if row.low is None or row.high is None:
        return f"{row.value:g} {row.unit}"
    return f"{row.low:g} to {row.high:g} {row.unit}"


def _share(state: AgentState, row: int) -> Estimate | None:
    if np.isnan(state.hydrated.value[row]):
        return None
    return state.hydrated.estimate(
        unit="",
        model="dissolved share over the steps",
        evidence=state.origins.hydration,
        row=row,
    )


def _cold_reason(key: str, state: AgentState, row: int) -> str:
    """Return how a powder that needs no heat fares."""
    share = float(state.hydrated.value[row])
    if np.isnan(share):
        return "Dissolves cold; no step says how long it had."
    after = f"about {round(100.0 * share)} % after these steps"
    if agent_rows()[key].kind == "heat-set gel":
        return (
            f"Dissolves only on cooling, {after}: disperse it hot, then keep it below about 10 °C "
            "(50 °F) for some hours."
        )
    if share >= _MOSTLY:
        return f"Dissolves cold, {after}; it keeps building for a while, so wait before adding."
    return (
        f"Dissolves cold, {after}: disperse it better, give it time, or see what holds it back "
        "(calcium, acid, salt, much sugar)."
    )


def _hydration_reason(bench: Bench, key: str, state: AgentState, row: int) -> str:
    path = bench.state.process.agents[key]
    needed = temperature_print(needed_c(key))
    if agent_rows()[key].is_cold_soluble:
        return _cold_reason(key, state, row)
    if np.isnan(path.peak_c[0]):
        return f"No step says how hot the batch gets; it needs {needed} throughout."
    reached = temperature_print(float(path.peak_c[0]))
    answer = verdict(state.hydrates[row])
    if answer is Verdict.YES:
        return f"Reaches {reached}; it needs {needed} throughout."
    if answer is Verdict.NO:
        return f"Reaches only {reached}; it needs {needed} throughout."
    return f"Reaches {reached} where it is read; the coldest part must see {needed} too."


def _set_reason(bench: Bench, key: str, state: AgentState, row: int) -> str:
    if state.critical_pct is None:
        return f"{bench.name(key)} thickens; it forms no gel by itself."
    effective, critical = state.effective_pct, state.critical_pct
    working = (
        f"{effective.value[row]:.2g} % works ({effective.low[row]:.2g} to "
        f"{effective.high[row]:.2g}); a gel needs {critical.low[row]:.2g} to "
        f"{critical.high[row]:.2g} %"
    )
    kept = float(state.kept.share.value[row])
    lost = f"; acid leaves about {100 * kept:.0f} % of the strength" if kept < 0.95 else ""
    if key in _GELATINS and _has_raw_enzyme(bench, key):
        return "Raw enzyme fruit cuts the gelatin."
    return f"{working}{lost}{_warmth(bench, key, state, row)}."


def _warmth(bench: Bench, key: str, state: AgentState, row: int) -> str:
    """Return how cold, or how hot, it got, where that makes the gel."""
    if state.sets_on is SetsOn.COOLING:
        cold = float(np.broadcast_to(bench.state.process.coldest_c, (row + 1,))[row])
        assumed = ", assumed" if bench.state.process.coldest_assumed else ""
        return f"; cooled to {temperature_print(cold)}{assumed}"
    hot = float(np.broadcast_to(bench.state.process.agents[key].peak_c, (row + 1,))[row])
    if state.sets_on is SetsOn.HEATING and not np.isnan(hot):
        return f"; heated to {temperature_print(hot)}"
    return ""


def _has_raw_enzyme(bench: Bench, key: str) -> bool:
    return any(m.enzyme and m.enzyme_certainty == "contains" for m in bench.plan.materials) and (
        verdict(bench.state.agents[key].sets[0]) is Verdict.NO
    )


def _temperature(
    spans: Spans | None, state: AgentState, row: int, flags: tuple[str, ...], evidence: Evidence
) -> Estimate | None:
    if spans is None:
        return None
    return spans.estimate(unit="°C", model=state.model, evidence=evidence, flags=flags, row=row)


def _practice(state: AgentState, row: int) -> Estimate | None:
    if state.practice_set_c is None:
        return None
    return state.practice_set_c.estimate(
        unit="°C", model="kitchen practice", evidence=PRACTICE, row=row
    )


def _viscosity(state: AgentState, row: int) -> Estimate | None:
    if state.flow is None:
        return None
    return (
        state.flow.at(STIRRING_RATE)
        .scaled(1000.0)
        .estimate(unit="mPa·s", model=state.model, evidence=state.origins.flow, row=row)
    )


_CHART = (
    ("hydration_temperature", "Hydrates", "°C"),
    ("setting_temperature", "Sets", "°C"),
    ("melting_temperature", "Melts", "°C"),
    ("ph_window", "pH window", "pH"),
    ("dose", "Usual dose", "%"),
)


@cache
def _chart(key: str) -> tuple[Figure, ...]:
    table, figures = agent_rows()[key], []
    for name, label, unit in _CHART:
        try:
            found = table.figure(name)
        except MissingDataError:
            continue
        evidence: Evidence = (found.citation,)
        estimate = Estimate(found.value, unit, found.low, found.high, "agent chart", evidence)
        figures.append(Figure(name, label, estimate, found.note))
    return tuple(figures)
