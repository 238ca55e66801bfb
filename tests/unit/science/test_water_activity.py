"""Water activity: limits of the laws, mixtures, ranges and bad input."""

import numpy as np
import pytest

from setwell.errors import OutOfRangeError
from setwell.science.solution.water_activity import (
    osmotic_coefficient_pitzer_1973,
    water_activity_mixture,
    water_activity_norrish_1966,
    water_activity_osmotic,
    water_activity_ross_1975,
)

SALT = {"ions": (1, 1), "charges": (1, 1), "coefficients": (0.0765, 0.2664, 0.00127)}
SUGARS = [6.47, 2.25]
ERRORS = {"relative_error": 0.1, "least_error": 0.003}


def mixture(molalities, *, ions=0.0, **errors):
    return water_activity_mixture(
        molalities, norrish_constants=SUGARS, ion_molality=ions, osmotic_coefficient=0.93,
        **{**ERRORS, **errors},
    )  # fmt: skip


def test_water_alone_has_activity_one():
    assert water_activity_norrish_1966([0.0, 0.0], norrish_constants=SUGARS) == 1.0
    assert water_activity_osmotic(0.0, osmotic_coefficient=0.9) == 1.0


def test_constant_zero_is_raoult():
    # 55.51 mol of water in a kilogram: half of the molecules at 55.51 mol/kg.
    assert water_activity_norrish_1966([55.509], norrish_constants=[0.0]) == pytest.approx(
        0.5, abs=1e-5
    )


def test_two_sugars_of_one_kind_are_one_sugar():
    split = water_activity_norrish_1966([0.4, 0.6], norrish_constants=[2.25, 2.25])
    assert split == pytest.approx(water_activity_norrish_1966([1.0], norrish_constants=[2.25]))


def test_mixture_lies_between_its_sugars_at_the_same_amount():
    sucrose, mixed, glucose = water_activity_norrish_1966(
        [[3.0, 0.0], [1.5, 1.5], [0.0, 3.0]], norrish_constants=SUGARS
    )
    assert sucrose < mixed < glucose


def test_negative_constant_raises_the_activity():
    activity = water_activity_norrish_1966([[3.0]] * 2, norrish_constants=[[0.0], [-2.0]])
    assert activity[1] > activity[0]


def test_dilute_salt_has_coefficient_one():
    assert osmotic_coefficient_pitzer_1973(0.0, **SALT) == 1.0
    assert osmotic_coefficient_pitzer_1973(1e-4, **SALT) == pytest.approx(1.0, abs=0.005)


def test_charge_pulls_the_coefficient_down():
    calcium = osmotic_coefficient_pitzer_1973(
        0.1, ions=(1, 2), charges=(2, 1), coefficients=(0.3159, 1.614, -0.00034)
    )
    assert calcium < osmotic_coefficient_pitzer_1973(0.1, **SALT)


def test_each_coefficient_of_a_two_one_salt_has_its_weight():
    # n+ = 1, n- = 2: 2 n+ n- / n = 4/3 and 2 (n+ n-)^1.5 / n = 1.8856, at 1 mol/kg with I = 3.
    calcium = {"ions": (1, 2), "charges": (2, 1)}
    bare, first, second, third = (
        float(osmotic_coefficient_pitzer_1973(1.0, **calcium, coefficients=c))
        for c in ((0, 0, 0), (0.1, 0, 0), (0, 0.1, 0), (0, 0, 0.1))
    )
    assert first - bare == pytest.approx(0.13333, abs=1e-5)
    assert second - bare == pytest.approx(0.13333 * np.exp(-2 * np.sqrt(3)), abs=1e-5)
    assert third - bare == pytest.approx(0.18856, abs=1e-5)


def test_product_of_parts():
    assert water_activity_ross_1975([[1.0, 0.9], [0.8, 0.5]]) == pytest.approx([0.9, 0.4])


def test_range_holds_the_value_and_stays_below_one():
    found = mixture([[0.0, 0.0], [2.0, 1.0], [6.0, 6.0]], ions=[0.0, 0.5, 1.0])
    assert np.all(found.low <= found.value)
    assert np.all(found.value <= found.high)
    assert found.high.max() == 1.0
    assert np.all(np.diff(found.high - found.low) > 0)


def test_salt_lowers_and_widens():
    plain, salted = mixture([1.0, 1.0]), mixture([1.0, 1.0], ions=2.0)
    assert salted.value < plain.value
    assert salted.high - salted.low > plain.high - plain.low


def test_thick_syrup_is_flagged():
    assert mixture([[2.0, 0.0], [12.0, 6.0]]).is_in_range.tolist() == [True, False]


def test_batch_equals_single():
    rng = np.random.default_rng(7)
    amounts, ions = rng.uniform(0, 4, (30, 2)), rng.uniform(0, 2, 30)
    batch = mixture(amounts, ions=ions)
    singles = [mixture(a, ions=i) for a, i in zip(amounts, ions, strict=True)]
    for name in ("value", "low", "high"):
        single = [float(getattr(one, name)) for one in singles]
        assert getattr(batch, name) == pytest.approx(single, rel=1e-14)


@pytest.mark.parametrize(
    "call",
    [
        lambda: water_activity_norrish_1966([-0.1], norrish_constants=[6.47]),
        lambda: water_activity_osmotic(-0.1, osmotic_coefficient=1.0),
        lambda: osmotic_coefficient_pitzer_1973(-0.1, **SALT),
    ],
)
def test_negative_amounts_are_refused(call):
    with pytest.raises(OutOfRangeError, match="dissolved amount cannot be below zero"):
        call()


@pytest.mark.parametrize("parts", [[0.9, 1.1], [-0.1, 0.9]])
def test_activities_of_parts_lie_between_zero_and_one(parts):
    with pytest.raises(OutOfRangeError, match="must lie between 0 and 1"):
        water_activity_ross_1975(parts)
