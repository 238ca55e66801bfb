"""How firm a kappa carrageenan gel is and how far it bends, from its ions, milk, fat and sugar."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.carrageenan_look import EUCHEUMA, KAPPA, SWAPPED, sugar_power
from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import AgentInput
from setwell.engine.spans import Spans, log_half_width
from setwell.provenance import Evidence
from setwell.science.gels.carrageenan import (
    calcium_excess,
    calcium_share,
    fracture_strain_kappa,
    sodium_share,
)
from setwell.science.gels.cascade import modulus_near_threshold
from setwell.science.gels.strength import modulus_power_law, potassium_factor

Array = NDArray[np.float64]

_BEST_CALCIUM = "5 and 10 g/L with CaCl2"
# Strains are drawn for doses from here on [%].
_LEAST_DOSE_PCT = 0.05
# More fat than this is no gel with fat in it but a fat with gel in it.
_MOST_FAT = 0.8


class KappaIons(NamedTuple):
    """What the firmness of kappa hangs on: middle, low and high, each (3, n).

    `cation` gelling cations as potassium and `sodium` sodium with the gum's own counter-ions,
    both mol/kg of water; `calcium_per_sulfate` mol/mol.
    """

    cation: Array
    sodium: Array
    calcium_per_sulfate: Array


def ion_factor(ions: KappaIons) -> Array:
    """Return the share of the best modulus that the ions give, (3, n)."""
    best = parameter(KAPPA, "calcium_per_sulfate_at_best_modulus", _BEST_CALCIUM).value
    alone = parameter(KAPPA, "calcium_best_share", "no potassium").value
    full = parameter(KAPPA, "sodium_full").value / 1000.0
    # Sodium and calcium each fill part of what the others leave open.
    missing = 1.0 - sodium_share(ions.sodium, full=full)
    missing = missing * (1.0 - alone * calcium_share(ions.calcium_per_sulfate, optimum=best))
    left = calcium_excess(
        ions.calcium_per_sulfate[SWAPPED],
        optimum=best,
        decades=parameter(KAPPA, "calcium_excess_decades").value,
        floor=parameter(KAPPA, "calcium_excess_floor").value,
    )
    return np.asarray((1.0 - missing * (1.0 - _bell(ions.cation))) * left)


def _bell(cation: Array) -> Array:
    """Return how near potassium has come to its best level; the range may straddle it, (3, n)."""
    optimum = parameter(KAPPA, "optimum_potassium").value
    width = parameter(KAPPA, "optimum_potassium_width").value
    ends = potassium_factor(cation, optimum=optimum, decades=width, floor=0.0)
    nearest = np.minimum(np.maximum(cation[1], optimum), cation[2])
    best = potassium_factor(nearest, optimum=optimum, decades=width, floor=0.0)
    return np.stack([ends[0], np.minimum(ends[1], ends[2]), best])


def kappa_critical(milk: Array, key: str) -> Spans:
    """Return the smallest dose of powder that gels, from water (0) to plain milk (1) [%]."""
    water = parameter(KAPPA, "critical_concentration", "water")
    dairy = parameter(KAPPA, "critical_concentration", "milk")
    pure = parameter(EUCHEUMA, "kappa_share").value if key == EUCHEUMA else 1.0
    return Spans(
        *(mix(a, b, milk) / pure for a, b in zip(water[:3], dairy[:3], strict=True)),
    )


def mix(water: float, dairy: float, milk: Array) -> Array:
    """Return what lies between water (0) and plain milk (1), on the log axis."""
    return np.asarray(water ** (1.0 - milk) * dairy**milk)


def kappa_modulus(
    agent: AgentInput, effective: Spans, critical: Spans, ions: KappaIons, milk: Array
) -> Spans:
    """Return the shear modulus [Pa]; near the critical dose its range opens down to nothing."""
    exponent = parameter(KAPPA, "modulus_exponent").value
    reference = _anchor().value * 1000.0 / _anchor_share()
    fat = np.minimum(agent.fat_share, _MOST_FAT)
    # The gum sits in what is not fat; fat itself carries nothing (our judgment).
    change = (1.0 - fat) ** (1.0 - exponent)
    change = change * mix(1.0, parameter(KAPPA, "milk_strength_factor").value, milk)
    change = change * _sugar("sugar_strength_factor").value ** sugar_power(agent)
    if agent.key == EUCHEUMA:
        change = change * parameter(EUCHEUMA, "strength_factor").value
    doses = np.maximum(np.stack(effective), 0.0)
    near = modulus_near_threshold(doses, np.stack(critical)[SWAPPED])
    law = modulus_power_law(
        doses / 100.0, modulus_at_reference=reference, reference_dose=0.01, exponent=exponent
    )
    return Spans(*(change * ion_factor(ions) * near * law))


def kappa_strain(agent: AgentInput, effective: Spans, ions: KappaIons) -> Spans:
    """Return the Hencky strain at break."""
    optimum = parameter(KAPPA, "optimum_potassium").value
    sugar = _sugar("sugar_strain_factor").value ** sugar_power(agent)
    dose = np.maximum(effective.value, _LEAST_DOSE_PCT) / 100.0
    # Past the best level the gel stays short.
    shares = _bell(np.minimum(ions.cation, optimum))
    strains = sugar * fracture_strain_kappa(
        dose,
        strain_at_reference=parameter(agent.key, "fracture_strain").value,
        reference_dose=0.01,
        dose_exponent=parameter(KAPPA, "strain_dose_exponent").value,
        ion_share=shares[SWAPPED],
        fall=parameter(KAPPA, "strain_fall_potassium").value,
    )
    return Spans(*strains)


def strength_doubt(milk: Array, key: str) -> Array:
    """Return what the laws of the modulus leave open, half width on the log axis."""
    anchor = _anchor()
    sodium = parameter(KAPPA, "sodium_full")
    factor = parameter(KAPPA, "milk_strength_factor")
    parts = [
        log_half_width(anchor.low, anchor.high),
        # The share of sodium goes with the square root of its level.
        log_half_width(sodium.low, sodium.high) / 2.0,
    ]
    if key == EUCHEUMA:
        weaker = parameter(EUCHEUMA, "strength_factor")
        parts.append(log_half_width(weaker.low, weaker.high))
    in_milk = log_half_width(factor.low, factor.high) * milk
    return np.hypot(np.linalg.norm(parts), in_milk)


def strength_evidence(key: str, *, is_milky: bool) -> Evidence:
    """Return the citations behind the modulus."""
    return evidence_of(
        _anchor(),
        parameter(KAPPA, "modulus_exponent"),
        parameter(KAPPA, "optimum_potassium"),
        parameter(KAPPA, "optimum_potassium_width"),
        parameter(KAPPA, "sodium_full"),
        parameter(KAPPA, "calcium_per_sulfate_at_best_modulus", _BEST_CALCIUM),
        _sugar("sugar_strength_factor"),
        *((parameter(KAPPA, "milk_strength_factor"),) if is_milky else ()),
        *((parameter(EUCHEUMA, "strength_factor"),) if key == EUCHEUMA else ()),
    )


def _anchor() -> Parameter:
    return parameter(KAPPA, "modulus_best_potassium", "1 %")


def _anchor_share() -> float:
    """Return how near the threshold the anchor stands: 1 % in water."""
    water = parameter(KAPPA, "critical_concentration", "water").value
    return float(modulus_near_threshold(1.0, water))


def _sugar(name: str) -> Parameter:
    return parameter(KAPPA, name, "30 wt% sucrose")
