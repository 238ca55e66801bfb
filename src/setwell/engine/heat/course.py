"""The temperature of one place over time, computed or measured."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from setwell.provenance import Evidence, evidence_join

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Course:
    """A broken line of temperature over time with its range.

    `seconds` (p,) rise; `celsius`, `low_c` and `high_c` have shape (p,). Of a measured course
    the range is the error of the probe, and no width means that it is not known.
    """

    place: str
    seconds: Array
    celsius: Array
    low_c: Array
    high_c: Array
    is_measured: bool = False
    model: str = ""
    evidence: Evidence = ()
    # What a computed course leaves out that could make it worse; nothing passes on it alone.
    left_out: str = ""

    def at(self, seconds: Array) -> "Course":
        """Return the course read at other times; before and after it the ends stay."""
        return replace(
            self,
            seconds=seconds,
            celsius=np.interp(seconds, self.seconds, self.celsius),
            low_c=np.interp(seconds, self.seconds, self.low_c),
            high_c=np.interp(seconds, self.seconds, self.high_c),
        )


def coldest_of(courses: tuple[Course, ...]) -> Course:
    """Return the coldest of several places at every moment: what safety counts when heating.

    Between two moments the straight line lies below the coldest of two lines: the safe side.
    """
    return _extreme(courses, np.min, "coldest place")


def warmest_of(courses: tuple[Course, ...]) -> Course:
    """Return the warmest of several places at every moment: what counts when cooling.

    Between two moments the straight line lies above the warmest of two lines: the safe side.
    """
    return _extreme(courses, np.max, "warmest place")


def _extreme(courses: tuple[Course, ...], pick: Callable[..., Array], place: str) -> Course:
    if len(courses) == 1:
        return courses[0]
    start = max(one.seconds[0] for one in courses)
    end = min(one.seconds[-1] for one in courses)
    seconds = np.unique(np.concatenate([one.seconds for one in courses]))
    seconds = seconds[(seconds >= start) & (seconds <= end)]
    read = [one.at(seconds) for one in courses]
    return Course(
        place,
        seconds,
        pick(np.stack([one.celsius for one in read]), axis=0),
        pick(np.stack([one.low_c for one in read]), axis=0),
        pick(np.stack([one.high_c for one in read]), axis=0),
        is_measured=all(one.is_measured for one in courses),
        model=courses[0].model,
        evidence=evidence_join(one.evidence for one in courses),
        left_out=next((one.left_out for one in courses if one.left_out), ""),
    )
