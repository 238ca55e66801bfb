"""Titratable acidity: shapes, the way there and back, and bad input."""

import numpy as np
import pytest

from setwell.errors import OutOfRangeError
from setwell.science.solution.titratable import (
    base_from_acidity,
    base_used,
    equivalent_mass,
    titratable_acidity,
)

CITRIC = {"molar_mass": 0.192124, "protons": 3}
TARTARIC = {"molar_mass": 0.150086, "protons": 2}


def test_acidity_survives_the_way_there_and_back():
    acidity = np.array([0.0, 0.5, 6.0])
    base = base_from_acidity(acidity, **CITRIC)
    assert titratable_acidity(base, **CITRIC) == pytest.approx(acidity)


def test_one_titration_reads_higher_as_tartaric_than_as_citric():
    as_citric, as_tartaric = (titratable_acidity(0.1, **acid) for acid in (CITRIC, TARTARIC))
    assert as_tartaric / as_citric == pytest.approx(75.043 / 64.041, rel=1e-4)


def test_acids_and_samples_broadcast():
    found = titratable_acidity([[0.05], [0.1]], molar_mass=[0.192124, 0.150086], protons=[3, 2])
    assert found.shape == (2, 2)
    assert found[1] == pytest.approx(2 * found[0])


def test_base_counts_per_mass_of_sample():
    assert base_used(12.5e-6, base_concentration=100.0, sample=[0.01, 0.02]) == pytest.approx(
        [0.125, 0.0625]
    )


@pytest.mark.parametrize(
    ("acid", "message"),
    [
        ({"molar_mass": 0.0, "protons": 1}, "molar mass of an acid must be above zero"),
        ({"molar_mass": 0.19, "protons": 0}, "at least one proton. Citric acid has 3"),
    ],
)
def test_impossible_acids_are_refused(acid, message):
    with pytest.raises(OutOfRangeError, match=message):
        equivalent_mass(acid["molar_mass"], protons=acid["protons"])


@pytest.mark.parametrize(
    ("volume", "sample", "field"), [(-1e-6, 0.01, "volume"), (1e-6, 0.0, "sample")]
)
def test_impossible_titrations_are_refused(volume, sample, field):
    with pytest.raises(OutOfRangeError) as caught:
        base_used(volume, base_concentration=100.0, sample=sample)
    assert caught.value.field == field
