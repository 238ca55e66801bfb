"""The page of one published card: HTML that loads nothing but what lies beside it."""

import datetime as dt
from collections.abc import Iterable

from setwell.documents.card import Card, CardPhase, CardPoint
from setwell.documents.html_parts import Html, document, element, joined, listed
from setwell.documents.published_card import (
    DRAFT,
    PDF_NAME,
    RECIPE_NAME,
    ChangeNote,
    PublishedCard,
)
from setwell.documents.published_recipe import recipe_text
from setwell.documents.published_style import STYLE

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
        element("main", *card_article(published)),
        head=head,
        style=STYLE,
    )


def shared_page(published: PublishedCard) -> str:
    """Return the card for somebody who got a link: no other page, nothing for search engines."""
    robots = element("meta", name="robots", content="noindex, nofollow, noarchive")
    return document(
        published.card.title,
        element("main", *card_article(published)),
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
                element("p", f"This card was withdrawn on {date_text(on)}."),
                why,
                element("p", "Do not work from a copy of it that you kept."),
                class_="note stop",
            ),
            element("p", element("a", "All cards", href=HOME)),
        ),
        head=head,
        style=STYLE,
    )


def card_article(published: PublishedCard) -> tuple[Html, ...]:
    """Return the card itself, section by section; what is empty is left out."""
    card = published.card
    sections = (
        _head(published),
        _open_points(card) if card.must_stop else Html(),
        _photos(published),
        _allergens(card),
        _section("Ingredients", *(_phase(phase) for phase in card.phases)),
        _section("What must happen", listed(card.critical_points) if card.critical_points else ""),
        _section("Method", _steps(card)),
        _section("How to tell it went right", listed(card.success_signs)
                 if card.success_signs else ""),
        Html() if card.must_stop else _open_points(card),
        _cautions(card),
        _numbers(card),
        _nutrition(published),
        _section("Notes", *(element("p", row, dir="auto") for row in card.notes.splitlines())),
        _changes(published.changes),
        _foot(published),
    )  # fmt: skip
    return tuple(section for section in sections if section)


def date_text(day: dt.date) -> str:
    """Return a day as every reader of English reads it the same."""
    return f"{day.day} {day:%B %Y}"


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
            f"{date_text(published.published.date())} · ",
            element("code", card.short_hash),
            class_="aside",
        ),
    )


def _photos(published: PublishedCard) -> Html:
    return joined(
        element("p", element("img", src=photo.file_name, alt=photo.alt or published.card.title))
        for photo in published.photos
    )


def _section(title: str, *inside: str) -> Html:
    content = joined(inside)
    return element("section", element("h2", title), content) if content else content


def _phase(phase: CardPhase) -> Html:
    rows = (
        element(
            "tr",
            element("td", line.weight, class_="weight"),
            element("td", line.us, class_="us"),
            element(
                "td",
                element("strong", line.text) if line.is_agent else line.text,
                f" ({line.percent})" if line.percent else "",
                dir="auto",
            ),
        )
        for line in phase.lines
    )
    heads = (element("th", name, scope="col") for name in ("Weight", "US", "Ingredient"))
    title = element("h3", phase.heading, dir="auto") if phase.heading else Html()
    table = element("table", element("thead", element("tr", *heads)), element("tbody", *rows))
    return joined([title, element("div", table, class_="scroll")])


def _steps(card: Card) -> Html:
    if not card.steps:
        return Html()
    return listed(
        (
            joined([step.text, element("span", f" [{step.temperature}]", class_="aside")])
            if step.temperature
            else step.text
            for step in card.steps
        ),
        "ol",
    )


def _open_points(card: Card) -> Html:
    if not card.open_points:
        return Html()
    title = "Do not make it like this yet" if card.must_stop else "Open points"
    kind = "note stop" if card.must_stop else "note"
    return element(
        "section", element("h2", title), listed(_point(point) for point in card.open_points),
        class_=kind,
    )  # fmt: skip


def _point(point: CardPoint) -> str:
    title = point.title.rstrip(".")
    return " ".join(part for part in (f"{title}.", point.text, point.action) if part)


def _allergens(card: Card) -> Html:
    found = "; ".join(card.allergens)
    said = (
        f"Allergens: {found}."
        if found
        else "No declarable allergen is known; read each supplier’s label."
    )
    diets = f"By its ingredients: {'; '.join(card.diets)}." if card.diets else ""
    return _section("Allergens and diets", *(element("p", row) for row in (said, diets) if row))


def _cautions(card: Card) -> Html:
    rows = (
        element("p", element("strong", f"{caution.title.rstrip('.')}."), f" {caution.text}")
        for caution in card.cautions
    )
    content = joined([element("h2", "Cautions"), *rows, element("p", card.deferral)])
    return element("section", content, class_="note")


def _numbers(card: Card) -> Html:
    if not card.key_numbers:
        return Html()
    rows = [(item.label, item.value, item.range, item.grade) for item in card.key_numbers]
    return _section("Key numbers", _table(("", "Value", "Range", "Grade"), rows))


def _nutrition(published: PublishedCard) -> Html:
    told = published.nutrition
    if told is None:
        return Html()
    rows = [(label, amount) for _, label, amount in told.amounts]
    missing = f" Not known, so not shown: {', '.join(told.left_out)}." if told.left_out else ""
    return _section(
        "Nutrition",
        _table(("", f"In {told.serving}"), rows),
        element("p", f"{DRAFT}{missing}", class_="aside"),
    )


def _table(heads: Iterable[str], rows: Iterable[Iterable[str]]) -> Html:
    top = (element("th", head, scope="col") if head else element("td") for head in heads)
    body = (
        element("tr", element("th", first, scope="row"), *(element("td", cell) for cell in rest))
        for first, *rest in (tuple(row) for row in rows)
    )
    table = element("table", element("thead", element("tr", *top)), element("tbody", *body))
    return element("div", table, class_="scroll")


def _changes(notes: tuple[ChangeNote, ...]) -> Html:
    if not any(note.lines or note.remark for note in notes):
        return Html()
    return _section("Changes", *(part for note in notes for part in _change(note)))


def _change(note: ChangeNote) -> Iterable[Html]:
    yield element("h3", f"Version {note.number}, {date_text(note.date)}")
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
