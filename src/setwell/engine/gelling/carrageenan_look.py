"""How clear a carrageenan gel is, and how much water it gives off in the fridge."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import AgentInput
from setwell.engine.spans import Spans
from setwell.provenance import Evidence
from setwell.science.gels.carrageenan import calcium_share
from setwell.science.gels.syneresis import syneresis_share

Array = NDArray[np.float64]

KAPPA, IOTA, EUCHEUMA = "kappa_carrageenan", "iota_carrageenan", "processed_eucheuma"
# Of middle, low and high: where more of one thing means less of another.
SWAPPED = [0, 2, 1]
# The figures of sugar stand for this much, and are used up to so much [wt%].
SUGAR_READ_AT_PCT, SUGAR_LIMIT_PCT = 30.0, 40.0
# Beyond the best calcium a gel goes from cloudy to opaque within ten times more (our judgment).
_EXCESS_HAZE = 0.35
# Some light always comes through 1 % of gum.
_MOST_HAZE = 0.95
# Below this dose nobody would call it a gel that weeps [%].
_LEAST_WEEPING_PCT = 0.3
_WEEK_S, _HOUR_S = 7 * 24 * 3600.0, 3600.0
# A gel cannot give off more than this of its mass and still be one [%].
_MOST_WEEPING_PCT = 30.0


def sugar_power(agent: AgentInput) -> Array:
    """Return the sugar of the water phase over that of the sugar figures."""
    return np.minimum(agent.water.brix.value, SUGAR_LIMIT_PCT) / SUGAR_READ_AT_PCT


def haze(agent: AgentInput, effective_pct: Spans, calcium_per_sulfate: Array) -> Spans:
    """Return how cloudy the gel itself is, 0 clear to 1 opaque; milk around it is not in here.

    `calcium_per_sulfate` is middle, low and high, (3, n).
    """
    own, tied = (np.array(figure[:3])[:, None] for figure in _haze_figures(agent.key))
    best = parameter(
        _kind(agent.key), "calcium_per_sulfate_at_best_modulus", _best_at(agent.key)
    ).value
    beyond = np.log10(np.maximum(calcium_per_sulfate / best, 1.0))
    at_one = own + tied * calcium_share(calcium_per_sulfate, optimum=best)
    at_one = (at_one + _EXCESS_HAZE * np.minimum(beyond, 1.0)) * _left_in_sugar(agent)
    return Spans(*(1.0 - (1.0 - np.minimum(at_one, _MOST_HAZE)) ** np.stack(effective_pct)))


def _left_in_sugar(agent: AgentInput) -> Array:
    if agent.key == IOTA:
        return np.ones_like(agent.dose_pct)
    clearer = parameter(KAPPA, "haze_left_in_sugar", "30 wt% sucrose").value
    return np.asarray(clearer ** sugar_power(agent))


def _kind(key: str) -> str:
    return IOTA if key == IOTA else KAPPA


def _best_at(key: str) -> str:
    return "" if key == IOTA else "5 and 10 g/L with CaCl2"


def _haze_figures(key: str) -> tuple[Parameter, Parameter]:
    if key == IOTA:
        return (
            parameter(IOTA, "haze", "1 % gel"),
            parameter(IOTA, "haze_calcium", "at the best calcium"),
        )
    tied = parameter(KAPPA, "haze_calcium", "at one calcium per sulfate")
    if key == EUCHEUMA:
        return parameter(EUCHEUMA, "haze", "1 % gel"), tied
    return parameter(KAPPA, "haze", "1 % gel, potassium only"), tied


def kappa_weeping(
    agent: AgentInput, effective_pct: Spans, potassium_ratio: Array, milk: Array
) -> Spans:
    """Return the water that a kappa gel gives off in a week, in percent of its mass.

    `potassium_ratio` is the gelling cation over its best level.
    """
    long_run = parameter(KAPPA, "weeping", "1 % gel at the best potassium, in the long run")
    power = parameter(KAPPA, "weeping_dose_exponent").value
    salt = np.minimum(np.maximum(potassium_ratio, 0.02), 5.0)
    change = salt ** parameter(KAPPA, "weeping_potassium_exponent").value
    change = change * parameter(KAPPA, "weeping_milk_factor", "plain milk").value ** milk
    sugar = parameter(KAPPA, "weeping_sugar_factor", "30 wt% sucrose").value
    change = change * sugar ** sugar_power(agent) * _week_share()
    # More gum weeps less: the high dose goes with the low side.
    doses = np.maximum(np.stack(effective_pct)[SWAPPED], _LEAST_WEEPING_PCT)
    weeps = np.array(long_run[:3])[:, None] * change * doses**power
    return Spans(*np.minimum(weeps, _MOST_WEEPING_PCT))


def iota_weeping(count: int) -> Spans:
    """Return the water that an iota gel gives off in a week: next to none."""
    known = parameter(IOTA, "weeping", "1 % gel, in the long run")
    return Spans(*(np.full(count, bound) for bound in known[:3]))


@cache
def _week_share() -> float:
    slow = parameter(KAPPA, "syneresis_shrink_rate", "2 g/L, 40 mmol/L KCl").value
    quick = parameter(KAPPA, "syneresis_yield_rate", "soft to stiff gel").value
    return float(
        syneresis_share(
            _WEEK_S,
            shrink_rate=slow / _HOUR_S,
            yield_rate=quick / _HOUR_S,
            shrink_share=parameter(KAPPA, "syneresis_shrink_share").value,
        )
    )


def look_evidence(key: str) -> Evidence:
    """Return the citations behind haze and weeping."""
    if key == IOTA:
        return evidence_of(*_haze_figures(key), parameter(IOTA, "weeping"))
    return evidence_of(
        *_haze_figures(key),
        parameter(KAPPA, "weeping", "1 % gel at the best potassium, in the long run"),
        parameter(KAPPA, "syneresis_shrink_rate", "2 g/L, 40 mmol/L KCl"),
    )
