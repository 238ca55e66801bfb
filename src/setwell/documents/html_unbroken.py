"""Numbers and units kept together in the text of a page; tags and what is typed stay as is."""

import re

from setwell.units import unbroken

# Fields and code hold what was typed, drawings break no lines.
_LEFT = re.compile(
    r"(<(textarea|option|script|style|svg|pre|code|title)\b.*?</\2\s*>|<!--.*?-->|<[^>]*>)",
    re.DOTALL | re.IGNORECASE,
)


def html_unbroken(page: str) -> str:
    """Return HTML with no-break spaces between numbers and units.

    >>> html_unbroken('<p title="4 g">4 g<textarea>4 g</textarea></p>').replace("\\xa0", "_")
    '<p title="4 g">4_g<textarea>4 g</textarea></p>'
    """
    done, at = [], 0
    for kept in _LEFT.finditer(page):
        done += [unbroken(page[at : kept.start()]), kept[0]]
        at = kept.end()
    return "".join([*done, unbroken(page[at:])])
