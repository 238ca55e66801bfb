"""A probe log in words and as a chart."""

import numpy as np
import pytest
from builders_probe import batch_course, log_of

from setwell.documents.course_chart import course_chart_svg
from setwell.documents.probe_chart import probe_chart, probe_table
from setwell.documents.probe_words import margin_told, moment_told, phase_told
from setwell.engine.probe.judging import log_judge
from setwell.engine.probe.results import LogPhase, PhaseKind
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.provenance import Estimate


def check_with(value, unit, low=None):
    margin = None if value is None else Estimate(value, unit, low, None, "made by hand")
    return SafetyCheck("k", "t", "T", Ruling.PASS, "", "", margin, "", "", "")


@pytest.mark.parametrize(
    ("value", "unit", "low", "said"),
    [
        (None, "", None, ""),
        (90.0, "min", 30.0, "30 min"),
        (5.0, "min", -2.0, "short by 2 min"),
        (5.0, "°C", 4.0, "4 °C (7 °F)"),
        (-1.0, "°C", None, "short by 1 °C (2 °F)"),
        (6.5, "log", 6.24, "6.2 log reductions"),
        (1e5, "log", 1e4, "more than 12 log reductions"),
        (0.3, "pH", 0.25, "0.25 pH"),
    ],
)
def test_a_margin_is_told_at_its_safe_end(value, unit, low, said):
    assert margin_told(check_with(value, unit, low)) == said


def test_a_phase_tells_what_how_long_and_between_what():
    rise = LogPhase(PhaseKind.HEATING, 0.0, 600.0, 20.2, 85.4)
    hold = LogPhase(PhaseKind.HOLDING, 600.0, 720.0, 85.0, 85.2)
    assert (
        phase_told(rise) == "Heating for 10 min, 20 °C (68 °F) to 85 °C (185 °F), from the start on"
    )
    assert phase_told(hold) == "Holding for 2 min, near 85 °C (185 °F), from 10 min on"
    assert moment_told(90) == "1.5 min"


def test_the_line_is_broken_where_nothing_is_known():
    seconds, celsius = batch_course()
    kept = np.ones(len(seconds), dtype=bool)
    kept[400:500] = False
    chart = probe_chart(log_judge(log_of(seconds[kept], celsius[kept])), title="Run 7")
    (line,) = chart.lines
    assert np.isnan(line.celsius).sum() == 1
    svg = course_chart_svg(chart)
    assert svg.count('class="line line-1"') == 3
    assert "nan" not in svg.lower()


def test_the_table_tells_a_gap_and_does_not_bridge_it():
    seconds, celsius = batch_course()
    kept = np.ones(len(seconds), dtype=bool)
    kept[400:1_200] = False
    table = probe_table(log_judge(log_of(seconds[kept], celsius[kept])))
    cells = [row[1] for row in table.rows]
    assert table.header == ("Time", "Core")
    assert cells[0] == "20 °C (68 °F)"
    assert cells[3:6] == ["not known"] * 3
    assert "not known" not in cells[8:]


def test_left_out_samples_are_dots_and_wild_ones_do_not_press_the_chart_flat():
    seconds, celsius = batch_course()
    celsius[900], celsius[950] = celsius[900] + 12, 299.0
    chart = probe_chart(log_judge(log_of(seconds, celsius)), title="Run 7")
    dots = [line for line in chart.lines if line.is_measured]
    assert [len(line.minutes) for line in dots] == [1]
    assert max(dots[0].celsius) < 103


def test_the_highest_and_the_lowest_of_a_long_log_are_drawn():
    seconds = np.arange(50_000.0)
    celsius = 40 + 20 * np.sin(seconds / 3_000)
    (line,) = probe_chart(log_judge(log_of(seconds, celsius)), title="Long").lines
    assert len(line.minutes) <= 310
    assert max(line.celsius) == pytest.approx(60, abs=0.01)
    assert min(line.celsius) == pytest.approx(20, abs=0.01)


def test_a_log_without_a_course_has_no_chart():
    assert probe_chart(log_judge(log_of([0.0], [20.0])), title="One") is None
