"""Loss of gel strength against recalled and published figures; each row says which it is."""

import csv
import math
from pathlib import Path

import pytest

from setwell.engine.gelling.parameters import parameter
from setwell.science.gels.degradation import (
    LossLaw,
    loss_time,
    molar_mass_scission,
    remaining_strength,
    scission_rate_masson_1955,
)

CASES = Path(__file__).parent / "cases"
KELVIN = 273.15


def cases(name: str) -> list[dict[str, str]]:
    with (CASES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


CONSTANTS = {case["quantity"]: case for case in cases("degradation_constants")}


def shipped(name: str) -> float:
    return parameter("kappa_carrageenan", name).value


def kappa() -> LossLaw:
    """Return the law with the constants that are shipped for kappa carrageenan."""
    return LossLaw(
        reference_time=shipped("loss_time_reference"),
        ph_factor=shipped("loss_time_factor_ph"),
        temperature_factor=shipped("loss_time_factor_temperature"),
        loss_share=shipped("loss_share"),
    )


def masson(celsius: float) -> float:
    """Return the neutral rate from the shipped constants [1/h]."""
    prefactor = parameter("kappa_carrageenan", "neutral_rate_prefactor").value / 3600
    energy = parameter("kappa_carrageenan", "neutral_rate_energy").value * 4.184
    rate = scission_rate_masson_1955(
        celsius + KELVIN, prefactor=prefactor, activation_energy=energy
    )
    return 3600 * float(rate)


FOUND = {
    "time_factor_per_half_ph": lambda: float(
        loss_time(373.15, 4.5, law=kappa()) / loss_time(373.15, 4.0, law=kappa())
    ),
    "time_factor_per_10_c": lambda: float(
        loss_time(353.15, 4.0, law=kappa()) / loss_time(363.15, 4.0, law=kappa())
    ),
    "activation_energy_40_to_120_c": lambda: (
        8.314462618e-3
        * math.log(loss_time(313.15, 4.0, law=kappa()) / loss_time(393.15, 4.0, law=kappa()))
        / (1 / 313.15 - 1 / 393.15)
    ),
    "masson_rate_100_c": lambda: masson(100),
    "masson_rate_80_c": lambda: masson(80),
    "masson_activation_energy": lambda: (
        8.314462618e-3 * math.log(masson(100) / masson(80)) / (1 / 353.15 - 1 / 373.15)
    ),
    "acid_rate_100_c": lambda: math.log(4 / 3) / float(loss_time(373.15, 4.0, law=kappa())) / 1e-4,
}


@pytest.mark.parametrize(
    "case", cases("degradation_loss_times"), ids=lambda c: f"pH {c['ph']}, {c['temperature_c']} °C"
)
def test_loss_times_meet_the_recalled_trade_table(case):
    # Kind: recalled. The table was not seen; low and high are the spread of its rounded steps.
    assert (case["kind"], case["grade"]) == ("recalled", "unverified")
    found = float(loss_time(float(case["temperature_c"]) + KELVIN, float(case["ph"]), law=kappa()))
    assert float(case["low"]) <= found <= float(case["high"])
    # Threefold per 0.5 pH is 9 per pH where the table steps by 10: a ninth at most.
    assert found == pytest.approx(float(case["printed"]), rel=0.1112)


@pytest.mark.parametrize("case", cases("degradation_loss_times"), ids=lambda c: c["printed"])
def test_first_order_in_hydrogen_ions_meets_the_table_too(case):
    law = LossLaw(20.0, math.sqrt(10.0), 3.0, 0.25)
    found = float(loss_time(float(case["temperature_c"]) + KELVIN, float(case["ph"]), law=law))
    assert float(case["low"]) <= found <= float(case["high"])


@pytest.mark.parametrize("name", sorted(FOUND))
def test_constants_come_out_as_printed(name):
    case = CONSTANTS[name]
    found = FOUND[name]()
    assert float(case["low"]) <= found <= float(case["high"])
    assert found == pytest.approx(float(case["printed"]), rel=0.005)


def test_every_constant_row_is_checked():
    assert set(CONSTANTS) == set(FOUND)


def test_neutral_rate_rises_about_threefold_per_10_degrees_as_the_trade_rule_says():
    # Two independent sources: the trade rule and Masson 1955 between 60 and 101 °C.
    factors = [masson(t + 10) / masson(t) for t in (60, 70, 80, 90)]
    assert all(2.7 <= factor <= 3.7 for factor in factors)


def test_holding_for_the_loss_time_leaves_75_to_80_percent():
    # Excerpt on process time: the limit is 20 to 25 % of the gel strength.
    hold = float(loss_time(363.15, 4.0, law=kappa()))
    found = remaining_strength(
        [0.0, hold], [363.15, 363.15], 4.0, law=kappa(), setting_temperature=0.0,
        protected_share=1.0,
    )  # fmt: skip
    assert 0.75 - 1e-12 <= float(found.share) <= 0.80


def test_a_tail_of_five_percent_below_50_kilograms_per_mole_is_mass_average_281():
    # EU 231/2012, recalled: at most 5 % below 50 kDa. The most probable distribution has
    # w(<m) = 1 - (1 + x) exp(-x), x = 2 m / Mw; random breaks from Mw 500 get there by this x.
    number_average = molar_mass_scission(250.0, 0.4 * (1 / 140.5 - 1 / 250.0), unit_molar_mass=0.4)
    x = 50.0 / float(number_average)
    assert 2 * float(number_average) == pytest.approx(281, abs=0.5)
    assert 1 - (1 + x) * math.exp(-x) == pytest.approx(0.05, abs=0.0005)
