"""A verdict of the safety engine: pass, fail or cannot tell, with margin and rule."""

from dataclasses import dataclass
from enum import StrEnum

from setwell.provenance import Estimate, Evidence

# Said with every verdict.
DEFERRAL = (
    "A kitchen aid, not a certificate: your local code and your food-safety plan decide, and a "
    "probe in the coldest spot proves it."
)


class Ruling(StrEnum):
    """What a rule says of a course."""

    PASS = "pass"  # noqa: S105 - a verdict, not a password
    FAIL = "fail"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True)
class SafetyCheck:
    """One rule applied to one course.

    `margin` is positive on the safe side, in the unit it names: minutes, °C or log reductions.
    """

    key: str
    topic: str
    title: str
    ruling: Ruling
    text: str
    action: str
    margin: Estimate | None
    section: str
    edition: str
    place: str
    evidence: Evidence = ()
