"""Links that show one card to whoever has them: nothing else, and not for good."""

import datetime as dt
import secrets

from setwell.documents.published_page import shared_page
from setwell.errors import InputError, NotFoundError
from setwell.services.clock import now
from setwell.services.formulas import version_get
from setwell.services.publishing.pages import card_for_page
from setwell.store.publication_rows import (
    StoredShareLink,
    share_link_add,
    share_link_revoke,
    share_link_row,
    share_link_rows,
)
from setwell.store.transactions import writing

# 256 bits: nobody guesses it in the life of a kitchen.
_BYTES = 32
DAYS_MOST = 365
NOTE_LIMIT = 120


def share_create(
    *, formula_id: int, number: int | None = None, days: int | None = 30, note: str = ""
) -> StoredShareLink:
    """Return a new link to one version; without days it holds until it is revoked."""
    if days is not None and not 1 <= days <= DAYS_MOST:
        raise InputError(
            f"{days} days are not possible: choose 1 to {DAYS_MOST}, or no end.", field="days"
        )
    if len(note) > NOTE_LIMIT:
        raise InputError(f"The note is longer than {NOTE_LIMIT} characters.", field="note")
    wanted = version_get(formula_id=formula_id, number=number).summary.number
    moment = now()
    with writing():
        return share_link_add(
            formula_id=formula_id, number=wanted, token=secrets.token_urlsafe(_BYTES),
            note=note.replace("\x00", "").strip(), moment=moment,
            expires_at=None if days is None else moment + dt.timedelta(days=days),
        )  # fmt: skip


def share_list(*, formula_id: int) -> tuple[StoredShareLink, ...]:
    """Return all links of a formula, the newest first."""
    return share_link_rows(formula_id=formula_id)


def share_revoke(*, formula_id: int, link_id: int) -> None:
    """End a link at once."""
    with writing():
        share_link_revoke(formula_id=formula_id, link_id=link_id, moment=now())


def share_is_open(link: StoredShareLink) -> bool:
    """Return whether a link still shows its card."""
    is_late = link.expires_at is not None and link.expires_at <= now()
    return link.revoked_at is None and not is_late


def share_page(*, token: str) -> str:
    """Return the page behind a link; a wrong, ended or revoked one all look the same."""
    link = share_link_row(token=token) if len(token) < 100 else None
    if link is None or not share_is_open(link):
        raise NotFoundError("There is no card at this address.")
    saved = version_get(formula_id=link.formula_id, number=link.number).summary.saved_at
    card = card_for_page(
        formula_id=link.formula_id, number=link.number, name="", first=saved, published=saved
    )
    return shared_page(card)
