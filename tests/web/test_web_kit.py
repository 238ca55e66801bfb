"""The page of dry kits and its printed sheet."""

from io import BytesIO

import pytest
from builders_kitchen import lot_of
from pypdf import PdfReader

from setwell.services import pantry

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(saved):
    return f"/formulas/{saved().formula_id}/kit/"


def test_the_page_lists_bags_lots_and_the_label(bench, page):
    pantry.lot_save(id=None, document=lot_of("K-1", agent="kappa carrageenan", in_use=True))
    text = bench.get(page, {"kits": "12"}).content.decode()
    assert "12 kits of 64 g" in text
    assert "K-1" in text
    assert "<svg" in text
    assert "Draft, to be checked by a qualified person" in text


def test_the_sheet_is_a_pdf_with_a_label_for_every_kit(bench, page):
    answer = bench.get(f"{page}sheet.pdf", {"kits": "4", "address": "https://kitchen.example/1/"})
    assert answer["Content-Type"] == "application/pdf"
    labels = PdfReader(BytesIO(answer.content)).pages[1].extract_text()
    assert labels.count("https://kitchen.example/1/") == 4


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ({"kits": "0"}, "0 is not possible here"),
        ({"kits": ""}, "Write how many kits to pack."),
        ({"kits": "many"}, "is not a number"),
        ({"spare_pct": "-4"}, "-4 is not possible here"),
        ({"serves_g": "0"}, "0 is not possible here"),
        ({"readability_g": "0"}, "0 is not possible here"),
        ({"address": "../../etc"}, "does not begin with http"),
        ({"lines": "99"}, "99 is not a line of this formula."),
    ],
)
def test_what_cannot_be_packed_is_told_at_its_field_and_kept(bench, page, given, message):
    text = bench.get(page, given).content.decode()
    assert message in text
    assert "Label of each kit" not in text
    sheet = bench.get(f"{page}sheet.pdf", given)
    assert sheet.status_code == 422
    assert message in sheet.content.decode()


def test_a_formula_without_powders_says_so(bench, saved):
    formula = saved(ingredients="500 g whole milk\n40 g honey").formula_id
    text = bench.get(f"/formulas/{formula}/kit/").content.decode()
    assert "No line of this formula keeps dry in a bag" in text
