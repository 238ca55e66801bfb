"""What cold places, walls, hobs and open surfaces do to heat."""

import numpy as np
import pytest

from setwell.domain.equipment import Cooler, CoolerKind, Hob, HobKind, WallMaterial
from setwell.engine.heat.equipment import hob_efficiency, surface_of, wall_of
from setwell.errors import InputError
from setwell.provenance import Grade


def place(kind: CoolerKind, air_c: float = 4.0, **more: float) -> Cooler:
    return Cooler(name="Place", kind=kind, air_c=air_c, **more)


def test_a_still_fridge_takes_half_as_much_from_a_nearly_cold_jar():
    found = surface_of(place(CoolerKind.FRIDGE), surface_c=[80.0, 6.0], size_m=0.09)
    assert found.value == pytest.approx([13.9, 7.4], abs=0.06)
    assert np.all(found.low < found.value)
    assert np.all(found.value < found.high)
    assert {one.source for one in found.evidence} == {"churchill_chu_1975", "common_practice"}


def test_bright_metal_keeps_its_heat_longer():
    dull, bright = (
        surface_of(place(CoolerKind.FRIDGE), surface_c=40.0, size_m=0.09, emissivity=share)
        for share in (0.9, 0.1)
    )
    assert bright.value < 0.65 * dull.value


def test_a_blast_chiller_beats_a_fan_and_a_fan_beats_still_air():
    still, fan, blast = (
        float(surface_of(place(kind), surface_c=20.0, size_m=0.09).value)
        for kind in (CoolerKind.FRIDGE, CoolerKind.VENTILATED_FRIDGE, CoolerKind.BLAST_CHILLER)
    )
    assert still < fan < blast
    assert (fan, blast) == (12.0, 27.0)


def test_a_fan_never_takes_less_than_air_at_rest():
    hot = {"surface_c": 85.0, "size_m": 0.03}
    still, fan = (
        surface_of(place(kind), **hot) for kind in (CoolerKind.FRIDGE, CoolerKind.VENTILATED_FRIDGE)
    )
    assert fan.value >= still.value > 12.0


def test_ice_water_slows_down_below_eight_degrees():
    found = surface_of(place(CoolerKind.ICE_BATH, 0.0), surface_c=[60, 20, 8, 4], size_m=0.09)
    assert found.value[0] > 1000.0
    assert found.value[2:] == pytest.approx([150.0, 150.0])
    assert np.all(np.diff(found.value) <= 0.0)
    assert found.flags == ("still and stirred ice water",)
    # A stirred bath lies within the range all the way down.
    assert np.all(found.high >= 820.0)


def test_a_measured_coefficient_wins_with_its_own_range():
    cooler = Cooler(
        name="Walk-in", coefficient_w_m2k=14.0, coefficient_low=12.0, coefficient_high=15.5,
        measured="log of May 3",
    )  # fmt: skip
    shown = surface_of(cooler, surface_c=[80.0, 6.0], size_m=0.09).estimate(1)
    assert (shown.value, shown.low, shown.high) == (14.0, 12.0, 15.5)
    assert shown.grade is Grade.MEASURED
    assert shown.evidence[0].locator == "log of May 3"


def test_a_measured_coefficient_without_a_range_is_not_taken_as_exact():
    found = surface_of(
        Cooler(name="Walk-in", coefficient_w_m2k=10.0), surface_c=20.0, size_m=0.09
    ).estimate()
    assert (found.low, found.high) == pytest.approx((8.5, 11.5))


def test_an_emissivity_that_cannot_be_is_refused():
    with pytest.raises(InputError, match="between 0 and 1, not 9"):
        surface_of(place(CoolerKind.FRIDGE), surface_c=40.0, size_m=0.09, emissivity=9.0)


@pytest.mark.parametrize("material", WallMaterial)
def test_every_wall_has_a_resistance(material):
    wall = wall_of(material)
    assert wall.is_usual_thickness
    assert 1e-6 < wall.resistance < 0.5
    assert wall_of(material, 2.0 * wall.thickness_m * 1000.0).resistance == pytest.approx(
        2.0 * wall.resistance
    )
    assert wall.heat_per_area > 0.0


def test_silicone_holds_back_what_steel_lets_through():
    silicone, steel = wall_of(WallMaterial.SILICONE), wall_of(WallMaterial.STEEL)
    assert silicone.resistance == pytest.approx(0.01)
    assert silicone.resistance > 100.0 * steel.resistance


@pytest.mark.parametrize(
    ("kind", "share"),
    [(HobKind.INDUCTION, 0.84), (HobKind.ELECTRIC, 0.74), (HobKind.GAS, 0.40)],
)
def test_hobs_pass_on_the_share_of_the_boil_tests(kind, share):
    found = hob_efficiency(Hob(name="Hob", kind=kind))
    assert found.value == share
    assert found.low < share < found.high
    assert found.grade is Grade.UNVERIFIED


def test_a_measured_share_wins_and_stays_below_all_of_it():
    found = hob_efficiency(Hob(name="Hob", efficiency=0.95, measured="log of May 3"))
    assert (found.value, found.high) == (0.95, 1.0)
    assert found.low == pytest.approx(0.8075)
    assert found.grade is Grade.MEASURED
