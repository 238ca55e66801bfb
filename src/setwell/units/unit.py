"""What a unit is."""

from dataclasses import dataclass
from enum import StrEnum


class Dimension(StrEnum):
    """What a unit measures."""

    MASS = "mass"
    VOLUME = "volume"
    COUNT = "count"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit by its one name; `factor` turns it into g, mL or pieces.

    `is_assumed` is True where custom, not a standard, sets the size.
    """

    name: str
    plural: str
    dimension: Dimension
    factor: float
    is_assumed: bool = False
