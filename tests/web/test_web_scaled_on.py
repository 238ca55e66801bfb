"""From scaled weights to a bench sheet, a card and files of exactly that batch, and back."""

import html
import re

import pytest
from builders_process import STEPS
from django.http import QueryDict

pytestmark = pytest.mark.django_db

LINES = "500 g whole milk\n60 g sugar\n4 g agar\n20 g lemon juice"


@pytest.fixture
def lemon(saved):
    """The folder of a saved agar gel of 584 g for six molds."""
    molds = {"count": 6, "volume_ml": 100}
    made = saved(title="Lemon cups", ingredients=LINES, steps=STEPS, molds=molds)
    return f"/formulas/{made.formula_id}/"


def read(answer):
    # A number keeps to its unit by a space that does not break.
    return html.unescape(answer.content.decode()).replace("\u00a0", " ")


def links(page):
    block = page[page.index("onward") :]
    return re.findall(r'href="([^"]+)"', block[: block.index("</div>")])


def query_of(link):
    return QueryDict(link.partition("?")[2]).dict()


def test_scaled_weights_lead_to_sheet_card_and_files_of_that_batch(bench, lemon):
    asked = {"target": "grams", "to_grams": "1168", "readability_g": "1"}
    sheet, card, *files = links(read(bench.get(f"{lemon}scale/", asked)))
    for link in (sheet, card):
        page = read(bench.get(link))
        assert "For 1,168 g, scaled from 584 g." in page
        assert "1,000 g" in page
    assert query_of(sheet)["count"] == "12"
    assert "12 molds in" in read(bench.get(sheet))
    for link in files:
        assert bench.get(link).content.startswith(b"%PDF")


def test_the_live_part_brings_the_links_too(bench, lemon):
    asked = {"target": "grams", "to_grams": "1168"}
    part = bench.get(f"{lemon}scale/", asked, headers={"hx-request": "true"})
    assert len(links(read(part))) == 4


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"target": "portions", "portion_count": "10", "portion_g": "90"}, "10 portions of 90 g"),
        ({"target": "molds", "mold_count": "9", "mold_ml": "80"}, "9 molds of 80 mL"),
    ],
)
def test_what_was_asked_of_scale_is_told_and_leads_back(bench, lemon, asked, told):
    sheet, card, *_ = links(read(bench.get(f"{lemon}scale/", {**asked, "readability_g": "0.01"})))
    for link in (sheet, card):
        page = read(bench.get(link))
        assert told in page
        back = re.search(r'href="([^"]+)">Back to Scale', page)[1]
        assert query_of(back) == {**asked, "readability_g": "0.01"}


def test_a_batch_typed_on_the_card_is_kept_on_all_its_ways(bench, lemon):
    page = read(bench.get(f"{lemon}card/", {"batch": "876", "readability_g": "1"}))
    assert "For 876 g, scaled from 584 g." in page
    assert "750 g" in page
    assert 'name="batch" value="876"' in page
    assert page.count("batch=876") >= 5
    text = bench.get(f"{lemon}card/card.txt", {"batch": "876"}).content.decode()
    assert "For 876 g, scaled from 584 g." in text
    assert "scaled from" not in read(bench.get(f"{lemon}card/"))


@pytest.mark.parametrize("typed", ["much", "0", "1e9"])
def test_a_batch_that_is_none_is_told_at_its_field_and_kept(bench, lemon, typed):
    page = read(bench.get(f"{lemon}card/", {"batch": typed}))
    assert f'value="{typed}"' in page
    assert 'class="errorlist"' in page
    assert "scaled from" not in page
    assert bench.get(f"{lemon}card/card.pdf", {"batch": typed}).status_code == 400


def test_the_sheet_offers_the_formulas_own_batch_and_the_way_back(bench, lemon):
    page = read(bench.get(f"{lemon}process/sheet/", {"batch": "1168"}))
    assert "Weigh the formula’s own 584 g" in page
    own = re.search(r'href="(\?[^"]+)">Weigh the formula', page)[1]
    assert query_of(own) == {"batch": "1168", "size": "written"}
    page = read(bench.get(f"{lemon}process/sheet/{own}"))
    assert "scaled from" not in page
    assert "Weigh the planned 1,168 g" in page
    pdf = re.search(r'href="([^"]+)">PDF A4', page)[1]
    assert query_of(pdf)["size"] == "written"


def test_a_sheet_of_the_batch_as_written_offers_no_other(bench, lemon):
    assert "Weigh the" not in read(bench.get(f"{lemon}process/sheet/"))


def test_the_process_says_for_which_batch_its_sheet_is(bench, lemon):
    assert "Bench sheet for 1,168 g" in read(bench.get(f"{lemon}process/", {"batch": "1168"}))
    page = read(bench.get(f"{lemon}process/", {"count": "12"}))
    assert "Bench sheet for 1,168 g" in page
    assert "The pot here is computed for 584 g" in page
    assert "Bench sheet<" in read(bench.get(f"{lemon}process/"))


def test_one_of_many_large_batches_is_taken_along_by_its_own_weight(bench, lemon):
    asked = {"target": "portions", "portion_count": "200", "portion_g": "100", "batches": "4"}
    sheet, card, *_ = links(read(bench.get(f"{lemon}scale/large/", asked)))
    assert float(query_of(card)["batch"]) == pytest.approx(5_000)
    assert "portion_count" not in query_of(sheet)
    assert "For 5,000 g, scaled from 584 g." in read(bench.get(card))
