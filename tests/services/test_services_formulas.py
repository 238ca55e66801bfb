"""Saving, listing and finding formulas and their versions."""

import dataclasses

import pytest
from builders_kitchen import formula_of

from setwell.domain.formula import Goal
from setwell.errors import InputError, NotFoundError
from setwell.services import formulas as service
from setwell.services.formulas import (
    formula_archive,
    formula_create,
    formula_duplicate,
    formula_get,
    formula_list,
    formula_save,
    version_compare,
    version_find,
    version_get,
    version_history,
)

pytestmark = pytest.mark.django_db


def test_a_new_formula_is_its_version_one() -> None:
    formula = formula_of(goal=Goal.SLICE)
    saved = formula_create(formula=formula, note=" first ")
    detail = version_get(formula_id=saved.formula_id)
    assert (saved.number, saved.was_unchanged, saved.overtaken_by) == (1, False, None)
    assert detail.formula == formula
    assert detail.summary.note == "first"
    assert detail.summary.hash == formula.content_hash == saved.hash
    assert detail.summary.parent_number is None
    assert detail.summary.is_head


def test_a_summary_tells_title_goal_and_texture_of_the_newest_version() -> None:
    saved = formula_create(formula=formula_of(goal=Goal.SLICE))
    changed = formula_of("Firmer milk gel", goal=Goal.SPOON)
    formula_save(formula_id=saved.formula_id, formula=changed, base_number=1)
    summary = formula_get(formula_id=saved.formula_id)
    assert summary.title == "Firmer milk gel"
    assert (summary.goal, summary.version_count, summary.head_number) == (Goal.SPOON, 2, 2)
    assert summary.head_hash == changed.content_hash
    assert summary.headline.startswith("Sets from about")


def test_saving_the_same_content_again_makes_no_version() -> None:
    saved = formula_create(formula=formula_of())
    again = formula_save(formula_id=saved.formula_id, formula=formula_of(), base_number=1)
    assert again.was_unchanged
    assert again.number == 1
    assert len(version_history(formula_id=saved.formula_id)) == 1


def test_two_tabs_both_get_a_version_and_the_later_one_is_told() -> None:
    start = formula_create(formula=formula_of())
    first = formula_save(
        formula_id=start.formula_id, formula=formula_of(notes="first tab"), base_number=1
    )
    second = formula_save(
        formula_id=start.formula_id, formula=formula_of(notes="second tab"), base_number=1
    )
    assert (first.number, first.overtaken_by) == (2, None)
    assert (second.number, second.overtaken_by) == (3, 2)
    history = version_history(formula_id=start.formula_id)
    assert [(one.number, one.parent_number, one.is_head) for one in history] == [
        (3, 1, True), (2, 1, False), (1, None, False),
    ]  # fmt: skip
    assert version_get(formula_id=start.formula_id, number=2).formula.notes == "first tab"


def test_going_back_to_old_content_is_a_new_version() -> None:
    start = formula_create(formula=formula_of())
    formula_save(formula_id=start.formula_id, formula=formula_of(notes="try"), base_number=1)
    back = formula_save(formula_id=start.formula_id, formula=formula_of(), base_number=2)
    assert back.number == 3
    assert back.hash == start.hash
    assert version_find(content_hash=start.hash.upper()).summary.number == 3


@pytest.mark.parametrize("base", [0, -1, 2, 10**30])
def test_work_must_start_from_a_version_that_exists(base: int) -> None:
    saved = formula_create(formula=formula_of())
    with pytest.raises(NotFoundError, match=r"its newest version is 1"):
        formula_save(formula_id=saved.formula_id, formula=formula_of("Other"), base_number=base)
    assert len(version_history(formula_id=saved.formula_id)) == 1


@pytest.mark.parametrize("formula_id", [404, 0, -3, 10**30])
def test_an_unknown_formula_is_said_to_be_unknown(formula_id: int) -> None:
    for ask in (
        lambda: formula_get(formula_id=formula_id),
        lambda: version_get(formula_id=formula_id),
        lambda: version_get(formula_id=formula_id, number=1),
        lambda: version_history(formula_id=formula_id),
        lambda: formula_archive(formula_id=formula_id, archived=True),
        lambda: formula_duplicate(formula_id=formula_id),
        lambda: formula_save(formula_id=formula_id, formula=formula_of(), base_number=1),
    ):
        with pytest.raises(NotFoundError, match=f"formula {formula_id} in this kitchen"):
            ask()


def test_an_unknown_hash_says_where_it_may_be() -> None:
    with pytest.raises(NotFoundError, match="Import the formula from the kitchen"):
        version_find(content_hash="0" * 64)


@pytest.mark.parametrize(
    ("search", "found"),
    [("crème", 1), ("CRÈME", 1), ("  brûlée   crème ", 0), ("", 2), ("milk", 1), ("%", 0)],
)
def test_search_ignores_case_in_any_script(search: str, found: int) -> None:
    formula_create(formula=formula_of("Oat Crème Brûlée"))
    formula_create(formula=formula_of("Milk gel"))
    assert len(formula_list(search=search)) == found


def test_the_list_is_ordered_by_the_last_save() -> None:
    old = formula_create(formula=formula_of("Old"))
    formula_create(formula=formula_of("New"))
    assert [one.title for one in formula_list()] == ["New", "Old"]
    formula_save(formula_id=old.formula_id, formula=formula_of("Old", notes="x"), base_number=1)
    assert [one.title for one in formula_list()] == ["Old", "New"]


def test_a_formula_put_away_leaves_the_list_and_keeps_its_versions() -> None:
    saved = formula_create(formula=formula_of())
    formula_archive(formula_id=saved.formula_id, archived=True)
    assert formula_list() == ()
    assert [one.archived for one in formula_list(archived=True)] == [True]
    assert version_get(formula_id=saved.formula_id).formula == formula_of()
    formula_archive(formula_id=saved.formula_id, archived=False)
    assert len(formula_list()) == 1


def test_a_copy_starts_its_own_history_from_the_version_chosen() -> None:
    saved = formula_create(formula=formula_of(notes="one"))
    formula_save(formula_id=saved.formula_id, formula=formula_of(notes="two"), base_number=1)
    copy = formula_duplicate(formula_id=saved.formula_id, number=1)
    detail = version_get(formula_id=copy.formula_id)
    assert (detail.formula.title, detail.formula.notes) == ("Milk gel (copy)", "one")
    assert detail.summary.note == "Copied from Milk gel, version 1."
    assert copy.number == 1


def test_a_copy_of_the_longest_title_still_fits() -> None:
    saved = formula_create(formula=formula_of("m" * 120))
    copy = formula_duplicate(formula_id=saved.formula_id)
    title = version_get(formula_id=copy.formula_id).formula.title
    assert len(title) == 120
    assert title.endswith("m (copy)")


def test_two_versions_are_compared_in_lines_and_numbers() -> None:
    saved = formula_create(formula=formula_of())
    firmer = formula_of(ingredients="500 g whole milk\n30 g sugar\n0.6% kappa carrageenan\n")
    formula_save(formula_id=saved.formula_id, formula=firmer, base_number=1)
    difference = version_compare(formula_id=saved.formula_id, first=1, second=2)
    assert not difference.is_same
    assert version_compare(formula_id=saved.formula_id, first=2, second=2).is_same


def test_an_overlong_note_is_refused_with_its_length() -> None:
    with pytest.raises(InputError, match="2,001 characters; at most 2,000") as caught:
        formula_create(formula=formula_of(), note="x" * 2001)
    assert caught.value.field == "note"
    assert formula_list() == ()


def test_a_fault_in_the_engine_never_costs_a_saved_version(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(**_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(service, "formula_assess", broken)
    saved = formula_create(formula=formula_of())
    assert formula_get(formula_id=saved.formula_id).headline == ""
    assert "No headline for “Milk gel”" in caplog.text


def test_a_list_too_long_to_be_read_is_still_kept() -> None:
    formula = formula_of(ingredients="1 g salt\n" * 900)
    saved = formula_create(formula=formula)
    assert version_get(formula_id=saved.formula_id).formula == formula


def test_results_are_values_and_not_lazy(query_counter) -> None:
    formula_create(formula=formula_of())
    summaries = formula_list()
    detail = version_get(formula_id=summaries[0].id)
    assert isinstance(summaries, tuple)
    with query_counter() as queries:
        assert summaries[0].title == detail.formula.title == detail.summary.title
        assert len({*summaries, *summaries}) == 1
    assert len(queries) == 0
    with pytest.raises(dataclasses.FrozenInstanceError):
        summaries[0].title = "Other"  # type: ignore[misc]


def test_the_number_of_queries_does_not_grow_with_the_rows(query_counter) -> None:
    def counted() -> tuple[int, int]:
        with query_counter() as listing:
            formula_list()
        with query_counter() as history:
            version_history(formula_id=first)
        return len(listing), len(history)

    first = formula_create(formula=formula_of()).formula_id
    before = counted()
    for number in range(1, 6):
        changed = formula_of(notes=str(number))
        formula_save(formula_id=first, formula=changed, base_number=number)
        formula_create(formula=formula_of(f"Gel {number}"))
    assert counted() == before == (1, 1)
