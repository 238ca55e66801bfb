"""Recipes in the open vocabulary of schema.org, as pages carry them."""

import json
import time
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setwell.domain.formula import Formula
from setwell.errors import DocumentError, InputError
from setwell.services.exchange import formula_import
from setwell.services.web_recipes import recipe_find, recipe_find_in_page, recipe_formula

RECIPE: dict[str, Any] = {
    "@context": "https://schema.org",
    "@type": "Recipe",
    "name": "Rhubarb &amp; Bay Jelly",
    "description": "<p>Sharp.</p><p>Pink.</p>",
    "recipeYield": "6 servings",
    "recipeIngredient": ["400 g rhubarb juice", " 2½ tsp  agar powder ", "<b>80 g</b> sugar"],
    "recipeInstructions": [
        {"@type": "HowToStep", "text": "Boil the juice with the agar for 2&nbsp;min."},
        {"@type": "HowToStep", "text": "Pour &amp; chill."},
    ],
    "author": {"@type": "Person", "name": "A. Cook"},
    "url": "https://example.org/jelly",
}


def read(recipe: Any, filename: str = "") -> Formula:
    return formula_import(text=json.dumps(recipe), filename=filename)


def page(*scripts: str) -> str:
    tags = "".join(f'<script type="application/ld+json">{script}</script>' for script in scripts)
    return f"<!DOCTYPE html><html><head><title>x</title>{tags}</head><body>Hi</body></html>"


def test_a_recipe_becomes_a_formula_with_its_lines_as_written() -> None:
    formula = read(RECIPE)
    assert formula.title == "Rhubarb & Bay Jelly"
    assert formula.ingredients == "400 g rhubarb juice\n2½ tsp agar powder\n80 g sugar"
    assert formula.steps == "Boil the juice with the agar for 2 min.\nPour & chill."
    assert formula.portions == 6
    assert formula.notes == "Sharp.\nPink.\n\nFrom: A. Cook, https://example.org/jelly"


@pytest.mark.parametrize(
    "document",
    [
        [{"@type": "WebSite"}, RECIPE],
        {"@graph": [{"@type": "Person"}, RECIPE]},
        {"@type": "WebPage", "mainEntity": RECIPE},
        RECIPE | {"@type": ["Recipe", "NewsArticle"]},
        RECIPE | {"@type": "https://schema.org/Recipe"},
    ],
    ids=["list", "graph", "page", "two types", "full name"],
)
def test_the_recipe_is_found_wherever_it_stands(document: Any) -> None:
    assert read(document).title == "Rhubarb & Bay Jelly"


def test_a_saved_page_is_searched_for_its_scripts() -> None:
    text = page("{broken", json.dumps({"@type": "WebSite"}), json.dumps(RECIPE))
    assert formula_import(text=text, filename="page.html").portions == 6


def test_a_script_with_raw_line_ends_and_a_comment_around_is_read() -> None:
    script = "<!-- " + json.dumps(RECIPE).replace("Sharp.", "Sharp.\n") + " -->"
    assert formula_import(text=page(script)).title == "Rhubarb & Bay Jelly"


@pytest.mark.parametrize(
    ("instructions", "steps"),
    [
        ("Boil.\nChill.", "Boil.\nChill."),
        ("<ol><li>Boil.</li><li>Chill.</li></ol>", "Boil.\nChill."),
        ("Boil.<br/>Chill.", "Boil.\nChill."),
        (["Boil.", "Chill."], "Boil.\nChill."),
        ([{"@type": "HowToStep", "name": "Boil."}], "Boil."),
        (
            [{"@type": "HowToSection", "name": "Base", "itemListElement": [{"text": "Boil."}]}],
            "Base:\nBoil.",
        ),
        ({"@type": "ItemList", "itemListElement": [{"item": {"text": "Boil."}}]}, "Boil."),
        ([[{"text": "Boil."}], {"text": "Chill."}], "Boil.\nChill."),
        (None, ""),
        ([None, 5, {"text": None}], "5"),
    ],
)
def test_instructions_are_read_in_every_usual_shape(instructions: Any, steps: str) -> None:
    assert read(RECIPE | {"recipeInstructions": instructions}).steps == steps


@pytest.mark.parametrize(
    ("said", "portions", "note"),
    [
        (4, 4, ""),
        ("4", 4, ""),
        ("Serves 4", 4, ""),
        (["500 g", "10 people"], 10, ""),
        ({"@type": "QuantitativeValue", "value": 8}, 8, ""),
        ("500 g", None, "Yield: 500 g"),
        ("1 loaf", None, "Yield: 1 loaf"),
        ("4-6 servings", None, "Yield: 4-6 servings"),
        ("0", None, "Yield: 0"),
        (None, None, ""),
        (True, None, ""),
    ],
)
def test_a_yield_that_is_no_number_of_portions_goes_to_the_notes(
    said: Any, portions: int | None, note: str
) -> None:
    formula = read(RECIPE | {"recipeYield": said})
    assert formula.portions == portions
    assert ("Yield" in formula.notes) == bool(note)
    assert note in formula.notes


def test_markup_is_removed_and_comparison_signs_stay() -> None:
    lines = [
        "5 g salt &lt; 1 %",
        "&lt;em&gt;2 g&lt;/em&gt; agar",
        "a < b > c",
        "x<script>y</script>",
    ]
    formula = read(RECIPE | {"recipeIngredient": lines})
    assert formula.ingredients == "5 g salt < 1 %\n2 g agar\na < b > c\nx y"


def test_without_a_name_the_file_gives_the_title() -> None:
    nameless = {key: value for key, value in RECIPE.items() if key != "name"}
    assert read(nameless, "C:\\saved\\rhubarb_jelly.html").title == "rhubarb jelly"
    assert read(nameless).title == "Imported recipe"


def test_an_overlong_name_is_cut_and_kept_in_the_notes() -> None:
    formula = read(RECIPE | {"name": "jelly " * 40})
    assert len(formula.title) <= 120
    assert formula.notes.startswith("jelly " * 39 + "jelly")


def test_a_recipe_with_nothing_in_it_is_refused() -> None:
    with pytest.raises(DocumentError, match="neither ingredients nor instructions"):
        read({"@type": "Recipe", "name": "Empty"})


JSON = st.recursive(
    st.none() | st.booleans() | st.floats(allow_nan=False) | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(
                ["text", "name", "item", "itemListElement", "@value", "value", "@type"]
            ),
            inner,
            max_size=4,
        )
    ),
    max_leaves=15,
)


@given(st.dictionaries(st.sampled_from([*RECIPE, "recipeIngredient"]), JSON))
def test_any_shape_gives_a_formula_or_a_plain_sentence(fields: dict[str, Any]) -> None:
    said = ""
    try:
        said = recipe_formula(fields, fallback_title="Found").title
    except InputError as error:
        said = str(error)
    assert said.strip()


def test_deep_nesting_ends_without_an_answer() -> None:
    deep: Any = RECIPE
    for _ in range(400):
        deep = {"child": [deep]}
    assert recipe_find(deep) is None
    steps: Any = "Boil."
    for _ in range(400):
        steps = [{"itemListElement": [steps]}]
    assert recipe_formula(RECIPE | {"recipeInstructions": steps}, fallback_title="x").steps == ""


@pytest.mark.parametrize(
    "hostile",
    ["<script " * 300_000, "<script>" * 300_000, "<script type='application/ld+json'>{" * 50_000],
)
def test_a_hostile_page_is_answered_quickly(hostile: str) -> None:
    start = time.process_time()
    assert recipe_find_in_page(hostile) is None
    assert time.process_time() - start < 5
