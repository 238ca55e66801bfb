"""Read HTML strictly: every parse error of the standard's own algorithm counts."""

from typing import Any

import html5lib


def parsed(text: str) -> Any:
    """Return the tree of a page without namespaces; raises at the first error."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    return parser.parse(text)


def attributes_of(tree: Any, name: str) -> list[str]:
    """Return every value of one attribute in the page."""
    return [element.attrib[name] for element in tree.iter() if name in element.attrib]


def text_of(tree: Any) -> str:
    """Return all words of the page, with one space between them."""
    return " ".join(" ".join(tree.itertext()).split())
