"""Typed text made readable: one form for each digit, space, dash and fraction."""

import re
import unicodedata
from functools import lru_cache

# Signs people type or paste for the same thing; compatibility folding would spoil these.
_SAME = {
    "º": "°",
    "˚": "°",
    "⁰": "°",
    "−": "-",
    "‐": "-",
    "‑": "-",
    "⁄": "/",
    "∕": "/",
    "٫": ".",
    "\t": " ",
    "\u034f": "",
    "\ufe0e": "",
    "\ufe0f": "",
}
_CONTROL = re.compile("[\x00-\x08\x0a-\x1f\x7f-\x9f\ud800-\udfff]")
_SPACES = re.compile(r"\s+")


def text_clean(text: str) -> str:
    """Return the text as read: plain digits and spaces, "½" as " 1/2", no invisible marks."""
    if not text.isascii():
        text = unicodedata.normalize("NFC", "".join(map(_character, text)))
    return _SPACES.sub(" ", text).strip()


def text_has_control(text: str) -> bool:
    """Return whether the text holds control characters (a tab is allowed)."""
    return _CONTROL.search(text) is not None


def text_quote(text: str, *, limit: int = 40) -> str:
    """Return the text in quotes, shortened, for use in a message."""
    short = text if len(text) <= limit else text[: limit - 1] + "…"
    return f'"{short}"'


@lru_cache(maxsize=4096)
def _character(char: str) -> str:
    if char in _SAME:
        return _SAME[char]
    category = unicodedata.category(char)
    if category == "Cf":
        return ""
    if category == "Nd":
        return str(unicodedata.decimal(char))
    folding = unicodedata.decomposition(char)
    if folding.startswith("<fraction>"):
        # The space keeps "1½" from turning into "11/2".
        return " " + unicodedata.normalize("NFKC", char).replace("⁄", "/")
    if folding.startswith(("<super>", "<sub>")):
        # "10²" must not turn into "102".
        return char
    return unicodedata.normalize("NFKC", char)
