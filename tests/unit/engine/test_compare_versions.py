"""Two versions side by side."""

import pytest
from builders_engine import HOT, assess_of

from setwell.engine.assess import assess
from setwell.engine.difference import compare
from setwell.engine.material import Span

FIRST = assess_of("500 g whole milk", "2 g kappa carrageenan", "50 g sugar", steps=HOT)
SECOND = assess_of(
    "500 g whole milk", "3 g kappa carrageenan", "20 g honey", "1 g salt", steps=HOT, portions=4
)


def test_a_version_is_the_same_as_itself():
    found = compare(FIRST, FIRST)
    assert found.is_same
    assert {line.kind for line in found.lines} == {"same"}
    assert not any(value.is_changed for value in found.values)
    assert found.settings == ()


def test_lines_are_paired_changed_and_added():
    found = compare(FIRST, SECOND)
    assert not found.is_same
    kinds = [(line.kind, line.first, line.second) for line in found.lines]
    assert kinds == [
        ("same", "500 g whole milk", "500 g whole milk"),
        ("changed", "2 g kappa carrageenan", "3 g kappa carrageenan"),
        ("changed", "50 g sugar", "20 g honey"),
        ("added", "", "1 g salt"),
    ]
    assert (found.lines[1].first_g, found.lines[1].second_g) == (2, 3)
    assert [line.kind for line in compare(SECOND, FIRST).lines][-1] == "removed"


def test_the_same_words_in_a_larger_batch_are_changed():
    one = assess_of("500 g water", "agar, 1%")
    two = assess_of("900 g water", "agar, 1%")
    assert compare(one, two).lines[1].kind == "changed"


def test_settings_and_values_that_changed_are_named():
    found = compare(FIRST, SECOND)
    assert [(s.label, s.first_text, s.second_text) for s in found.settings] == [
        ("portions", "None", "4")
    ]
    values = {value.label: value for value in found.values}
    dose = values["Kappa carrageenan, dose"]
    assert dose.is_changed
    assert dose.second.value > dose.first.value
    assert values["Sodium per 100 g"].second.value > values["Sodium per 100 g"].first.value
    assert not values["Sets"].is_changed


def test_an_agent_of_one_version_only_has_one_side():
    found = compare(FIRST, assess_of("500 g whole milk", "5 g agar", steps=HOT))
    values = {value.label: value for value in found.values}
    assert values["Agar, dose"].first is None
    assert values["Kappa carrageenan, dose"].second is None
    assert values["Agar, dose"].is_changed


def test_steps_are_compared_too():
    other = assess_of("500 g whole milk", steps="Whisk\nHeat to 60 °C")
    kinds = {step.kind for step in compare(FIRST, other).steps}
    assert kinds & {"changed", "removed"}


@pytest.mark.parametrize("pair", [(FIRST, SECOND), (SECOND, FIRST)])
def test_what_changed_can_be_shown(pair):
    changed = [value for value in compare(*pair).values if value.is_changed]
    assert len(changed) > 5
    for value in changed:
        assert value.first_text or value.first or value.second or value.second_text


def test_sides_with_different_figures_are_paired_by_key():
    reading = Span(6.0, 5.95, 6.05)
    measured = assess(FIRST.formula, measured_ph=reading)
    found = {value.label: value for value in compare(measured, SECOND).values}
    both = found["pH, measured / pH, computed"]
    assert both.first.value == reading.value
    assert both.second.value == SECOND.figure("ph").estimate.value
    dry = assess_of("100 g sugar")
    assert len(compare(FIRST, dry).values) >= len(FIRST.solution)
