"""Lethality, tables and log reductions against what was printed, each with its source."""

import math

import numpy as np
import pytest

from setwell.science.lethality.resistance import (
    decimal_reduction_time,
    log_reduction,
    z_between,
    z_fitted,
)
from setwell.science.lethality.segments import lethality, lethality_curve, lethality_trapezoid
from setwell.tables.rules import (
    lethality_targets,
    pasteurization_rows,
    resistance_rows,
    roast_rows,
)

KELVIN = 273.15
ROWS = {row.key: row for row in resistance_rows()}
LEGAL = {row.key: row for row in pasteurization_rows()}

# Earle, Unit Operations in Food Processing (1983), chapter 6, can in a retort (recalled; the
# recalled rows add up to the printed total): °C, min, equivalent minutes at 121 °C as printed.
EARLE = (
    (80, 11, 0.00087), (90, 8, 0.0063), (95, 6, 0.015), (100, 10, 0.079), (105, 12, 0.3),
    (108, 6, 0.3), (109, 8, 0.5), (110, 17, 1.34), (107, 2, 0.08), (100, 2, 0.016),
    (90, 2, 0.0016), (80, 8, 0.0006), (70, 6, 0.00005),
)  # fmt: skip
# An invented core of a custard, for arithmetic only: min, °C.
MINUTES = (0, 2, 4, 6, 8, 10, 11, 12, 14, 16, 20)
CORE = (20.0, 40.0, 52.0, 60.0, 66.0, 70.0, 71.0, 70.0, 62.0, 50.0, 30.0)
# Chilled Food Association (2006), as the UK regulator reprints it: min equal to 10 min at 90 °C.
BOTULINUM = {
    80: 129, 81: 100, 82: 77, 83: 60, 84: 46, 85: 36, 86: 28, 87: 22, 88: 17, 89: 13, 90: 10,
    91: 7.9, 92: 6.3, 93: 5, 94: 4, 95: 3.2, 96: 2.5, 97: 2, 98: 1.6, 99: 1.3, 100: 1,
}  # fmt: skip


def held(minutes: float, celsius: float, reference: float, z: float) -> float:
    """Return the equivalent minutes of a hold."""
    kelvin = [celsius + KELVIN] * 2
    course = lethality(
        [0, 60 * minutes], kelvin, reference_temperature=reference + KELVIN, z_value=z
    )
    return float(course) / 60


def steps(rows: tuple[tuple[float, float, float], ...]) -> tuple[np.ndarray, np.ndarray]:
    """Return a course of holds that jump from one to the next."""
    ends = np.cumsum([0.0, *(60.0 * minutes for _, minutes, _ in rows)])
    times = np.repeat(ends, 2)[1:-1]
    return times, np.repeat([celsius + KELVIN for celsius, *_ in rows], 2)


@pytest.mark.parametrize("row", EARLE, ids=lambda row: f"{row[0]}_{row[1]}min")
def test_every_step_of_the_can_is_worth_what_the_book_prints(row):
    celsius, minutes, printed = row
    # The book rounds each step to one or two digits.
    assert held(minutes, celsius, 121, 10) == pytest.approx(printed, rel=0.06)


def test_the_can_in_the_retort():
    times, kelvin = steps(EARLE)
    total = float(lethality(times, kelvin, reference_temperature=121 + KELVIN, z_value=10)) / 60
    # Printed 2.64 from rounded steps; exact arithmetic on the same steps 2.657.
    assert total == pytest.approx(2.64, abs=0.03)
    assert total == pytest.approx(2.657, abs=0.0005)
    # Two more minutes at 110 °C: printed 2.80.
    assert total + held(2, 110, 121, 10) == pytest.approx(2.80, abs=0.03)


def test_the_milk_that_is_not_yet_pasteurized():
    # Earle, chapter 6 (recalled): 2 min at 64, 3 at 65, 2 at 66 °C; 15.7, 9.2, 5.4 min needed.
    needed = {64: 15.7, 65: 9.2, 66: 5.4}
    done = sum(t / needed[c] for c, t in ((64, 2.0), (65, 3.0), (66, 2.0)))
    assert done == pytest.approx(0.83, abs=0.01)
    # The same through one z of the three rows and the engine of this package.
    z = z_fitted([c + KELVIN for c in needed], [60 * t for t in needed.values()])
    rows = ((64.0, 2.0, 0.0), (65.0, 3.0, 0.0), (66.0, 2.0, 0.0))
    times, kelvin = steps(rows)
    total = float(lethality(times, kelvin, reference_temperature=65 + KELVIN, z_value=z)) / 60
    assert total / 9.2 == pytest.approx(0.83, abs=0.01)
    # Printed: 0.92 min more at 66 °C does the rest.
    missing = 1 - float(lethality(
        times, kelvin, reference_temperature=66 + KELVIN, z_value=z)) / 60 / 5.4  # fmt: skip
    assert missing * 5.4 == pytest.approx(0.92, abs=0.06)


@pytest.mark.parametrize(
    ("rates", "minutes"),
    [
        # Warne, FAO Fisheries Technical Paper 285 (1988): readings every 5 min. Whole run: sum of
        # the rates 2.925 with zero ends, F0 = 14.6 min. Heating: 0 and 0.776 at the ends and
        # 1.342 in between, F0 = 8.6 min. The rates in between were not seen, only their sums.
        ((1e-9, 1.0, 1.0, 0.925, 1e-9), 14.6),
        ((1e-9, 0.4, 0.4, 0.542, 0.776), 8.6),
    ],
)
def test_trapezoid_of_the_fish_cannery(rates, minutes):
    celsius = 121.1 + 10 * np.log10(rates)
    total = lethality_trapezoid(
        300.0 * np.arange(len(rates)), celsius + KELVIN, reference_temperature=121.1 + KELVIN,
        z_value=10,
    )  # fmt: skip
    assert float(total) / 60 == pytest.approx(minutes, abs=0.06)


def test_the_hottest_reading_of_the_fish_cannery():
    # A rate of 0.776 at z 10 °C is 120.0 °C.
    assert held(1, 120.0, 121.1, 10) == pytest.approx(0.776, abs=0.0005)


@pytest.mark.parametrize(
    ("low_f", "low_s", "high_f", "high_s", "z_c"),
    [
        # 9 CFR 590.570, Table I: 6.2 min at T and 3.5 min 2 °F warmer, z 8.05 °F.
        (140, 372, 142, 210, 8.05 / 1.8),
        # 21 CFR 1240.61(b): 145 °F 30 min and 161 °F 15 s, z 7.70 °F.
        (145, 1800, 161, 15, 7.70 / 1.8),
        # Same, 191 °F 1 s and 212 °F 0.01 s, z 10.5 °F.
        (191, 1.0, 212, 0.01, 10.5 / 1.8),
        # 21 CFR 1240.61(c): 155 °F 30 min and 175 °F 25 s, z 10.77 °F.
        (155, 1800, 175, 25, 10.77 / 1.8),
    ],
)
def test_z_that_pairs_of_legal_rows_share(low_f, low_s, high_f, high_s, z_c):
    celsius = [(f - 32) / 1.8 + KELVIN for f in (low_f, high_f)]
    assert float(z_between(celsius[0], low_s, celsius[1], high_s)) == pytest.approx(z_c, abs=0.01)


def test_every_pair_of_the_liquid_egg_table_has_that_z():
    # 9 CFR 590.570, Table I.
    egg = [row for row in pasteurization_rows() if row.regime == "liquid_egg"]
    pairs = 0
    for food in {row.food for row in egg}:
        rows = [row for row in egg if row.food == food]
        if len(rows) == 2:
            kelvin = [(row.temperature_f - 32) / 1.8 for row in rows]
            z = z_between(kelvin[0], rows[0].time_s, kelvin[1], rows[1].time_s)
            assert float(z) == pytest.approx(4.47, abs=0.01)
            pairs += 1
    assert pairs == 8


def test_z_of_the_roast_table():
    # Food Code 2022, 3-401.11(B)(2): least squares over the 16 rows with a time.
    rows = [row for row in roast_rows() if row.time_s]
    z = z_fitted([row.temperature_c for row in rows], [row.time_s for row in rows])
    assert len(rows) == 16
    assert z == pytest.approx(5.58, abs=0.02)


def test_z_of_salmonella_in_yolk():
    # Food Microbiology 28:67 (2011): D at 58 to 66 °C; the authors print about 4.7.
    rows = [row for row in resistance_rows() if row.key.startswith("salmonella4_yolk_")]
    assert [row.d_min for row in rows] == [1.83, 0.69, 0.26, 0.096, 0.036]
    z = z_fitted([row.reference_c for row in rows], [row.d_min for row in rows])
    assert z == pytest.approx(4.69, abs=0.02)
    assert z == pytest.approx(rows[0].z_c, abs=0.05)


def test_z_of_listeria_in_milk_is_that_of_its_own_two_ends():
    # Bradshaw 1985: 1683.7 s at 52.2 °C and 0.7 s at 74.4 °C; the authors print 6.3 °C.
    z = float(z_between(52.2, 1683.7, 74.4, 0.7))
    assert z == pytest.approx(ROWS["listeria_whole_milk"].z_c, abs=0.3)


@pytest.mark.parametrize(
    ("key", "celsius", "minutes", "logs", "tolerance"),
    [
        # Garibaldi 1969 with the time of 9 CFR 590.570.
        ("salmonella_tm1_whole", 60.0, 3.5, 12.96, 0.01),
        ("salmonella_tm1_yolk_sugar", (146 - 32) / 1.8, 3.5, 4.641, 0.001),
        # Garibaldi 1969 with Food Code 3-401.11(A)(2).
        ("salmonella_tm1_yolk_sugar", 68.0, 17 / 60, 3.885, 0.001),
        # Bradshaw 1985 with 21 CFR 1240.61(b), 15 s.
        ("listeria_whole_milk", 71.7, 0.25, 16.7, 0.05),
        # Bradshaw 1987 with 21 CFR 1240.61(c): D 0.5 s.
        ("listeria_ice_cream_mix", 79.4, 25 / 60, 50.0, 0.1),
        ("listeria_ice_cream_mix", 69.0, 30.0, 117.6, 0.2),
    ],
)
def test_log_reductions_of_holds(key, celsius, minutes, logs, tolerance):
    row = ROWS[key]
    spent = held(minutes, celsius, row.reference_c, row.z_c)
    assert float(log_reduction(spent, reference_time=row.d_min)) == pytest.approx(
        logs, abs=tolerance
    )


def test_reduction_time_of_e_coli_in_juice_at_60():
    # Splittstoesser 1996: 18 min at 52 °C, z 4.8 °C.
    row = ROWS["ecoli_apple_juice"]
    d = decimal_reduction_time(
        60.0, reference_time=row.d_min, reference_temperature=row.reference_c, z_value=row.z_c
    )
    assert float(d) == pytest.approx(0.3878, abs=0.001)


@pytest.mark.parametrize(
    ("reference", "z", "trapezoid", "exact"),
    [(60, 4.6, 741.7640, 603.6939), (70, 5.56, 5.0012, 4.2013), (71.7, 6.3, 2.7231, 2.3328)],
)
def test_trapezoid_overstates_the_custard(reference, z, trapezoid, exact):
    # Worked out twice, by the sum and by the integral of 10^(T/z), on the invented profile.
    times, kelvin = [60.0 * m for m in MINUTES], [c + KELVIN for c in CORE]
    wide = float(lethality_trapezoid(
        times, kelvin, reference_temperature=reference + KELVIN, z_value=z)) / 60  # fmt: skip
    right = float(lethality(
        times, kelvin, reference_temperature=reference + KELVIN, z_value=z)) / 60  # fmt: skip
    assert wide == pytest.approx(trapezoid, abs=0.0005)
    assert right == pytest.approx(exact, abs=0.0005)
    curve = lethality_curve(
        times, kelvin, reference_temperature=reference + KELVIN, z_value=z)  # fmt: skip
    assert float(curve[-1]) / 60 == pytest.approx(exact, abs=0.0005)


def test_the_excess_is_23_percent_and_reaches_the_log_reductions():
    times, kelvin = [60.0 * m for m in MINUTES], [c + KELVIN for c in CORE]
    at = {"reference_temperature": 60 + KELVIN, "z_value": 4.6}
    wide, right = lethality_trapezoid(times, kelvin, **at), lethality(times, kelvin, **at)
    assert float(wide / right) == pytest.approx(1.23, abs=0.005)
    # Yolk with 10 % sucrose, D 4.0 min: 185.441 reductions by the trapezoid.
    d = 60 * ROWS["salmonella_tm1_yolk_sugar"].d_min
    assert float(log_reduction(wide, reference_time=d)) == pytest.approx(185.441, abs=0.001)
    assert float(log_reduction(right, reference_time=d)) == pytest.approx(150.923, abs=0.001)


@pytest.mark.parametrize("z", [4.6, 7.5, 10.0])
def test_a_hold_at_the_reference_is_its_own_time(z):
    assert held(7.3, 60.0, 60.0, z) == pytest.approx(7.3, abs=1e-9)


def test_a_straight_piece_is_the_log_mean_of_its_ends():
    # Δt (L2 - L1) / ln(L2 / L1).
    low, high = 10 ** (-8 / 4.6), 10 ** (3 / 4.6)
    spent = lethality([0, 100], [325.15, 336.15], reference_temperature=333.15, z_value=4.6)
    assert float(spent) == pytest.approx(100 * (high - low) / math.log(high / low), rel=1e-12)


def test_twelve_reductions_at_a_d_of_0_21_min_are_2_52_min():
    # The classical botulinum cook of textbooks, at its reference of 121.1 °C.
    spent = held(2.52, 121.1, 121.1, 10.0)
    assert float(log_reduction(spent, reference_time=0.21)) == pytest.approx(12, abs=1e-9)


@pytest.mark.parametrize(("celsius", "minutes"), BOTULINUM.items())
def test_every_row_of_the_90_degree_table(celsius, minutes):
    target = lethality_targets()["botulinum_90"]
    rate = lethality(
        [0, 1], [celsius + KELVIN] * 2,
        reference_temperature=target.reference_c + KELVIN,
        z_value=target.z_c, z_value_above=target.z_above_c, lowest=target.lowest_c + KELVIN,
    )  # fmt: skip
    # Printed in whole minutes from 10 up, in tenths below.
    assert 10 / float(rate) == pytest.approx(minutes, abs=0.5 if minutes >= 10 else 0.05)


def test_yolk_with_sugar_survives_the_food_code_hold_by_less_than_four_logs():
    # Why a sweet base is also judged by the rows of 21 CFR 1240.61(c).
    row, legal = ROWS["salmonella_tm1_yolk_sugar"], LEGAL["egg_dairy_155f"]
    at_68 = held(17 / 60, 68.0, 60.0, row.z_c) / row.d_min
    at_69 = held(legal.time_s / 60, legal.temperature_c, 60.0, row.z_c) / row.d_min
    assert at_68 < 4
    assert at_69 > 500
