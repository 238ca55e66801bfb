"""Laws of acid and base that hold for any mixture."""

from dataclasses import astuple

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.science.solution.charge_balance import (
    ph_charge_balance,
    strong_ion_difference_for_ph,
)
from setwell.science.solution.charge_search import BLOCK, Water
from setwell.science.solution.complexes import solution_equilibrium
from setwell.science.solution.dosing import Additive, dose_for_ph
from setwell.science.solution.ligands import Metals
from setwell.science.solution.protonation import AcidSystems
from setwell.science.solution.titration import ph_titration

NAN = np.nan
# Citric, phosphoric, lactic and acetic acid, an acidic and a basic site, and one with a slope.
ACIDS = AcidSystems(
    pk=[
        [3.128, 4.761, 6.396, NAN], [2.148, 7.198, 12.35, NAN], [3.862, NAN, NAN, NAN],
        [4.756, NAN, NAN, NAN], [4.5, NAN, NAN, NAN], [6.5, NAN, NAN, NAN], [5.2, NAN, NAN, NAN],
    ],
    top_charge=[0, 0, 0, 0, 0, 1, 0],
    slope=[1, 1, 1, 1, 1, 1, 1.5],
    is_apparent=[0, 0, 0, 0, 1, 1, 1],
)  # fmt: skip
SYSTEMS = 7
WATER = Water(pkw=13.995, debye_huckel=0.5115)
HELD = np.full((2, 2, SYSTEMS), NAN)
HELD[0, 0, :4] = 4.87, 6.46, 1.47, 1.18
HELD[1, 0, 1], HELD[0, 1, 0], HELD[1, 1, 1] = 2.74, 4.89, 2.87

amount = st.one_of(st.just(0.0), st.floats(1e-6, 0.1))
mixture = st.lists(amount, min_size=SYSTEMS, max_size=SYSTEMS)
charge = st.floats(-0.1, 0.2)
mixtures = st.lists(st.tuples(mixture, charge, st.floats(0.0, 0.15)), min_size=1, max_size=12)


def balance(rows):
    totals, difference, strong = (np.array(part) for part in zip(*rows, strict=True))
    return ph_charge_balance(
        totals, difference, acids=ACIDS, water=WATER, strong_ionic_strength=strong
    )


@given(mixture, charge, st.floats(1e-6, 0.1), st.floats(0.0, 0.15))
def test_strong_acid_never_raises_the_ph(totals, difference, acid, strong):
    # At the same salt: its own ionic strength is another matter.
    before, after = balance([(totals, difference, strong), (totals, difference - acid, strong)]).ph
    assert after < before


@given(mixture, charge, st.lists(st.floats(-0.05, 0.05), min_size=3, max_size=3))
def test_order_of_additions_does_not_matter(totals, difference, added):
    ways = []
    for order in (added, added[::-1]):
        total = difference
        for part in order:
            total += part
        ways.append((totals, total, 0.1))
    one, other = balance(ways).ph
    assert one == pytest.approx(other, abs=1e-8)


@given(mixture, st.permutations(range(SYSTEMS)), charge)
def test_order_of_ingredients_does_not_matter(totals, order, difference):
    turned = AcidSystems(*(np.array(part)[list(order)] for part in astuple(ACIDS)))
    here = ph_charge_balance([totals], [difference], acids=ACIDS, water=WATER)
    there = ph_charge_balance([[totals[i] for i in order]], [difference], acids=turned, water=WATER)
    assert here.ph[0] == pytest.approx(there.ph[0], abs=1e-8)


@given(mixtures)
def test_charge_closes(rows):
    found = balance(rows)
    totals, difference, _ = (np.array(part) for part in zip(*rows, strict=True))
    assert np.abs(found.residual).max() < 1e-10
    # Again, from what is returned: pH, mean charges and ionic strength.
    root = np.sqrt(found.ionic_strength)
    gamma = 10 ** (-0.5115 * (root / (1 + root) - 0.3 * found.ionic_strength))
    water = (10**-found.ph - 10 ** (found.ph - 13.995)) / gamma
    closed = difference + water + (totals * found.mean_charge).sum(axis=1)
    inside = found.ionic_strength < 1.0
    assert np.abs(closed[inside]).max(initial=0.0) < 1e-10


@given(st.floats(1e-6, 0.3), st.booleans(), st.integers(2, 50))
def test_water_brings_strong_acid_and_base_nearer_to_neutral(strength, is_acid, steps):
    share = np.geomspace(1.0, 1e-4, steps)
    difference = (-1 if is_acid else 1) * strength * share
    found = ph_charge_balance(np.zeros((steps, SYSTEMS)), difference, acids=ACIDS, water=WATER).ph
    distance = np.abs(found - 13.995 / 2)
    assert (np.diff(distance) < 0).all()
    assert (np.sign(found - 13.995 / 2) == (-1 if is_acid else 1)).all()


@given(mixtures)
@settings(max_examples=60)
def test_a_mixture_has_the_same_ph_alone_and_in_a_batch(rows):
    batch = balance(rows)
    for place, row in enumerate(rows):
        alone = balance([row])
        for one, many in zip(alone, batch, strict=True):
            assert np.array_equal(one[0], many[place])


@given(mixtures)
@settings(max_examples=20)
def test_a_large_batch_gives_the_bits_of_a_small_one(rows):
    # More than one block of the search, the last one with a single mixture left in it.
    many = balance((rows * (BLOCK + 1))[: BLOCK + 1])
    assert np.array_equal(many.ph[: len(rows)], balance(rows).ph)
    assert many.ph[-1] == balance(rows).ph[BLOCK % len(rows)]


@given(mixture, st.floats(1.5, 11.0), st.floats(0.0, 0.2))
def test_ions_for_a_ph_give_that_ph(totals, ph, strong):
    for given_strong in ([strong], None):
        ions = strong_ion_difference_for_ph(
            [totals], [ph], acids=ACIDS, water=WATER, strong_ionic_strength=given_strong
        )
        back = ph_charge_balance(
            [totals], ions.difference, acids=ACIDS, water=WATER,
            strong_ionic_strength=given_strong,
        )  # fmt: skip
        assert back.ph[0] == pytest.approx(ph, abs=1e-8)
        assert back.ionic_strength[0] == pytest.approx(ions.ionic_strength[0], rel=1e-8)


@given(mixture, charge, st.floats(0.0, 0.1))
def test_ph_for_ions_asks_for_those_ions(totals, difference, strong):
    args = {"acids": ACIDS, "water": WATER, "strong_ionic_strength": [strong]}
    found = ph_charge_balance([totals], [difference], **args)
    back = strong_ion_difference_for_ph([totals], found.ph, **args)
    assert back.difference[0] == pytest.approx(difference, abs=1e-9)


@given(mixture, charge)
def test_titration_only_rises(totals, difference):
    curve = ph_titration(
        [totals], [difference], added_base=np.linspace(-0.1, 0.2, 31), acids=ACIDS,
        water=WATER, strong_ionic_strength=[0.1],
    )  # fmt: skip
    assert (np.diff(curve) > -1e-9).all()


@given(mixture, charge, st.floats(2.0, 10.0), st.sampled_from([-10.0, 5.0]))
def test_a_reached_dose_gives_its_ph(totals, difference, target, ions):
    additive = Additive(np.zeros(SYSTEMS), strong_ion_difference=ions, water=0.3)
    args = {"acids": ACIDS, "water": WATER}
    found = dose_for_ph([totals], [difference], target_ph=[target], additive=additive, **args)
    assert np.isfinite(found.amount[0])
    assert 0 <= found.amount[0] <= 1
    before = ph_charge_balance([totals], [difference], **args).ph[0]
    if found.is_reachable[0]:
        assert found.ph[0] == pytest.approx(target, abs=1e-6)
    else:
        # Acid cannot raise the pH nor base lower it; a kilogram of either does the rest.
        assert (target - before) * ions < 1e-6


@given(mixture, charge, st.lists(st.floats(0.0, 0.03), min_size=2, max_size=2))
def test_metals_and_charge_are_kept_by_complexes(totals, difference, metal):
    found = solution_equilibrium(
        [totals], [difference], acids=ACIDS, metals=Metals([metal], [2, 2], HELD), water=WATER
    )
    assert abs(found.residual[0]) < 1e-9
    assert found.free_metals[0] + found.held_metals[0] == pytest.approx(metal, abs=1e-9)
    assert (found.free_metals >= 0).all()
    assert (found.free_metals[0] <= np.array(metal) + 1e-12).all()
    assert found.buffer_capacity[0] > 0


@given(mixture, st.floats(0.0, 0.1), st.floats(1e-5, 0.03))
def test_complexes_only_lower_the_ph(totals, difference, calcium):
    metals = Metals([[calcium]], [2], HELD[:, :1])
    found = solution_equilibrium(
        [totals], [difference], acids=ACIDS, metals=metals, water=Water(13.995, 0.0)
    )
    without = ph_charge_balance(
        [totals], [difference + 2 * calcium], acids=ACIDS, water=Water(13.995, 0.0)
    )
    assert found.ph[0] <= without.ph[0] + 1e-9
