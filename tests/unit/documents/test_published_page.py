"""Published pages are valid, whole by themselves, and say what the card says."""

import datetime as dt
import json

import pytest
from builders_published import MOMENT, published_of
from strict_html import attributes_of, parsed, text_of

from setwell.documents.published_card import ChangeNote, PublishedPhoto
from setwell.documents.published_chart import UsageCell, UsageChart, UsageRow, usage_page
from setwell.documents.published_index import SiteHead, embed_snippet, index_page
from setwell.documents.published_page import published_page, shared_page, withdrawn_page
from setwell.provenance import Citation, Grade

NASTY = '<script>alert("x")</script> & “ends” \x00\ufffe'


def references(tree):
    return [*attributes_of(tree, "href"), *attributes_of(tree, "src")]


def test_page_is_valid_html_and_says_everything_that_is_on_the_card():
    published = published_of()
    said = text_of(parsed(published_page(published)))
    card = published.card
    wanted = [card.title, card.yield_line, card.content_hash, card.deferral, *card.allergens]
    wanted += [line.name for phase in card.phases for line in phase.lines]
    wanted += [line.weight for phase in card.phases for line in phase.lines]
    wanted += [step.text for step in card.steps]
    wanted += [note.text for step in card.steps for note in step.why]
    wanted += [note.text for note in card.storage]
    wanted += [source.text for source in card.sources]
    wanted += [caution.text for caution in card.cautions]
    wanted += [*card.critical_points, *card.success_signs, "Step added: Chill"]
    assert [part for part in wanted if " ".join(part.split()) not in said] == []


def test_page_loads_nothing_from_elsewhere_and_leads_nowhere_outside_its_folder():
    photo = PublishedPhoto(1, b"")
    tree = parsed(published_page(published_of(photos=(photo,))))
    assert sorted(set(references(tree))) == [
        "../../index.html", "card.pdf", "photo-1.jpg", "recipe.jsonld",
    ]  # fmt: skip
    assert [script.attrib for script in tree.iter("script")] == [{"type": "application/ld+json"}]


def test_page_holds_its_recipe():
    tree = parsed(published_page(published_of()))
    (script,) = tree.iter("script")
    assert json.loads(script.text)["@type"] == "Recipe"


@pytest.mark.parametrize(
    "title", [NASTY, "كريمة الورد", "蛋白霜 🌹", "x" * 120, "a" * 60 + "\u202e"]
)
def test_odd_titles_survive_and_stay_text(title):
    published = published_of(title=title.replace("\x00", "").replace("\ufffe", "") or "x")
    for page in (published_page(published), index_page(SiteHead(NASTY), (published,))):
        tree = parsed(page)
        assert published.card.title in text_of(tree)
        assert all(script.get("type") == "application/ld+json" for script in tree.iter("script"))


def test_a_stop_stands_before_the_ingredients():
    published = published_of("500 g whole milk", "2 g moonstone powder")
    said = text_of(parsed(published_page(published)))
    assert said.index("Do not make it like this yet") < said.index("Ingredients")


def test_shared_page_shows_the_card_alone_and_asks_not_to_be_found():
    tree = parsed(shared_page(published_of()))
    assert references(tree) == []
    robots = [meta.get("content") for meta in tree.iter("meta") if meta.get("name") == "robots"]
    assert robots == ["noindex, nofollow, noarchive"]


def test_shared_page_carries_its_photo_in_itself():
    tree = parsed(shared_page(published_of(photos=(PublishedPhoto(1, b"jpeg"),))))
    (image,) = tree.iter("img")
    assert image.get("src") == "data:image/jpeg;base64,anBlZw=="
    assert image.get("alt") == "The dish: A white block, cut"


def test_withdrawn_page_says_when_and_why_and_holds_no_recipe():
    page = withdrawn_page("Milk blocks", on=dt.date(2026, 4, 1), reason="Milk was missing <i>")
    tree = parsed(page)
    said = text_of(tree)
    assert "withdrawn on 1 Apr 2026" in said
    assert "Milk was missing <i>" in said
    assert "ld+json" not in page
    assert "noindex" in page


def test_index_lists_cards_and_offers_feeds_only_with_an_address():
    card = published_of()
    alone = parsed(index_page(SiteHead("Bench"), (card,)))
    assert "cards/milk-blocks/index.html" in references(alone)
    assert "feed.xml" not in references(alone)
    told = parsed(index_page(SiteHead("Bench", "https://kitchen.example/"), (card,)))
    assert {"feed.xml", "feed.json"} <= set(references(told))
    assert "No card is published yet." in text_of(parsed(index_page(SiteHead("Bench"), ())))


def test_snippet_is_one_frame_with_a_link_for_where_frames_are_off():
    snippet = embed_snippet("milk-blocks", "A & B", address="https://kitchen.example/")
    tree = parsed(
        f"<!DOCTYPE html><html><head><title>x</title></head><body>{snippet}</body></html>"
    )
    (frame,) = tree.iter("iframe")
    assert frame.get("src") == "https://kitchen.example/cards/milk-blocks/"
    assert frame.get("title") == "Card: A & B"
    assert "https://kitchen.example/cards/milk-blocks/" in (frame.text or "")


def test_changes_of_every_published_version_are_told():
    changes = (
        ChangeNote(2, MOMENT.date(), ("Step added: Chill",), "Sets more surely."),
        ChangeNote(1, MOMENT.date(), ()),
    )
    said = text_of(parsed(published_page(published_of(changes=changes))))
    assert "Version 2, 5 Mar 2026 Sets more surely. Step added: Chill" in said


def test_chart_gives_each_statement_its_grade_and_its_source():
    seen = Citation("a_paper", "Table 2", Grade.MEASURED)
    recalled = Citation("common_practice", "no source", Grade.UNVERIFIED)
    chart = UsageChart(
        ("Dose", "Sets"),
        (UsageRow("Agar", (UsageCell("0.2 to 1 %", (seen,)), UsageCell("35 °C", (seen, recalled)))),
         UsageRow("Konjac", (UsageCell(""), UsageCell("no")))),
        {"a_paper": "Somebody, 1970. On agar"},
    )  # fmt: skip
    tree = parsed(usage_page(chart))
    said = text_of(tree)
    assert "0.2 to 1 % measured [1]" in said
    assert "35 °C unverified [1] [2]" in said
    assert "Konjac not known" in said
    assert "Somebody, 1970. On agar. Table 2 (measured)" in said
    marks = {link for link in references(tree) if link.startswith("#")}
    assert {mark.removeprefix("#") for mark in marks} <= set(attributes_of(tree, "id"))
