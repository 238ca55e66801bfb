"""Feeds of published cards: RSS 2.0 and JSON Feed 1.1. Both need to know where they stand."""

import datetime as dt
import json
from email.utils import format_datetime
from html import escape

from setwell.documents.html_parts import Html, clean_text, element, joined
from setwell.documents.published_card import PublishedCard
from setwell.documents.published_index import JSON_FEED_NAME, RSS_NAME, SiteHead

# A reader asks often; the newest are enough.
MOST = 50


def rss_feed(head: SiteHead, cards: tuple[PublishedCard, ...]) -> str:
    """Return the newest cards as RSS 2.0."""
    # An address may hold an ampersand.
    place = escape(f"{head.address}{RSS_NAME}")
    itself = f'<atom:link href="{place}" rel="self" type="application/rss+xml"/>'
    newest = max((card.published for card in cards), default=None)
    channel = joined(
        [
            element("title", head.title),
            _told("link", head.address),
            element("description", f"Cards of {head.title}"),
            Html(itself),
            element("lastBuildDate", _moment(newest)) if newest else Html(),
            *(_item(head, card) for card in cards[:MOST]),
        ]
    )
    return (
        '<?xml version="1.0" encoding="utf-8"?>\n'
        '<rss version="2.0" xmlns:atom="http://www.w3.org/2005/Atom">'
        f"<channel>{channel}</channel></rss>\n"
    )


def json_feed(head: SiteHead, cards: tuple[PublishedCard, ...]) -> str:
    """Return the newest cards as JSON Feed 1.1."""
    feed = {
        "version": "https://jsonfeed.org/version/1.1",
        "title": clean_text(head.title),
        "home_page_url": head.address,
        "feed_url": f"{head.address}{JSON_FEED_NAME}",
        "items": [
            {
                "id": card_identity(card),
                "url": _place(head, card),
                "title": clean_text(card.card.title),
                "content_text": clean_text(_summary(card)),
                "date_published": card.first_published.isoformat(),
                "date_modified": card.published.isoformat(),
            }
            for card in cards[:MOST]
        ],
    }
    return json.dumps(feed, ensure_ascii=False, indent=1) + "\n"


def card_identity(card: PublishedCard) -> str:
    """Return a name that stays with this version of the card wherever its folder stands."""
    return f"urn:sha256:{card.card.content_hash}"


def _item(head: SiteHead, card: PublishedCard) -> Html:
    return element(
        "item",
        element("title", card.card.title),
        _told("link", _place(head, card)),
        element("description", _summary(card)),
        element("guid", card_identity(card), isPermaLink="false"),
        element("pubDate", _moment(card.published)),
    )


def _told(name: str, text: str) -> Html:
    # In HTML this element is empty; in a feed it holds an address.
    return Html(f"<{name}>{joined([text])}</{name}>")


def _summary(card: PublishedCard) -> str:
    newest = next((note for note in card.changes if note.number == card.number), None)
    changed = " ".join(newest.lines) if newest else ""
    parts = (card.description, newest.remark if newest else "", changed)
    return " ".join(part for part in parts if part)


def _place(head: SiteHead, card: PublishedCard) -> str:
    return f"{head.address}cards/{card.name}/"


def _moment(moment: dt.datetime) -> str:
    return format_datetime(moment.astimezone(dt.UTC), usegmt=True)
