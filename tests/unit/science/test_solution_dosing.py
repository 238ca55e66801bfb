"""Titration curves, doses for a pH, and complexes with metals."""

from dataclasses import replace

import numpy as np
import pytest

from setwell.errors import OutOfRangeError
from setwell.science.solution.charge_balance import ph_charge_balance
from setwell.science.solution.charge_search import Water
from setwell.science.solution.complexes import solution_equilibrium
from setwell.science.solution.dosing import Additive, dose_for_ph
from setwell.science.solution.ligands import Metals
from setwell.science.solution.protonation import AcidSystems
from setwell.science.solution.titration import ph_titration

NAN = np.nan
REAL = Water(pkw=13.995, debye_huckel=0.5115)
IDEAL = Water(pkw=14.0, debye_huckel=0.0)
ACETIC = AcidSystems(pk=[[4.756, NAN, NAN, NAN]], top_charge=[0])
CITRIC = AcidSystems(pk=[[3.128, 4.761, 6.396, NAN]], top_charge=[0])
LYE = Additive(totals=[0.0], strong_ion_difference=25.0)
# Citric acid monohydrate, 210.14 g/mol with 18.02 g of water.
CITRIC_ACID = Additive(totals=[1 / 0.21014], water=0.0857)
CALCIUM = {"charge": [2], "log_k": [[[4.87]]]}


def test_curve_has_a_point_for_each_addition():
    found = ph_titration(
        [[0.1], [0.05]], [0.0, 0.0], added_base=[-0.01, 0.0, 0.05], acids=ACETIC, water=REAL
    )
    assert found.shape == (2, 3)
    assert (np.diff(found, axis=1) > 0).all()
    alone = ph_charge_balance([[0.05]], [0.05], acids=ACETIC, water=REAL)
    assert found[1, 2] == alone.ph[0]


def test_curve_takes_other_additions_and_constants_for_each_mixture():
    acids = AcidSystems(pk=[[[4.0, NAN, NAN, NAN]], [[5.0, NAN, NAN, NAN]]], top_charge=[0])
    found = ph_titration(
        [[0.1], [0.1]], [0.0, 0.0], added_base=[[0.05], [0.05]], acids=acids,
        water=Water([14.0, 14.0], 0.0), strong_ionic_strength=[0.0, 0.01],
    )  # fmt: skip
    assert found[:, 0] == pytest.approx([4.0, 5.0], abs=2e-3)


def test_dose_of_lye_follows_from_the_buffer_equation():
    # Ideal and well buffered: half neutralized at the pK, 0.05 / 25 kg.
    found = dose_for_ph([[0.1]], [0.0], target_ph=[4.756], additive=LYE, acids=ACETIC, water=IDEAL)
    assert found.amount[0] == pytest.approx((0.05 - 10**-4.756 + 10**-9.244) / 25, rel=1e-9)
    assert found.is_reachable[0]


def test_dose_of_an_acid_with_water_reaches_its_target():
    found = dose_for_ph(
        [[0.01]] * 3, [0.03] * 3, target_ph=[6.0, 4.5, 3.2], additive=CITRIC_ACID, acids=CITRIC,
        water=REAL, strong_ionic_strength=[0.1] * 3,
    )  # fmt: skip
    assert found.is_reachable.all()
    assert found.ph == pytest.approx([6.0, 4.5, 3.2], abs=1e-9)
    assert (np.diff(found.amount) > 0).all()


def test_a_dose_brings_its_ions_and_its_water():
    lye = Additive(totals=[0.5], strong_ion_difference=10.0, water=0.6)
    found = dose_for_ph(
        [[0.1]], [0.01], target_ph=[5.5], additive=lye, acids=ACETIC, water=REAL,
        strong_ionic_strength=[0.02],
    )  # fmt: skip
    dose = found.amount[0]
    # By hand: acetate, sodium and water of the dose, sodium as half its charge.
    by_hand = ph_charge_balance(
        [[(0.1 + 0.5 * dose) / (1 + 0.6 * dose)]], [(0.01 + 10 * dose) / (1 + 0.6 * dose)],
        acids=ACETIC, water=REAL, strong_ionic_strength=[(0.02 + 5 * dose) / (1 + 0.6 * dose)],
    )  # fmt: skip
    assert by_hand.ph[0] == pytest.approx(5.5, abs=1e-9)


def test_what_no_dose_reaches_is_flagged_with_the_nearest():
    found = dose_for_ph(
        [[0.01]] * 3, [0.03] * 3, target_ph=[9.9, 1.0, 3.0], additive=CITRIC_ACID, acids=CITRIC,
        water=REAL, most=0.001,
    )  # fmt: skip
    assert found.is_reachable.tolist() == [False, False, False]
    # An acid never raises the pH: none of it. Too little allowed: all of it.
    assert found.amount.tolist() == [0.0, 0.001, 0.001]
    assert np.isfinite(found.ph).all()


def test_a_mixture_at_its_target_needs_nothing():
    at = ph_charge_balance([[0.1]], [0.04], acids=ACETIC, water=REAL)
    found = dose_for_ph([[0.1]], [0.04], target_ph=at.ph, additive=LYE, acids=ACETIC, water=REAL)
    assert found.amount[0] == pytest.approx(0.0, abs=1e-12)
    assert found.ph[0] == pytest.approx(at.ph[0], abs=1e-9)


def test_largest_dose_must_be_above_zero():
    with pytest.raises(OutOfRangeError, match=r"largest dose is 0 kg/kg\. Give more than zero"):
        dose_for_ph([[0.1]], [0.0], target_ph=[4], additive=LYE, acids=ACETIC, water=REAL, most=0.0)


def test_calcium_that_nothing_holds_is_a_strong_ion():
    metals = Metals([[0.01]], [2], [[[NAN]]])
    found = solution_equilibrium([[0.02]], [0.0], acids=CITRIC, metals=metals, water=REAL)
    plain = ph_charge_balance(
        [[0.02]], [0.02], acids=CITRIC, water=REAL, strong_ionic_strength=[0.02]
    )
    assert found.ph[0] == pytest.approx(plain.ph[0], abs=1e-10)
    assert found.free_metals[0, 0] == pytest.approx(0.01, rel=1e-10)
    assert found.buffer_capacity[0] == pytest.approx(plain.buffer_capacity[0], rel=1e-9)


def test_one_complex_obeys_its_constant():
    # Ideal: [CaCit] = K [Ca] [Cit3−], with Cit3− from the mean charge of the free acid.
    found = solution_equilibrium(
        [[0.02]], [0.05], acids=CITRIC, metals=Metals([[0.005]], **CALCIUM), water=IDEAL
    )
    h, free = 10 ** -found.ph[0], found.free_metals[0, 0]
    held = found.held_metals[0, 0]
    k1, k2, k3 = 10**-3.128, 10**-4.761, 10**-6.396
    shares = np.array([1, k1 / h, k1 * k2 / h**2, k1 * k2 * k3 / h**3])
    bare = (0.02 - held) * shares[3] / shares.sum()
    assert held == pytest.approx(10**4.87 * free * bare, rel=1e-9)
    assert free + held == pytest.approx(0.005, rel=1e-12)


def test_binding_calcium_frees_protons():
    free, bound = (
        solution_equilibrium(
            [[0.02]], [0.03], acids=CITRIC, metals=Metals([[0.01]], [2], [[[log_k]]]), water=REAL
        )
        for log_k in (NAN, 4.87)
    )
    assert bound.ph[0] < free.ph[0] - 0.3


def test_absent_metals_stay_absent():
    found = solution_equilibrium(
        [[0.02]], [0.03], acids=CITRIC, metals=Metals([[0.0]], **CALCIUM), water=REAL
    )
    assert found.free_metals[0, 0] == 0.0
    assert found.held_metals[0, 0] == 0.0
    plain = ph_charge_balance([[0.02]], [0.03], acids=CITRIC, water=REAL)
    assert found.ph[0] == pytest.approx(plain.ph[0], abs=1e-10)


def test_metals_of_many_mixtures_do_not_depend_on_their_neighbors():
    rng = np.random.default_rng(2)
    totals, metal = rng.uniform(0, 0.05, (30, 1)), rng.uniform(0, 0.02, (30, 1))
    base = rng.uniform(0, 0.1, 30)
    batch = solution_equilibrium(
        totals, base, acids=CITRIC, metals=Metals(metal, **CALCIUM), water=REAL
    )
    for row in range(30):
        one = slice(row, row + 1)
        alone = solution_equilibrium(
            totals[one], base[one], acids=CITRIC, metals=Metals(metal[one], **CALCIUM), water=REAL
        )
        assert alone.ph[0] == batch.ph[row]
        assert alone.free_metals[0, 0] == batch.free_metals[row, 0]


@pytest.mark.parametrize(
    ("metals", "acids", "words"),
    [
        (Metals([[0.1, 0.1]], **CALCIUM), CITRIC, "do not fit 1 mixtures of 1"),
        (Metals([[-0.1]], **CALCIUM), CITRIC, "A metal total of -0.1 mol/kg is below zero"),
        (Metals([[0.1]], [2], [[[4.0, 4.0]]]), CITRIC, "does not fit 1 metals and 1 acids"),
        (Metals([[0.1]], [2], [[[1.2]]] * 3), ACETIC, "with 2 protons, which it never has"),
        (Metals([[0.1]], **CALCIUM), replace(ACETIC, slope=[0.8]), "cannot hold metals here"),
    ],
)
def test_metals_that_do_not_fit_are_refused(metals, acids, words):
    with pytest.raises(OutOfRangeError) as refusal:
        solution_equilibrium([[0.02]], [0.0], acids=acids, metals=metals, water=REAL)
    assert words in str(refusal.value)
