"""Agents that harm each other, and what a gel misses besides dose and cold."""

from collections.abc import Iterable

import numpy as np

from setwell.engine.assessment import Severity
from setwell.engine.gelling.alginate import skin_in_bath
from setwell.engine.gelling.finish import LEAST_WATER
from setwell.engine.gelling.state import KELVIN, NO, AgentState, SetsOn
from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.names import name_normalize
from setwell.engine.rules.bench import PRACTICE, Bench, Hit, Mask
from setwell.tables.agents import agent_rows
from setwell.units import temperature_print

_GELATINS = ("gelatin", "gelatin_fish_cold")
# Gelatin type B carries a positive charge below this, type A below 7 to 9 (recalled).
_GELATIN_POSITIVE_PH = 4.8
# Free calcium that keeps these powders from dissolving (our judgment) [mmol/kg].
_CALCIUM_FIRST = {"sodium_alginate": 1.0, "pectin_LM": 2.0, "pectin_LMA": 4.0, "gellan_LA": 2.5}
# A material that brings this share of the calcium counts as its source.
_BRINGS = 0.2
_ALGINATE = "sodium_alginate"
# 10 g of calcium chloride dihydrate (147.0 g/mol) in a kilogram of bath [mmol/kg].
_BATH_MMOL = 68.0
# So many times the highest usual dose is a slip of the pen.
_ABSURD = 5.0


def opposite_charges(bench: Bench) -> Iterable[Hit]:
    """Say when gelatin and a negative gum meet where gelatin is positive."""
    gelatin = next((key for key in _GELATINS if key in bench.agents), None)
    gums = [key for key in bench.agents if "anionic" in agent_rows()[key].charge]
    if gelatin is None or not gums:
        return
    ph = bench.state.water.ph
    names = " and ".join(bench.name(key) for key in gums)
    yield Hit(
        "opposite_charges", Severity.WARN,
        bench.state.water.has_ph & (ph.low < _GELATIN_POSITIVE_PH),
        lambda row: (
            f"{bench.name(gelatin)} and {names} may bind each other",
            f"At pH {ph.value[row]:.1f} ({ph.low[row]:.1f} to {ph.high[row]:.1f}) gelatin is "
            f"positive and {names} negative: they clump, cloud and lose strength. Type A gelatin "
            "does so even nearer to neutral.",
            "Keep the pH above 5 (better 6), or use a gum without charge such as agar, locust "
            "bean gum or konjac."),
        tuple(n for key in (gelatin, *gums) for n in bench.lines_of(key)), (), PRACTICE,
    )  # fmt: skip


def calcium_first(bench: Bench) -> Iterable[Hit]:
    """Say when calcium is there before a powder that it keeps from dissolving."""
    calcium = bench.state.water.free.calcium
    for key, most in _CALCIUM_FIRST.items():
        if key not in bench.agents:
            continue
        late = _is_late(bench, key)
        if late:
            continue
        name = bench.name(key)
        yield Hit(
            "calcium_first", Severity.WARN, calcium.value > most,
            lambda row, name=name, most=most: (  # type: ignore[misc]
                f"{name}: calcium is there before it has dissolved",
                f"About {calcium.value[row]:.1f} mmol of free calcium per kg of water; above "
                f"{most:g} the powder gels on its surface, stays grainy and counts less.",
                "Dissolve it in soft water first and add the calcium (or the milk) last, or bind "
                "the calcium with 0.1 to 0.3 % sodium citrate."),
            bench.lines_of(key), (), PRACTICE,
        )  # fmt: skip


def _is_late(bench: Bench, key: str) -> bool:
    """True when steps add what brings the calcium after the step that takes the agent in."""
    enters = bench.state.process.agents[key].enters
    index = NUTRIENT_INDEX["calcium_mg"]
    brought = {
        leaf.number: float(np.nan_to_num(leaf.reading.material.nutrients[index]))
        for leaf in bench.plan.leaves()
        if leaf.reading.material is not None and leaf.reading.material.agent is None
    }
    weights = dict(zip(_numbers(bench), bench.state.line_masses[0], strict=True))
    amounts = {number: share * weights.get(number, 0.0) for number, share in brought.items()}
    total = sum(amounts.values())
    if total <= 0:
        return False
    names = {leaf.number: name_normalize(leaf.reading.line.name) for leaf in bench.plan.leaves()}
    sources = [number for number, amount in amounts.items() if amount / total >= _BRINGS]
    return bool(sources) and all(_named_after(bench, names[n], enters) for n in sources)


def _numbers(bench: Bench) -> list[int]:
    return [bench.plan.readings[position].number for position in bench.plan.used]


def _named_after(bench: Bench, name: str, enters: int) -> bool:
    """True when the first step that names an ingredient comes after the agent went in."""
    words = [word for word in name.split() if len(word) > 3]
    for number, step in enumerate(bench.steps):
        said = f" {name_normalize(step.text)} "
        if any(f" {word} " in said for word in words):
            return number > enters
    return False


def lacks(bench: Bench) -> Iterable[Hit]:
    """Say which condition besides dose and cold a gel misses."""
    for key, agent in bench.state.agents.items():
        for condition in agent.conditions:
            if not condition.unit:
                continue
            name, found = bench.name(key), condition.found
            yield Hit(
                "lacks_condition", Severity.WARN, condition.holds == NO,
                lambda row, name=name, condition=condition, found=found: (  # type: ignore[misc]
                    f"{name}: {condition.what}",
                    f"It needs {condition.need}; this has {found.value[row]:.3g} "
                    f"{condition.unit} ({found.low[row]:.3g} to {found.high[row]:.3g}).",
                    "Without it no gel forms: change the batch, or choose another agent."),
                bench.lines_of(key), (), agent.origins.gelling,
            )  # fmt: skip


def calcium_bath(bench: Bench) -> Iterable[Hit]:
    """Say what a calcium bath would make of alginate that finds no calcium in the batch."""
    agent = bench.state.agents.get(_ALGINATE)
    calcium = [] if agent is None else [c for c in agent.conditions if c.what == "calcium"]
    if agent is None or not calcium:
        return
    count = len(agent.effective_pct.value)
    bath, minute = np.full(count, _BATH_MMOL), np.full(count, 60.0)
    codes, skin = skin_in_bath(agent.effective_pct.value, bath, minute)
    name = bench.name(_ALGINATE)
    yield Hit(
        "calcium_bath", Severity.NOTE, (calcium[0].holds == NO) & (codes > NO),
        lambda row: (
            f"{name}: for a calcium bath",
            f"In a bath of 1 % calcium chloride drops get a skin of about {skin.value[row]:.1f} mm "
            f"({skin.low[row]:.1f} to {skin.high[row]:.1f}) in a minute.",
            "Rinse the drops in clean water; chloride tastes bitter, lactate less so."),
        bench.lines_of(_ALGINATE), (), agent.origins.gelling,
    )  # fmt: skip


def gels_only_hot(bench: Bench) -> Iterable[Hit]:
    """Say when an agent that gels on heating is served cold."""
    served = bench.state.serving_c
    for key, agent in bench.state.agents.items():
        if agent.sets_on is not SetsOn.HEATING or agent.melt_c is None:
            continue
        name = bench.name(key)
        yield Hit(
            "gels_only_hot", Severity.NOTE, served < agent.melt_c.high,
            lambda row, name=name, agent=agent: (  # type: ignore[misc]
                f"{name}: firm only when hot",
                f"It gels from about {_about(agent, row)} and turns liquid again on cooling; "
                f"this is judged at {temperature_print(round(float(served[row])))}.",
                "Give a serving temperature above that, or use an agent that sets on cooling."),
            bench.lines_of(key), (), agent.origins.setting,
        )  # fmt: skip


def _about(agent: AgentState, row: int) -> str:
    value = float("nan") if agent.set_c is None else float(agent.set_c.value[row])
    return temperature_print(round(value)) if value > -KELVIN else "its setting temperature"


def no_water(bench: Bench) -> Iterable[Hit]:
    """Say when there is too little water for any agent to dissolve in."""
    if not bench.agents:
        return
    share = bench.state.composition.share("water_g")
    yield Hit(
        "no_water", Severity.STOP, (share < LEAST_WATER) & _has_weight(bench),
        lambda row: (
            "Hardly any water for the agents",
            f"Water is {100 * share[row]:.0f} % of the batch; texture agents dissolve in water "
            "only, so nothing here can set or thicken.",
            "Add water, milk or juice, or check the amounts."),
        (), (), PRACTICE,
    )  # fmt: skip


def _has_weight(bench: Bench) -> Mask:
    return np.asarray(bench.state.composition.finished_g > 0)


def absurd_dose(bench: Bench) -> Iterable[Hit]:
    """Say when a dose is far beyond anything that is used."""
    for key, dose in bench.state.doses_pct.items():
        usual = agent_rows()[key].properties.get("dose", ())
        most = max((row.high for row in usual if row.high is not None), default=None)
        if most is None:
            continue
        name = bench.name(key)
        yield Hit(
            "dose_absurd", Severity.STOP, dose > _ABSURD * most,
            lambda row, name=name, dose=dose, most=most: (  # type: ignore[misc]
                f"{name}: {dose[row]:.3g} % cannot be meant",
                f"That is {dose[row] / most:.0f} times the most that is used ({most:g} %). The "
                "powder would not even wet; the numbers below are far outside of their models.",
                "Check the decimal point and the unit (g or mg, % or g per kg)."),
            bench.lines_of(key), (), PRACTICE,
        )  # fmt: skip
