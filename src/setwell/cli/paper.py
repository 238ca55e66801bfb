"""Papers that a card is printed on."""

from enum import StrEnum


class Paper(StrEnum):
    """Sizes of ISO 216, the letter of North America, and one narrow column for a phone."""

    A4 = "A4"
    A5 = "A5"
    LETTER = "Letter"
    PHONE = "Phone"


class SheetPaper(StrEnum):
    """Papers large enough for a bench sheet."""

    A4 = "A4"
    LETTER = "Letter"
