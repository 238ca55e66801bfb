"""What a computed pot hands on to the texture engine: temperatures of its three zones."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.history import History

Array = NDArray[np.float64]

# A point of the steps this near their hottest one is part of the heating [K].
_SAME_K = 0.5
_ZONES = 3
# What goes in warm, this far below the pot's heat, and is not warmed again comes after it [K].
_COOLED_K, _ROOM_C = 3.0, 25.0


class ZoneCourse(NamedTuple):
    """One kitchen's pot: minutes from the start, and °C at bottom, core and surface."""

    minutes: tuple[float, ...]
    bottom: tuple[float, ...]
    core: tuple[float, ...]
    surface: tuple[float, ...]

    @property
    def zones(self) -> Array:
        """The three zones, (3, p)."""
        return np.array([self.bottom, self.core, self.surface])


@dataclass(frozen=True, slots=True)
class PotCourse:
    """A pot from the start to the end of its hold, in a middling, the worst and the best kitchen.

    All candidates of a batch share it. Before and after it the steps tell as ever.
    """

    middle: ZoneCourse
    worst: ZoneCourse
    best: ZoneCourse
    target_c: float

    @property
    def cases(self) -> tuple[ZoneCourse, ZoneCourse, ZoneCourse]:
        """Middle, worst and best."""
        return self.middle, self.worst, self.best


def zones_joined(course: ZoneCourse, steps: History) -> tuple[Array, Array]:
    """Return minutes (p,) and zone temperatures (3, p) of an agent from the moment it goes in.

    `steps` is the history that the steps tell from that moment on. What they say up to the end
    of the hottest stay is replaced by the pot, from the moment it is as warm as the steps have
    it then; what follows is the steps' again, and no zone warms up in it.
    """
    end = _heating_ends(steps, max(course.bottom))
    if end is None:
        return steps.minutes, np.repeat(steps.celsius[None], _ZONES, axis=0)
    wait, enters_c = _cold_wait(steps, float(course.bottom[0]), end)
    minutes, zones = _from_warmth(course, enters_c)
    times, parts = [wait + minutes], [zones]
    if wait > 0:
        times.insert(0, np.array([0.0]))
        parts.insert(0, np.full((_ZONES, 1), float(steps.celsius[0])))
    later = steps.minutes > steps.minutes[end]
    if later.any():
        times.append(times[-1][-1] + steps.minutes[later] - steps.minutes[end])
        parts.append(np.minimum(zones[:, -1:], steps.celsius[later]))
    return np.concatenate(times), np.concatenate(parts, axis=1)


def _heating_ends(steps: History, pot_c: float) -> int | None:
    """Return the last of the hottest points; None where nothing is heated any more."""
    hottest, enters = float(steps.celsius.max()), float(steps.celsius[0])
    has_been_hot = hottest <= enters + _SAME_K and _ROOM_C < enters < pot_c - _COOLED_K
    if has_been_hot:
        return None
    last = int(np.flatnonzero(steps.celsius >= hottest - _SAME_K)[-1])
    return None if last == 0 else last


def _cold_wait(steps: History, start_c: float, end: int) -> tuple[float, float]:
    """Return the minutes before the pot is heated, and how warm it is when the agent goes in."""
    enters = float(steps.celsius[0])
    if enters > start_c + _SAME_K:
        return 0.0, enters
    cold = np.flatnonzero(steps.celsius[: end + 1] <= start_c + _SAME_K)
    return float(steps.minutes[cold[-1]]), start_c


def _from_warmth(course: ZoneCourse, enters_c: float) -> tuple[Array, Array]:
    """Return the part of a pot's course from the moment its bottom is this warm."""
    minutes, zones = np.array(course.minutes), course.zones
    warm = np.flatnonzero(zones[0] >= enters_c)
    # Warmer than the pot ever gets: it goes in at the end.
    first = int(warm[0]) if len(warm) else len(minutes) - 1
    return minutes[first:] - minutes[first], zones[:, first:]
