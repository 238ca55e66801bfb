"""A formula in other kitchens, with what this kitchen has."""

from dataclasses import replace

import pytest
from builders_kitchen import formula_of

from setwell.domain.kitchen_profile import HOME, LAB, PRO
from setwell.errors import InputError, NotFoundError
from setwell.services.demo import demo_load
from setwell.services.formulas import formula_create, formula_list, formula_save
from setwell.services.robustness import (
    DRAWS_MOST,
    RobustnessAsk,
    kitchen_profile,
    main_quantity,
    robustness_of,
    robustness_view,
)

pytestmark = pytest.mark.django_db

QUICK = RobustnessAsk(draws=256)


@pytest.fixture
def saved():
    return formula_create(formula=formula_of())


def test_a_saved_version_is_counted_and_drawn(saved):
    answer = robustness_view(formula_id=saved.formula_id, ask=QUICK)
    assert (answer.number, answer.result.draws) == (1, 256)
    assert [chart.key for chart in answer.charts] == ["outcomes", "drivers"]
    for chart in answer.charts:
        assert {len(row) for row in chart.table.rows} == {len(chart.table.header)}


def test_better_kitchens_have_better_chances(saved):
    chances = [
        robustness_view(formula_id=saved.formula_id, ask=replace(QUICK, profile=one))
        .result.chance.value
        for one in (HOME, PRO, LAB)
    ]  # fmt: skip
    assert chances[0] + 0.1 < min(chances[1:])


def test_a_version_before_is_computed_as_it_was(saved):
    second = formula_of(goal="slice", ingredients="500 g whole milk\n30 g sugar\n1 g agar\n")
    formula_save(formula_id=saved.formula_id, formula=second, base_number=1)
    old = robustness_view(formula_id=saved.formula_id, number=1, ask=QUICK)
    new = robustness_view(formula_id=saved.formula_id, ask=QUICK)
    assert old.result.chance != new.result.chance


def test_drawings_are_left_out_for_the_command_line():
    assert robustness_of(formula=formula_of(), ask=QUICK, has_charts=False).charts == ()


def test_a_change_of_lines_or_steps_comes_as_a_formula():
    formula = formula_of(ingredients="700 g whole milk\n60 g sugar\n4 g kappa carrageenan")
    answer = robustness_of(formula=formula, ask=replace(QUICK, draws=1024))
    assert "Heat to 100 °C (212 °F)" in answer.changed["boil"].steps
    keys = {one.key for one in answer.result.changes}
    for key, formula in answer.changed.items():
        assert key in keys
        before = (answer.formula.ingredients, answer.formula.steps)
        assert (formula.ingredients, formula.steps) != before
        assert formula.title == answer.formula.title


def test_own_numbers_replace_those_of_a_kitchen():
    own = kitchen_profile("Home ", {"scale_g": 0.1, "care": None})
    assert (own.scale_g, own.care) == (0.1, HOME.care)
    assert kitchen_profile("pro") is PRO


@pytest.mark.parametrize(
    ("name", "own", "field"),
    [
        ("moon", {}, "profile"),
        ("", {}, "profile"),
        ("home", {"scale_g": 0.0}, "scale_g"),
        ("home", {"scale_g": 99.0}, "scale_g"),
        ("pro", {"thermometer_error_k": -1.0}, "thermometer_error_k"),
    ],
)
def test_a_kitchen_that_cannot_be_is_told_at_its_field(name, own, field):
    with pytest.raises(InputError) as told:
        kitchen_profile(name, own)
    assert told.value.field == field


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"low": 9.0, "high": 2.0}, "low"),
        ({"low": 2.0, "high": 2.0}, "low"),
        ({"draws": DRAWS_MOST + 1}, "draws"),
        ({"draws": 1}, "draws"),
        ({"seed": -1}, "seed"),
    ],
)
def test_what_cannot_be_counted_is_told_at_its_field(change, field):
    with pytest.raises(InputError) as told:
        robustness_of(formula=formula_of(), ask=replace(QUICK, **change))
    assert told.value.field == field
    assert told.value.hint


def test_a_version_that_is_not_there_is_told(saved):
    with pytest.raises(NotFoundError):
        robustness_view(formula_id=saved.formula_id, number=9, ask=QUICK)


def test_the_window_is_about_what_the_goal_wants(saved):
    assert main_quantity(formula_id=saved.formula_id) == "Stiffness, kPa"
    thick = formula_create(formula=formula_of(goal="pour"))
    assert main_quantity(formula_id=thick.formula_id) == "Thickness, mPa·s"


def test_the_sentence_counts_kitchens_and_what_they_get(saved):
    slices = robustness_of(formula=formula_of(goal="slice"), ask=QUICK, has_charts=False)
    assert slices.sentence.startswith("Nearly all home kitchens get a slice")
    own = robustness_view(formula_id=saved.formula_id, ask=replace(QUICK, low=1.0, high=9.0))
    assert "home kitchens get what you want (" in own.sentence
    such = replace(QUICK, profile=kitchen_profile("home", {"scale_g": 5.0}))
    assert (
        "such kitchens get a batch like yours"
        in robustness_of(formula=formula_of(), ask=such).sentence
    )


def test_a_formula_that_cannot_be_read_or_does_not_set_is_told():
    for lines in ("500 g water", "500 g moon dust\n2 g agar", ""):
        with pytest.raises(InputError):
            robustness_of(formula=formula_of(ingredients=lines, steps=""), ask=QUICK)


def test_what_never_sets_has_no_drawing_of_its_stiffness():
    demo_load()
    coupe = next(one for one in formula_list() if one.title == "Sake and Pineapple Coupe")
    answer = robustness_view(formula_id=coupe.id, ask=QUICK)
    assert answer.sentence.startswith("Next to no home kitchens")
    assert answer.charts == ()
