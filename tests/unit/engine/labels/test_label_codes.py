"""Every code that only a label tells comes in a case made for it, and not in one without."""

import pytest

from setwell.domain.formula import Diet, formula_make
from setwell.domain.pantry import OwnAgent, OwnFood, Pantry
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.labels.statement_eu import eu_statement
from setwell.engine.labels.statement_results import LabelChoices
from setwell.engine.labels.statement_us import us_statement

OWN = Pantry(
    foods=(OwnFood(name="Natural vanilla flavor", allergens=("milk",)),),
    agents=(OwnAgent(name="Sea set 20", based_on="kappa carrageenan"),),
)
PLAIN = "900 g water\n100 g sugar"


def codes(statement_of, ingredients, *, category="other", diets=(), **choices):
    formula = formula_make(title="Test batch", ingredients=ingredients, diets=list(diets))
    bench = bench_build(formula, catalog=catalog_build(OWN))
    statement = statement_of(bench, category=category, choices=LabelChoices(**choices))
    alcohol = () if statement.alcohol is None else (statement.alcohol,)
    return {one.code for one in (*statement.findings, *alcohol)}


@pytest.mark.parametrize(
    ("code", "statement_of", "ingredients", "more"),
    [
        ("label_wording", us_statement, "990 g milk\n10 g natural vanilla flavor", {}),
        ("label_flavor_color", us_statement, "990 g milk\n10 g natural vanilla flavor", {}),
        ("label_carriers", us_statement, "990 g milk\n10 g sea set 20", {}),
        ("label_carrageenan_salt", us_statement, "990 g milk\n10 g kappa carrageenan", {}),
        ("label_which_additive", eu_statement, "950 g water\n50 g cross-linked starch", {}),
        ("label_may_contain", us_statement, PLAIN, {"may_contain": "nuts"}),
        ("label_mini_cups", eu_statement, "950 g water\n50 g gelatin", {"category": "mini_cups"}),
        ("label_diet_words", us_statement, PLAIN, {"diets": [Diet.VEGAN]}),
        ("label_alcohol", eu_statement, "900 g water\n100 g vodka", {}),
    ],
)
def test_a_label_tells_it_where_it_belongs(code, statement_of, ingredients, more):
    assert code in codes(statement_of, ingredients, **more)
    assert code not in codes(statement_of, PLAIN)
