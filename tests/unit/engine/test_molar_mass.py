"""Chains that were cut short set softer, and below a length not at all."""

import pytest
from builders_engine import HOT, assess_of

from setwell.domain.pantry import Lot, Pantry
from setwell.engine.assessment import Verdict

WATER, SALT = "500 g distilled water", "4 g potassium chloride"


def gel(molar_mass, agent="kappa carrageenan"):
    lot = Lot(agent=agent, lot_code="M-1", molar_mass_kda=molar_mass, in_use=True)
    return assess_of(WATER, SALT, f"5 g {agent}", steps=HOT, pantry=Pantry(lots=(lot,))).agents[0]


def test_the_usual_length_changes_nothing():
    plain = assess_of(WATER, SALT, "5 g kappa carrageenan", steps=HOT).agents[0]
    assert gel(550).modulus_kpa.value == pytest.approx(plain.modulus_kpa.value)
    assert gel(None).modulus_kpa.value == pytest.approx(plain.modulus_kpa.value)


@pytest.mark.parametrize("agent", ["kappa carrageenan", "iota carrageenan"])
def test_shorter_chains_are_softer(agent):
    moduli = [gel(mass, agent).modulus_kpa.value for mass in (350, 450, 550, 650)]
    assert moduli == sorted(moduli)
    assert moduli[0] < 0.7 * moduli[2]


def test_kappa_below_its_critical_length_does_not_gel():
    # goncalves_2025, abstract: no gel below 130 to 210 kDa at 1 % in 0.1 mol/L KCl. The critical
    # molar mass is a parameter of the law, so this checks the way to the verdict.
    assert gel(120).sets is Verdict.NO
    assert gel(400).sets is Verdict.YES


def test_an_agent_without_such_a_law_is_left_as_it_is():
    lot = Lot(agent="agar", lot_code="A-1", molar_mass_kda=120, in_use=True)
    told = assess_of(WATER, "5 g agar", steps=HOT, pantry=Pantry(lots=(lot,))).agents[0]
    plain = assess_of(WATER, "5 g agar", steps=HOT).agents[0]
    assert told.modulus_kpa.value == plain.modulus_kpa.value
