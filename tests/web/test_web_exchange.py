"""Formulas in and out."""

import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from setwell.services import formulas

pytestmark = pytest.mark.django_db

IMPORT = "/formulas/import/"
RECIPE = {
    "@context": "https://schema.org",
    "@type": "Recipe",
    "name": "Barley tea cubes",
    "recipeIngredient": ["500 g water", "5 g agar"],
    "recipeInstructions": "Boil and pour.",
}


def test_an_exported_formula_comes_back_the_same(bench, saved):
    one = saved()
    answer = bench.get(f"/formulas/{one.formula_id}/export.json")
    assert answer["Content-Disposition"] == 'attachment; filename="milk-blocks.json"'
    upload = SimpleUploadedFile("milk.json", answer.content)
    back = bench.post(IMPORT, {"file": upload, "text": ""})
    assert back.status_code == 302
    copy_id = int(back.url.split("/")[2])
    first, second = (
        formulas.version_get(formula_id=number).formula for number in (one.formula_id, copy_id)
    )
    assert first == second


def test_the_text_export_can_be_pasted_back(bench, saved):
    one = saved()
    text = bench.get(f"/formulas/{one.formula_id}/export.txt").content.decode()
    back = bench.post(IMPORT, {"text": text})
    assert back.status_code == 302
    assert "4 g kappa carrageenan" in bench.get(back.url).content.decode()


def test_a_web_recipe_can_be_pasted_as_json_or_as_a_page(bench):
    plain = json.dumps(RECIPE)
    page = f'<html><script type="application/ld+json">{plain}</script></html>'
    for text in (plain, page):
        answer = bench.post(IMPORT, {"text": text})
        assert answer.status_code == 302
        assert "Barley tea cubes" in bench.get(answer.url).content.decode()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "There is nothing to read"),
        ("   \n", "There is nothing to read"),
        ('{"format": "setwell-formula"', "not valid JSON"),
        ('{"format": "other"}', "other"),
    ],
)
def test_what_cannot_be_read_is_explained_and_kept(bench, text, said):
    answer = bench.post(IMPORT, {"text": text})
    page = answer.content.decode()
    assert answer.status_code == 200
    assert said in page
    assert formulas.formula_list() == ()


def test_a_file_that_is_no_text_is_refused(bench):
    answer = bench.post(IMPORT, {"file": SimpleUploadedFile("x.json", b"\xff\xfe\x00\x81")})
    assert "not text in UTF-8" in answer.content.decode()


def test_the_import_page_and_the_schema_are_there(bench):
    assert "Import a formula" in bench.get(IMPORT).content.decode()
    schema = json.loads(bench.get("/formulas/schema.json").content)
    assert "ingredients" in schema["properties"]


def test_exporting_what_is_not_there_is_not_found(bench):
    for ending in ("json", "txt"):
        assert bench.get(f"/formulas/77/export.{ending}").status_code == 404
