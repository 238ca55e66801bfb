"""Log reductions and industry targets: the worst row counts, and little beyond the tests."""

import pytest
from builders_safety import CUSTARD, PLAIN_STEPS, bench_of, check_of, course_of

from setwell.engine.heat.course import Course
from setwell.engine.safety import Basis, Ruling, heating_checks
from setwell.engine.safety.edges import coldest_edges
from setwell.engine.safety.reductions import EXTRAPOLATION_C, reductions
from setwell.tables.rules import resistance_rows

ROWS = {row.key: row for row in resistance_rows()}


def plateau(celsius: float, minutes: float) -> Course:
    """Return a jump to a temperature that is held, and a jump down."""
    return course_of((0, 20), (0, celsius), (minutes, celsius), (minutes, 20))


def logs(key: str, celsius: float, minutes: float):
    return reductions(ROWS[key], coldest_edges((plateau(celsius, minutes),)))


def test_a_hold_at_the_reference_is_time_over_reduction_time():
    found = logs("salmonella_tm1_yolk_sugar", 60.000001, 8.0)
    assert found.value == pytest.approx(8.0 / 4.0, abs=1e-5)
    assert found.flags == ()


def test_nothing_counts_below_the_lowest_temperature_tested():
    assert logs("salmonella_tm1_yolk_sugar", 59.99, 600.0).value == 0.0
    assert logs("listeria_whole_milk", 52.1, 600.0).value == 0.0
    assert logs("listeria_whole_milk", 52.3, 600.0).value > 0.0


def test_the_safe_end_counts_no_more_than_556_past_the_tests():
    row = ROWS["salmonella_tm1_yolk_sugar"]
    found = logs(row.key, 75.0, 1.0)
    assert found.flags == ("beyond the tested range",)
    most = 10 ** (EXTRAPOLATION_C / row.z_high_c) / row.d_min
    assert found.low == pytest.approx(most, rel=1e-6)
    assert found.value == pytest.approx(10 ** (15 / 4.6) / 4.0, rel=1e-6)
    assert logs(row.key, 65.5, 1.0).flags == ()


def test_without_a_printed_z_hotter_counts_no_more_than_the_reference():
    row = ROWS["listeria5_yolk_salt_sugar_64"]
    found = logs(row.key, 75.0, 1.0)
    assert found.low == found.value == pytest.approx(1 / 8.26, rel=1e-6)


def test_a_bound_leaves_the_top_open():
    assert logs("senftenberg_custard", 62.0, 1.0).high is None


def test_sugar_takes_the_protected_row():
    course = (plateau(61.0, 4.0),)
    plain = check_of(heating_checks(bench_of("500 g egg yolk"), course), "reduction_salmonella")
    sweet = check_of(
        heating_checks(bench_of("500 g egg yolk", "25 g sugar"), course), "reduction_salmonella"
    )
    assert {row.key for row in sweet.rows} == {"salmonella_tm1_yolk_sugar"}
    assert "salmonella_tm1_yolk" in {row.key for row in plain.rows}
    assert plain.ruling is Ruling.PASS
    assert sweet.ruling is Ruling.FAIL


def test_the_range_spans_all_rows_and_the_worst_decides():
    found = check_of(
        heating_checks(bench_of("500 g egg yolk"), (plateau(61.2, 3.0),)), "reduction_salmonella"
    )
    lows = [row.logs.low for row in found.rows]
    assert found.margin.low == pytest.approx(min(lows) - 5)
    assert found.margin.high == pytest.approx(max(row.logs.high for row in found.rows) - 5)
    assert len(lows) == 3


@pytest.mark.parametrize(
    ("lines", "organisms"),
    [
        (CUSTARD, {"salmonella", "salmonella_senftenberg", "staphylococcus", "listeria"}),
        (("500 g whole milk",), {"salmonella", "staphylococcus", "listeria", "ecoli"}),
        (("500 g egg white",), {"salmonella", "listeria"}),
        (("500 g lemon juice", "500 g water"), {"ecoli"}),
        (("500 g water", "5 g agar"), set()),
    ],
)
def test_organisms_that_were_tested_in_a_food_like_this(lines, organisms):
    checks = heating_checks(bench_of(*lines, steps=PLAIN_STEPS), (plateau(72, 2),))
    found = {c.key.removeprefix("reduction_") for c in checks if c.topic == "log reductions"}
    assert found == organisms


def test_the_toxin_of_staphylococcus_is_named():
    checks = heating_checks(bench_of(*CUSTARD, steps=PLAIN_STEPS), (plateau(80, 20),))
    assert "toxin" in check_of(checks, "reduction_staphylococcus").text


def test_targets_of_industry_are_worth_their_own_time():
    def minutes(key: str, celsius: float, held: float) -> float:
        checks = heating_checks(bench_of("500 g water", "5 g agar"), (plateau(celsius, held),))
        check = check_of(checks, key)
        assert check.basis is Basis.TARGET
        assert "Not US law." in check.text
        return check.margin.value

    assert minutes("listeria_70", 70.0, 2.0) == pytest.approx(0.0, abs=1e-6)
    assert minutes("botulinum_90", 90.0, 10.0) == pytest.approx(0.0, abs=1e-6)
    # z 9 below 90 °C and 10 above.
    assert minutes("botulinum_90", 81.0, 100.0) == pytest.approx(0.0, abs=1e-6)
    assert minutes("botulinum_90", 100.0, 1.0) == pytest.approx(0.0, abs=1e-6)
    # Nothing counts below 80 and 60 °C.
    assert minutes("botulinum_90", 79.9, 1e4) == -10.0
    assert minutes("listeria_70", 59.9, 1e4) == -2.0
