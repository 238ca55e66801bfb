"""A formula in other kitchens: how many strangers get it, why not, and what would help."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from setwell.documents.stranger_words import (
    chance_sentence,
    hundred_text,
    premix_text,
    ten_text,
)
from setwell.domain.formula import Formula, Goal
from setwell.domain.kitchen_profile import HOME, PROFILES, KitchenProfile, profile_make
from setwell.engine.robustness.results import PremixAdvice, Robustness
from setwell.engine.robustness.run import robustness
from setwell.engine.robustness.window import Window, window_for
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.services.calibration import calibration_for
from setwell.services.formulas import version_get
from setwell.services.process_bench import kitchen_bench
from setwell.services.robustness_changes import changed_formula
from setwell.services.robustness_charts import RobustnessChart, driver_chart, outcome_chart
from setwell.services.texture_calibration import corrections_for

__all__ = [
    "DRAWS",
    "DRAWS_LEAST",
    "DRAWS_MOST",
    "SEED",
    "SEED_MOST",
    "PremixAdvice",
    "RobustnessAnswer",
    "RobustnessAsk",
    "RobustnessChart",
    "ask_problems",
    "hundred_text",
    "kitchen_profile",
    "main_quantity",
    "premix_text",
    "robustness_of",
    "robustness_view",
    "ten_text",
]

DRAWS, DRAWS_LEAST, DRAWS_MOST = 4_096, 64, 16_384
SEED, SEED_MOST = 1, 2**31 - 1
_ENDS = (
    ("water_low", "water_high", "The softest water is harder than the hardest"),
    ("fridge_low_c", "fridge_high_c", "The coldest fridge is warmer than the warmest"),
)


@dataclass(frozen=True, slots=True)
class RobustnessAsk:
    """What is asked: whose kitchens, what counts as right, and how many batches.

    `low` and `high` are ends of the window in the unit of the main quantity: kPa for what is
    to set, mPa·s for what is to pour. Without either, the goal of the formula decides.
    """

    profile: KitchenProfile = HOME
    low: float | None = None
    high: float | None = None
    draws: int = DRAWS
    seed: int = SEED


@dataclass(frozen=True, slots=True)
class RobustnessAnswer:
    """What comes out in other kitchens, drawn and said.

    `changed` holds, by key of the change, the formula with a change of lines or steps made.
    """

    formula: Formula
    ask: RobustnessAsk
    result: Robustness
    sentence: str
    charts: tuple[RobustnessChart, ...]
    changed: Mapping[str, Formula]
    formula_id: int | None = None
    number: int | None = None


def kitchen_profile(name: str, own: Mapping[str, object] | None = None) -> KitchenProfile:
    """Return a profile by its name, with own numbers in place of some of its.

    Raises InputError, with the field it belongs to.
    """
    found = PROFILES.get(name.strip().casefold())
    if found is None:
        raise InputError(
            f"“{name.strip()[:40]}” is no kitchen known here.",
            field="profile",
            hint=f"Choose one of {', '.join(PROFILES)}.",
        )
    kept = {key: value for key, value in (own or {}).items() if value is not None}
    if not kept:
        return found
    fields = {**found.model_dump(), **kept, "name": f"{found.name}, own numbers"}
    for low, high, said in _ENDS:
        ends = fields[low], fields[high]
        if ends[0] > ends[1]:
            raise InputError(
                f"{said}: {ends[0]:g} and {ends[1]:g}.",
                field=low if low in kept else high,
                hint="Change one of the two; what is left empty is as the kitchen has it.",
            )
    return profile_make(**fields)


def robustness_view(
    *,
    formula_id: int,
    number: int | None = None,
    ask: RobustnessAsk | None = None,
) -> RobustnessAnswer:
    """Return a saved version in other kitchens, with this kitchen's pantry and readings.

    Raises InputError, with the field it belongs to, for what cannot be computed.
    """
    detail = version_get(formula_id=formula_id, number=number)
    return robustness_of(
        formula=detail.formula, ask=ask, formula_id=formula_id, number=detail.summary.number
    )


def robustness_of(
    *,
    formula: Formula,
    ask: RobustnessAsk | None = None,
    formula_id: int | None = None,
    number: int | None = None,
    has_charts: bool = True,
) -> RobustnessAnswer:
    """Return a formula in other kitchens, saved or not."""
    ask = ask or RobustnessAsk()
    for problem in ask_problems(ask):
        raise problem
    bench = kitchen_bench(formula, formula_id=formula_id, number=number).bench
    given = _window(formula.goal, bench, ask)
    result = _computed(bench, ask, given, formula_id, number)
    window = given or window_for(formula.goal, bench.state)
    changes = {one.key: changed_formula(one.key, bench) for one in result.changes}
    return RobustnessAnswer(
        formula=formula,
        ask=ask,
        result=result,
        sentence=chance_sentence(
            result,
            kitchens=ask.profile.name if ask.profile.name in PROFILES else "such",
            goal=formula.goal,
            is_given=given is not None,
        ),
        charts=_charts(result, window) if has_charts else (),
        changed={key: made for key, made in changes.items() if made is not None},
        formula_id=formula_id,
        number=number,
    )


def main_quantity(*, formula_id: int, number: int | None = None) -> str:
    """Return which number the window is about, with its unit."""
    detail = version_get(formula_id=formula_id, number=number)
    on = kitchen_bench(detail.formula, formula_id=formula_id, number=detail.summary.number)
    try:
        wanted = window_for(detail.formula.goal, on.bench.state)
    except InputError:
        wanted = Window(sets=detail.formula.goal.wants_gel or None)
    return "Thickness, mPa·s" if _is_thickness(wanted) else "Stiffness, kPa"


def _computed(
    bench: Bench,
    ask: RobustnessAsk,
    window: Window | None,
    formula_id: int | None,
    number: int | None,
) -> Robustness:
    """Return the chance, with the readings of this kitchen."""
    known: dict[str, Any] = {"formula": bench.formula, "formula_id": formula_id, "number": number}
    acids = calibration_for(**known)
    return robustness(
        bench,
        ask.profile,
        window=window,
        draws=ask.draws,
        seed=ask.seed,
        corrections=corrections_for(**known).corrections,
        measured_ph=acids.measured,
        ph_offset=acids.offset,
    )


def _window(goal: Goal, bench: Bench, ask: RobustnessAsk) -> Window | None:
    """Return the window of the goal with the given ends in place of its own; None without any."""
    if ask.low is None and ask.high is None:
        return None
    try:
        wanted = window_for(goal, bench.state)
    except InputError:
        wanted = Window()
    if _is_thickness(wanted):
        given = replace(wanted, thickness_low=ask.low, thickness_high=ask.high)
    else:
        given = replace(wanted, modulus_low=ask.low, modulus_high=ask.high)
    return replace(given, is_relative=False)


def _is_thickness(window: Window) -> bool:
    return window.thickness_low is not None or window.thickness_high is not None


def _ends(window: Window) -> tuple[float | None, float | None]:
    """Return the window of the main quantity."""
    if _is_thickness(window):
        return window.thickness_low, window.thickness_high
    return window.modulus_low, window.modulus_high


def ask_problems(ask: RobustnessAsk) -> tuple[InputError, ...]:
    """Return what is wrong with a window, the number of batches and the seed, each at its field."""
    return tuple(
        one for one in (_window_problem(ask), _draws_problem(ask), _seed_problem(ask)) if one
    )


def _window_problem(ask: RobustnessAsk) -> InputError | None:
    if ask.low is None or ask.high is None or ask.low < ask.high:
        return None
    return InputError(
        f"Right from {ask.low:g} to {ask.high:g} leaves no room.",
        field="low",
        hint="Write the lower number first, or leave one end empty.",
    )


def _draws_problem(ask: RobustnessAsk) -> InputError | None:
    if ask.draws > DRAWS_MOST:
        return InputError(
            f"{ask.draws:,} batches are {ask.draws - DRAWS_MOST:,} too many: at most "
            f"{DRAWS_MOST:,} here.",
            field="draws",
            hint="That already counts to within 1 of 100; more would not make the kitchens surer.",
        )
    if ask.draws < DRAWS_LEAST:
        return InputError(
            f"{ask.draws:,} batches are too few to count: at least {DRAWS_LEAST}.",
            field="draws",
            hint=f"The usual number is {DRAWS:,}.",
        )
    return None


def _seed_problem(ask: RobustnessAsk) -> InputError | None:
    if 0 <= ask.seed <= SEED_MOST:
        return None
    return InputError(
        f"{ask.seed} is no seed.",
        field="seed",
        hint=f"Write a whole number from 0 to {SEED_MOST:,}.",
    )


def _charts(result: Robustness, window: Window) -> tuple[RobustnessChart, ...]:
    """Return the drawings that have something to show: no batch, no strip; no cause, no bars."""
    known = {one.key: one for one in result.quantities}
    main = known.get("thickness" if _is_thickness(window) else "modulus")
    # Causes are told of stiffness wherever the batch as written has any.
    has_gel = "modulus" in known and known["modulus"].planned > 0
    drawn = (
        outcome_chart(main, *_ends(window)) if main else None,
        driver_chart(result.drivers, "stiffness" if has_gel else "thickness"),
    )
    return tuple(one for one in drawn if one is not None)
