"""A number with its range, unit and origin."""

from dataclasses import dataclass

from setwell.provenance.evidence import Evidence
from setwell.provenance.grade import Grade, grade_worst


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value that knows its range and where it comes from.

    `low` and `high` bound what we expect in other kitchens; None means unknown on that side
    (a nutrient that was never analyzed leaves `high` open: the value is then "at least").
    """

    value: float
    unit: str
    low: float | None
    high: float | None
    model: str
    evidence: Evidence = ()
    flags: tuple[str, ...] = ()

    @property
    def grade(self) -> Grade:
        """The worst grade of what went in."""
        return grade_worst(citation.grade for citation in self.evidence)

    @property
    def is_lower_bound(self) -> bool:
        """True when something unknown could only make the value larger."""
        return self.high is None and self.low is not None
