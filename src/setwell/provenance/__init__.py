"""Where a number comes from: grades, sources, evidence and estimates."""

from setwell.provenance.bibliography import Source, bibliography_parse
from setwell.provenance.estimate import Estimate
from setwell.provenance.evidence import Citation, Evidence, evidence_join
from setwell.provenance.grade import Grade, grade_worst

__all__ = [
    "Citation",
    "Estimate",
    "Evidence",
    "Grade",
    "Source",
    "bibliography_parse",
    "evidence_join",
    "grade_worst",
]
