"""The three answers of the engine, and the codes its arrays carry them in."""

from enum import StrEnum


class Verdict(StrEnum):
    """An answer that may also be: we cannot tell."""

    YES = "yes"
    NO = "no"
    CANNOT_TELL = "cannot tell"


_VERDICTS = {1: Verdict.YES, 0: Verdict.CANNOT_TELL, -1: Verdict.NO}


def verdict(code: int) -> Verdict:
    """Return the verdict behind a code."""
    return _VERDICTS[int(code)]
