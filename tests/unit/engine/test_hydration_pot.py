"""How uneven the pot is: what the steps tell, and the temperatures of its three zones."""

import numpy as np
import pytest

from setwell.domain.steps import steps_parse
from setwell.engine.pot_zones import PotLags, pot_lags, unevenness, zone_temperatures


def lags(steps: str, enters: int = 0) -> PotLags:
    return pot_lags(steps_parse(steps), enters)


@pytest.mark.parametrize(
    ("steps", "lag"),
    [
        ("Heat to 85 °C, stirring occasionally", 5.0),
        ("Heat to 85 °C, stirring constantly", 2.0),
        ("Heat to 85 °C\nBlend", 2.0),
        ("Boil", 1.0),
        ("Heat to 99 °C without stirring", 1.0),
        ("Heat to 85 °C without stirring", 14.0),
        ("Heat to 60 °C, stirring occasionally\nHeat to 85 °C, stirring constantly", 2.0),
    ],
)
def test_a_told_way_of_heating_has_its_lag(steps, lag):
    found = lags(steps)
    assert found.is_told
    assert found.value == lag == unevenness(steps_parse(steps))
    assert found.low_c < found.value <= found.high_c <= 14.0


def test_what_nobody_tells_may_be_anything_between_a_boil_and_a_pot_at_rest():
    assert lags("Heat to 85 °C") == PotLags(5.0, 1.0, 14.0, is_told=False)
    # Where safety hangs on it, untold is the worst.
    assert unevenness(steps_parse("Heat to 85 °C")) == 14.0


def test_stirring_before_the_powder_goes_in_does_not_count():
    steps = "Stir constantly\nBoil the milk\nCool to 60 °C\nAdd the kappa\nHeat to 85 °C"
    assert lags(steps).value == 1.0
    assert not lags(steps, enters=3).is_told


def test_the_step_before_it_goes_in_still_counts():
    assert lags("Boil the milk\nStir in the agar", enters=1).value == 1.0


def test_85_below_is_71_above_in_a_pot_at_rest():
    found = zone_temperatures(np.array([[20.0, 85.0, 52.5]]), np.array([14.0]))
    assert found[0, :, 1] == pytest.approx([85.0, 78.0, 71.0])
    assert found[0, :, 0] == pytest.approx([20.0, 20.0, 20.0])
    assert found[0, :, 2] == pytest.approx([52.5, 49.0, 45.5])


def test_in_the_fridge_the_middle_is_the_last_to_get_cold():
    bottom, core, top = zone_temperatures(np.array([[4.0]]), np.array([14.0]))[0, :, 0]
    assert bottom < core < top < 20.0
