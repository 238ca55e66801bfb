"""No line of a page ends between a number and its unit."""

import re

import pytest
from django.test import Client

from setwell.documents.html_unbroken import html_unbroken

pytestmark = pytest.mark.django_db

TORN = re.compile(r"\d (?:°C|°F|%|kPa|mPa·s|g|kg|mL|min|h)(?![\w°])")
UNREAD = re.compile(r"<(textarea|option|svg|code|title)\b.*?</\1>|<[^>]*>", re.DOTALL)


@pytest.mark.parametrize("place", [
    "/formulas/{}/", "/formulas/{}/process/", "/formulas/{}/card/", "/formulas/{}/label/",
    "/formulas/{}/process/sheet/", "/agents/",
])  # fmt: skip
def test_a_number_stays_beside_its_unit(saved, place):
    one = saved(
        ingredients="700 g whole milk\n60 g sugar\n6 g agar",
        steps="Boil the agar in the milk for 3 min\nPour\nChill to 4 °C for 2 h",
    )
    page = Client().get(place.format(one.formula_id)).content.decode()
    read = UNREAD.sub("|", page)
    assert "\u00a0" in read
    assert TORN.findall(read) == []


def test_what_was_typed_is_handed_back_as_it_was(saved):
    one = saved(ingredients="700 g whole milk\n6 g agar", steps="Heat to 90 °C")
    page = Client().get(f"/formulas/{one.formula_id}/").content.decode()
    field = re.search(r'<textarea name="ingredients".*?</textarea>', page, re.DOTALL)
    assert "700 g whole milk" in field[0]
    assert "\u00a0" not in field[0]


@pytest.mark.parametrize("kept", [
    '<input value="4 g">', "<textarea>4 g</textarea>", "<option>4 g</option>", "<pre>4 g</pre>",
    '<svg><path d="M4 4 h 5 m 3"/></svg>', "<!-- 4 g -->", "<p>4 gods, 3 men, 2 hobs</p>",
])  # fmt: skip
def test_fields_drawings_and_plain_words_stay_as_they_are(kept):
    assert html_unbroken(kept) == kept


def test_a_file_is_left_alone(saved):
    one = saved()
    answer = Client().get(f"/formulas/{one.formula_id}/export.json")
    assert "\u00a0" not in answer.content.decode()
