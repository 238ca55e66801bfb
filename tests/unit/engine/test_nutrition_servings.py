"""Servings: measures, weights, pieces, containers, and what cannot be."""

import pytest
from builders_engine import formula_of

from setwell.engine.assess import bench_build
from setwell.engine.labels.servings import ServingAsk, servings
from setwell.errors import InputError


def bench(*lines, **fields):
    return bench_build(formula_of(*(lines or ("500 g whole milk", "50 g sugar")), **fields))


def served(ask, *lines, **fields):
    return servings(bench(*lines, **fields), ask)


def test_a_measure_is_weighed_with_the_given_density():
    size, container = served(ServingAsk("gelatin_pudding", density_g_ml=0.6))
    assert (size.text, size.grams, size.is_open) == ("1/2 cup (72 g)", 72.0, False)
    assert container is None


def test_without_a_given_density_the_computed_one_serves_and_says_so():
    size, _ = served(ServingAsk("gelatin_pudding"))
    assert 120 < size.grams < 135
    assert "without air" in size.remark
    assert not size.is_open


@pytest.mark.parametrize(
    "fields", [{"title": "Mousse"}, {"steps": "Whip to soft peaks"}, {"steps": "Fill a siphon"}]
)
def test_a_beaten_food_has_to_be_weighed_first(fields):
    size, _ = served(ServingAsk("gelatin_pudding"), **fields)
    assert size.is_open
    assert "weigh 1/2 cup" in size.remark


def test_whipping_cream_in_the_method_is_no_air():
    size, _ = served(ServingAsk("gelatin_pudding"), steps="Stir in the whipping cream")
    assert not size.is_open


def test_a_drink_is_declared_in_milliliters():
    size, _ = served(ServingAsk("milk_drink", density_g_ml=1.05))
    assert size.text == "1 cup (240 mL)"
    assert size.grams == pytest.approx(252.0)


@pytest.mark.parametrize(
    ("piece", "text"),
    [(4.0, "8 pieces (32 g)"), (12.0, "3 pieces (36 g)"), (16.0, "2 pieces (32 g)"),
     (25.0, "1 piece (25 g)"), (55.0, "1 piece (55 g)")],
)  # fmt: skip
def test_pieces_come_closest_to_the_reference_amount(piece, text):
    assert served(ServingAsk("candy_other", piece_g=piece))[0].text == text


@pytest.mark.parametrize(
    ("grams", "text", "is_one", "two_columns"),
    [(339.9, "1", True, False), (340.0, "2", False, True), (510.0, "3", False, True),
     (515.0, "about 3", False, False), (561.0, "about 3.5", False, False),
     (1088.0, "about 6", False, False), (1020.0, "6", False, False)],
)  # fmt: skip
def test_containers_count_as_the_rule_says(grams, text, is_one, two_columns):
    # Reference amount 170 g: one serving below 340 g, two columns to 510 g.
    size, container = served(ServingAsk("yogurt", container_g=grams))
    assert (container.text, container.is_one_serving) == (text, is_one)
    assert container.needs_two_columns == two_columns
    assert size.text == ("1 container (340 g)" if is_one else "170 g")


def test_an_own_serving_stays_open():
    size, container = served(ServingAsk(own_g=85.0, own_measure="1 slice", container_g=425.0))
    assert (size.text, size.is_open) == ("1 slice (85 g)", True)
    assert container.text == "5"


@pytest.mark.parametrize(
    ("ask", "said"),
    [
        (ServingAsk("moon_dust"), "no reference amount called"),
        (ServingAsk(), "Choose a reference amount"),
        (ServingAsk("yogurt", container_g=0.0), "weight of a container is 0"),
        (ServingAsk("gelatin_pudding", density_g_ml=-1.0), "density is -1"),
        (ServingAsk("candy_other", piece_g=float("nan")), "weight of a piece is nan"),
        (ServingAsk(own_g=float("inf")), "weight of a serving is inf"),
    ],
)
def test_impossible_servings_are_refused_in_words(ask, said):
    with pytest.raises(InputError, match=said):
        served(ask)
