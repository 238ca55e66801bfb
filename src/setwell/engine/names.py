"""From the name on a kitchen line to the names the tables know."""

import difflib
import re
from collections.abc import Iterable, Mapping

_PUNCTUATION = re.compile(r"[^\w%&+'-]+")
# Words that say how a thing is, not what it is. "raw" and "cooked" stay: they change the food.
_DESCRIPTORS = frozenset(
    {
        "a", "best", "chilled", "chopped", "coarsely", "cold", "diced", "finely",
        "filtered", "fresh", "freshly", "good", "grated", "hot", "loose", "melted",
        "organic", "peeled", "plain", "powdered", "pressed", "refined", "ripe", "sifted",
        "sliced", "softened", "some", "squeezed", "strained", "the", "very", "warm"
    }
)  # fmt: skip
_NEAREST = 20


def name_normalize(name: str) -> str:
    """Return a name in the form the alias tables use: lower case, single spaces."""
    return _PUNCTUATION.sub(" ", name.casefold()).strip()


def name_forms(name: str) -> Iterable[str]:
    """Yield the forms of a name to look up, the most literal first."""
    normal = name_normalize(name)
    words = normal.split()
    yield normal
    yield from _singulars(words)
    bare = [word for word in words if word not in _DESCRIPTORS]
    if bare and bare != words:
        yield " ".join(bare)
        yield from _singulars(bare)


def _singulars(words: list[str]) -> Iterable[str]:
    if not words:
        return
    last = words[-1]
    for ending, replacement in (("ies", "y"), ("oes", "o"), ("ves", "f"), ("es", ""), ("s", "")):
        if last.endswith(ending) and len(last) > len(ending) + 2:
            yield " ".join([*words[:-1], last[: -len(ending)] + replacement])


def name_find(name: str, known: Mapping[str, str]) -> str | None:
    """Return what a name stands for in `known`, or None."""
    return next((known[form] for form in name_forms(name) if form in known), None)


def names_nearest(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return the known names closest to an unknown one, best first."""
    normal = name_normalize(name)[:60]
    pool = list(known)
    words = [word for word in normal.split() if word not in _DESCRIPTORS and len(word) > 2]
    close = difflib.get_close_matches(normal, pool, n=_NEAREST, cutoff=0.6)
    sharing = [other for other in pool if words and words[-1] in other.split()]
    sharing.sort(key=lambda other: (-len(set(words) & set(other.split())), len(other)))
    return tuple(dict.fromkeys([*close, *sharing]))[:_NEAREST]
