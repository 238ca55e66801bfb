"""The pot itself: what its parts pass on, its balance of heat, its boil and its stirring."""

import numpy as np
import pytest
from builders_pot import LATENT_BOIL, SAUCE, heated

from setwell.science.heat.buoyancy import layer_coefficient, layer_difference, rayleigh_of_layer
from setwell.science.heat.flow_curve import layer_of_flow_curve


def test_a_layer_that_is_colder_below_does_not_move():
    assert float(rayleigh_of_layer(-5.0, depth=0.08, viscosity=0.1, liquid=SAUCE)) == 0.0
    assert float(layer_coefficient(-5.0, viscosity=0.1, liquid=SAUCE)) == 0.0
    assert float(layer_difference(-5.0, viscosity=0.1, liquid=SAUCE)) == 0.0


def test_the_closed_difference_undoes_the_coefficient():
    flux = np.array([300.0, 3000.0])
    across = layer_difference(flux, viscosity=0.3, liquid=SAUCE)
    carried = layer_coefficient(across, viscosity=0.3, liquid=SAUCE) * across
    assert carried == pytest.approx(flux, rel=1e-12)


def test_a_flow_curve_is_read_between_and_below_its_points():
    rates = np.array([0.1, 1.0, 10.0])
    curve = np.array([[20.0, 5.0, 1.0]])
    layer = layer_of_flow_curve([5.0], rates=rates, viscosities=curve, liquid=SAUCE)
    # The feeble stress lies below the curve: thicker than its first point.
    assert layer.stress[0] < 20.0 * 0.1
    assert layer.viscosity[0] > 20.0
    thin = layer_of_flow_curve([20.0], rates=rates, viscosities=0.01 * curve, liquid=SAUCE)
    assert 0.01 < thin.viscosity[0] < 0.2


def test_above_the_curve_the_last_viscosity_stays():
    layer = layer_of_flow_curve(50.0, rates=[0.001, 0.01], viscosities=[0.2, 0.1], liquid=SAUCE)
    assert float(layer.viscosity) == pytest.approx(0.1)


def balance(run):
    lost = run.flow("side") + run.flow("top") + run.flow("boiling")
    return run.stored - (run.flow("power") - lost)


@pytest.mark.parametrize("options", [
    {}, {"stirred": 750.0}, {"interval": 300.0}, {"boiling_c": 80.0}, {"is_steam": True},
])  # fmt: skip
def test_heat_is_conserved(options):
    run = heated([0.001, 0.5, 50.0], lids=[True, False, True], minutes=40.0, **options)
    assert np.abs(balance(run)).max() < 1e-6 * run.flow("power")[-1].min()


def test_a_pot_without_losses_takes_up_all_its_power():
    run = heated([0.01], target_c=500.0, boiling_c=600.0, minutes=10.0, has_losses=False)
    assert run.flow("power")[-1, 0] == pytest.approx(800.0 * 600.0, rel=1e-4)
    assert run.stored[-1, 0] == pytest.approx(run.flow("power")[-1, 0], rel=1e-9)


def test_vapor_and_its_heat_go_together():
    run = heated([0.001], lids=[False], minutes=60.0)
    # 2.26 to 2.5 MJ/kg, and what the surface loses dry on top.
    per_kg = run.flow("top")[-1, 0] / run.flow("vapor")[-1, 0]
    assert 2.3e6 < per_kg < 3.2e6


def test_a_boil_stays_at_the_boiling_point_and_turns_power_into_steam():
    run = heated([0.001], power=2000.0, target_c=150.0, minutes=60.0)
    assert run.core[-1, 0] == pytest.approx(100.0, abs=2.0)
    assert run.surface[-1, 0] > 97.0
    late = run.seconds > 2400.0
    steam = np.diff(run.flow("vapor")[late, 0]).sum()
    power = np.diff(run.flow("power")[late, 0]).sum()
    assert steam == pytest.approx(power / LATENT_BOIL, rel=0.15)


def test_live_steam_leaves_its_water_in_the_pot():
    run = heated([0.001], is_steam=True, minutes=10.0)
    water, heat = run.flow("condensate")[-1, 0], run.flow("power")[-1, 0]
    # Between the heat of condensing alone and with the cooling from 100 to 20 °C.
    assert heat / (LATENT_BOIL + 3900.0 * 80.0) < water < heat / LATENT_BOIL


def test_steady_stirring_makes_it_one():
    run = heated([2.0], stirred=750.0, minutes=60.0)
    assert run.core[-1, 0] - run.surface[-1, 0] < 0.5
    still = heated([2.0], minutes=60.0)
    assert still.core[-1, 0] - still.surface[-1, 0] > 5.0


def test_a_stir_brings_all_to_the_mean_and_it_separates_again():
    run = heated([0.5], interval=600.0, minutes=21.0)
    at = int(np.flatnonzero(run.seconds == 600.0)[0])
    assert np.ptp(run.celsius[at, 0]) < 1e-9
    assert np.ptp(run.celsius[at - 1, 0]) > 10.0
    assert np.ptp(run.celsius[run.seconds.searchsorted(1190.0), 0]) > 10.0


def test_a_thick_paste_heats_by_conduction_and_a_sauce_by_moving():
    run = heated([1e5, 0.1], minutes=30.0)
    inside = run.celsius[-1, :, 1] - run.celsius[-1, :, -2]
    assert inside[0] > 30.0
    assert inside[1] < 1.0


@pytest.mark.parametrize("viscosity", [0.001, 0.1, 2.0, 100.0, 1e5])
def test_a_pot_takes_few_steps_whatever_is_in_it(viscosity):
    # Near the onset of motion a hob that is taken back could make the solver creep.
    assert len(heated([viscosity], minutes=90.0).seconds) < 120
