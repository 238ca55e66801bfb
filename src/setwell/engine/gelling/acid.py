"""Strength left after acid and heat, from the temperature history of the batch."""

from collections.abc import Sequence
from functools import cache, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.history import History
from setwell.engine.spans import Spans
from setwell.errors import MissingDataError
from setwell.provenance import Evidence
from setwell.science.gels.degradation import UNFLAGGED_LOSS, LossLaw
from setwell.science.gels.heat_load import HeatLoad, heat_load

Array = NDArray[np.float64]

_KAPPA = "kappa_carrageenan"
# Sold mixtures lose their strength with the carrageenan in them.
_CARRIER = {"kappa_LBG": _KAPPA, "kappa_konjac": _KAPPA}
_KELVIN = 273.15
# The law was drawn for pH 3 to 6.5; outside, the nearest end is used and the number is marked.
LAW_PH = (3.0, 6.5)
# How an acid batch gels, besides what it loses while hot: share of the strength at these pH
# values. Drawn around the kitchen rule "below pH 4 carrageenan gels badly", without a source.
_GEL_PH = (2.5, 3.0, 3.5, 4.0, 4.5)
_GEL_SHARE = {
    "kappa_carrageenan": (0.15, 0.35, 0.65, 0.9, 1.0),
    "processed_eucheuma": (0.15, 0.35, 0.65, 0.9, 1.0),
    "iota_carrageenan": (0.15, 0.35, 0.65, 0.9, 1.0),
    "gelatin": (0.7, 0.8, 0.9, 0.97, 1.0),
    "agar": (0.7, 0.9, 1.0, 1.0, 1.0),
}


class AcidPath(NamedTuple):
    """What the steps do to an agent once it and the acid are together.

    Histories of a middling, a slow and a quick kitchen. `is_told` is False when an acid stands
    in the formula and no step says when it comes: the middle then takes it late, the low side
    from the start.
    """

    middle: History
    slow: History
    quick: History
    is_told: bool


class Kept(NamedTuple):
    """Share of the strength left, of it by heat alone, and whether the law covers the case."""

    share: Spans
    heat: Spans
    is_in_range: NDArray[np.bool_]


class Course(NamedTuple):
    """A history as a curve, what all of it is worth, and what lies below the law's two ends."""

    load: HeatLoad
    total: float
    coolest: float
    hottest: float


class Met(NamedTuple):
    """Seconds as a sol at the law's own temperature that heat is worth, each (3, n) or (3, 1).

    `inside` is the part within the temperatures that the law was drawn for.
    """

    seconds: Array
    inside: Array


class _Laws(NamedTuple):
    """What differs between the middle, the fast and the slow law of an agent, each (3, 1)."""

    times: Array
    neutral_times: Array
    # Natural logarithm of what is left after those times.
    losses: Array


@cache
def loss_laws(agent: str) -> tuple[LossLaw, LossLaw, LossLaw] | None:
    """Return the law at its middle, at its fastest and at its slowest; None without one."""
    try:
        return _laws(parameter(_CARRIER.get(agent, agent), "loss_time_factor_agent"))
    except MissingDataError:
        return None


def _laws(factor: Parameter) -> tuple[LossLaw, LossLaw, LossLaw]:
    time = parameter(_KAPPA, "loss_time_reference", "pH 4, 120 °C")
    by_ph = parameter(_KAPPA, "loss_time_factor_ph", "per 0.5 pH")
    by_heat = parameter(_KAPPA, "loss_time_factor_temperature", "per 10 °C, 40 to 120 °C")
    share = parameter(_KAPPA, "loss_share", "at loss_time")
    neutral = parameter(_KAPPA, "neutral_loss_time", "120 °C")
    return (
        LossLaw(time.value * factor.value, by_ph.value, by_heat.value, share.high,
                neutral_time=neutral.value * factor.value),
        LossLaw(time.low * factor.low, by_ph.value, by_heat.value, share.high,
                neutral_time=neutral.low * factor.low),
        LossLaw(time.high * factor.high, by_ph.value, by_heat.value, share.low,
                neutral_time=neutral.high * factor.high),
    )  # fmt: skip


def strength_kept(agent: str, ph: Spans, path: AcidPath, *, set_c: Array | None = None) -> Kept:
    """Return the share of an agent's strength left after its time in the acid.

    `set_c` (n,) protects the gel below its setting temperature.
    """
    if loss_laws(agent) is None:
        one = np.ones_like(ph.value)
        return Kept(Spans.exact(one), Spans.exact(one), np.ones(one.shape, dtype=np.bool_))
    paces = (path.middle, path.slow, path.quick)
    courses = [course_of(tuple(h.minutes.tolist()), tuple(h.celsius.tolist())) for h in paces]
    met = heat_met(courses, set_c)
    rates = loss_rates(agent, np.array(ph))
    left = np.exp(-rates * met.seconds)
    inside = (rates * (met.seconds - met.inside) <= UNFLAGGED_LOSS).all(axis=0)
    heat = Spans(left[0], np.minimum(left[1], left[0]), np.maximum(left[2], left[0]))
    gels = _gel_share(agent, ph)
    kept = Spans(*(a * b for a, b in zip(heat, gels, strict=True)))
    return Kept(kept, heat, inside & (ph.value >= LAW_PH[0]))


def heat_met(courses: Sequence[Course], set_c: Array | None) -> Met:
    """Return what the middle, the slow and the quick course are worth.

    Below its setting temperature a gel loses at a share of the rate of the sol.
    """
    figures = np.array([[course.total, course.coolest, course.hottest] for course in courses])
    total, low, high = figures.T[:, :, None]
    if set_c is None:
        return Met(total, high - low)
    protected, below = _protected(), set_c + _KELVIN
    gel = np.array([course.load.below(below) for course in courses])
    gel_inside = np.minimum(np.maximum(gel, low), high)
    return Met(
        protected * gel + (total - gel), protected * (gel_inside - low) + (high - gel_inside)
    )


def loss_rates(agent: str, ph: Array) -> Array:
    """Return the rates of an agent's middle, fast and slow law [1/s], (3, n), at a pH (3, n).

    At the law's own temperature.
    """
    laws, law = _stacked(agent), _law()
    steps = (np.minimum(np.maximum(ph, LAW_PH[0]), LAW_PH[1]) - law.reference_ph) / 0.5
    return np.asarray(
        laws.losses / np.minimum(laws.times * law.ph_factor**steps, laws.neutral_times)
    )


@lru_cache(maxsize=512)
def course_of(minutes: tuple[float, ...], celsius: tuple[float, ...]) -> Course:
    """Return what a history is worth at the law's own temperature."""
    law = _law()
    load = heat_load(
        60.0 * np.array(minutes),
        np.array(celsius) + _KELVIN,
        q10=law.temperature_factor,
        reference_temperature=law.reference_temperature,
    )
    coolest, hottest = law.temperature_limits
    # The law still holds at its hottest.
    ends = load.below([coolest, np.nextafter(hottest, np.inf)])
    return Course(load, load.total, *ends.tolist())


@cache
def _stacked(agent: str) -> _Laws:
    laws = loss_laws(agent) or ()
    figures = [(x.reference_time, x.neutral_time, -np.log1p(-x.loss_share)) for x in laws]
    times, neutral_times, losses = np.array(figures).T[:, :, None]
    return _Laws(times, neutral_times, losses)


@cache
def _law() -> LossLaw:
    """Return the law of the agent that all others are compared with."""
    return _laws(parameter(_KAPPA, "loss_time_factor_agent"))[0]


@cache
def _protected() -> Array:
    """Return the rate of a gel over that of a sol in a middling, slow and quick kitchen."""
    share = parameter(_KAPPA, "protected_share", "gel state")
    return np.array([[share.value], [share.high], [share.low]])


def _gel_share(agent: str, ph: Spans) -> Spans:
    curve = _GEL_SHARE.get(_CARRIER.get(agent, agent))
    if curve is None:
        return Spans.exact(np.ones_like(ph.value))
    return Spans(*np.asarray(np.interp(np.array(ph), _GEL_PH, curve)))


@cache
def loss_evidence(agent: str) -> Evidence:
    """Return the citations behind the law of an agent."""
    if loss_laws(agent) is None:
        return ()
    return evidence_of(
        parameter(_CARRIER.get(agent, agent), "loss_time_factor_agent"),
        parameter(_KAPPA, "loss_time_reference", "pH 4, 120 °C"),
        parameter(_KAPPA, "loss_time_factor_ph", "per 0.5 pH"),
        parameter(_KAPPA, "neutral_loss_time", "120 °C"),
    )
