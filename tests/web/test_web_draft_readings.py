"""The page of a formula shows the reading and the computed pH, and what an earlier one moves."""

import pytest

from setwell.domain.formula import formula_make
from setwell.domain.reading import VersionReading
from setwell.services import formulas, readings
from setwell.services.assessment import formula_assess

pytestmark = pytest.mark.django_db

NBSP = "\u00a0"
SOUR, SOURER, SOUREST = (f"500 g whole milk\n{grams} g lemon juice" for grams in (20, 30, 60))


def computed(ingredients):
    formula = formula_make(title="Milk blocks", ingredients=ingredients)
    return formula_assess(formula=formula).figure("ph").estimate.value


def page(bench, formula_id, name=""):
    answer = bench.get(f"/formulas/{formula_id}/{name}")
    return answer.content.decode().replace(NBSP, " ")


@pytest.fixture
def measured(saved):
    """A formula whose first version was measured 0.3 below its computed pH, and that pH."""
    one, plain = saved(ingredients=SOUR, steps=""), computed(SOUR)
    readings.version_reading_record(
        formula_id=one.formula_id, number=1, document=VersionReading(ph=round(plain - 0.3, 2))
    )
    return one.formula_id, plain


def test_the_page_of_a_measured_formula_shows_both(bench, measured):
    formula_id, plain = measured
    found = page(bench, formula_id)
    at = found.index("pH, measured")
    assert f"{plain - 0.3:.1f}" in found[at : at + 200]
    assert f"Computed: {plain:.1f}" in found
    assert "Moved by" not in found


def test_the_page_of_a_changed_formula_says_how_far_it_was_moved(bench, measured):
    changed = formula_make(title="Milk blocks", ingredients=SOURER)
    formulas.formula_save(formula_id=measured[0], formula=changed, base_number=1)
    found = page(bench, measured[0])
    assert "pH, computed" in found
    assert "pH, measured" not in found
    assert "Moved by -0.30, as an earlier version was measured." in found
    moved = f"{computed(SOURER) - 0.3:.1f}"
    at = found.index("pH, computed")
    assert moved in found[at : at + 200]


def test_every_page_of_a_changed_formula_shows_the_same_ph(bench, measured):
    formula_id = measured[0]
    changed = formula_make(title="Milk blocks", ingredients=SOURER)
    for number, text in ((1, SOURER), (2, SOUREST)):
        formulas.formula_save(
            formula_id=formula_id, formula=changed.revised(ingredients=text), base_number=number
        )
    moved = f"{computed(SOUREST) - 0.3:.1f}"
    assert moved != f"{computed(SOUREST):.1f}"
    for name in ("", "versions/3/", "compare/?first=2&second=3", "card/"):
        found = page(bench, formula_id, name)
        at = found.lower().index("ph, computed")
        assert moved in found[at : at + 400], name
    assert f"pH now: <strong>{moved}" in page(bench, formula_id, "acid/")
