"""The folder of published cards: whole, valid, and never outside itself."""

import io
import json
import zipfile
from pathlib import Path

import pytest
from schema_org_terms import faults_of
from strict_html import attributes_of, parsed, text_of

from setwell.domain.formula import formula_make
from setwell.errors import InputError, SetwellError
from setwell.services import formulas
from setwell.services.publishing import publications
from setwell.services.publishing.site import site_write, site_zip, snippet_of
from setwell.services.publishing.site_folder import MARKER, folder_write

pytestmark = pytest.mark.django_db
LINES = "700 g whole milk\n60 g sugar\n5.5 g kappa carrageenan"
STEPS = "Mix powder and sugar into the cold milk\nHeat to 90 °C and hold 2 min, stirring\nChill"
ADDRESS = "https://kitchen.example/c/"


def published(title="Milk blocks", **fields):
    given = {"title": title, "ingredients": LINES, "steps": STEPS, "portions": 8, **fields}
    formula_id = formulas.formula_create(formula=formula_make(**given)).formula_id
    publications.card_publish(formula_id=formula_id)
    return formula_id


def names_in(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def test_folder_holds_every_page_and_every_link_in_it_leads_to_a_file(tmp_path):
    published()
    published("../../Über <b>alles</b>")
    site = tmp_path / "site"
    seen = []
    report = site_write(folder=site, address=ADDRESS, tell=lambda one: seen.append(one.done))
    assert (report.cards, report.withdrawn, report.problems, seen) == (2, 0, [], [1, 2])
    assert {"index.html", "feed.xml", "feed.json", "agents/index.html", MARKER} <= names_in(site)
    assert {path.name for path in tmp_path.iterdir()} == {"site"}
    for page in site.rglob("*.html"):
        tree = parsed(page.read_text(encoding="utf-8"))
        for link in (*attributes_of(tree, "href"), *attributes_of(tree, "src")):
            if not link.startswith(("#", ADDRESS)):
                target = (page.parent / link).resolve()
                assert target.is_file(), (page, link)
                assert target.is_relative_to(site)


def test_recipe_data_in_the_folder_fit_the_vocabulary(tmp_path):
    published()
    site_write(folder=tmp_path / "site")
    recipe = tmp_path / "site" / "cards" / "milk-blocks" / "recipe.jsonld"
    assert faults_of(json.loads(recipe.read_text(encoding="utf-8"))) == []
    assert (recipe.parent / "card.pdf").read_bytes().startswith(b"%PDF")


def test_without_an_address_there_are_no_feeds(tmp_path):
    published()
    report = site_write(folder=tmp_path / "site")
    assert not report.has_feeds
    assert "feed.xml" not in names_in(tmp_path / "site")


def test_a_withdrawn_card_leaves_only_its_note(tmp_path):
    formula_id = published()
    site_write(folder=tmp_path / "site", address=ADDRESS)
    publications.card_withdraw(formula_id=formula_id, reason="Wrong dose")
    report = site_write(folder=tmp_path / "site", address=ADDRESS)
    place = tmp_path / "site" / "cards" / "milk-blocks"
    assert (report.cards, report.withdrawn) == (0, 1)
    assert [path.name for path in place.iterdir()] == ["index.html"]
    said = text_of(parsed((place / "index.html").read_text(encoding="utf-8")))
    assert "Why: Wrong dose" in said
    assert "milk-blocks" not in (tmp_path / "site" / "feed.json").read_text(encoding="utf-8")


def test_a_pdf_whose_words_did_not_change_is_taken_over(tmp_path):
    published()
    first = site_write(folder=tmp_path / "site")
    pdf = tmp_path / "site" / "cards" / "milk-blocks" / "card.pdf"
    before = pdf.read_bytes()
    second = site_write(folder=tmp_path / "site")
    assert (first.kept_pdfs, second.kept_pdfs) == (0, 1)
    assert pdf.read_bytes() == before
    assert site_write(folder=tmp_path / "site", address=ADDRESS).kept_pdfs == 0


@pytest.mark.parametrize("inside", ["recipe.txt", "cards/notes.txt", ".git/config"])
def test_a_folder_with_other_files_is_refused_and_unchanged(tmp_path, inside):
    published()
    site_write(folder=tmp_path / "site")
    foreign = tmp_path / "site" / inside
    foreign.parent.mkdir(parents=True, exist_ok=True)
    foreign.write_text("mine", encoding="utf-8")
    before = names_in(tmp_path / "site")
    with pytest.raises(InputError, match="not published from here") as caught:
        site_write(folder=tmp_path / "site")
    assert caught.value.field == "folder"
    assert foreign.read_text(encoding="utf-8") == "mine"
    assert names_in(tmp_path / "site") == before


def test_files_and_links_are_no_folders(tmp_path):
    (tmp_path / "file").write_text("x", encoding="utf-8")
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    for name in ("file", "link"):
        with pytest.raises(InputError):
            site_write(folder=tmp_path / name)
    for place in (Path("/"), Path.home()):
        with pytest.raises(InputError):
            site_write(folder=place)


def test_when_writing_fails_the_old_folder_stays(tmp_path):
    published()
    site = tmp_path / "site"
    site_write(folder=site)
    before = names_in(site)

    def failing():
        yield "index.html", b"new"
        raise OSError(28, "No space left on device")

    with pytest.raises(SetwellError, match="No space left"):
        folder_write(site, failing(), keys={})
    assert names_in(site) == before
    assert {path.name for path in tmp_path.iterdir()} == {"site"}


@pytest.mark.parametrize("name", ["../out.txt", "/out.txt", "a/../../b", "cards/../x"])
def test_no_file_leaves_the_folder(tmp_path, name):
    with pytest.raises(SetwellError, match="not a safe name"):
        folder_write(tmp_path / "site", [(name, b"x")], keys={})
    assert list(tmp_path.iterdir()) == []


def test_the_folder_comes_as_one_file_too():
    published()
    with zipfile.ZipFile(io.BytesIO(site_zip())) as archive:
        assert archive.testzip() is None
        assert "cards/milk-blocks/index.html" in archive.namelist()


def test_a_snippet_needs_a_page_and_an_address():
    formula_id = published()
    assert snippet_of(formula_id=formula_id) == ""
    publications.address_save(address=ADDRESS)
    assert f'src="{ADDRESS}cards/milk-blocks/"' in snippet_of(formula_id=formula_id)
    publications.card_withdraw(formula_id=formula_id)
    assert snippet_of(formula_id=formula_id) == ""
