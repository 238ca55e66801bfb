"""The front page, the demo kitchen, scaling and cards."""

import datetime as dt

import pytest
from builders_kitchen import formula_of, lot_of

from setwell.domain.formula import Goal
from setwell.errors import InputError
from setwell.services import kitchen as service
from setwell.services import pantry
from setwell.services.assessment import formula_assess
from setwell.services.cards import card_get, card_pdf, card_text
from setwell.services.exchange import formula_export_json, formula_export_text, formula_import
from setwell.services.formulas import formula_create, formula_list, version_get, version_history
from setwell.services.kitchen import kitchen_home, kitchen_open
from setwell.services.results import Severity, Verdict
from setwell.services.scaling import formula_scale

pytestmark = pytest.mark.django_db

TODAY = dt.date(2026, 11, 25)


@pytest.fixture
def demo() -> dict[str, int]:
    """The demo kitchen; ids of its formulas by title."""
    kitchen_open(load_demo=True)
    return {summary.title: summary.id for summary in formula_list()}


def test_an_empty_kitchen_has_an_empty_front_page() -> None:
    home = kitchen_home()
    assert (home.recent, home.formula_count, home.lots_expiring, home.warnings) == ((), 0, (), ())


def test_the_front_page_shows_the_eight_formulas_saved_last() -> None:
    for number in range(10):
        formula_create(formula=formula_of(f"Gel {number}"))
    home = kitchen_home()
    assert [one.title for one in home.recent] == [f"Gel {number}" for number in range(9, 1, -1)]
    assert home.formula_count == 10


def test_lots_past_their_day_or_near_it_are_shown_the_most_urgent_first(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(service, "today", lambda: TODAY)
    for code, days in (("month", 30), ("gone", -2), ("soon", 5), ("later", 31), ("open", None)):
        day = None if days is None else TODAY + dt.timedelta(days=days)
        pantry.lot_save(id=None, document=lot_of(code, best_before=day))
    assert [row.lot.lot_code for row in kitchen_home().lots_expiring] == ["gone", "soon", "month"]


def test_two_formulas_of_one_title_are_pointed_out() -> None:
    formula_create(formula=formula_of("Gel"))
    formula_create(formula=formula_of("gel"))
    (warning,) = kitchen_home().warnings
    assert "2 formulas are called “gel”" in warning.lower()


def test_a_kitchen_in_use_gets_no_demo() -> None:
    formula_create(formula=formula_of())
    kitchen_open(load_demo=True)
    assert [one.title for one in formula_list()] == ["Milk gel"]


def test_a_demo_that_was_cleared_away_does_not_come_back(demo: dict[str, int]) -> None:
    for row in pantry.mold_list():
        pantry.mold_delete(id=row.id)
    kitchen_open(load_demo=True)
    assert pantry.mold_list() == ()
    assert len(formula_list()) == len(demo) == 6


def test_every_line_and_step_of_the_demo_is_read(demo: dict[str, int]) -> None:
    for formula_id in demo.values():
        for version in version_history(formula_id=formula_id):
            detail = version_get(formula_id=formula_id, number=version.number)
            assessment = formula_assess(formula=detail.formula)
            assert assessment.is_complete, [line.problem for line in assessment.lines]
            assert [step.problem for step in assessment.steps if step.problem] == []
            assert detail.summary.note


def test_the_demo_holds_one_mistake_and_the_tool_finds_it(demo: dict[str, int]) -> None:
    stops = {}
    for title, formula_id in demo.items():
        assessment = formula_assess(formula=version_get(formula_id=formula_id).formula)
        stops[title] = {one.code for one in assessment.findings if one.severity is Severity.STOP}
    assert "raw_enzyme_fruit" in stops.pop("Sake and Pineapple Coupe")
    assert set().union(*stops.values()) == set()


def test_the_demo_does_what_it_is_for(demo: dict[str, int]) -> None:
    for title, formula_id in demo.items():
        formula = version_get(formula_id=formula_id).formula
        texture = formula_assess(formula=formula).texture
        if title != "Sake and Pineapple Coupe":
            wanted = Verdict.NO if formula.goal is Goal.POUR else Verdict.YES
            assert texture.sets is wanted, title


def test_the_demo_keeps_the_diets_it_claims(demo: dict[str, int]) -> None:
    for formula_id in demo.values():
        assessment = formula_assess(formula=version_get(formula_id=formula_id).formula)
        for diet in assessment.diets:
            assert not diet.claimed or diet.verdict is Verdict.YES, (diet, formula_id)


def test_the_demo_has_a_lot_to_use_up_and_a_formula_with_a_history(demo: dict[str, int]) -> None:
    assert [row.lot.lot_code for row in kitchen_home().lots_expiring] == ["IO-2209"]
    assert kitchen_home().warnings == ()
    history = version_history(formula_id=demo["Malted Milk Slice"])
    assert [(one.number, one.parent_number) for one in history] == [(2, 1), (1, None)]


def test_the_demo_can_be_carried_to_another_kitchen(demo: dict[str, int]) -> None:
    for formula_id in demo.values():
        formula = version_get(formula_id=formula_id).formula
        assert formula_import(text=formula_export_json(formula=formula)) == formula
        back = formula_import(text=formula_export_text(formula=formula))
        assert back.ingredients == formula.ingredients.strip()
    for entity in ("food", "agent", "lot", "price", "mold", "vessel", "hob", "cooler"):
        exported = pantry.pantry_export_csv(entity=entity).encode()
        report = pantry.pantry_import_csv(entity=entity, data=exported)
        assert (report.added, report.problems) == (0, ())


def test_a_card_says_which_version_it_is(demo: dict[str, int]) -> None:
    detail = version_get(formula_id=demo["Warm Kelp Broth Gel"])
    card = card_get(formula=detail.formula, number=1)
    assert "version 1" in card_text(card=card)
    assert "not saved" in card_text(card=card_get(formula=detail.formula))
    assert card_pdf(card=card, paper="A4").startswith(b"%PDF-")


def test_scaling_uses_the_readability_of_the_kitchens_scale(demo: dict[str, int]) -> None:
    formula = version_get(formula_id=demo["Malted Milk Slice"]).formula
    assert formula_scale(formula=formula, to_grams=2000).readability_g == 0.1
    coarse = formula_scale(formula=formula, portions_of=(10, 80.0), readability_g=1.0)
    assert coarse.readability_g == 1.0
    assert coarse.batch_g == pytest.approx(800.0, rel=0.1)


@pytest.mark.parametrize("targets", [{}, {"to_grams": 100.0, "molds": (2, 100.0)}])
def test_scaling_needs_exactly_one_target(targets: dict) -> None:
    with pytest.raises(InputError, match=f"{len(targets)} targets were given"):
        formula_scale(formula=formula_of(), **targets)


def test_the_front_page_takes_the_same_queries_however_full_it_is(
    demo: dict[str, int], query_counter
) -> None:
    with query_counter() as before:
        kitchen_home()
    for number in range(4):
        formula_create(formula=formula_of(f"Gel {number}"))
        pantry.lot_save(id=None, document=lot_of(f"L{number}", best_before=TODAY))
    with query_counter() as after:
        kitchen_home()
    assert len(after) == len(before) < 14
