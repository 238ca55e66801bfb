"""How far a figure can be trusted."""

from collections.abc import Iterable
from enum import StrEnum


class Grade(StrEnum):
    """Grades from the most to the least trustworthy."""

    STANDARD = "standard"
    REVIEW = "review"
    MEASURED = "measured"
    COMPILED = "compiled"
    FITTED = "fitted"
    ESTIMATED = "estimated"
    UNVERIFIED = "unverified"

    @property
    def rank(self) -> int:
        """Position in the order of trust; 0 is best."""
        return list(Grade).index(self)

    @property
    def meaning(self) -> str:
        """One plain sentence for the person reading the number."""
        return _MEANINGS[self]


_MEANINGS = {
    Grade.STANDARD: "set by law, a standard or a reference body",
    Grade.REVIEW: "critically evaluated from several measurements",
    Grade.MEASURED: "measured and first published there",
    Grade.COMPILED: "from a handbook or data bank",
    Grade.FITTED: "our own fit to the cited data",
    Grade.ESTIMATED: "by analogy, rule of thumb or common practice",
    Grade.UNVERIFIED: "recalled, the source was not seen: check it on the bench",
}


def grade_worst(grades: Iterable[Grade]) -> Grade:
    """Return the least trustworthy grade; `unverified` when there is none at all."""
    return max(grades, key=lambda grade: grade.rank, default=Grade.UNVERIFIED)
