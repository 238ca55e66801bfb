"""What is said of a reading: where it was in doubt, and what was left out."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ReadingNote:
    """One remark on how a file was read; `field` names the setting that corrects it."""

    code: str
    text: str
    action: str = ""
    field: str = ""
    is_doubt: bool = False
    # The columns that it is about, from 1, where it is about some only.
    columns: tuple[int, ...] = ()
