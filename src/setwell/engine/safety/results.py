"""A verdict of the safety engine: pass, fail or cannot tell, with margin and rule."""

from dataclasses import dataclass
from enum import StrEnum

from setwell.provenance import Estimate, Evidence

# Said with every verdict.
DEFERRAL = (
    "A kitchen aid, not a certificate: your local code and your food-safety plan decide. A probe "
    "proves it, in the coldest spot when heating and in the warmest when cooling."
)


class Ruling(StrEnum):
    """What a rule says of a course."""

    PASS = "pass"  # noqa: S105 - a verdict, not a password
    FAIL = "fail"
    CANNOT_TELL = "cannot tell"


class Basis(StrEnum):
    """Who asks for it: only law counts in the overall verdict."""

    LAW = "law"
    PLANT = "law for plants that pasteurize"
    TARGET = "target, not US law"
    INFORMATION = "information"


@dataclass(frozen=True, slots=True)
class RowRuling:
    """One row of a rule that offers several; one of them is enough.

    `degrees` is how much warmer [°C] the course was than the row asks, held for its time;
    `minutes` how much longer it was held. Below zero it fell short; None: not to be told.
    """

    key: str
    needs: str
    ruling: Ruling
    degrees: Estimate | None
    minutes: Estimate | None
    evidence: Evidence = ()
    # Decimal reductions, where the row is a pathogen in a medium.
    logs: Estimate | None = None


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
    basis: Basis = Basis.LAW
    # True where the course was computed: a pass then still wants a probe.
    is_computed: bool = False
    rows: tuple[RowRuling, ...] = ()
    deferral: str = DEFERRAL
