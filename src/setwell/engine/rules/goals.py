"""Does the result do what the formula wants: gel at all, hold hot, be poured in time."""

from collections.abc import Iterable

import numpy as np

from setwell.domain.formula import Goal
from setwell.domain.steps import StepKind
from setwell.engine.assessment import Severity
from setwell.engine.gelling.state import CANNOT_TELL, NO, YES, SetsOn
from setwell.engine.process import is_chilled_pour
from setwell.engine.rules.bench import PRACTICE, Bench, Hit, said
from setwell.tables.agents import agent_rows
from setwell.units import temperature_print

_GEL_CLASSES = frozenset(
    {"cold-set gel", "heat-set gel", "ion-set gel", "sugar-acid gel", "thickener and gel", "blend"}
)
# A slice needs about this shear modulus, in Pa (our judgment, see the firmness bands).
_SLICE_LEAST_PA = 300.0


def wants_gel(bench: Bench) -> bool:
    """True when the goal, the molds or the steps ask for a gel."""
    unmolds = any(step.kind is StepKind.UNMOLD for step in bench.steps)
    return bench.formula.goal.wants_gel or bench.formula.molds is not None or unmolds


def no_gel(bench: Bench) -> Iterable[Hit]:
    """Say when a gel is wanted and none forms."""
    if not wants_gel(bench) or not bench.agents:
        return
    sets = bench.state.texture.sets
    if not any(agent_rows()[key].kind in _GEL_CLASSES for key in bench.agents):
        names = " and ".join(bench.name(key) for key in bench.agents)
        text = f"{names} thickens and never gels, at any dose."
        if "lambda_carrageenan" in bench.agents:
            action = "Kappa carrageenan gels firm and brittle, iota soft and elastic: use those."
        else:
            action = "Choose an agent that gels: kappa or iota carrageenan, agar or gelatin."
        # Two thickeners may gel together.
        yield Hit(
            "cannot_gel", Severity.STOP, sets == NO,
            said("No gel to expect", text, action),
            tuple(n for key in bench.agents for n in bench.lines_of(key)), (), PRACTICE,
        )  # fmt: skip
        return
    yield Hit(
        "does_not_set", Severity.STOP, sets == NO,
        said("It will not set", "A gel is wanted, and with this dose, heat and cooling none forms.",
             "Check what stands beside each agent: dose, heat, acid and cold."),
        (), (), (),
    )  # fmt: skip
    yield Hit(
        "may_not_set", Severity.WARN,
        sets == CANNOT_TELL,
        said("It may not set", "A gel is wanted, and the ranges leave it open whether one forms.",
             "Raise the dose or the heat a little, or try a 100 g cup first."),
        (), (), (),
    )  # fmt: skip


def goal_missed(bench: Bench) -> Iterable[Hit]:
    """Say when the firmness does not fit the goal."""
    modulus, sets = bench.state.texture.modulus, bench.state.texture.sets
    goal = bench.formula.goal
    if modulus is None:
        return
    if goal is Goal.SLICE:
        yield Hit(
            "too_soft_to_slice", Severity.WARN, (sets == YES) & (modulus.value < _SLICE_LEAST_PA),
            said("Soft for a slice", "The gel sets, but is likely to slump when it is cut.",
                 "Raise the dose by about half and try a cup."), (), (), PRACTICE,
        )  # fmt: skip
    if goal is Goal.POUR:
        yield Hit(
            "sets_but_pours", Severity.WARN, sets == YES,
            said("It sets, and should pour", "The goal is to pour, and this forms a gel.",
                 "Lower the dose to a fifth or use a thickener such as lambda or xanthan."),
            (), (), PRACTICE,
        )  # fmt: skip


def melts_when_served(bench: Bench) -> Iterable[Hit]:
    """Say when the gel is served warmer than it stands."""
    served = bench.state.process.serving_c
    if served is None:
        return
    for key, agent in bench.state.agents.items():
        if agent.melt_c is None or agent_rows()[key].kind == "heat-set gel":
            continue
        name = bench.name(key)
        melt = agent.melt_c
        for severity, mask in (
            (Severity.STOP, served > melt.high),
            (Severity.WARN, (served > melt.low) & (served <= melt.high)),
        ):
            yield Hit(
                "melts_when_served", severity, mask & (agent.sets >= CANNOT_TELL),
                lambda row, name=name, melt=melt: (  # type: ignore[misc]
                    f"{name}: melts when served",
                    f"Served at {temperature_print(served)}; the gel melts at about "
                    f"{temperature_print(round(float(melt.value[row])))} "
                    f"({melt.low[row]:.0f} to {melt.high[row]:.0f} °C).",
                    "Serve it cooler, or use an agent that holds hot: agar up to 80 °C (176 °F), "
                    "low acyl gellan with calcium, methylcellulose."),
                bench.lines_of(key), (), agent.origins.melting,
            )  # fmt: skip


def poured_too_cold(bench: Bench) -> Iterable[Hit]:
    """Say when the batch is poured after it has begun to set."""
    now = float("nan")
    for number, step in enumerate(bench.steps, start=1):
        if step.temperature_c is not None and not is_chilled_pour(step):
            now = step.temperature_c
        if step.kind is not StepKind.POUR or np.isnan(now) or is_chilled_pour(step):
            continue
        for key, agent in bench.state.agents.items():
            if agent.set_c is None or agent.sets_on is not SetsOn.COOLING or key == "gelatin":
                continue
            name, set_c = bench.name(key), agent.set_c
            yield Hit(
                "poured_too_cold", Severity.WARN,
                (now < set_c.high) & (agent.sets >= CANNOT_TELL),
                lambda row, name=name, set_c=set_c, now=now: (  # type: ignore[misc]
                    f"{name}: poured close to setting",
                    f"Poured at {temperature_print(now)}; {name} begins to set at about "
                    f"{temperature_print(round(float(set_c.value[row])))} "
                    f"({set_c.low[row]:.0f} to {set_c.high[row]:.0f} °C). Stirring through the "
                    "set makes it grainy.",
                    "Pour at least 10 °C (18 °F) above the setting temperature into warm molds."),
                bench.lines_of(key), (number,), agent.origins.setting,
            )  # fmt: skip
        return
