"""The card as page, PDF and text."""

import re
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from setwell.services import formulas

pytestmark = pytest.mark.django_db


@pytest.fixture
def path(saved):
    """The card of one formula."""
    return f"/formulas/{saved().formula_id}/card/"


def test_the_card_shows_weights_steps_and_the_deferral(bench, path):
    page = bench.get(path).content.decode()
    assert "700 g" in page
    assert "Heat to 90 °C" in page
    assert "does not certify" in page
    assert "version 1" in page


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5"])
def test_each_paper_has_its_print_style_and_pdf(bench, path, paper):
    page = bench.get(path, {"paper": paper}).content.decode()
    assert f"css/paper-{paper}.css" in page
    answer = bench.get(f"{path}card.pdf", {"paper": paper})
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    assert 'filename="milk-blocks-card.pdf"' in answer["Content-Disposition"]


def test_the_card_as_text(bench, path):
    answer = bench.get(f"{path}card.txt")
    assert answer["Content-Type"].startswith("text/plain")
    assert "kappa carrageenan" in answer.content.decode()


def test_an_unknown_paper_or_version_is_explained(bench, path):
    answer = bench.get(f"{path}card.pdf", {"paper": "napkin"})
    assert answer.status_code == 400
    assert "There is no paper “napkin”" in answer.content.decode()
    assert bench.get(path, {"paper": "napkin"}).status_code == 200
    assert bench.get(path, {"version": "9"}).status_code == 404
    assert bench.get(path, {"version": "x"}).status_code == 400
    assert bench.get("/formulas/99/card/").status_code == 404


def test_a_title_from_another_script_still_gives_a_file(bench, saved):
    one = saved(title="凍らせたミルク <b>")
    answer = bench.get(f"/formulas/{one.formula_id}/card/card.txt")
    assert answer.status_code == 200
    assert "<b>" not in bench.get(f"/formulas/{one.formula_id}/card/").content.decode()


AGAR = {"ingredients": "300 g water\n60 g sugar\n4 g agar", "title": "Blocks"}
AGAR["steps"] = "Mix the agar with the sugar, dry.\nBoil for 3 min.\nChill at 4 °C for 2 h."


@pytest.fixture
def blocks(saved):
    """The card of an agar formula with steps."""
    return f"/formulas/{saved(**AGAR).formula_id}/card/"


def photo(color: str = "teal", form: str = "JPEG") -> SimpleUploadedFile:
    drawn = BytesIO()
    Image.new("RGB", (320, 240), color).save(drawn, form)
    return SimpleUploadedFile("../../dish.jpg", drawn.getvalue(), "image/jpeg")


def put(bench, blocks, **fields):
    return bench.post(f"{blocks}photos/", {"step": "0", "caption": "", "file": photo(), **fields})


def test_the_kinds_show_more_and_more(bench, blocks):
    home, pro, shelf = (
        bench.get(blocks, {"kind": kind}).content.decode() for kind in ("home", "pro", "bench")
    )
    assert "Key numbers" not in home
    assert "With another lot" not in home
    assert "Key numbers" in pro
    assert "With another lot" in pro
    assert 'class="slot"' not in pro
    assert shelf.count('class="slot"') == 4
    for page in (home, pro, shelf):
        assert "Cautions" in page
        assert "5 °C (41 °F) or colder" in page
        assert "Why: Sugar keeps the grains of agar apart" in page
        assert "◆</span> Dissolve" in page
        assert "does not certify" in page


def test_an_unknown_kind_gives_the_usual_card_and_says_so(bench, blocks):
    page = bench.get(blocks, {"kind": "gold"}).content.decode()
    assert "Please correct this first" in page
    assert "Key numbers" in page
    assert bench.get(f"{blocks}card.pdf", {"kind": "gold"}).status_code == 400


def test_the_qr_code_and_the_hash_name_this_version(bench, blocks):
    page = bench.get(blocks).content.decode()
    assert f'aria-label="QR code of http://testserver{blocks}?version=1"' in page
    detail = formulas.version_get(formula_id=int(blocks.split("/")[2]))
    assert detail.summary.hash in page
    given = bench.get(blocks, {"address": "https://cards.example/blocks/"}).content.decode()
    assert 'aria-label="QR code of https://cards.example/blocks/"' in given


def test_a_weaker_lot_has_its_dose_on_page_text_and_files(bench, blocks):
    page = bench.get(blocks, {"strength_agar": "0,5"}).content.decode()
    assert "5.66 g" in page
    assert "Agar: strength of your lot" in page
    assert "strength_agar=0%2C5" in page
    text = bench.get(f"{blocks}card.txt", {"strength_agar": "0.5"}).content.decode()
    assert "5.66 g  yours" in text


@pytest.mark.parametrize("typed", ["9", "-1", "0", "many", "nan"])
def test_a_strength_that_is_none_is_told_at_its_field_and_kept(bench, blocks, typed):
    answer = bench.get(blocks, {"strength_agar": typed, "kind": "bench"})
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "Agar: strength of your lot</a>:" in page
    assert f'value="{typed}"' in page
    assert "write a number from 0.3 to 3" in page
    assert bench.get(f"{blocks}card.pdf", {"strength_agar": typed}).status_code == 400


def test_a_lot_of_an_agent_that_is_gone_no_longer_counts(bench, blocks):
    assert bench.get(blocks, {"strength_gelatin": "0.8"}).status_code == 200


def test_a_bad_address_is_told_at_its_field(bench, blocks):
    page = bench.get(blocks, {"address": "javascript:alert(1)"}).content.decode()
    assert "does not begin with http:// or https://" in page
    assert "QR code of http://testserver" in page


def test_the_phone_column_is_a_file(bench, blocks):
    answer = bench.get(f"{blocks}card.pdf", {"paper": "Phone", "kind": "home"})
    assert answer.content.startswith(b"%PDF")
    assert bench.get(blocks, {"paper": "Phone"}).status_code == 200


def test_a_photo_goes_onto_the_card_and_off_again(bench, blocks):
    assert put(bench, blocks, step="2", caption="A rolling <b>boil</b>").status_code == 302
    page = bench.get(blocks).content.decode()
    address = re.search(r'src="([^"]+photos/\d+\.jpg)"', page)[1]
    assert "A rolling &lt;b&gt;boil&lt;/b&gt; (version 1)" in page
    picture = bench.get(address)
    assert picture["Content-Type"] == "image/jpeg"
    assert picture.content.startswith(b"\xff\xd8")
    assert "immutable" in picture["Cache-Control"]
    assert bench.get(f"{blocks}card.pdf").content.startswith(b"%PDF")
    remove = address.replace(".jpg", "/remove/")
    assert bench.get(remove).status_code == 405
    assert bench.post(remove).status_code == 302
    assert bench.get(address).status_code == 404
    assert ".jpg" not in bench.get(blocks).content.decode()


NO_PHOTOS = {
    "text": (b"not a photo", "cannot be read as a photo"),
    "empty": (b"", "The file is empty"),
    "drawing": (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "cannot be read as a photo"),
    "50 MB": (b"\xff" * 50_000_000, "has 50 MB; a photo may have 20 MB"),
}


@pytest.mark.parametrize("name", list(NO_PHOTOS))
def test_what_is_no_photo_is_told_at_its_field_and_the_rest_is_kept(bench, blocks, name):
    data, told = NO_PHOTOS[name]
    file = SimpleUploadedFile("dish.jpg", data, "image/jpeg")
    answer = put(bench, blocks, file=file, caption="kept words", step="2")
    page = answer.content.decode()
    assert answer.status_code == 400
    assert told in page
    assert 'value="kept words"' in page
    assert '<option value="2" selected>' in page


def test_a_photo_without_a_file_or_of_no_step_is_refused(bench, blocks):
    answer = bench.post(f"{blocks}photos/", {"step": "0"})
    assert "Choose a photo." in answer.content.decode()
    for step in ("99", "-1", "x", ""):
        assert put(bench, blocks, step=step).status_code == 400
    page = put(bench, blocks, caption="x" * 300).content.decode()
    assert "The caption has 300 characters; at most 200 fit." in page


def test_photos_of_other_formulas_are_not_given_out(bench, blocks, saved):
    put(bench, blocks)
    address = re.search(r"photos/(\d+)\.jpg", bench.get(blocks).content.decode())[0]
    other = f"/formulas/{saved().formula_id}/card/"
    assert bench.get(f"{blocks}{address}").status_code == 200
    assert bench.get(f"{other}{address}").status_code == 404


def test_names_of_any_script_lead_from_their_own_side(bench, saved):
    title = "בלוק לימון"
    one = saved(title=title, ingredients="300 g water\n4 g agar\n10 g מיץ לימון")
    page = bench.get(f"/formulas/{one.formula_id}/card/").content.decode()
    assert f'<h2 id="card-title" dir="auto">{title}</h2>' in page
    assert '<td dir="auto">' in page


def test_a_photo_too_large_to_be_looked_at_is_refused_by_the_size_it_says(bench, blocks):
    answer = bench.post(f"{blocks}photos/", {"step": "0"}, CONTENT_LENGTH="900000000")
    assert answer.status_code == 413
    assert "send a smaller photo" in answer.content.decode()


def test_the_page_and_the_text_of_a_card_use_the_same_headings(bench, saved):
    formula_id = saved(steps="Mix powder and sugar\nHeat to 90 °C and hold 2 min\nChill").formula_id
    page = bench.get(f"/formulas/{formula_id}/card/").content.decode()
    told = bench.get(f"/formulas/{formula_id}/card/card.txt").content.decode().lower()
    for heading in ("What must happen", "How to tell it went right"):
        assert f"<h3>{heading}</h3>" in page
        assert heading.lower() in told


def test_a_step_without_a_photo_offers_to_add_one(bench, saved):
    formula_id = saved(steps="Mix\nChill").formula_id
    page = bench.get(f"/formulas/{formula_id}/card/photos/").content.decode()
    assert 'href="?step=2"' in page
