"""Cooling verdicts: two hours, six in all, from 57 °C, on the warmest place."""

import pytest
from builders_safety import CUSTARD, PLAIN_STEPS, bench_of, check_of, course_of

from setwell.engine.safety import DEFERRAL, Ruling, acidity_check, cooling_checks
from setwell.engine.safety.edges import warmest_edges

SWEET = bench_of(*CUSTARD, steps=PLAIN_STEPS)
JELLY = bench_of("500 g water", "5 g agar", "50 g sugar")
PASS, FAIL, OPEN = Ruling.PASS, Ruling.FAIL, Ruling.CANNOT_TELL
FIRST, TOTAL = "cooling_first_stage", "cooling_total"


def rulings(*points: tuple[float, float], **kwargs: object) -> tuple[Ruling, Ruling]:
    checks = cooling_checks(SWEET, (course_of(*points, **kwargs),))
    return check_of(checks, FIRST).ruling, check_of(checks, TOTAL).ruling


def text(key: str, *points: tuple[float, float], **kwargs: object) -> str:
    return check_of(cooling_checks(SWEET, (course_of(*points, **kwargs),)), key).text


# Food Code 2022, 3-501.14(A): from 57 °C, minutes and °C.
@pytest.mark.parametrize(
    ("points", "expected"),
    [
        # A first stage of one hour leaves five hours, not four.
        (((0, 57), (60, 21), (359, 5)), (PASS, PASS)),
        (((0, 57), (60, 21), (361, 5)), (PASS, FAIL)),
        # Exactly two hours, exactly six.
        (((0, 57), (120, 21), (360, 5)), (PASS, PASS)),
        (((0, 57), (120.1, 21), (360, 5)), (FAIL, PASS)),
        # The clock starts at 57 °C, not at the boil.
        (((0, 95), (90, 57), (209, 21), (449, 5)), (PASS, PASS)),
        # It ends at exactly 5.0 °C.
        (((0, 57), (100, 21), (300, 5.0)), (PASS, PASS)),
        (((0, 57), (100, 21), (300, 5.1)), (PASS, OPEN)),
        # The course ends too early to tell.
        (((0, 57), (60, 30)), (OPEN, OPEN)),
        (((0, 57), (121, 30)), (FAIL, OPEN)),
        (((0, 57), (100, 21), (361, 8)), (PASS, FAIL)),
        # Too late for the first stage whatever comes after.
        (((0, 57), (121, 22), (200, 5)), (FAIL, PASS)),
    ],
)  # fmt: skip
def test_both_stages(points, expected):
    assert rulings(*points) == expected


def test_a_fast_first_stage_gives_its_time_to_the_second():
    found = check_of(cooling_checks(SWEET, (course_of((0, 57), (60, 21), (300, 5)),)), TOTAL)
    assert found.margin.value == pytest.approx(60.0, abs=1e-3)
    assert found.section == "3-501.14(A)(2)"
    assert found.edition == "Food Code 2022"
    assert found.deferral == DEFERRAL


def test_a_course_that_ends_early_says_what_is_left():
    said = text(TOTAL, (0, 85), (30, 57), (90, 21), (140, 10))
    assert "4 h 10 min left to reach 5 °C (41 °F)" in said
    assert "10 °C (50 °F) when the course ends" in said


def test_still_hot_at_the_end_starts_no_clock():
    assert rulings((0, 85), (60, 60)) == (OPEN, OPEN)
    assert "has not started" in text(TOTAL, (0, 85), (60, 60))


def test_warming_up_again_counts_until_the_last_fall():
    # Below 21 °C after an hour, warm again until 2 h 30 min.
    again = ((0, 57), (60, 21), (70, 15), (120, 30), (150, 21), (300, 5))
    assert rulings(*again) == (FAIL, PASS)
    # At 5 °C after 5 h, up to 8 °C at 5.5 h and still above when the six hours are over.
    late = ((0, 57), (60, 21), (300, 4), (330, 8), (400, 4))
    assert rulings(*late) == (PASS, FAIL)
    # A door opened the day after is not the cooling any more: that is cold holding.
    after = ((0, 57), (60, 21), (300, 4), (900, 4), (910, 7), (960, 4))
    assert rulings(*after) == (PASS, PASS)


def test_time_below_57_before_the_hottest_moment_counts_too():
    # Hot, forgotten for an hour at 40 °C, heated again, cooled in 1 h 30 min.
    course = ((0, 60), (0, 40), (60, 40), (60, 85), (60, 57), (150, 21), (250, 5))
    assert rulings(*course) == (FAIL, PASS)
    assert "Of this, 1 h lay before the hottest moment." in text(FIRST, *course)
    # Warming up from the cold is no cooling.
    assert rulings((0, 4), (60, 85), (70, 57), (185, 21), (400, 5)) == (PASS, PASS)


def test_a_course_that_begins_below_57_cannot_pass_both():
    # Heated by the steps, but read from 50 °C on only.
    points = ((0, 50), (60, 21), (300, 5))
    assert rulings(*points) == (OPEN, OPEN)
    said = text(TOTAL, *points)
    assert "begins at 50 °C (122 °F)" in said
    assert "1 h are left for what came before" in said
    assert rulings((0, 50), (130, 21), (300, 5)) == (FAIL, OPEN)


def test_food_that_was_never_hot_has_four_hours():
    bench = bench_of("500 g whole milk", "3 g konjac", steps="Whisk\nChill")
    (found,) = cooling_checks(bench, (course_of((0, 20), (230, 5)),))
    assert (found.key, found.ruling, found.section) == (
        "cooling_from_ambient",
        PASS,
        "3-501.14(B)",
    )
    (late,) = cooling_checks(bench, (course_of((0, 20), (250, 5)),))
    assert late.ruling is FAIL
    (early,) = cooling_checks(bench, (course_of((0, 20), (60, 12)),))
    assert early.ruling is OPEN
    assert "3 h left" in early.text


def test_the_warmest_place_decides_and_the_error_counts_against_it():
    core = course_of((0, 57), (120, 21.2), (360, 5.2))
    edge = course_of((0, 57), (60, 21), (200, 4), (360, 4), place="surface")
    assert check_of(cooling_checks(SWEET, (edge,)), TOTAL).ruling is PASS
    both = cooling_checks(SWEET, (core, edge))
    assert check_of(both, FIRST).ruling is FAIL
    assert warmest_edges((core, edge)).place == "warmest place"
    # 21 °C after 1 h 58 min by a probe that may be off by 1 °C.
    assert rulings((0, 60), (10, 57), (128, 21), (300, 3), error=1.0)[0] is OPEN
    assert rulings((0, 60), (10, 57), (128, 21), (300, 3))[0] is PASS


def test_a_computed_course_passes_only_as_a_whole_and_says_so():
    points = ((0, 65), (5, 57), (65, 21), (305, 4), (315, 3))
    assert rulings(*points, error=0.5, is_measured=False) == (PASS, PASS)
    assert rulings(*points, error=3.5, is_measured=False)[1] is OPEN
    assert "probe must prove it" in text(TOTAL, *points, is_measured=False)


def test_a_probe_that_may_read_low_starts_the_clock_early():
    # Down past 57 °C slowly: read 1 °C too high, the clock started 20 minutes before.
    points = ((0, 77), (400, 57), (510, 21), (720, 3))
    assert rulings(*points)[0] is PASS
    assert rulings(*points, error=1.0)[0] is OPEN
    # The edges of a computed course are kitchens of their own, each with its own clock.
    assert rulings(*points, error=1.0, is_measured=False)[0] is PASS
    # A record that begins at the limit may begin below it.
    assert rulings((0, 57), (60, 21), (300, 3), error=0.5)[0] is OPEN


def test_a_plan_that_fails_throws_nothing_away():
    points = ((0, 57), (150, 21), (500, 5))
    for is_measured in (True, False):
        course = course_of(*points, is_measured=is_measured)
        for check in cooling_checks(SWEET, (course,)):
            assert check.ruling is FAIL
            assert ("hrow it away" in check.action) == is_measured


def test_a_food_that_may_need_no_control_is_still_judged():
    sour = bench_of("300 g lemon juice", "60 g sugar", "3 g agar", steps="Heat to 95 °C\nChill")
    found = check_of(cooling_checks(sour, (course_of((0, 57), (121, 30), (200, 20)),)), FIRST)
    assert found.ruling is FAIL
    assert "may not apply" in found.text
    assert "may not apply" not in text(FIRST, (0, 57), (121, 30), (200, 20))


def test_without_a_formula_the_food_is_taken_to_need_control():
    found = cooling_checks(None, (course_of((0, 57), (60, 21), (300, 5)),))
    assert [check.ruling for check in found] == [PASS, PASS]
    assert "may not apply" not in found[0].text


def test_acidity_passes_only_by_a_reading_where_the_ph_alone_decides():
    from setwell.engine.assess import bench_build
    from setwell.engine.material import Span

    sour = bench_of("300 g lemon juice", "60 g sugar", "3 g agar")
    assert acidity_check(sour).ruling is OPEN
    read = bench_build(sour.formula, measured_ph=Span(3.0, 2.9, 3.1))
    assert acidity_check(read).ruling is PASS
    assert acidity_check(read).margin.low == pytest.approx(4.2 - 3.1)
    # Table B: from pH 4.2 up it needs control; sealed hot, table A, up to 4.6 not.
    near = bench_build(sour.formula, measured_ph=Span(4.4, 4.3, 4.5))
    assert acidity_check(near).ruling is FAIL
    assert acidity_check(near, is_sealed=True).ruling is PASS
    at_edge = bench_build(sour.formula, measured_ph=Span(4.15, 4.05, 4.25))
    assert acidity_check(at_edge).ruling is OPEN
    assert acidity_check(SWEET).ruling is FAIL


def test_acidity_of_a_batch_with_an_unread_line_is_never_proven():
    from setwell.engine.assess import bench_build
    from setwell.engine.material import Span

    bench = bench_of("300 g lemon juice", "60 g zzyzx")
    read = bench_build(bench.formula, measured_ph=Span(3.0, 2.9, 3.1))
    assert acidity_check(read).ruling is OPEN
