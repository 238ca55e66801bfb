"""The page of one published card: HTML that loads nothing but what lies beside it."""

import datetime as dt
from base64 import b64encode
from collections.abc import Iterable

from setwell.documents.html_parts import Html, document, element, joined, listed
from setwell.documents.published_card import (
    PDF_NAME,
    RECIPE_NAME,
    ChangeNote,
    PublishedCard,
)
from setwell.documents.published_recipe import recipe_text
from setwell.documents.published_sections import (
    Pictures,
    allergens_section,
    cautions_section,
    lots_section,
    numbers_section,
    nutrition_section,
    open_points_section,
    phase_part,
    picture_part,
    section,
    sources_section,
    steps_section,
    storage_section,
)
from setwell.documents.published_style import STYLE
from setwell.units import date_print

HOME = "../../index.html"


def published_page(published: PublishedCard) -> str:
    """Return the page of a card, with its recipe as JSON-LD inside."""
    recipe = Html(f'<script type="application/ld+json">{recipe_text(published)}</script>')
    head = joined([_described(published), _alternates(published), recipe])
    back = element("a", "All cards", href=HOME)
    links = joined(
        [back, " · ", element("a", "PDF", href=PDF_NAME), " · ",
         element("a", "Recipe data (JSON-LD)", href=RECIPE_NAME)]
    )  # fmt: skip
    return document(
        published.card.title,
        element("nav", links, class_="aside screen", aria_label="This card"),
        element("main", *card_article(published, _beside(published))),
        head=head,
        style=STYLE,
    )


def shared_page(published: PublishedCard) -> str:
    """Return the card for somebody who got a link: no other page, nothing for search engines."""
    robots = element("meta", name="robots", content="noindex, nofollow, noarchive")
    return document(
        published.card.title,
        element("main", *card_article(published, _inside(published))),
        head=robots,
        style=STYLE,
    )


def withdrawn_page(title: str, *, on: dt.date, reason: str) -> str:
    """Return what stands where a card was: that it was withdrawn, when and why."""
    head = element("meta", name="robots", content="noindex")
    why = element("p", f"Why: {reason}", dir="auto") if reason else Html()
    return document(
        f"Withdrawn: {title}",
        element(
            "main",
            element("h1", title, dir="auto"),
            element(
                "div",
                element("p", f"This card was withdrawn on {date_print(on)}."),
                why,
                element("p", "Do not work from a copy of it that you kept."),
                class_="note stop",
            ),
            element("p", element("a", "All cards", href=HOME)),
        ),
        head=head,
        style=STYLE,
    )


def card_article(published: PublishedCard, pictures: Pictures) -> tuple[Html, ...]:
    """Return the card itself, section by section; what is empty is left out."""
    card = published.card
    parts = (
        _head(published),
        picture_part(card.photo, pictures),
        open_points_section(card) if card.must_stop else Html(),
        allergens_section(card),
        section("Ingredients", *(phase_part(phase) for phase in card.phases)),
        _bullets("What must happen", card.critical_points),
        steps_section(card, pictures),
        _bullets("How to tell it went right", card.success_signs),
        Html() if card.must_stop else open_points_section(card),
        storage_section(card),
        cautions_section(card),
        lots_section(card),
        numbers_section(card),
        nutrition_section(published),
        section("Notes", *(element("p", row, dir="auto") for row in card.notes.splitlines())),
        _changes(published.changes),
        sources_section(card),
        _foot(published),
    )
    return tuple(part for part in parts if part)


def _bullets(title: str, points: tuple[str, ...]) -> Html:
    return section(title, listed(points)) if points else Html()


def _described(published: PublishedCard) -> Html:
    return element("meta", name="description", content=published.description)


def _alternates(published: PublishedCard) -> Html:
    links = [
        element("link", rel="alternate", type="application/pdf", href=PDF_NAME),
        element("link", rel="alternate", type="application/ld+json", href=RECIPE_NAME),
    ]
    if published.address:
        links.append(element("link", rel="canonical", href=published.address))
    return joined(links)


def _head(published: PublishedCard) -> Html:
    card = published.card
    facts = [card.yield_line, card.goal]
    facts += [f"serve at {card.serving_temperature}"] if card.serving_temperature else []
    return element(
        "header",
        element("h1", card.title, dir="auto"),
        element("p", " · ".join(fact for fact in facts if fact)),
        element(
            "p",
            f"{card.kitchen_name} · version {published.number}, "
            f"{date_print(published.published.date())} · ",
            element("code", card.short_hash),
            class_="aside",
        ),
    )


def _changes(notes: tuple[ChangeNote, ...]) -> Html:
    if not any(note.lines or note.remark for note in notes):
        return Html()
    return section("Changes", *(part for note in notes for part in _change(note)))


def _change(note: ChangeNote) -> Iterable[Html]:
    yield element("h3", f"Version {note.number}, {date_print(note.date)}")
    if note.remark:
        yield element("p", note.remark, dir="auto")
    if note.lines:
        yield listed(note.lines)


def _foot(published: PublishedCard) -> Html:
    card = published.card
    return element(
        "footer",
        element("p", card.remark, class_="aside"),
        element("p", "Content ", element("code", card.content_hash), class_="aside"),
    )


def _beside(published: PublishedCard) -> Pictures:
    return {photo.id: photo.file_name for photo in published.photos}


def _inside(published: PublishedCard) -> Pictures:
    """A shared page stands alone, so its pictures are in it."""
    return {
        photo.id: f"data:image/jpeg;base64,{b64encode(photo.data).decode()}"
        for photo in published.photos
    }
