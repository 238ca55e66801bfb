"""Numbers stay beside their units where a line ends."""

import pytest

from setwell.units import unbroken


@pytest.mark.parametrize(("said", "shown"), [
    ("at 4 °C (39 °F)", "at 4_°C (39_°F)"),
    ("0.5 % of 20 kPa", "0.5_% of 20_kPa"),
    ("1,400 g or 3 fl oz", "1,400_g or 3_fl_oz"),
    ("5 mPa·s, 12 mmol/kg, 30 min.", "5_mPa·s, 12_mmol/kg, 30_min."),
    ("2 hobs, 3 goods, 4 in 5, 10 molds", "2 hobs, 3 goods, 4 in 5, 10 molds"),
    ("step 2 Cool", "step 2 Cool"),
])  # fmt: skip
def test_only_the_space_before_a_unit_holds_on(said, shown):
    assert unbroken(said).replace("\u00a0", "_") == shown
