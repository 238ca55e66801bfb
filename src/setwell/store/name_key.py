"""When two names count as the same name."""

import unicodedata


def name_key(name: str) -> str:
    """Return the form of a name by which it is compared: no case, no width, single spaces."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())
