"""The folder of published cards, file by file."""

import hashlib
import io
import json
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass, field
from importlib.resources import files
from pathlib import Path

from setwell.documents.published_card import PAGE_NAME, PDF_NAME, RECIPE_NAME, PublishedCard
from setwell.documents.published_chart import usage_page
from setwell.documents.published_feeds import json_feed, rss_feed
from setwell.documents.published_index import (
    CHART_PLACE,
    JSON_FEED_NAME,
    RSS_NAME,
    SiteHead,
    embed_snippet,
    index_page,
)
from setwell.documents.published_page import published_page, withdrawn_page
from setwell.documents.published_recipe import recipe_text
from setwell.errors import InputError, SetwellError
from setwell.services.cards import card_pdf
from setwell.services.publishing.pages import published_card
from setwell.services.publishing.publications import address_get
from setwell.services.publishing.site_folder import KeptFiles, folder_kept, folder_write
from setwell.services.publishing.usage import usage_chart
from setwell.services.shelves import kitchen_read
from setwell.store.publication_rows import StoredPublication, publication_row, publication_rows

# Setting one page as PDF takes some 50 ms; somebody who waits for a page gets no more than this.
ZIP_MOST = 60


@dataclass(frozen=True, slots=True)
class SiteProgress:
    """How many cards are written, of how many."""

    done: int
    total: int


@dataclass(slots=True)
class SiteReport:
    """What was written; `problems` name the cards that could not be, and why."""

    cards: int = 0
    withdrawn: int = 0
    files: int = 0
    size: int = 0
    has_feeds: bool = False
    kept_pdfs: int = 0
    problems: list[str] = field(default_factory=list)


Tell = Callable[[SiteProgress], None]


def site_write(*, folder: Path, address: str | None = None, tell: Tell | None = None) -> SiteReport:
    """Write all published cards into a folder; the folder is replaced as a whole, or not at all."""
    kept = folder_kept(folder)
    report = SiteReport()
    made = _site_files(report, _head(address), kept, tell or _silent)
    folder_write(folder, _counted(report, made), keys=kept.new_keys)
    return report


def folder_check(folder: Path) -> None:
    """Refuse a folder that cannot be replaced, before anything else is done."""
    folder_kept(folder)


def site_zip(*, address: str | None = None) -> bytes:
    """Return the folder as one ZIP file."""
    count = len(publication_rows())
    if count > ZIP_MOST:
        raise InputError(
            f"{count} cards are too many to wait for on a page.",
            hint="Write the folder with the command `setwell publish FOLDER`.",
        )
    report, packed = SiteReport(), io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in _site_files(report, _head(address), KeptFiles(), _silent):
            archive.writestr(name, data)
    if report.problems:
        raise SetwellError(" ".join(report.problems))
    return packed.getvalue()


def snippet_of(*, formula_id: int) -> str:
    """Return HTML that shows a published card in another page; "" without page or address."""
    page, address = publication_row(formula_id=formula_id), address_get()
    if page is None or page.withdrawn_at is not None or not address:
        return ""
    return embed_snippet(page.name, page.newest.title, address=address)


def _silent(_progress: SiteProgress) -> None:
    return None


def _head(address: str | None) -> SiteHead:
    return SiteHead(kitchen_read().name, address_get() if address is None else address)


def _site_files(
    report: SiteReport, head: SiteHead, kept: KeptFiles, tell: Tell
) -> Iterator[tuple[str, bytes]]:
    pages = publication_rows()
    shown: list[PublishedCard] = []
    for done, page in enumerate(pages, start=1):
        if page.withdrawn_at is not None:
            report.withdrawn += 1
            yield _withdrawn(page)
        else:
            try:
                card = published_card(page, address=head.address)
                made = list(_card_files(card, kept))
            except SetwellError as error:
                report.problems.append(f"“{page.newest.title}” was left out: {error}")
            else:
                shown.append(card)
                yield from made
        tell(SiteProgress(done, len(pages)))
    report.cards, report.kept_pdfs = len(shown), kept.used
    report.has_feeds = bool(head.address)
    yield from _whole_site(head, tuple(shown))


def _whole_site(head: SiteHead, cards: tuple[PublishedCard, ...]) -> Iterator[tuple[str, bytes]]:
    yield PAGE_NAME, index_page(head, cards).encode()
    yield CHART_PLACE, usage_page(usage_chart()).encode()
    if head.address:
        yield RSS_NAME, rss_feed(head, cards).encode()
        yield JSON_FEED_NAME, json_feed(head, cards).encode()


def _withdrawn(page: StoredPublication) -> tuple[str, bytes]:
    assert page.withdrawn_at is not None  # noqa: S101 - asked by the caller
    text = withdrawn_page(page.newest.title, on=page.withdrawn_at.date(), reason=page.reason)
    return f"cards/{page.name}/{PAGE_NAME}", text.encode()


def _card_files(card: PublishedCard, kept: KeptFiles) -> Iterator[tuple[str, bytes]]:
    place = f"cards/{card.name}/"
    yield f"{place}{PAGE_NAME}", published_page(card).encode()
    yield f"{place}{RECIPE_NAME}", recipe_text(card).encode()
    key = _pdf_key(card)
    pdf = kept.take(f"{place}{PDF_NAME}", key) or card_pdf(card=card.card)
    yield f"{place}{PDF_NAME}", pdf
    for photo in card.photos:
        yield f"{place}{photo.file_name}", photo.data


def _pdf_key(card: PublishedCard) -> str:
    """Return what a PDF depends on: its words, and how it is set."""
    layout = files("setwell.documents").joinpath("card.typ").read_bytes()
    content = json.dumps(asdict(card.card), sort_keys=True, default=repr)
    made_of = hashlib.sha256(layout + content.encode(errors="replace"))
    for photo in card.photos:
        made_of.update(photo.data)
    return made_of.hexdigest()


def _counted(report: SiteReport, made: Iterator[tuple[str, bytes]]) -> Iterator[tuple[str, bytes]]:
    for name, data in made:
        report.files += 1
        report.size += len(data)
        yield name, data
