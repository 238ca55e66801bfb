"""Saving, changing, listing and exchanging briefs."""

import json
import re

import pytest
from django.db import IntegrityError, transaction

from setwell.domain.brief import DOCUMENT_LIMIT, Brief, Market, brief_make
from setwell.errors import DocumentError, InputError, NotFoundError
from setwell.services.briefs import (
    allergen_names,
    base_told,
    brief_asked,
    brief_changed,
    brief_export_json,
    brief_from_form,
    brief_get,
    brief_history,
    brief_import,
    brief_import_json,
    brief_put_away,
    brief_save,
    brief_update,
    briefs_list,
    texture_words,
)
from setwell.services.demo import demo_load
from setwell.services.proposals import proposals_for
from setwell.store.rows import BriefVersionRow

pytestmark = pytest.mark.django_db


def brief_of(title: str = "Plum slice", **fields: object) -> Brief:
    return brief_make(**{"title": title, "base": "500 g plum juice", **fields})


def test_a_new_brief_is_its_version_one() -> None:
    saved = brief_save(brief=brief_of())
    found = brief_get(brief_id=saved.id)
    assert (saved.number, found.number, found.brief) == (1, 1, brief_of())
    assert found.summary.base == "500 g plum juice"


def test_a_change_is_a_new_version_and_the_earlier_one_stays() -> None:
    saved = brief_save(brief=brief_of())
    changed = brief_update(brief_id=saved.id, brief=brief_of(serving_c=20), base_number=1)
    assert (changed.number, changed.was_unchanged, changed.overtaken_by) == (2, False, None)
    assert [one.number for one in brief_history(brief_id=saved.id)] == [2, 1]
    assert brief_get(brief_id=saved.id, number=1).brief.serving_c == 4.0
    assert brief_get(brief_id=saved.id).brief.serving_c == 20.0


def test_saving_the_same_brief_again_adds_nothing() -> None:
    saved = brief_save(brief=brief_of())
    again = brief_update(brief_id=saved.id, brief=brief_of())
    assert again.was_unchanged
    assert len(brief_history(brief_id=saved.id)) == 1


def test_two_tabs_both_get_a_version_and_the_later_one_is_told() -> None:
    saved = brief_save(brief=brief_of())
    first = brief_update(brief_id=saved.id, brief=brief_of(serving_c=8), base_number=1)
    second = brief_update(brief_id=saved.id, brief=brief_of(serving_c=9), base_number=1)
    assert first.overtaken_by is None
    assert (second.number, second.overtaken_by) == (3, 2)


def test_a_saved_version_never_changes() -> None:
    saved = brief_save(brief=brief_of())
    with pytest.raises(IntegrityError, match="never changes"), transaction.atomic():
        BriefVersionRow.objects.filter(brief_id=saved.id).update(title="Pear slice")


def test_a_brief_put_away_leaves_the_list_and_comes_back() -> None:
    saved = brief_save(brief=brief_of())
    brief_put_away(brief_id=saved.id, put_away=True)
    assert briefs_list() == ()
    assert [one.id for one in briefs_list(put_away=True)] == [saved.id]
    brief_put_away(brief_id=saved.id, put_away=False)
    assert [one.id for one in briefs_list()] == [saved.id]


def test_the_list_is_searched_by_title_and_shows_the_newest_first() -> None:
    brief_save(brief=brief_of("Plum slice"))
    pear = brief_save(brief=brief_of("Pear cup"))
    assert [one.title for one in briefs_list()] == ["Pear cup", "Plum slice"]
    assert [one.id for one in briefs_list(search="PEAR")] == [pear.id]


@pytest.mark.parametrize("wanted", [99, 2**70, -1])
def test_a_brief_that_is_not_there_is_said(wanted: int) -> None:
    for ask in (
        lambda: brief_get(brief_id=wanted),
        lambda: brief_history(brief_id=wanted),
        lambda: brief_update(brief_id=wanted, brief=brief_of()),
        lambda: brief_put_away(brief_id=wanted, put_away=True),
    ):
        with pytest.raises(NotFoundError, match="There is no brief"):
            ask()


def test_a_base_version_that_is_not_there_is_refused() -> None:
    saved = brief_save(brief=brief_of())
    with pytest.raises(NotFoundError, match="its newest version is 1"):
        brief_update(brief_id=saved.id, brief=brief_of(serving_c=9), base_number=7)


def test_flat_fields_become_a_brief() -> None:
    brief = brief_from_form(
        {"title": "  Plum \n slice ", "texture.word": "short", "limits.has_blender": False,
         "composition.sugar_g": 12.0, "market": "eu"}
    )  # fmt: skip
    assert brief.title == "Plum slice"
    assert (brief.texture.word, brief.limits.has_blender) == ("short", False)
    assert brief.composition is not None
    assert (brief.composition.sugar_g, brief.market) == (12.0, Market.EU)


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"texture.modulus_low": -1.0}, "texture.modulus_low"),
        ({"limits.max_temperature_c": float("nan")}, "limits.max_temperature_c"),
        ({"composition.ph": 20.0}, "composition.ph"),
        ({"without": ("x" * 121,)}, "without"),
        ({"note": "a\x00b"}, "note"),
        ({"title": "  "}, "title"),
        ({"base": "1 g salt", "base_formula": "Plum"}, "base"),
        ({"texture.flavor": "sweet"}, "texture.flavor"),
    ],
)
def test_problems_are_told_at_their_dotted_field(fields: dict[str, object], field: str) -> None:
    with pytest.raises(DocumentError) as refused:
        brief_from_form({"title": "Plum slice", **fields})
    assert refused.value.field == field


def test_fields_are_changed_from_text_and_opened_by_an_empty_one() -> None:
    brief = brief_of(holds_c=60.0, diets=("vegan",), limits={"set_within_h": 2.0})
    changed = brief_changed(
        brief=brief,
        changes=(("limits.max_temperature_c", "80"), ("limits.set_within_h", ""),
                 ("holds_c", ""), ("diets", ""), ("helpers", "calcium lactate"),
                 ("texture.sets", "true"), ("is_frozen", "")),
    )  # fmt: skip
    assert (changed.limits.max_temperature_c, changed.limits.set_within_h) == (80.0, None)
    assert (changed.holds_c, changed.diets, changed.helpers) == (None, (), ("calcium lactate",))
    assert (changed.texture.sets, changed.is_frozen) == (True, False)
    assert changed.base == brief.base


def test_a_change_that_cannot_be_is_told_at_its_field() -> None:
    with pytest.raises(DocumentError) as refused:
        brief_changed(brief=brief_of(), changes=(("limits.max_temperature_c", "hot"),))
    assert refused.value.field == "limits.max_temperature_c"


def test_a_brief_comes_back_from_its_export() -> None:
    brief = brief_of(texture={"word": "tender", "like": "Plum cup"}, shelf=("agar",))
    assert brief_import_json(text=brief_export_json(brief=brief)) == brief


def test_the_same_brief_imported_twice_is_kept_once() -> None:
    text = brief_export_json(brief=brief_of())
    first = brief_import(text=text)
    brief_put_away(brief_id=first.id, put_away=True)
    second = brief_import(text=text)
    assert (second.id, first.was_known, second.was_known) == (first.id, False, True)
    assert [one.id for one in briefs_list()] == [first.id]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "nothing in it"),
        ("\ufeff  ", "nothing in it"),
        ("{", "not valid JSON"),
        ("[" * 100_000, "not valid JSON"),
        ("[1]", "not a Setwell brief"),
        ('{"format": "setwell-formula", "title": "a"}', "not a Setwell brief"),
        ("x" * (DOCUMENT_LIMIT + 1), "at most 200,000"),
        ('{"format": "setwell-brief"}', "Give the brief a name"),
        ('{"format": "setwell-brief", "title": "a", "serving_c": 1e999}', "finite number"),
        ('{"format": "setwell-brief", "title": 7}', "valid string"),
    ],
)
def test_what_is_no_brief_is_refused_and_nothing_is_saved(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        brief_import(text=text)
    assert briefs_list() == ()


def test_a_brief_is_told_in_one_line() -> None:
    brief = brief_of(
        texture={"word": "short", "modulus_low": 2.0}, clarity="clear", serving_c=55,
        holds_c=60, diets=("vegan",), without_allergens=("tree_nut",), market="eu",
        limits={"max_temperature_c": 80, "has_blender": False, "set_within_h": 2}, agents_most=1,
    )  # fmt: skip
    assert brief_asked(brief) == (
        "short, stiffness from 2 kPa; clear; served at 55 °C (131 °F); stands at 60 °C (140 °F); "
        "vegan; no tree nut; EU rules; not above 80 °C (176 °F); no blender; set within 2 h; "
        "one agent"
    )


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({}, "no base yet"),
        ({"base": "1 g a\n2 g b\n\n3 g c\n4 g d"}, "1 g a, 2 g b, 3 g c and 1 more"),
        ({"base_formula": "Plum cup"}, "Plum cup without its agents"),
        ({"composition": {"name": "plum"}}, "plum, by what it is made of"),
    ],
)
def test_a_base_is_told_in_few_words(fields: dict[str, object], said: str) -> None:
    assert base_told(brief_make(title="a", **fields)) == said


def test_the_words_to_choose_from_come_with_a_statement_each() -> None:
    words = texture_words()
    assert {"elastic", "very firm", "coating"} <= {one.word for one in words}
    assert all(one.statement for one in words)
    assert len({one.word for one in words}) == len(words)
    assert {"milk", "tree_nut"} <= set(allergen_names())


def test_the_export_names_its_format() -> None:
    fields = json.loads(brief_export_json(brief=brief_of()))
    assert (fields["format"], fields["format_version"]) == ("setwell-brief", 1)


def test_the_demo_kitchen_has_two_briefs_that_something_meets() -> None:
    demo_load()
    found = {one.title: one.id for one in briefs_list()}
    assert set(found) == {"Apple and Verbena Jelly", "Warm Carrot Slice, Vegan"}
    for brief_id in found.values():
        best = proposals_for(brief_get(brief_id=brief_id).brief, is_first=True).proposals[0]
        assert best.fit == 0.0


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"colour": 1}, "“colour” is no field of a brief; known are"),
        ({"texture.modulus_lo": 1.0}, "did you mean “modulus_low”?"),
        ({"limits.max_temperature_c": -500}, "-500 is not possible; at least -5 is"),
        ({"serving_c": "warm"}, "“warm” is no number"),
        ({"keeps_afloat": "cocoa"}, "“cocoa” is neither true nor false"),
    ],
)
def test_a_field_that_cannot_be_says_why_in_plain_words(fields, said) -> None:
    with pytest.raises(DocumentError, match=re.escape(said)):
        brief_from_form({"title": "Plum", "base": "900 g milk", **fields})
