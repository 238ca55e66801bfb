"""Strength left after acid and heat, from the temperature history of the batch."""

from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.history import History
from setwell.engine.spans import Spans
from setwell.errors import MissingDataError
from setwell.provenance import Evidence
from setwell.science.gels.degradation import LossLaw, remaining_strength

Array = NDArray[np.float64]

_KAPPA = "kappa_carrageenan"
# Sold mixtures lose their strength with the carrageenan in them.
_CARRIER = {"kappa_LBG": _KAPPA, "kappa_konjac": _KAPPA}
_KELVIN = 273.15
# The law was drawn for pH 3 to 6.5; outside, the nearest end is used and the number is marked.
_LAW_PH = (3.0, 6.5)
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


@cache
def loss_laws(agent: str) -> tuple[LossLaw, LossLaw, LossLaw] | None:
    """Return the law at its middle, at its fastest and at its slowest; None without one."""
    try:
        factor = parameter(_CARRIER.get(agent, agent), "loss_time_factor_agent")
    except MissingDataError:
        return None
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
    laws = loss_laws(agent)
    if laws is None:
        one = np.ones_like(ph.value)
        return Kept(Spans.exact(one), Spans.exact(one), np.ones(one.shape, dtype=np.bool_))
    protected = parameter(_KAPPA, "protected_share", "gel state")
    below = 0.0 if set_c is None else set_c + _KELVIN
    cases = (
        (path.middle, ph.value, laws[0], protected.value),
        (path.slow, ph.low, laws[1], protected.high),
        (path.quick, ph.high, laws[2], protected.low),
    )
    left, inside = [], np.ones_like(ph.value, dtype=np.bool_)
    for history, acidity, law, share in cases:
        found = remaining_strength(
            60.0 * history.minutes[None],
            history.celsius[None] + _KELVIN,
            np.clip(acidity, *_LAW_PH)[:, None],
            law=law,
            setting_temperature=below,
            protected_share=share,
        )
        left.append(found.share)
        inside &= found.is_in_range
    heat = Spans(left[0], np.minimum(left[1], left[0]), np.maximum(left[2], left[0]))
    gels = _gel_share(agent, ph)
    kept = Spans(*(a * b for a, b in zip(heat, gels, strict=True)))
    return Kept(kept, heat, inside & (ph.value >= _LAW_PH[0]))


def _gel_share(agent: str, ph: Spans) -> Spans:
    curve = _GEL_SHARE.get(_CARRIER.get(agent, agent))
    if curve is None:
        return Spans.exact(np.ones_like(ph.value))
    return Spans(*(np.asarray(np.interp(part, _GEL_PH, curve)) for part in ph))


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
