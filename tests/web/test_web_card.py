"""The card as page, PDF and text."""

import pytest

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
