"""Publish a version of a formula, take it back, and tell what is published."""

from dataclasses import dataclass

from setwell.documents.published_changes import change_lines
from setwell.documents.qr_code import ADDRESS_MOST
from setwell.engine.assessment import Severity
from setwell.errors import ConflictError, InputError, NotFoundError
from setwell.services.assessment import formula_assess
from setwell.services.clock import now
from setwell.services.formulas import VersionDetail, version_compare, version_get
from setwell.services.publishing.names import address_check, page_name
from setwell.services.publishing.times import times_of
from setwell.store.publication_rows import (
    StoredPublication,
    StoredPublishing,
    StoredShareLink,
    publication_names,
    publication_row,
    publication_rows,
    publication_withdraw,
    publishing_add,
    share_links_revoke,
)
from setwell.store.settings_rows import setting_get, setting_put
from setwell.store.transactions import writing

__all__ = [
    "PublishState",
    "StoredPublication",
    "StoredPublishing",
    "StoredShareLink",
    "address_get",
    "address_of_page",
    "address_save",
    "card_publish",
    "card_withdraw",
    "publication_list",
    "publish_state",
]

REMARK_LIMIT, REASON_LIMIT = 1_000, 500
_ADDRESS = "site_address"


@dataclass(frozen=True, slots=True)
class PublishState:
    """What is published of a formula, and what publishing its newest version would change.

    `obstacles` say why the newest version cannot be published; `changes` are those since the
    version that is published now.
    """

    publication: StoredPublication | None
    newest_number: int
    obstacles: tuple[str, ...]
    changes: tuple[str, ...]

    @property
    def is_public(self) -> bool:
        """True while a page of it is published."""
        return self.publication is not None and self.publication.withdrawn_at is None

    @property
    def is_newest_public(self) -> bool:
        """True when the newest version is the one on the page."""
        page = self.publication
        return self.is_public and page is not None and page.newest.number == self.newest_number


def publication_list() -> tuple[StoredPublication, ...]:
    """Return all pages, the last published first; withdrawn ones too."""
    return publication_rows()


def publish_state(*, formula_id: int) -> PublishState:
    """Return what is published of one formula and what could be."""
    detail = version_get(formula_id=formula_id)
    page = publication_row(formula_id=formula_id)
    number = detail.summary.number
    return PublishState(page, number, _obstacles(detail), _changes(page, formula_id, number))


def card_publish(
    *, formula_id: int, number: int | None = None, remark: str = ""
) -> StoredPublication:
    """Publish a version, without a number the newest; the page keeps its name for good."""
    if len(remark) > REMARK_LIMIT:
        raise InputError(
            f"The remark has {len(remark):,} characters; at most {REMARK_LIMIT:,} fit.",
            field="remark",
        )
    detail = version_get(formula_id=formula_id, number=number)
    obstacles = _obstacles(detail)
    if obstacles:
        raise InputError(
            f"“{detail.formula.title}” cannot be published yet: {' '.join(obstacles)}",
            hint="Correct that on the bench, save, and publish the new version.",
        )
    wanted = detail.summary.number
    # Computed before the database is held, as heating and cooling take a moment.
    times = times_of(formula=detail.formula, formula_id=formula_id, number=wanted)
    changes = _changes(publication_row(formula_id=formula_id), formula_id, wanted)
    with writing():
        page = publication_row(formula_id=formula_id)
        _not_twice(page, wanted)
        name = page.name if page else _name(detail)
        publishing_add(
            formula_id=formula_id, number=wanted, name=name, changes=changes, times=times,
            remark=remark.replace("\x00", "").strip(), moment=now(),
        )  # fmt: skip
    return _found(formula_id)


def card_withdraw(
    *, formula_id: int, reason: str = "", keeps_links: bool = False
) -> StoredPublication:
    """Take a page back; the next folder holds a note in its place, and why.

    Its share links end too, unless they are kept: what is wrong on the page is wrong behind them.
    """
    if len(reason) > REASON_LIMIT:
        raise InputError(
            f"The reason has {len(reason):,} characters; at most {REASON_LIMIT:,} fit.",
            field="reason",
        )
    with writing():
        page = publication_row(formula_id=formula_id)
        if page is None or page.withdrawn_at is not None:
            raise ConflictError("No page of this formula is published, so none was withdrawn.")
        moment = now()
        publication_withdraw(
            formula_id=formula_id, reason=reason.replace("\x00", "").strip(), moment=moment
        )
        if not keeps_links:
            share_links_revoke(formula_id=formula_id, moment=moment)
    return _found(formula_id)


def address_get() -> str:
    """Return the address where the folder stands on the web; "" while it is not known."""
    return setting_get(_ADDRESS)


def address_of_page(*, formula_id: int, number: int | None) -> str:
    """Return where a version stands on the web; "" unless the page shows this very version."""
    page, folder = publication_row(formula_id=formula_id), address_get()
    if page is None or page.withdrawn_at is not None or page.newest.number != number or not folder:
        return ""
    address = f"{folder}cards/{page.name}/"
    return address if len(address) <= ADDRESS_MOST else ""


def address_save(*, address: str) -> str:
    """Save where the folder will stand; feeds and snippets need it."""
    checked = address_check(address)
    with writing():
        setting_put(_ADDRESS, checked)
    return checked


def _found(formula_id: int) -> StoredPublication:
    page = publication_row(formula_id=formula_id)
    if page is None:
        raise NotFoundError("This formula was never published.")
    return page


def _obstacles(detail: VersionDetail) -> tuple[str, ...]:
    """Return what would hurt somebody who follows the card, or leaves them without an answer."""
    summary = detail.summary
    assessment = formula_assess(
        formula=detail.formula, formula_id=summary.formula_id, number=summary.number
    )
    if not assessment.lines:
        return ("It has no ingredients.",)
    unread = [line.number for line in assessment.lines if line.grams is None]
    found = [f"Line {number} could not be read." for number in unread]
    found += [
        f"{finding.title.rstrip('.')}."
        for finding in assessment.findings
        if finding.severity is Severity.STOP
    ]
    return tuple(dict.fromkeys(found))


def _changes(page: StoredPublication | None, formula_id: int, number: int) -> tuple[str, ...]:
    if page is None or page.newest.number == number:
        return ()
    return change_lines(
        version_compare(formula_id=formula_id, first=page.newest.number, second=number)
    )


def _not_twice(page: StoredPublication | None, number: int) -> None:
    if page is not None and page.withdrawn_at is None and page.newest.number == number:
        raise ConflictError(f"Version {number} is published already; nothing was changed.")


def _name(detail: VersionDetail) -> str:
    return page_name(
        detail.formula.title, content_hash=detail.summary.hash, taken=publication_names()
    )
