"""HTML from text: everything that is not made here is escaped."""

import re
from collections.abc import Iterable
from html import escape

from setwell.units import unbroken

_VOID = frozenset({"img", "link", "meta", "br", "hr"})
# What neither HTML nor XML may hold: control characters, halves of pairs, non-characters.
_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")


class Html(str):
    """Text that is HTML already."""

    __slots__ = ()


def clean_text(text: str) -> str:
    """Return text without the characters that a page or a feed may not hold.

    >>> clean_text("Rose\\x00 cream")
    'Rose cream'
    """
    return _FORBIDDEN.sub("", text)


def element(name: str, /, *inside: str, **attributes: str) -> Html:
    """Return one element; plain text inside is escaped, an attribute with "" is left out.

    >>> element("p", "5 < 6 ", element("b", "g"), class_="aside")
    '<p class="aside">5 &lt; 6 <b>g</b></p>'
    """
    told = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(clean_text(value))}"'
        for key, value in attributes.items()
        if value
    )
    if name in _VOID:
        return Html(f"<{name}{told}>")
    return Html(f"<{name}{told}>{joined(inside)}</{name}>")


def joined(parts: Iterable[str]) -> Html:
    """Return parts behind one another, escaping those that are plain text."""
    return Html(
        "".join(
            part if isinstance(part, Html) else escape(unbroken(clean_text(part)), quote=False)
            for part in parts
        )
    )


def listed(items: Iterable[str], kind: str = "ul") -> Html:
    """Return a list; the direction of each entry is that of its own letters."""
    return element(kind, *(element("li", item, dir="auto") for item in items))


def document(title: str, *body: str, head: str = "", style: str = "") -> str:
    """Return a whole page that loads nothing from anywhere."""
    return (
        "<!DOCTYPE html>\n"
        + element(
            "html",
            element(
                "head",
                element("meta", charset="utf-8"),
                element("meta", name="viewport", content="width=device-width, initial-scale=1"),
                element("title", title),
                Html(head),
                element("style", Html(style)) if style else Html(),
            ),
            element("body", *body),
            lang="en",
        )
        + "\n"
    )
