"""People who save at the same moment."""

import threading
from concurrent.futures import ThreadPoolExecutor

import pytest
from builders_kitchen import food_of, formula_of
from django.db import connection

from setwell.services.formulas import (
    SavedVersion,
    formula_create,
    formula_save,
    version_history,
)
from setwell.services.pantry import food_list, food_save

TABS = 6


@pytest.mark.django_db(transaction=True)
def test_tabs_that_save_at_once_all_get_a_version() -> None:
    formula_id = formula_create(formula=formula_of()).formula_id
    together = threading.Barrier(TABS)

    def save(tab: int) -> SavedVersion:
        try:
            together.wait()
            formula = formula_of(notes=f"tab {tab}")
            return formula_save(formula_id=formula_id, formula=formula, base_number=1)
        finally:
            connection.close()

    with ThreadPoolExecutor(TABS) as tabs:
        saved = list(tabs.map(save, range(TABS)))
    assert sorted(one.number for one in saved) == [2, 3, 4, 5, 6, 7]
    assert sorted(one.overtaken_by or 0 for one in saved) == [0, 2, 3, 4, 5, 6]
    history = version_history(formula_id=formula_id)
    assert len({one.hash for one in history}) == TABS + 1
    assert {one.parent_number for one in history[:-1]} == {1}


@pytest.mark.django_db(transaction=True)
def test_a_name_taken_at_the_same_moment_is_given_once() -> None:
    together = threading.Barrier(TABS)

    def save(_: int) -> str:
        try:
            together.wait()
            food_save(id=None, document=food_of())
        except Exception as error:
            return type(error).__name__
        else:
            return "saved"
        finally:
            connection.close()

    with ThreadPoolExecutor(TABS) as tabs:
        outcomes = sorted(tabs.map(save, range(TABS)))
    assert outcomes == ["ConflictError"] * (TABS - 1) + ["saved"]
    assert len(food_list()) == 1
