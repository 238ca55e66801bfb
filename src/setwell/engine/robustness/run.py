"""A formula in other kitchens: the chance of a stranger's batch, why it fails, what helps."""

import math
from collections.abc import Iterator, Mapping
from itertools import combinations
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.domain.kitchen_profile import HOME, KitchenProfile
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.gelling.pair import pair_row
from setwell.engine.gelling.state import CANNOT_TELL
from setwell.engine.material import Span
from setwell.engine.robustness.changes import changes
from setwell.engine.robustness.draws import Case, Factor, batches
from setwell.engine.robustness.drivers import drivers
from setwell.engine.robustness.premix import premix_advice
from setwell.engine.robustness.results import Failure, Quantity, Robustness
from setwell.engine.robustness.spreads import factors_of
from setwell.engine.robustness.window import (
    Measures,
    Window,
    inside,
    measures,
    misses,
    window_check,
    window_for,
    window_words,
)
from setwell.engine.rules.bench import Bench
from setwell.engine.spans import log_half_width
from setwell.errors import InputError, OutOfRangeError
from setwell.provenance import Estimate, evidence_join
from setwell.science.designs.quasi_random import sobol_points

Array = NDArray[np.float64]

DRAWS = 4096
_DRAWS_LEAST, _DRAWS_MOST = 64, 2**16
# Independent scrambles: what they differ by is the error of the chance.
_SCRAMBLES = 8
# Points of each set of the indices, and of the changes: sparing, and stated in the result.
_INDEX_DOUBLINGS, _CHANGE_SCRAMBLES = 9, 1
_QUANTILES = (0.05, 0.25, 0.5, 0.75, 0.95)
_LAW_STEPS = 21
_MODEL = "share of batches in the window, scrambled Sobol points over other kitchens"
_QUANTITIES = (
    ("modulus", "stiffness", "kPa"),
    ("stress", "stress at break", "kPa"),
    ("strain", "strain at break", "1"),
    ("thickness", "thickness", "mPa·s"),
)


class _Chance(NamedTuple):
    """The chance given the model, its Monte Carlo error, and its ends with the laws in doubt."""

    value: float
    error: float
    low: float
    high: float


def robustness(
    bench: Bench,
    profile: KitchenProfile = HOME,
    *,
    window: Window | None = None,
    draws: int = DRAWS,
    seed: int = 1,
    corrections: Mapping[str, Corrections] | None = None,
    measured_ph: Span | None = None,
    ph_offset: float = 0.0,
) -> Robustness:
    """Return the chance that a stranger's batch of a formula lands in the window.

    `bench` is the formula read, weighed and computed as written. `draws` are rounded up to
    eight times a power of two. Raises InputError where there is no texture to land on or the
    window contradicts itself, OutOfRangeError for a count or seed that cannot be drawn.
    """
    _checked(bench, draws, seed)
    case = Case(
        bench.plan, bench.steps, bench.plan.line_masses()[0], bench.state, profile,
        corrections or {}, measured_ph, ph_offset,
    )  # fmt: skip
    target = window_for(bench.formula.goal, case.state) if window is None else window_check(window)
    factors = factors_of(case)
    doublings = max(math.ceil(math.log2(draws / _SCRAMBLES)), 0)
    width = sum(factor.columns for factor in factors)
    points = sobol_points(width, doublings=doublings, scrambles=_SCRAMBLES, seed=seed)
    found = measures(batches(case, factors, points))
    chance = _chance(case, target, found)
    index_doublings = min(_INDEX_DOUBLINGS, doublings)
    few = points[: _CHANGE_SCRAMBLES * 2**doublings]
    driving = drivers(case, factors, target, doublings=index_doublings, seed=seed)
    hits = inside(misses(target, found), len(points))
    return Robustness(
        chance=_estimate(chance, case, factors),
        error=chance.error,
        chance_low=chance.low,
        chance_high=chance.high,
        doubt_text=_doubt_words(chance, target),
        draws=len(points),
        seed=seed,
        index_draws=(len(factors) + 2) * 2**index_doublings,
        profile=profile.name,
        window_text=window_words(target),
        is_planned_in=bool(inside(misses(target, measures(case.state)), 1)[0]),
        sentence=_sentence(chance.value, profile),
        failures=_failures(target, found),
        drivers=driving,
        changes=changes(case, factors, few, target, hits=hits, drivers=driving),
        quantities=_quantities(case, found),
        premixes=premix_advice(case),
        assumed=tuple(f"{factor.name.capitalize()}: {factor.spread(case)}." for factor in factors),
        remarks=_remarks(case, found),
        evidence=evidence_join([factor.evidence for factor in factors]),
    )


def _checked(bench: Bench, draws: int, seed: int) -> None:
    if not _DRAWS_LEAST <= draws <= _DRAWS_MOST:
        raise OutOfRangeError(
            f"{draws:,} draws; from {_DRAWS_LEAST} to {_DRAWS_MOST:,} can be made.",
            field="draws",
            hint=f"{DRAWS:,} tell the chance to within a point or so.",
        )
    if seed < 0:
        raise OutOfRangeError(
            f"A seed of {seed} is below 0.", field="seed", hint="Use any whole number from 0 up."
        )
    if not bench.plan.used or not bench.plan.line_masses().any():
        raise InputError(
            "No line of this formula could be read with a weight.",
            field="formula",
            hint="Write the ingredients with weights, one per line.",
        )
    unread = [reading for reading in bench.plan.readings if not reading.is_usable]
    if unread:
        raise InputError(
            f"“{unread[0].line.text.strip()}” cannot be read, so the batch is not known.",
            field="formula",
            hint=unread[0].problem,
        )
    if not bench.agents:
        raise InputError(
            "Nothing in this formula sets or thickens, so there is no texture to land on.",
            field="formula",
            hint="Add an agent with its weight.",
        )


def _chance(case: Case, window: Window, found: Measures) -> _Chance:
    """Return the chance: its error from the scrambles, its ends from the doubt of the laws."""
    count = len(found.codes)
    hits = inside(misses(window, found), count)
    by_scramble = hits.reshape(_SCRAMBLES, -1).mean(axis=1)
    value = float(hits.mean())
    doubt = 0.0 if window.is_relative else law_half_width(case)
    low = high = value
    for shift in np.linspace(-doubt, doubt, _LAW_STEPS if doubt else 1):
        loose = inside(misses(window, found, law_log=float(shift)), count).mean()
        strict = inside(misses(window, found, law_log=float(shift), is_strict=True), count).mean()
        low, high = min(low, float(strict)), max(high, float(loose))
    error = float(by_scramble.std(ddof=1)) / math.sqrt(_SCRAMBLES)
    # All hits or all misses of n draws still leave about 1 / n.
    return _Chance(value, max(error, 1.0 / count), low, high)


def law_half_width(case: Case) -> float:
    """Return what the laws leave open in stiffness or thickness, about 95 %, on the log axis.

    Each agent by its share; a lot that the kitchen measured by what those readings leave open.
    """
    texture = case.state.texture
    is_gel = texture.gel is not None and bool(texture.gel.modulus.value[0] > 0)
    shares = texture.shares if is_gel else texture.flow_shares
    squares = 0.0
    for key, agent in case.state.agents.items():
        doubt = agent.doubt.at(0)
        own = case.corrections.get(key)
        measured = None if own is None else (own.strength if is_gel else own.flow)
        width = doubt.strength if is_gel else doubt.flow
        if measured is not None:
            width = measured.half_width
        squares += (_share(shares, key) * width) ** 2
    if is_gel:
        squares += sum(width**2 for width in _joint_widths(case, shares))
    return math.sqrt(squares)


def _share(shares: Mapping[str, Array], key: str) -> float:
    return float(np.broadcast_to(shares.get(key, 0.0), (1,))[0])


def _joint_widths(case: Case, shares: Mapping[str, Array]) -> Iterator[float]:
    """Yield what the law of each joint gel leaves open, by its share of the stiffness.

    The agents of one that do not gel alone have half of its share each.
    """
    agents = case.state.agents
    for pair in combinations(agents, 2):
        found = pair_row(*pair)
        stiff = None if found is None else found[0].figures.get("modulus_at_1pct")
        halves = [_share(shares, key) for key in pair if agents[key].gel is None]
        if stiff is not None and stiff.low is not None and stiff.high is not None and halves:
            yield 2.0 * min(halves) * log_half_width(stiff.low, stiff.high)


def _estimate(chance: _Chance, case: Case, factors: tuple[Factor, ...]) -> Estimate:
    evidence = evidence_join(
        [*(factor.evidence for factor in factors),
         *(agent.evidence for agent in case.state.agents.values())]
    )  # fmt: skip
    low, high = chance.value - 2.0 * chance.error, chance.value + 2.0 * chance.error
    return Estimate(chance.value, "1", max(low, 0.0), min(high, 1.0), _MODEL, evidence)


def _doubt_words(chance: _Chance, window: Window) -> str:
    low, high = round(100.0 * chance.low), round(100.0 * chance.high)
    if window.is_relative:
        told = (
            "The window is laid around your own batch, so a law that is off by one factor moves "
            "both and cancels."
        )
        if low == high:
            return told
        return (
            f"{told} Where the laws cannot tell whether it sets, the chance is from {low} to "
            f"{high} %."
        )
    if low == high:
        return "The doubt in the laws does not move this chance."
    return (
        f"The laws themselves are in doubt, for all kitchens alike: with it the chance is from "
        f"{low} to {high} %. More draws do not narrow that; measuring your own batch does."
    )


def _sentence(chance: float, profile: KitchenProfile) -> str:
    of_ten = round(10.0 * chance)
    if chance > 0.975:
        return f"Nearly every batch in a {profile.name} kitchen lands in the window."
    if chance < 0.025:
        return f"Next to no batch in a {profile.name} kitchen lands in the window."
    return f"About {max(of_ten, 1)} of 10 batches in a {profile.name} kitchen land in the window."


def _failures(window: Window, found: Measures) -> tuple[Failure, ...]:
    told = (Failure(m.key, m.text, float(m.mask.mean())) for m in misses(window, found))
    return tuple(sorted((one for one in told if one.share > 0), key=lambda one: -one.share))


def _quantities(case: Case, found: Measures) -> tuple[Quantity, ...]:
    """Return the spread of stiffness, break and thickness, the one that is judged first."""
    planned = measures(case.state)
    told = []
    for key, name, unit in _QUANTITIES:
        values, as_written = getattr(found, key), float(getattr(planned, key)[0])
        if np.isnan(values).any() or np.isnan(as_written):
            continue
        if key != "thickness" and not (values > 0).any():
            continue
        points = np.quantile(values, _QUANTILES)
        pairs = tuple(
            (share, float(point)) for share, point in zip(_QUANTILES, points, strict=True)
        )
        told.append(Quantity(key, name, unit, as_written, pairs))
    stands = bool(np.nan_to_num(planned.modulus[0]) > 0)
    return tuple(told if stands else sorted(told, key=lambda one: one.key != "thickness"))


def _remarks(case: Case, found: Measures) -> tuple[str, ...]:
    """Return what the draws leave out, and what they could not tell."""
    told = [
        "Most spreads are common practice without a source; the figures say how the formula "
        "bears them, not how kitchens were counted.",
        "Mistakes are left out: a forgotten step, a wrong powder, a decimal point.",
    ]
    open_share = float((found.codes == CANNOT_TELL).mean())
    if open_share > 0.01:
        told.append(
            f"In {round(100.0 * open_share)} % of the batches the laws cannot tell whether it "
            "sets; those count by their middle."
        )
    if case.measured_ph is not None:
        told.append("The pH is your own reading, and taken as the same everywhere.")
    return tuple(told)
