"""The science functions against published or recalled figures; each row says which it is."""

import csv
from pathlib import Path

import numpy as np
import pytest

from setwell.engine.gelling.parameters import parameter
from setwell.science.flow.coils import viscosity_overlap_law
from setwell.science.gels.setting import (
    counter_ion_concentration,
    setting_temperature_kappa_rochas_1984,
)
from setwell.science.gels.strength import (
    bloom_at_dose,
    dose_equivalent_bloom,
    modulus_from_flat_punch,
    modulus_power_law,
    potassium_factor,
)
from setwell.science.solution.mixture import alcohol_by_volume, degrees_brix, molality

CASES = Path(__file__).parent / "cases"
KELVIN = 273.15


def cases(name: str) -> list[dict[str, str]]:
    with (CASES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("case", cases("engine_spirits"), ids=lambda c: f"{c['printed']} % vol")
def test_alcohol_by_volume_follows_from_mass_and_density(case):
    share, density = float(case["ethanol_mass_pct"]) / 100, float(case["density_kg_m3"])
    # The printed mass share is rounded to 0.001 %: at most 0.001 % vol.
    assert alcohol_by_volume(share, density) == pytest.approx(float(case["printed"]), abs=0.002)


def test_forty_percent_by_volume_is_the_published_mass_and_density():
    # OIML R 22, general tables: 40 % vol, 33.30 % by mass, 948.05 kg/m3 at 20 °C.
    assert alcohol_by_volume(0.3330, 948.05) == pytest.approx(40.0, abs=0.006)


@pytest.mark.parametrize("sugar", [0, 1, 12.5, 50, 66.7, 100])
def test_brix_is_the_sugar_in_the_solution(sugar):
    assert degrees_brix(sugar, 100 - sugar) == pytest.approx(sugar)


@pytest.mark.parametrize(
    "case", cases("science_kappa_lines"), ids=lambda c: f"{c['line']}-{c['potassium_mmol']}"
)
def test_kappa_lines_pass_through_the_recalled_anchors(case):
    # Kind: recalled. This tests the arithmetic of the lines, not nature.
    assert (case["kind"], case["grade"]) == ("recalled", "unverified")
    line = case["line"]
    found = setting_temperature_kappa_rochas_1984(
        float(case["potassium_mmol"]) / 1000,
        intercept=parameter("kappa_carrageenan", f"{line}_line_intercept").value,
        slope=parameter("kappa_carrageenan", f"{line}_line_slope").value,
    )
    assert float(found) - KELVIN == pytest.approx(float(case["printed"]), abs=0.06)
    assert float(case["low"]) <= float(found) - KELVIN <= float(case["high"])


def test_kappa_lines_meet_where_there_is_no_hysteresis():
    # Rochas and Rinaudo 1980, recalled: below 7 (5 to 10) mmol/L cooling and heating coincide.
    at_seven = [
        float(
            setting_temperature_kappa_rochas_1984(
                0.007,
                intercept=parameter("kappa_carrageenan", f"{line}_line_intercept").value,
                slope=parameter("kappa_carrageenan", f"{line}_line_slope").value,
            )
        )
        for line in ("setting", "melting")
    ]
    assert at_seven[0] == pytest.approx(at_seven[1], abs=0.1)


@pytest.mark.parametrize("case", cases("science_gelatin_dose"), ids=lambda c: c["printed"])
def test_gelatin_grades_exchange_by_the_handbook_rule(case):
    found = dose_equivalent_bloom(
        float(case["dose_pct"]) / 100,
        bloom=float(case["bloom"]),
        wanted_bloom=float(case["wanted_bloom"]),
    )
    assert 100 * float(found) == pytest.approx(float(case["printed"]), abs=0.0006)


def test_bloom_of_the_standard_gel_is_its_bloom():
    # GMIA 2012: the Bloom test is 6.67 % gelatin.
    for exponent in (1.0, 1.7, 2.0):
        assert bloom_at_dose(0.0667, bloom=250.0, exponent=exponent) == pytest.approx(250.0)


def test_flat_punch_of_250_bloom_is_12_kilopascals():
    # Johnson 1985, F = 8 G a d: 0.250 kg x 9.80665 / (8 x 6.35 mm x 4 mm) = 12.07 kPa.
    found = modulus_from_flat_punch(0.250, radius=6.35e-3, depth=4e-3)
    assert float(found) / 1000 == pytest.approx(12.07, abs=0.006)


# Ideal disaccharide repeat, from atomic masses (IUPAC 2021), g per mole of charge.
@pytest.mark.parametrize(
    ("agent", "salt", "grams"),
    [
        ("kappa_carrageenan", "sodium form", 408.3),
        ("iota_carrageenan", "sodium form", 255.2),
        ("lambda_carrageenan", "sodium form", 210.1),
        ("kappa_carrageenan", "potassium form", 424.4),
    ],
)
def test_counter_ions_follow_from_the_ideal_repeat(agent, salt, grams):
    weight = parameter(agent, "equivalent_weight", salt).value
    assert weight == pytest.approx(grams, abs=0.06)
    found = counter_ion_concentration(0.01, equivalent_weight=weight / 1000)
    assert float(found) == pytest.approx(10.0 / grams, rel=3e-4)


def test_molality_of_potassium_chloride_is_26_8_millimoles_at_0_2_percent():
    # 2 g/L KCl over 74.548 g/mol (IUPAC 2021): 26.8 mmol/L.
    found = 1000 * float(molality(0.002, 1.0, molar_mass=0.074548))
    assert found == pytest.approx(26.8, abs=0.05)


def test_lambda_overlaps_at_the_published_dose():
    # Rivera del Rio et al. 2017, abstract: C* 0.21 % without added sodium at 25 °C; Morris et al.
    # 1981: specific viscosity near 10 there.
    overlap = parameter("lambda_carrageenan", "overlap_concentration", "25 °C, no added sodium")
    assert overlap.value == pytest.approx(0.21, abs=0.006)
    found = viscosity_overlap_law(
        0.0021, overlap_dose=overlap.value / 100, overlap_specific_viscosity=10.0,
        solvent_viscosity=0.001, exponents=(1.4, 3.3),
    )  # fmt: skip
    assert float(found) == pytest.approx(0.011)
    # Log-log slope below and above the overlap is the published power.
    for dose, power in ((0.0005, 1.4), (0.008, 3.3)):
        pair = viscosity_overlap_law(
            [dose, dose * 1.01], overlap_dose=0.0021, overlap_specific_viscosity=10.0,
            solvent_viscosity=1.0, exponents=(1.4, 3.3),
        )  # fmt: skip
        slope = np.diff(np.log(pair - 1.0))[0] / np.log(1.01)
        assert slope == pytest.approx(power, abs=1e-6)


def test_modulus_of_kappa_goes_with_the_square_of_the_dose():
    # Rochas et al. 1990, recalled: power near two (1.8 to 2.3).
    power = parameter("kappa_carrageenan", "modulus_exponent")
    assert (power.low, power.value, power.high) == (1.8, 2.0, 2.3)
    one, two = modulus_power_law(
        [0.005, 0.01], modulus_at_reference=1.0, reference_dose=0.01, exponent=power.value
    )
    assert two / one == pytest.approx(4.0)


def test_best_potassium_of_kappa_lies_in_the_published_optimum():
    # J. Home Econ. Japan 39:1249 (1988), abstract: 0.2 to 0.3 mol/L at 0.75 %.
    potassium = np.linspace(0.01, 0.6, 400)
    best = potassium[
        np.argmax(
            potassium_factor(
                potassium,
                optimum=parameter("kappa_carrageenan", "optimum_potassium").value,
                decades=parameter("kappa_carrageenan", "optimum_potassium_width").value,
                floor=parameter("kappa_carrageenan", "modulus_floor").value,
            )
        )
    ]
    assert 0.2 <= best <= 0.3
