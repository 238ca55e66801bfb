"""What the ions around low-acyl gellan do: where it sets and melts, and how firm it gets."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.parameters import Parameter, parameter
from setwell.engine.gelling.state import KELVIN, AgentInput, Condition
from setwell.engine.gelling.window import inside
from setwell.engine.spans import Spans
from setwell.science.gels.gellan import (
    gellan_cations,
    gellan_ion_share,
    setting_temperature_gellan,
)

Array = NDArray[np.float64]

_ME = "gellan_LA"
_MONOVALENT, _DIVALENT = ("sodium", "potassium"), ("calcium", "magnesium")
# Dose of the gel whose setting temperature anchors the line, in its own water [kg/kg].
_ANCHOR_DOSE = 0.01
# Fewer cations than any powder brings along [mol/kg].
_FEWEST = 1e-4
# Calcium and magnesium from which on a gel no longer melts in the pot [mmol/kg].
_FIRM_DIVALENT = 2.0


class GellanIons(NamedTuple):
    """Gelling ions as calcium [mmol/kg of water], and how much of them is divalent [-]."""

    gelling: Spans
    divalent_share: Array


def _sum(agent: AgentInput, names: tuple[str, ...]) -> Spans:
    first, second = (agent.salts[name] for name in names)
    return Spans(*(a + b for a, b in zip(first, second, strict=True)))


def _all_ions(agent: AgentInput, parts: tuple[float, ...]) -> tuple[Spans, Spans]:
    """Return monovalent and divalent ions, the powder's own included [mmol/kg of water].

    `parts` are the shares of the powder's charge that divalent ions balance.
    """
    charge = parameter(_ME, "charge").value
    share = np.maximum(agent.water_share, 0.05)
    own = agent.dose_pct / 100.0 / share * charge * 1000.0
    # One ion of calcium balances two charges.
    ones = zip(_sum(agent, _MONOVALENT), parts, strict=True)
    twos = zip(_sum(agent, _DIVALENT), parts, strict=True)
    return (
        Spans(*(salt + own * (1.0 - part) for salt, part in ones)),
        Spans(*(salt + own * part / 2.0 for salt, part in twos)),
    )


def total_cations(agent: AgentInput) -> Spans:
    """Return all cations as monovalent ones, the powder's own included [mol/kg of water]."""
    weight = parameter(_ME, "divalent_weight")
    ions = _all_ions(agent, parameter(_ME, "divalent_counter_ions")[:3])
    return Spans(
        *(
            np.maximum(gellan_cations(one / 1000.0, two / 1000.0, divalent_weight=each), _FEWEST)
            for one, two, each in zip(*ions, weight[:3], strict=True)
        )
    )


def setting_c(cations: Spans) -> Spans:
    """Return where it sets; the anchor is 1 % of the sodium form without salt."""
    anchor = _anchor()
    charge = parameter(_ME, "charge").value
    slope = parameter(_ME, "setting_line_slope").value
    return Spans(
        *(
            setting_temperature_gellan(
                amount,
                anchor_cations=_ANCHOR_DOSE / (1.0 - _ANCHOR_DOSE) * charge,
                anchor_temperature=anchor.value + KELVIN,
                slope=slope,
            )
            - KELVIN
            for amount in cations
        )
    )


def melting_c(agent: AgentInput, set_c: Spans) -> Spans:
    """Return where it melts: some way above setting, with calcium not in a boiling pot."""
    above = parameter(_ME, "melting_above_setting", "sodium and potassium gels").value
    limed = parameter(_ME, "melting_temperature", "calcium gels").value
    part = [np.minimum(found / _FIRM_DIVALENT, 1.0) for found in _sum(agent, _DIVALENT)]
    return Spans(
        *(
            np.maximum((1.0 - firm) * (sets + above) + firm * limed, sets)
            for firm, sets in zip(part, set_c, strict=True)
        )
    )


def gellan_ions(agent: AgentInput) -> GellanIons:
    """Return the gelling ions as calcium, the powder's own included.

    Whether the little calcium of the powder itself bridges its chains is open: high side only.
    """
    calcium, sodium = _best()
    worth = calcium.value / sodium.value
    most = parameter(_ME, "divalent_counter_ions").high
    monovalent, divalent = _all_ions(agent, (0.0, 0.0, most))
    gelling = Spans(*(two + worth * one for one, two in zip(monovalent, divalent, strict=True)))
    share = divalent.value / np.maximum(gelling.value, 1e-9)
    return GellanIons(gelling, np.asarray(share))


def ion_factor(ions: GellanIons) -> Spans:
    """Return the share of the best modulus with these ions: too few and too many weaken."""
    best = _best()[0]
    width = parameter(_ME, "ion_strength_width", "decades").value
    floor = parameter(_ME, "ion_strength_floor")
    other = parameter(_ME, "sodium_or_potassium_strength", "best of them, over best calcium")
    middle, at_low, at_high = (
        gellan_ion_share(
            found / 1000.0,
            best=(best.low / 1000.0, best.high / 1000.0),
            decades=width,
            floor=floor.value,
        )
        for found in ions.gelling
    )
    # Between the bounds the best level may lie, and there the gel is whole.
    spans_best = (ions.gelling.low <= best.high) & (ions.gelling.high >= best.low)
    most = np.where(spans_best, 1.0, np.maximum(np.maximum(at_low, at_high), middle))
    least = np.minimum(np.minimum(at_low, at_high), middle)
    peak, weak, strong = (part + (1.0 - part) * ions.divalent_share for part in other[:3])
    return Spans(
        peak * middle,
        weak * np.minimum(least, np.maximum(least - floor.value, 0.0) + floor.low),
        strong * np.maximum(most, floor.high),
    )


def stretch(ions: GellanIons) -> Spans:
    """Return how much further the gel stretches than at its best ions: the fewer, the further."""
    best = _best()[0].low
    few = parameter(_ME, "stretch_with_few_ions", "a tenth of the best calcium")
    # The fewest ions stretch furthest, so the bounds change places.
    found = (ions.gelling.value, ions.gelling.high, ions.gelling.low)
    return Spans(
        *(
            further ** np.clip(np.log10(best / np.maximum(part, 1e-6)), 0.0, 1.0)
            for part, further in zip(found, few[:3], strict=True)
        )
    )


def ion_condition(ions: GellanIons) -> Condition:
    """Return the condition that some gelling ions are there; the gum's own are almost enough."""
    calcium, sodium = _best()
    least = parameter(_ME, "ions_least")
    need = (
        f"{calcium.low:g} to {calcium.high:g} mmol/kg of free calcium or {sodium.low:g} to "
        f"{sodium.high:g} of sodium and potassium"
    )
    holds = inside(ions.gelling, (least.value, np.inf), (least.low, np.inf))
    return Condition("gelling ions, as calcium", holds, ions.gelling, "mmol/kg", need)


def setting_figures() -> tuple[Parameter, ...]:
    """Return the figures behind the setting line."""
    return (
        _anchor(),
        parameter(_ME, "setting_line_slope"),
        parameter(_ME, "divalent_weight"),
        parameter(_ME, "charge"),
        parameter(_ME, "divalent_counter_ions"),
    )


def melting_figures() -> tuple[Parameter, ...]:
    """Return the figures behind melting."""
    return (
        parameter(_ME, "melting_above_setting", "sodium and potassium gels"),
        parameter(_ME, "melting_temperature", "calcium gels"),
    )


def ion_figures() -> tuple[Parameter, ...]:
    """Return the figures behind the optimum of ions."""
    return (*_best(), parameter(_ME, "ion_strength_floor"), parameter(_ME, "ions_least"))


def stretch_figures() -> tuple[Parameter, ...]:
    """Return the figures behind the stretch."""
    return (parameter(_ME, "stretch_with_few_ions", "a tenth of the best calcium"),)


def _anchor() -> Parameter:
    return parameter(_ME, "setting_temperature", "1 % sodium gellan, no salt")


def _best() -> tuple[Parameter, Parameter]:
    return parameter(_ME, "best_calcium"), parameter(_ME, "best_sodium_or_potassium")
