"""Hand-made heating and cooling results for tests of timelines, pages and sheets."""

from typing import Any

import numpy as np

from setwell.domain.formula import Formula
from setwell.engine.assessment import Figure
from setwell.engine.heat.course import Course
from setwell.engine.heat.results import AgentHeating, CoolingResult, Moment, PotResult
from setwell.engine.verdict import Verdict
from setwell.provenance import Citation, Estimate, Grade

EVIDENCE = (Citation("common_practice", "common practice, no source", Grade.ESTIMATED),)

STEPS = """Mix the agar with the sugar and whisk into the cold milk.
Heat to 90 °C, stirring now and then.
Hold at 90 °C for 5 min.
Cool to 60 °C, then stir in the lemon juice.
Pour into the cups.
Chill at 4 °C for 2 h.
Serve."""


def minutes(value: float, low: float | None = None, high: float | None = None) -> Estimate:
    """Return a time with its range; none given means exact."""
    return Estimate(
        value, "min", value if low is None else low, value if high is None else high, "made",
        EVIDENCE,
    )  # fmt: skip


def agar_formula(steps: str = STEPS, **more: Any) -> Formula:
    """Return a plain agar gel with acid."""
    fields: dict[str, Any] = {
        "title": "Lemon cups",
        "ingredients": "500 g whole milk\n60 g sugar\n4 g agar\n20 g lemon juice",
        "steps": steps,
        "molds": {"count": 6, "volume_ml": 100},
        **more,
    }
    return Formula(**fields)


def course(place: str, end_min: float, begin_c: float, end_c: float, spread: float = 2.0) -> Course:
    """Return a straight course with an even range."""
    seconds = np.linspace(0.0, end_min * 60.0, 13)
    celsius = np.linspace(begin_c, end_c, 13)
    return Course(
        place, seconds, celsius, celsius - spread, celsius + spread, model="made",
        evidence=EVIDENCE,
    )  # fmt: skip


def moment(key: str, estimate: Estimate | None, text: str = "") -> Moment:
    """Return a moment."""
    return Moment(key, key, estimate, text or f"{key} comes.")


def pot_made(*, end_c: float = 96.0, end_min: float = 38.0, **more: Any) -> PotResult:
    """Return a pot that warms by a straight line: core 20 °C to `end_c`."""
    courses = (
        course("bottom", end_min, 20.0, end_c + 4.0),
        course("core", end_min, 20.0, end_c),
        course("surface", end_min, 20.0, end_c - 4.0),
    )
    agar = AgentHeating(
        "agar", "Agar", 95.0, 2.0, moment("reached", minutes(36, 30, 45)),
        moment("done", minutes(40, 34, 50)), Verdict.YES, "Agar is dissolved after 40 min.",
    )  # fmt: skip
    fields: dict[str, Any] = {
        "courses": courses,
        "coldest": courses[2],
        "agents": (agar,),
        "moments": (agar.done,),
        "figures": (Figure("efficiency", "Share of the power", minutes(0.8)),),
        "evaporated_g": Estimate(12.0, "g", 8.0, 20.0, "made", EVIDENCE),
        "regime": "layered",
        "regime_text": "The top lags the bottom.",
        "advice": (),
        **more,
    }
    return PotResult(**fields)


def cooling_made(*, end_min: float = 180.0, **moments: Estimate | None) -> CoolingResult:
    """Return molds that cool by a straight line from 60 °C to 2 °C, in three hours as a rule."""
    given = {"set": minutes(48, 35, 70), "21": minutes(100, 80, 130), **moments}
    return CoolingResult(
        courses=(course("core", end_min, 60.0, 2.0), course("surface", end_min, 50.0, 1.0)),
        moments=tuple(moment(key, estimate) for key, estimate in given.items()),
        figures=(),
        advice=(),
        method="made by hand",
        most_molds=Estimate(40.0, "molds", 25.0, 60.0, "made", EVIDENCE),
    )
