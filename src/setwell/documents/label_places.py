"""Places for short labels beside their marks, so that none covers another."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

# Rings around a mark on which its label may stand, and directions, best first [drawing units].
_RINGS = (15.0, 17.0, 20.0, 24.0, 29.0, 35.0, 42.0, 50.0, 60.0, 72.0)
_TURNS = (-45.0, 45.0, -135.0, 135.0, 0.0, 180.0, -90.0, 90.0)
# From this ring on, a thin line joins label and mark.
_LEADER_FROM = 20.5
# What a unit of covered area costs against a unit of distance.
_COVER_COST = 10.0


@dataclass(frozen=True, slots=True)
class Box:
    """A part of the drawing that is taken."""

    left: float
    top: float
    right: float
    bottom: float

    def overlap(self, other: "Box") -> float:
        """Return the shared area."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        tall = min(self.bottom, other.bottom) - max(self.top, other.top)
        return wide * tall if wide > 0.0 and tall > 0.0 else 0.0

    @property
    def area(self) -> float:
        """Return the size of the box."""
        return (self.right - self.left) * (self.bottom - self.top)


@dataclass(frozen=True, slots=True)
class LabelPlace:
    """The middle of a label; `has_leader` where it stands too far off to be understood alone."""

    x: float
    y: float
    has_leader: bool


def box_around(x: float, y: float, width: float, height: float) -> Box:
    """Return the box of a size around a middle."""
    return Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)


def label_places(
    marks: Sequence[tuple[float, float]],
    widths: Sequence[float],
    height: float,
    taken: Iterable[Box],
    frame: Box,
) -> list[LabelPlace]:
    """Return a place for each mark's label, near it, inside the frame and on nothing taken."""
    boxes = list(taken)
    found = []
    for mark, width in zip(marks, widths, strict=True):
        x, y, ring = _best(mark, width, height, boxes, frame)
        boxes.append(box_around(x, y, width, height))
        found.append(LabelPlace(x, y, ring > _LEADER_FROM))
    return found


def _best(
    mark: tuple[float, float], width: float, height: float, taken: list[Box], frame: Box
) -> tuple[float, float, float]:
    """Return place and ring of one label; farther rings only where they can still be better."""
    best, least = (*mark, 0.0), math.inf
    for ring in _RINGS:
        if ring >= least:
            break
        for turn in _TURNS:
            angle = math.radians(turn)
            place = (mark[0] + ring * math.cos(angle), mark[1] + ring * math.sin(angle), ring)
            cost = _cost(place, width, height, taken, frame)
            if cost < least:
                best, least = place, cost
    return best


def least_covered(choices: Sequence[Box], taken: Sequence[Box]) -> Box:
    """Return the first of the choices that covers the least."""
    return min(choices, key=lambda box: sum(box.overlap(other) for other in taken))


def _cost(
    place: tuple[float, float, float], width: float, height: float, taken: list[Box], frame: Box
) -> float:
    box = box_around(place[0], place[1], width, height)
    covered = sum(box.overlap(other) for other in taken)
    outside = box.area - box.overlap(frame)
    return place[2] + _COVER_COST * (covered + outside)
