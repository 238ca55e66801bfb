"""The chemistry panel: pH on its line, what follows, and when the acid goes in."""

import re

import pytest

from setwell.domain.reading import VersionReading
from setwell.services.readings import version_reading_record

pytestmark = pytest.mark.django_db

PREVIEW = "/formulas/preview/"
ACID = "400 g water\n60 g sugar\n4 g kappa carrageenan\n30 g lemon juice"
STEPS = "Mix the kappa with the sugar, whisk in with the lemon juice\nHeat to 85 °C, hold 10 min"


def panel(page: str) -> str:
    start = page.index('aria-labelledby="solution-title"')
    return page[start : page.index("</section>", start)]


@pytest.fixture
def chemistry(bench, sheet):
    def compute(**fields) -> str:
        posted = sheet(ingredients=ACID, steps=STEPS)
        return panel(bench.part(PREVIEW, {**posted, **fields}).content.decode())

    return compute


def test_the_ph_stands_large_with_range_and_grade(chemistry):
    found = re.search(r'<p class="ph-now">.*?</p>', chemistry(), re.DOTALL)
    assert found
    assert re.search(r"<strong>\d\.\d</strong>", found[0])
    assert re.search(r"\d\.\d to \d\.\d", found[0])
    assert 'class="grade' in found[0]


def test_the_line_names_the_agents_and_their_windows(chemistry):
    page = chemistry()
    line = page[page.index('<svg class="ph-line"') :]
    line = line[: line.index("</svg>")]
    assert 'role="img"' in line
    assert "Computed 2." in line
    assert "Kappa carrageenan: 4 to 10" in line
    assert "milk protein" not in line
    assert "milk protein curdles cold at 4.6" in chemistry(ingredients="400 g whole milk")


def test_the_doubt_names_its_ingredients(chemistry):
    assert "The range comes mostly from" in chemistry()
    assert "Lemon juice" in chemistry().split("The range comes mostly from")[1][:80]


def test_every_consequence_has_a_word_beside_its_icon(chemistry):
    page = chemistry()
    listed = page[page.index('<ul class="means">') :]
    listed = listed[: listed.index("</ul>")]
    items = re.findall(r"<li class=\"(\w+)\">.*?visually-hidden\">(\w+): ", listed, re.DOTALL)
    words = {"good": "Fits", "watch": "Watch", "note": "Note"}
    assert len(items) >= 4
    assert all(words[tone] == word for tone, word in items)
    assert listed.count('class="grade') == len(items)


def test_the_order_of_the_acid_can_be_opened_without_scripts(chemistry):
    page = chemistry()
    order = page[page.index("<details") :]
    assert "<summary><h3>When to add the acid</h3>" in order
    assert "instead of 85 °C (185 °F)" in order
    assert '<svg class="line-chart" role="img"' in order
    assert '<th scope="row">10 min</th>' in order


def test_without_acid_there_is_no_order_to_open(chemistry):
    assert "When to add the acid" not in chemistry(ingredients="400 g milk\n3 g kappa carrageenan")


def test_a_line_with_markup_stays_text(chemistry):
    page = chemistry(ingredients=f"{ACID}\n10 g <script>alert(1)</script>")
    assert "<script>alert" not in page


def test_nothing_in_the_panel_needs_an_inline_style(chemistry):
    assert " style=" not in chemistry()


def test_a_reading_stands_beside_what_was_computed(bench, saved):
    found = saved(ingredients=ACID, steps=STEPS)
    version_reading_record(
        formula_id=found.formula_id, number=1, document=VersionReading(ph=3.4, plus_minus=0.05)
    )
    page = panel(bench.get(f"/formulas/{found.formula_id}/").content.decode())
    assert "pH, measured" in page
    assert "Measured 3.40 (3.35 to 3.45)" in page
    assert "Computed 2." in page
    assert 'class="measured point"' in page
    assert "The computed range comes mostly from" in page


def test_the_version_page_shows_the_panel_with_its_stylesheet(bench, saved):
    found = saved(ingredients=ACID, steps=STEPS)
    page = bench.get(f"/formulas/{found.formula_id}/versions/1/").content.decode()
    assert "css/chart" in page
    assert "What follows from it" in panel(page)


def test_too_little_water_is_said_instead_of_a_ph(chemistry):
    page = chemistry(ingredients="100 g sugar\n3 g kappa carrageenan", steps="")
    assert "too little water" in page
    assert "ph-line" not in page


def test_every_figure_of_the_water_phase_is_somewhere(bench, saved):
    from setwell.services.assessment import formula_assess
    from setwell.services.formulas import version_get

    found = saved(ingredients=ACID, steps=STEPS)
    page = panel(bench.get(f"/formulas/{found.formula_id}/").content.decode())
    formula = version_get(formula_id=found.formula_id).formula
    labels = [figure.label for figure in formula_assess(formula=formula).solution]
    assert len(labels) > 10
    assert [label for label in labels if label not in page] == []
