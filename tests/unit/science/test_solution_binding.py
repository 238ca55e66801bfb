"""The search for free metals: nothing that is not there competes, and no search runs in rings."""

import numpy as np
import pytest

from setwell.science.solution.binding import free_metals_at_ph
from setwell.science.solution.charge_search import Water
from setwell.science.solution.complexes import solution_equilibrium
from setwell.science.solution.ligands import Metals
from setwell.science.solution.protonation import AcidSystems


def _back(free, ligands, constants):
    """Return the totals that free metals and their ligands make."""
    bound = constants * free[:, None]
    apart = ligands / (1.0 + bound.sum(axis=0))
    return free * (1.0 + (constants * apart).sum(axis=1))


def test_a_metal_that_is_not_there_takes_no_ligand():
    alone = free_metals_at_ph([[0.01]], [[0.01]], constants=[[[1e4]]])
    beside = free_metals_at_ph([[0.01, 0.0]], [[0.01]], constants=[[[1e4], [1e5]]])
    assert beside[0, 0] == pytest.approx(alone[0, 0], rel=1e-9)
    assert beside[0, 1] == 0.0


@pytest.mark.parametrize(
    ("metals", "ligands", "log_k"),
    [
        ([0.00227, 0.01495], [0.503, 4.5e-4], [[1.28, 10.58], [10.62, 10.48]]),
        ([0.0269, 0.00019], [2.26e-4, 0.0265], [[9.59, 7.01], [9.05, 10.66]]),
    ],
)
def test_strong_competition_is_searched_to_its_end(metals, ligands, log_k):
    constants = 10.0 ** np.array(log_k)
    free = free_metals_at_ph([metals], [ligands], constants=constants[None])[0]
    assert _back(free, np.array(ligands), constants) == pytest.approx(metals, rel=1e-9)


def test_the_joint_search_leaves_a_ring_of_steps():
    # Newton's whole steps jumped between pH 5 and 6 here.
    acids = AcidSystems(
        pk=[[3.18542436, 4.89330334, np.nan, np.nan],
            [5.94816938, 5.97332061, 6.69491836, 7.18431602]],
        top_charge=[0, 0],
    )  # fmt: skip
    metals = Metals(
        totals=[[0.0460855]],
        charge=[2],
        log_k=[[[4.05506397, 5.19348102]], [[3.07724868, -1.297842]]],
    )
    found = solution_equilibrium(
        [[0.02243575, 0.01723972]], [0.0007786781911326576], acids=acids, metals=metals,
        water=Water(13.995, 0.5115),
    )  # fmt: skip
    held = found.free_metals + found.held_metals
    assert held[0, 0] == pytest.approx(0.0460855, rel=1e-7)
    assert abs(found.residual[0]) < 1e-7 * 0.0460855
