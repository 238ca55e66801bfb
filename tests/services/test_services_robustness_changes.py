"""Changes written into lines and steps."""

import pytest
from builders_kitchen import formula_of

from setwell.domain.pantry import Pantry
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.services.robustness_changes import changed_formula


def changed(key, **fields):
    bench = bench_build(formula_of(**fields), catalog=catalog_build(Pantry()), parts={})
    return changed_formula(key, bench)


@pytest.mark.parametrize(
    ("line", "up"),
    [
        ("4 g kappa carrageenan", "4.32 g kappa carrageenan"),
        ("0.4% kappa carrageenan", "0.432% kappa carrageenan"),
        ("  2,5 g agar", "  2.7 g agar"),
    ],
)
def test_a_dose_goes_up_in_every_agent_line_and_nothing_else(line, up):
    made = changed("dose_up", ingredients=f"Base:\n500 g whole milk\n\n{line}\n3 g gelatin")
    assert made.ingredients.splitlines() == [
        "Base:", "500 g whole milk", "", up, "3.24 g gelatin"
    ]  # fmt: skip


@pytest.mark.parametrize("line", ["1/2 tsp agar", "1 1/2 g agar", "2-3 g agar"])
def test_an_amount_that_is_no_plain_number_is_left_alone(line):
    assert changed("dose_up", ingredients=f"500 g whole milk\n{line}") is None


@pytest.mark.parametrize(
    ("key", "step", "said"),
    [
        ("boil", "Heat to 80 °C.", "Heat to 100 °C (212 °F), and boil for 1 min."),
        ("boil", "Heat to 90 °C (194 °F) and hold 2 min", "Heat to 100 °C (212 °F) and hold 2 min"),
        ("hold", "Heat to 80 °C.", "Heat to 80 °C, and hold for 5 min."),
        ("hold", "Heat to 90 °C and hold for 2 min.", "Heat to 90 °C and hold for 7 min."),
        ("stir", "Heat to 80 °C, stirring now and then.", "Heat to 80 °C, stirring all the time."),
    ],
)
def test_the_hottest_step_is_rewritten_where_it_stands(key, step, said):
    made = changed(key, steps=f"1. Mix.\n{step}\nPour at 70 °C.\nChill at 4 °C.")
    assert made.steps == f"1. Mix.\n{said}\nPour at 70 °C.\nChill at 4 °C."


def test_a_step_that_would_not_read_as_meant_is_left_alone():
    assert changed("boil", steps="Simmer gently.\nChill.") is None
    assert changed("hold", steps="Heat to 85 °C and hold for an hour.") is None
    assert changed("stir", steps="Heat to 85 °C, stirring all the time.") is None


@pytest.mark.parametrize("key", ["premix", "scale", "probe", "water", "lot", "anything"])
def test_what_is_not_written_in_a_formula_has_none(key):
    assert changed(key) is None
