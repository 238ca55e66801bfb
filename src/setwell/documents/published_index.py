"""The front page of a published folder, and the snippet that puts a card into another page."""

from dataclasses import dataclass

from setwell.documents.html_parts import Html, document, element, joined
from setwell.documents.published_card import PublishedCard
from setwell.documents.published_style import STYLE
from setwell.units import date_print

RSS_NAME, JSON_FEED_NAME = "feed.xml", "feed.json"
CHART_PLACE = "agents/index.html"


@dataclass(frozen=True, slots=True)
class SiteHead:
    """What all pages of a folder share; `address` is where it will stand, "" while unknown."""

    title: str
    address: str = ""


def index_page(head: SiteHead, cards: tuple[PublishedCard, ...]) -> str:
    """Return the list of all cards, the newest first."""
    entries = joined(_entry(card) for card in cards)
    nothing = element("p", "No card is published yet.")
    chart = element("a", "Texture agents side by side", href=CHART_PLACE)
    return document(
        head.title,
        element(
            "main",
            element("h1", head.title, dir="auto"),
            element("p", chart),
            entries or nothing,
        ),
        head=_feeds(head),
        style=STYLE,
    )


def embed_snippet(name: str, title: str, *, address: str) -> str:
    """Return HTML that shows the card inside another page, with a link where frames are off."""
    place = f"{address}cards/{name}/"
    link = element("a", title, href=place)
    return element(
        "iframe",
        link,
        src=place,
        title=f"Card: {title}",
        loading="lazy",
        width="100%",
        height="800",
        style="border:0",
        sandbox="allow-popups allow-top-navigation-by-user-activation",
    )


def _entry(published: PublishedCard) -> Html:
    card = published.card
    place = f"cards/{published.name}/index.html"
    day = date_print(published.published.date())
    return element(
        "article",
        element("h2", element("a", card.title, href=place), dir="auto"),
        element("p", published.description),
        element("p", f"Version {published.number}, {day}", class_="aside"),
    )


def _feeds(head: SiteHead) -> Html:
    if not head.address:
        return Html()
    return joined(
        element("link", rel="alternate", type=kind, title=head.title, href=name)
        for kind, name in (
            ("application/rss+xml", RSS_NAME),
            ("application/feed+json", JSON_FEED_NAME),
        )
    )
