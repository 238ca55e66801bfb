"""Heating verdicts: on the coldest place, with both edges, and never looser than the row."""

from dataclasses import replace

import numpy as np
import pytest
from builders_safety import CUSTARD, PLAIN_STEPS, bench_of, check_of, course_of

from setwell.engine.heat.course import Course
from setwell.engine.safety import DEFERRAL, Basis, Ruling, heating_checks, verdict_overall
from setwell.engine.safety.food_kind import food_kind
from setwell.engine.safety.heating import regimes_of
from setwell.errors import InputError
from setwell.tables.rules import roast_rows

SWEET = bench_of(*CUSTARD, steps=PLAIN_STEPS)
PASS, FAIL, OPEN = Ruling.PASS, Ruling.FAIL, Ruling.CANNOT_TELL


def plateau(celsius: float, minutes: float, **kwargs: object) -> Course:
    """Return a jump to a temperature that is held, and a jump down."""
    return course_of((0, 20), (0, celsius), (minutes, celsius), (minutes, 20), **kwargs)


@pytest.mark.parametrize(
    ("celsius", "seconds"), [(63, 180), (66, 60), (68, 17), (70, 0)]
)  # Food Code 2022, 3-401.11(A)(2)
def test_each_egg_row_passes_exactly_and_fails_just_below(celsius, seconds):
    exact = plateau(celsius + 1e-6, seconds / 60)
    assert check_of(heating_checks(SWEET, (exact,)), "egg").ruling is PASS
    cooler = plateau(celsius - 0.01, seconds / 60)
    assert check_of(heating_checks(SWEET, (cooler,)), "egg").ruling is FAIL
    if seconds:
        shorter = plateau(celsius + 1e-6, (seconds - 0.1) / 60)
        assert check_of(heating_checks(SWEET, (shorter,)), "egg").ruling is FAIL


def test_two_short_holds_are_no_long_one():
    twice = course_of((0, 64), (2, 64), (2, 60), (3, 60), (3, 64), (5, 64), (5, 20))
    assert check_of(heating_checks(SWEET, (twice,)), "egg").ruling is FAIL


def test_nothing_is_read_between_the_rows():
    # 67 °C for 30 s lies between 66 °C for 60 s and 68 °C for 17 s: no row says so.
    assert check_of(heating_checks(SWEET, (plateau(67, 0.5),)), "egg").ruling is FAIL


def test_the_coldest_of_the_places_decides():
    hot, cold = plateau(75, 5), plateau(60, 5, place="top")
    assert check_of(heating_checks(SWEET, (hot,)), "egg").ruling is PASS
    assert check_of(heating_checks(SWEET, (hot, cold)), "egg").ruling is FAIL


def test_a_probe_without_a_told_error_may_be_off_by_one_degree():
    course = replace(plateau(70.5, 0.1), low_c=plateau(70.5, 0.1).celsius)
    course = replace(course, high_c=course.celsius)
    found = check_of(heating_checks(SWEET, (course,)), "egg")
    assert found.ruling is OPEN
    assert "off by up to 1 °C" in found.text
    assert "ice water" in found.action
    told = check_of(heating_checks(SWEET, (plateau(70.5, 0.1, error=0.2),)), "egg")
    assert told.ruling is PASS
    assert "off by" not in told.text


def test_an_error_is_counted_on_both_sides():
    def ruling(celsius: float) -> Ruling:
        return check_of(heating_checks(SWEET, (plateau(celsius, 0.1, error=0.5),)), "egg").ruling

    assert [ruling(c) for c in (69.4, 69.6, 70.4, 70.6)] == [FAIL, OPEN, OPEN, PASS]


def test_a_computed_pass_says_so_and_asks_for_a_probe():
    found = check_of(heating_checks(SWEET, (plateau(75, 5, is_measured=False),)), "egg")
    assert found.ruling is PASS
    assert found.is_computed
    assert found.text.startswith("Computed, not measured: a probe must prove it.")
    assert "probe" in found.action


def test_every_check_names_rule_edition_place_and_who_decides():
    for check in heating_checks(SWEET, (plateau(84, 2),)):
        assert check.section
        assert check.edition
        assert check.place == "core"
        assert check.deferral == DEFERRAL
        assert check.evidence
        assert check.text.endswith(".")
        assert check.margin is not None


def test_margins_are_in_degrees_and_minutes():
    found = check_of(heating_checks(SWEET, (plateau(68.5, 1.0),)), "egg")
    rows = {row.key: row for row in found.rows}
    assert rows["eggs_held"].minutes.value == pytest.approx(1 - 17 / 60, abs=1e-6)
    assert rows["eggs_held"].degrees.value == pytest.approx(0.5, abs=1e-4)
    assert rows["eggs_held_70"].minutes is None
    assert rows["eggs_held_70"].degrees.value == pytest.approx(-1.5, abs=1e-6)
    # 66 °C for a minute is met with 2.5 °C to spare, the most of all rows that are met.
    assert found.margin.value == pytest.approx(2.5, abs=1e-4)


@pytest.mark.parametrize(
    ("lines", "regimes"),
    [
        (("500 g whole milk",), ("milk",)),
        (("500 g whole milk", "50 g sugar"), ("rich_dairy",)),
        (("500 g heavy cream",), ("rich_dairy",)),
        (("500 g whole milk", "80 g milk powder"), ("rich_dairy",)),
        (("500 g whole milk", "100 g egg yolk"), ("egg_dairy", "guidance")),
        (("500 g whole milk", "100 g pasteurized egg yolk"), ("egg_dairy", "guidance")),
        (("500 g egg yolk",), ("liquid_egg",)),
        (("500 g egg yolk", "500 g water"), ()),
        (("500 g pasteurized egg yolk",), ()),
        (("500 g water", "5 g agar"), ()),
    ],
)
def test_the_rows_that_go_for_a_food(lines, regimes):
    assert regimes_of(food_kind(bench_of(*lines))) == regimes


@pytest.mark.parametrize(
    ("lines", "product"),
    [
        (("500 g egg white",), "white"),
        (("500 g whole egg",), "whole"),
        (("500 g whole egg", "5 g water"), "whole_blend"),
        (("500 g whole egg", "25 g sugar"), "whole_sugar"),
        (("500 g egg yolk",), "yolk"),
        (("500 g egg yolk", "25 g sugar"), "yolk_sugar"),
        (("500 g egg yolk", "25 g salt"), "yolk_salt"),
        (("500 g egg yolk", "5 g water"), "yolk"),
        (("500 g egg white", "25 g sugar"), ""),
        (("500 g egg yolk", "250 g sugar"), ""),
        (("500 g egg yolk", "30 g whole milk"), ""),
    ],
)
def test_liquid_egg_is_told_by_what_is_in_it(lines, product):
    assert food_kind(bench_of(*lines)).liquid_egg == product


def test_sugared_yolk_takes_the_hotter_row_and_stays_a_benchmark():
    bench = bench_of("500 g egg yolk", "25 g sugar")
    found = check_of(heating_checks(bench, (plateau(62.5, 3.5),)), "pasteurization_liquid_egg")
    assert found.ruling is FAIL
    assert found.basis is Basis.TARGET
    assert "85 FR 68640" in found.text
    hotter = heating_checks(bench, (plateau(63.34, 3.5),))
    assert check_of(hotter, "pasteurization_liquid_egg").ruling is PASS


def test_rows_for_dairy_bind_a_kitchen_only_with_raw_milk():
    bought, raw = bench_of("500 g whole milk"), bench_of("500 g whole milk, raw")
    course = (plateau(72.1, 0.25),)
    assert check_of(heating_checks(bought, course), "pasteurization_milk").basis is Basis.PLANT
    assert check_of(heating_checks(raw, course), "pasteurization_milk").basis is Basis.LAW


def test_pasteurized_egg_needs_no_egg_rule():
    bench = bench_of("500 g whole milk", "100 g pasteurized egg yolk")
    assert "egg" not in {check.key for check in heating_checks(bench, (plateau(60, 1),))}


def test_a_line_that_was_not_read_leaves_the_verdict_open():
    bench = bench_of("500 g water", "100 g zzyzx", steps="Heat to 90 °C")
    checks = heating_checks(bench, (plateau(90, 20),))
    assert check_of(checks, "unread").ruling is OPEN
    assert verdict_overall(checks) is OPEN


def test_heat_before_the_egg_is_in_cooks_no_egg():
    steps = "Heat the milk to 90 °C, stirring\nWhisk in the egg yolks\nHeat to 72 °C, stirring"
    bench = bench_of(*CUSTARD, steps=steps)
    course = course_of((0, 5), (10, 90), (11, 66), (12, 69.5), (30, 30))
    untold = check_of(heating_checks(bench, (course,)), "egg")
    assert untold.ruling is OPEN
    assert "before the egg" in untold.text
    told = check_of(heating_checks(bench, (course,), egg_in_s=11 * 60.0), "egg")
    # From then on 66 °C and more for three minutes.
    assert told.ruling is PASS
    late = check_of(heating_checks(bench, (course,), egg_in_s=20 * 60.0), "egg")
    assert late.ruling is FAIL


def test_egg_cooked_inside_a_part_is_not_asked_for_again():
    from builders_engine import formula_of

    from setwell.engine.assess import bench_build

    part = formula_of(*CUSTARD, steps=PLAIN_STEPS, title="Yolk base")
    bench = bench_build(
        formula_of("300 g Yolk base", "200 g water", steps="Stir"), parts={"Yolk base": part}
    )
    assert "egg" not in {check.key for check in heating_checks(bench, (plateau(40, 1),))}


def test_the_roast_table_is_never_for_a_custard():
    # Its first row: 54.4 °C for 112 min. No check cites it; what is enough for it is not for egg.
    checks = heating_checks(SWEET, (plateau(54.4, 112),))
    roasts = {(row.citation.source, row.citation.locator) for row in roast_rows()}
    cited = {(one.source, one.locator) for check in checks for one in check.evidence}
    assert roasts
    assert not roasts & cited
    assert check_of(checks, "egg").ruling is FAIL
    assert check_of(heating_checks(SWEET, (plateau(60, 12),)), "egg").ruling is FAIL


@pytest.mark.parametrize(
    ("courses", "told"),
    [
        ((), "no temperature course"),
        ((course_of((0, 20), (1, np.nan)),), "has gaps"),
        ((course_of((1, 20), (0, 30)),), "run backward"),
        ((course_of((0, 20), (1, 30)), course_of((2, 20), (3, 30))), "not read at the same time"),
    ],
)
def test_courses_that_cannot_be_judged_are_refused_in_words(courses, told):
    with pytest.raises(InputError, match=told):
        heating_checks(SWEET, courses)
