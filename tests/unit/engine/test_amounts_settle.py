"""Percentages, targets, ratios and what cannot be met."""

import numpy as np
import pytest
from builders_engine import assess_of, codes, finding_of

from setwell.engine.batch_size import masses_solve


def grams(*lines: str, **fields: object) -> list[float | None]:
    return [line.grams for line in assess_of(*lines, **fields).lines]


def test_percent_of_the_finished_batch():
    assert grams("990 g water", "agar, 1%") == pytest.approx([990, 10])


def test_percent_after_steam():
    found = assess_of("1000 g water", "agar, 1%", evaporation_pct=10)
    assert found.agents[0].dose_pct.value == pytest.approx(1.0)
    assert found.lines[1].percent == pytest.approx(1.0)


def test_percent_only_that_adds_up_is_read_as_a_kilogram():
    assert grams("whole milk, 60%", "sugar, 40%") == pytest.approx([600, 400])


def test_percent_only_that_does_not_add_up_is_told():
    told = finding_of(assess_of("whole milk, 50%", "sugar, 20%"), "impossible_amounts")
    assert "add up to 70 %" in told.text
    assert told.action


def test_percentages_that_leave_nothing_are_told():
    found = assess_of("100 g water", "sugar, 60%", "honey, 45%")
    assert "add up to 105 %" in finding_of(found, "impossible_amounts").text
    assert found.batch.finished_g == 100
    assert not found.is_complete


def test_more_than_all_of_it_is_a_problem_of_its_line():
    found = assess_of("100 g water", "sugar, 150%")
    assert "more than 100 %" in found.lines[1].problem


def test_a_target_counts_what_is_there():
    found = assess_of("100 g sugar", "900 g water", "sugar to 20%")
    assert found.lines[2].grams == pytest.approx(125)
    assert found.lines[2].assumptions[-1].startswith("brought up to this percent")


def test_a_target_already_exceeded_says_by_how_much():
    found = assess_of("100 g sugar", "sugar to 5%", "500 g water")
    assert "73.7 g" in finding_of(found, "impossible_amounts").text
    assert [line.grams for line in found.lines] == [100, 0, 500]


def test_make_up_to_a_weight():
    assert grams("300 g sugar", "water to 1000 g") == pytest.approx([300, 700])


def test_make_up_to_a_weight_already_exceeded():
    found = assess_of("500 g whole milk", "600 g cream", "water to 1000 g")
    assert "by 100 g" in finding_of(found, "impossible_amounts").text


def test_two_lines_that_make_up_are_one_too_many():
    found = assess_of("100 g sugar", "water to 500 g", "whole milk to 600 g")
    assert "only one can" in finding_of(found, "impossible_amounts").text


def test_a_ratio_follows_the_agents():
    lines = ("500 g whole milk", "3 g agar", "2 g kappa carrageenan", "sugar, 4:1 with the agent")
    found = assess_of(*lines)
    assert found.lines[3].grams == pytest.approx(20)
    assert "4 times" in found.lines[3].assumptions[-1]


def test_a_ratio_follows_agents_in_percent():
    found = assess_of("500 g whole milk", "agar, 1%", "sugar, 5:1 with the agent")
    total = 500 / (1 - 0.06)
    assert [line.grams for line in found.lines] == pytest.approx([500, total / 100, total / 20])


def test_a_line_before_a_percent_line_is_never_lost():
    found = assess_of("3 feathers", "500 g water", "agar, 1%")
    assert found.lines[1].grams == 500
    assert "unread_lines" in codes(found)


def test_solver_weighs_many_candidates_at_once():
    fixed = np.array([[100.0, 0.0], [200.0, 0.0]])
    found = masses_solve(
        fixed, percent=[0.0, 20.0], existing=np.zeros((2, 2)), evaporation=np.array([0.0, 0.5])
    )
    assert found == pytest.approx(np.array([[100, 25], [200, 200 / 0.9 * 0.1]]))
