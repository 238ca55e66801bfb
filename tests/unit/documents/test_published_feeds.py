"""Feeds of published cards can be read, and tell each version once."""

import datetime as dt
import json
from email.utils import parsedate_to_datetime
from xml.etree import ElementTree as ET

from builders_engine import assess_of
from builders_published import published_of

from setwell.documents.published_changes import change_lines
from setwell.documents.published_feeds import MOST, json_feed, rss_feed
from setwell.documents.published_index import SiteHead
from setwell.engine.difference import compare

HEAD = SiteHead("Tidewater <Bench>", "https://kitchen.example/")
ATOM = "{http://www.w3.org/2005/Atom}"


def test_rss_has_what_the_standard_requires():
    channel = ET.fromstring(rss_feed(HEAD, (published_of(title="A & B <i>"),)))[0]  # noqa: S314 - our own text
    assert channel.findtext("title") == "Tidewater <Bench>"
    assert channel.findtext("link") == "https://kitchen.example/"
    assert channel.findtext("description")
    assert channel.find(f"{ATOM}link").get("href") == "https://kitchen.example/feed.xml"
    (item,) = channel.findall("item")
    assert item.findtext("title") == "A & B <i>"
    assert item.findtext("link") == "https://kitchen.example/cards/milk-blocks/"
    assert item.find("guid").get("isPermaLink") == "false"
    assert parsedate_to_datetime(item.findtext("pubDate")).date() == dt.date(2026, 3, 6)
    assert "Step added: Chill" in item.findtext("description")


def test_json_feed_has_what_the_standard_requires():
    feed = json.loads(json_feed(HEAD, (published_of(),)))
    assert feed["version"] == "https://jsonfeed.org/version/1.1"
    (item,) = feed["items"]
    assert item["id"].startswith("urn:sha256:")
    assert item["url"].startswith("https://kitchen.example/cards/")
    assert dt.datetime.fromisoformat(item["date_published"]).tzinfo is not None
    assert "milk" in item["content_text"]


def test_another_version_is_another_entry():
    first, second = published_of(), published_of("500 g whole milk", "3 g kappa carrageenan")
    ids = {item["id"] for item in json.loads(json_feed(HEAD, (first, second)))["items"]}
    assert len(ids) == 2


def test_feeds_hold_the_newest_only():
    cards = (published_of(),) * (MOST + 5)
    assert len(json.loads(json_feed(HEAD, cards))["items"]) == MOST
    assert rss_feed(HEAD, cards).count("<item>") == MOST


def test_an_empty_feed_is_still_a_feed():
    assert ET.fromstring(rss_feed(HEAD, ()))[0].findall("item") == []  # noqa: S314 - our own text
    assert json.loads(json_feed(HEAD, ()))["items"] == []


def test_changes_tell_allergens_first_then_lines_and_steps():
    before = assess_of("500 g oat milk", "5 g kappa carrageenan", steps="Boil\nChill")
    after = assess_of("500 g whole milk", "5 g kappa carrageenan", "9 g salt", steps="Boil")
    found = change_lines(compare(before, after))
    assert found[0].startswith("Allergens before:")
    assert "milk" in found[0]
    assert "Ingredient changed: “500 g oat milk” is now “500 g whole milk”" in found
    assert "Ingredient added: 9 g salt" in found
    assert "Step left out: Chill" in found


def test_changes_tell_the_weight_behind_the_same_words():
    before = assess_of("500 g whole milk", "1% kappa carrageenan")
    after = assess_of("900 g whole milk", "1% kappa carrageenan")
    found = [line for line in change_lines(compare(before, after)) if "kappa" in line]
    assert any(": now " in line and ", before " in line for line in found)


def test_the_same_version_changes_nothing_and_notes_alone_are_said():
    one = assess_of("500 g whole milk")
    assert change_lines(compare(one, one)) == ()
    assert change_lines(compare(one, assess_of("500 g whole milk", notes="Rest it."))) == (
        "Only the notes changed.",
    )


def test_many_changes_are_counted():
    before = assess_of(*(f"{n + 1} g salt" for n in range(20)))
    found = change_lines(compare(before, assess_of("500 g whole milk")))
    assert found[-1].startswith("And ")
    assert len(found) == 13


def test_an_address_with_an_ampersand_leaves_the_feed_readable():
    head = SiteHead("Bench", "https://kitchen.example/a&b/")
    channel = ET.fromstring(rss_feed(head, (published_of(),)))[0]  # noqa: S314 - our own text
    assert channel.find(f"{ATOM}link").get("href") == "https://kitchen.example/a&b/feed.xml"
    assert channel.find("item").findtext("link").startswith("https://kitchen.example/a&b/cards/")
