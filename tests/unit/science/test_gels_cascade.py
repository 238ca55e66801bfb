"""The share of a power law that is left near the smallest dose that gels."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from setwell.science.gels.cascade import (
    cascade_conversion,
    cascade_modulus_three_sites,
    modulus_near_threshold,
)


def share_step_by_step(relative: float) -> float:
    """Return the share by repeating v = exp(-x (1 - v)) until it rests."""
    extinct = 0.0
    for _ in range(20_000):
        extinct = float(np.exp(-relative * (1.0 - extinct)))
    return (1.0 - extinct) ** 2 * (1.0 - relative * extinct)


def finite_share(relative: float, sites: float) -> float:
    """Return the cascade modulus of chains with many sites over c^2 / 2, by its own equations."""
    bound = float(cascade_conversion(relative, functionality=sites))
    extinct = 0.0
    for _ in range(2_000):
        extinct = (1.0 - bound + bound * extinct) ** (sites - 1.0)
    beta = (sites - 1.0) * bound * extinct / (1.0 - bound + bound * extinct)
    modulus = relative * sites * bound / 2.0 * (1.0 - extinct) ** 2 * (1.0 - beta)
    return modulus / (relative**2 / 2.0)


@pytest.mark.parametrize("relative", [1.01, 1.1, 1.5, 2.0, 3.0, 5.0, 12.0])
def test_the_table_holds_the_equation(relative):
    found = float(modulus_near_threshold(relative, 1.0))
    assert found == pytest.approx(share_step_by_step(relative), rel=2e-4)


@pytest.mark.parametrize("relative", [1.5, 2.0, 3.0, 5.0])
def test_many_sites_come_to_the_limit(relative):
    limit = float(modulus_near_threshold(relative, 1.0))
    assert finite_share(relative, 1e5) == pytest.approx(limit, rel=1e-3)


def test_few_sites_have_no_square_law():
    # Local slope of the three-site modulus on log axes, far above the critical dose.
    far = cascade_modulus_three_sites([1e4, 1.01e4])
    assert np.log(far[1] / far[0]) / np.log(1.01) == pytest.approx(1.0, abs=0.02)


def test_nothing_stands_at_and_below_the_critical_dose():
    assert modulus_near_threshold([0.0, 0.1, 0.2], 0.2).tolist() == [0.0, 0.0, 0.0]
    assert modulus_near_threshold(0.21, 0.2) > 0


def test_far_above_the_power_law_is_whole():
    assert modulus_near_threshold([10.0, 1e6], 1.0) == pytest.approx(1.0, abs=1e-3)


@given(st.lists(st.floats(0, 100), min_size=2, max_size=30), st.floats(0.001, 10))
def test_more_agent_never_falls_and_batch_equals_loop(doses, critical):
    rising = np.sort(np.array(doses))
    found = modulus_near_threshold(rising, critical)
    assert (np.diff(found) >= 0).all()
    assert found.tolist() == [float(modulus_near_threshold(dose, critical)) for dose in rising]
