"""Names of files and addresses that are safe on every system and every web server."""

import re
import unicodedata
from collections.abc import Container
from urllib.parse import urlsplit

from setwell.errors import InputError

_LONGEST = 60
# Names that Windows keeps for devices, with or without an ending.
_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)")
_SAFE_PART = re.compile(r"[a-z0-9][a-z0-9_-]*(\.[a-z0-9]+)*")
ADDRESS_LIMIT = 300


def page_name(title: str, *, content_hash: str, taken: Container[str] = ()) -> str:
    """Return a name for the folder of a card: lower-case letters, digits and hyphens.

    >>> page_name("Crème / ../Brûlée", content_hash="0f" * 32)
    'creme-brulee'
    """
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode()
    name = re.sub(r"[^a-z0-9]+", "-", plain.casefold()).strip("-")[:_LONGEST].strip("-")
    if not name or _RESERVED.fullmatch(name):
        name = f"card-{name or content_hash[:8]}"
    unique, count = name, 1
    while unique in taken:
        count += 1
        unique = f"{name}-{count}"
    return unique


def is_safe_path(path: str) -> bool:
    """Return whether a path inside a folder can neither leave it nor upset a file system.

    >>> is_safe_path("cards/milk/index.html"), is_safe_path("../x"), is_safe_path("/etc/x")
    (True, False, False)
    """
    return all(_SAFE_PART.fullmatch(part) for part in path.split("/"))


def address_check(text: str) -> str:
    """Return the address of a web folder with one slash at its end; "" stays "".

    >>> address_check("https://kitchen.example/cards")
    'https://kitchen.example/cards/'
    """
    address = text.strip()
    if not address:
        return ""
    try:
        parts = urlsplit(address)
        is_whole = parts.scheme in {"http", "https"} and bool(parts.hostname)
    except ValueError:
        is_whole = False
        parts = urlsplit("")
    is_odd = (
        parts.query
        or parts.fragment
        or "@" in parts.netloc
        or re.search(r"[\s\x00-\x1f\x7f<>\"'\\]", address)
    )
    if not is_whole or is_odd or len(address) > ADDRESS_LIMIT:
        raise InputError(
            f"“{address[:60]}” is not the address of a web folder.",
            field="address",
            hint="Write it like https://kitchen.example/cards/ or leave it empty.",
        )
    return address.rstrip("/") + "/"
