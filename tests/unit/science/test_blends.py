"""Two agents in one gel: the shapes hold at their ends and at their best."""

import numpy as np
import pytest

from setwell.errors import OutOfRangeError
from setwell.science.gels.blends import (
    helped_gain,
    joint_shape,
    modulus_bounds_takayanagi,
    plateau_share,
)
from setwell.tables.agents import blend_rows

SHARES = np.linspace(0.0, 1.0, 2001)


@pytest.mark.parametrize(("best", "power"), [(0.65, 1.1), (0.85, 2.0), (0.6, 0.8)])
def test_a_helped_gel_is_strongest_at_its_best_share(best, power):
    strength = SHARES**power * helped_gain(SHARES, best_share=best, power=power)
    assert SHARES[strength.argmax()] == pytest.approx(best, abs=1e-3)
    assert strength[0] == 0.0
    assert strength[-1] == pytest.approx(1.0)


@pytest.mark.parametrize(("best", "power"), [(0.5, 1.0), (1.0, 1.0), (0.3, 2.0)])
def test_a_best_share_the_shape_cannot_have_is_refused(best, power):
    with pytest.raises(OutOfRangeError, match="best share"):
        helped_gain(0.5, best_share=best, power=power)


def test_a_joint_gel_needs_both():
    shape = joint_shape(SHARES, best_share=0.6)
    assert (shape[0], shape[-1]) == (0.0, 0.0)
    assert SHARES[shape.argmax()] == pytest.approx(0.6, abs=1e-3)
    assert shape.max() == pytest.approx(1.0)


def test_series_is_never_stiffer_than_parallel():
    rng = np.random.default_rng(7)
    first, second, volume = rng.uniform(0.1, 50, 500), rng.uniform(0.1, 50, 500), rng.random(500)
    series, parallel = modulus_bounds_takayanagi(first, second, volume)
    assert (series <= parallel * (1 + 1e-12)).all()
    assert (series >= np.minimum(first, second) * (1 - 1e-12)).all()
    assert (parallel <= np.maximum(first, second) * (1 + 1e-12)).all()


def test_a_plateau_neither_jumps_nor_turns_back():
    share = plateau_share(SHARES, start=0.571, end=0.667)
    assert (np.diff(share) >= 0).all()
    assert np.diff(share).max() < 2 * np.diff(SHARES).max()


def test_every_pair_of_the_table_has_a_shape():
    for row in blend_rows().values():
        for best, power in (
            ("best_share_small", "power_small"),
            ("best_share_break", "power_break"),
            ("best_share", "power_flow"),
        ):
            if power not in row.figures:
                continue
            figure = row.figure(best)
            for at in (figure.low, figure.value, figure.high):
                assert helped_gain(0.5, best_share=at, power=row.figure(power).value) >= 1.0
