"""The door of shared cards: it shows a card to who has its link, and knows nothing else.

No framework stands behind it: no cookies, no forms, no other address.
"""

import base64
import hashlib
import logging
import re
from collections.abc import Callable, Iterable
from typing import Any

from setwell.documents.published_style import STYLE
from setwell.errors import NotFoundError
from setwell.services.publishing.share import share_page

Start = Callable[[str, list[tuple[str, str]]], Any]

_PLACE = re.compile(r"/links/([A-Za-z0-9_-]{20,99})/?")
_NOTHING = "There is no card at this address. Ask whoever gave you the link for a new one.\n"
_log = logging.getLogger(__name__)


def shared_headers() -> list[tuple[str, str]]:
    """Return what every answer says: keep nothing, find nothing, run nothing, tell nobody."""
    style = base64.b64encode(hashlib.sha256(STYLE.encode()).digest()).decode()
    policy = (
        f"default-src 'none'; style-src 'sha256-{style}'; img-src data:; "
        "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )
    return [
        ("Content-Type", "text/html; charset=utf-8"),
        ("Content-Security-Policy", policy),
        ("X-Robots-Tag", "noindex, nofollow, noarchive"),
        ("Referrer-Policy", "no-referrer"),
        ("Cache-Control", "no-store"),
        ("X-Content-Type-Options", "nosniff"),
    ]


def share_door(environ: dict[str, Any], start: Start) -> Iterable[bytes]:
    """Answer one request."""
    if environ.get("REQUEST_METHOD") not in {"GET", "HEAD"}:
        return _plain(start, "405 Method Not Allowed", "Only reading is possible here.\n")
    place = _PLACE.fullmatch(str(environ.get("PATH_INFO", "")))
    if place is None:
        return _plain(start, "404 Not Found", _NOTHING)
    try:
        page = share_page(token=place[1])
    except NotFoundError:
        return _plain(start, "404 Not Found", _NOTHING)
    except Exception:
        _log.exception("A shared card could not be shown.")
        return _plain(start, "500 Internal Server Error", "The card could not be shown.\n")
    return _answer(start, "200 OK", page.encode(), shared_headers())


def _plain(start: Start, status: str, said: str) -> Iterable[bytes]:
    kept = [pair for pair in shared_headers() if pair[0] != "Content-Type"]
    headers = [("Content-Type", "text/plain; charset=utf-8"), *kept]
    return _answer(start, status, said.encode(), headers)


def _answer(
    start: Start, status: str, body: bytes, headers: list[tuple[str, str]]
) -> Iterable[bytes]:
    start(status, [*headers, ("Content-Length", str(len(body)))])
    return [body]
