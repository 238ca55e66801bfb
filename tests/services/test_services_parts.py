"""Formulas that other formulas use as an ingredient."""

import pytest
from builders_kitchen import formula_of

from setwell.services.assessment import formula_assess
from setwell.services.formulas import (
    formula_archive,
    formula_create,
    formula_save,
    formulas_as_parts,
    version_get,
)
from setwell.services.parts import parts_for

pytestmark = pytest.mark.django_db

SYRUP = "Bay leaf syrup"
USES_SYRUP = "400 g whole milk\n100 g bay leaf syrup\n0.4% kappa carrageenan\n"


def syrup(sugar: int = 50, title: str = SYRUP):
    return formula_of(title, ingredients=f"50 g water\n{sugar} g sugar\n", steps="")


def slice_of(**fields):
    return formula_of("Bay milk slice", ingredients=USES_SYRUP, **fields)


def test_every_formula_in_use_can_be_a_part_by_its_title_in_lower_case() -> None:
    saved = formula_create(formula=syrup())
    away = formula_create(formula=formula_of("Put away"))
    formula_archive(formula_id=away.formula_id, archived=True)
    assert formulas_as_parts() == {"bay leaf syrup": (saved.hash, syrup())}


def test_of_two_formulas_with_one_title_the_one_saved_last_is_meant() -> None:
    formula_create(formula=syrup(40))
    newer = formula_create(formula=syrup(60))
    assert formulas_as_parts()["bay leaf syrup"][0] == newer.hash
    assert parts_for(slice_of())[SYRUP] == syrup(60)


def test_saving_pins_the_version_of_each_formula_that_is_used() -> None:
    part = formula_create(formula=syrup())
    formula_create(formula=formula_of("Unrelated"))
    saved = formula_create(formula=slice_of())
    assert version_get(formula_id=saved.formula_id).formula.parts == {SYRUP: part.hash}


def test_a_saved_version_keeps_the_part_it_was_saved_with() -> None:
    part = formula_create(formula=syrup(50))
    saved = formula_create(formula=slice_of())
    formula_save(formula_id=part.formula_id, formula=syrup(80), base_number=1)
    old = version_get(formula_id=saved.formula_id).formula
    assert parts_for(old)[SYRUP] == syrup(50)
    sugars = [formula_assess(formula=one).nutrient("sugars_g") for one in (old, slice_of())]
    assert sugars[0].per_batch.value < sugars[1].per_batch.value


def test_a_draft_without_pins_is_saved_with_the_newest_version() -> None:
    part = formula_create(formula=syrup(50))
    saved = formula_create(formula=slice_of())
    newer = formula_save(formula_id=part.formula_id, formula=syrup(80), base_number=1)
    again = formula_save(formula_id=saved.formula_id, formula=slice_of(), base_number=1)
    assert not again.was_unchanged
    assert version_get(formula_id=saved.formula_id).formula.parts == {SYRUP: newer.hash}


def test_a_pin_that_is_brought_along_is_kept() -> None:
    part = formula_create(formula=syrup(50))
    saved = formula_create(formula=slice_of())
    formula_save(formula_id=part.formula_id, formula=syrup(80), base_number=1)
    edited = version_get(formula_id=saved.formula_id).formula.revised(notes="edited")
    formula_save(formula_id=saved.formula_id, formula=edited, base_number=1)
    assert version_get(formula_id=saved.formula_id).formula.parts == {SYRUP: part.hash}


def test_a_pin_of_another_kitchen_gives_way_to_what_is_here() -> None:
    part = formula_create(formula=syrup())
    foreign = slice_of(parts={SYRUP: "f" * 64, "No longer named": part.hash})
    saved = formula_create(formula=foreign)
    assert version_get(formula_id=saved.formula_id).formula.parts == {SYRUP: part.hash}


def test_a_part_that_was_renamed_or_put_away_still_serves_old_versions() -> None:
    part = formula_create(formula=syrup())
    saved = formula_create(formula=slice_of())
    renamed = syrup(title="Laurel syrup")
    formula_save(formula_id=part.formula_id, formula=renamed, base_number=1)
    formula_archive(formula_id=part.formula_id, archived=True)
    old = version_get(formula_id=saved.formula_id).formula
    assert parts_for(old) == {SYRUP: syrup()}
    assert formula_assess(formula=old).is_complete


def test_parts_of_parts_are_found() -> None:
    formula_create(formula=syrup())
    milk = formula_of("Bay milk", ingredients="400 g whole milk\n50 g bay leaf syrup\n", steps="")
    formula_create(formula=milk)
    top = formula_of("Top", ingredients="300 g bay milk\n0.4% kappa carrageenan\n")
    assert set(parts_for(top)) == {"Bay milk", SYRUP}
    assert formula_assess(formula=top).is_complete


def test_formulas_that_use_each_other_are_saved_and_can_be_assessed() -> None:
    first = formula_of("Chicken", ingredients="100 g egg base\n50 g water\n", steps="")
    second = formula_of("Egg base", ingredients="100 g chicken, formula\n", steps="")
    start = formula_create(formula=first)
    other = formula_create(formula=second)
    again = formula_save(formula_id=start.formula_id, formula=first, base_number=1)
    assert again.number == 2
    assert version_get(formula_id=again.formula_id).formula.parts == {"Egg base": other.hash}
    assert formula_assess(formula=version_get(formula_id=start.formula_id).formula).lines


def test_a_formula_that_names_itself_is_saved() -> None:
    itself = formula_of("Mother batch", ingredients="100 g mother batch\n200 g water\n", steps="")
    saved = formula_create(formula=itself)
    formula_save(formula_id=saved.formula_id, formula=itself.revised(notes="again"), base_number=1)
    assert not formula_assess(formula=itself).is_complete


def test_the_number_of_queries_does_not_grow_with_the_formulas(query_counter) -> None:
    formula_create(formula=syrup())
    with query_counter() as before:
        parts_for(slice_of())
    for number in range(6):
        formula_create(formula=formula_of(f"Gel {number}"))
    with query_counter() as after:
        parts_for(slice_of())
    assert len(after) == len(before) == 2
