"""The geometry of a triangle of shares: where a blend lies, and the cell around it."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from setwell.errors import InputError

Shares = tuple[float, float, float]
# Six neighbors of a blend, one step away: what one agent gives another takes.
STEPS = ((1, -1, 0), (1, 0, -1), (0, 1, -1), (-1, 1, 0), (-1, 0, 1), (0, -1, 1))


@dataclass(frozen=True, slots=True)
class Triangle:
    """Corners of the drawing: all of the first on top, the second left, the third right."""

    left: float
    top: float
    side: float

    @property
    def height(self) -> float:
        """Return how tall it is."""
        return self.side * math.sqrt(3.0) / 2.0

    def at(self, shares: Shares) -> tuple[float, float]:
        """Return where a blend lies."""
        first, _, third = shares
        x = self.left + self.side * (third + first / 2.0)
        return x, self.top + self.height * (1.0 - first)


def divisions(all_shares: Sequence[Shares]) -> int:
    """Return how many steps a side has, from the smallest share above zero."""
    least = min((one for shares in all_shares for one in shares if one > 1e-9), default=1.0)
    count = max(round(1.0 / least), 1)
    for shares in all_shares:
        if any(abs(count * one - round(count * one)) > 1e-3 for one in shares):
            given = ", ".join(f"{one:g}" for one in shares)
            raise InputError(
                f"The blend {given} does not lie on a grid of {count} even steps.",
                hint="Divide each side into even steps and give the blends where they meet.",
            )
    return count


def cell_corners(shares: Shares, count: int) -> list[Shares]:
    """Return the corners of what lies nearest to a blend, cut off at the edges of the triangle."""
    third = 1.0 / (3.0 * count)
    # Corners of the hexagon lie a third of the way to pairs of neighbors.
    around = [(2, -1, -1), (1, 1, -2), (-1, 2, -1), (-2, 1, 1), (-1, -1, 2), (1, -2, 1)]
    corners: list[Shares] = [
        (shares[0] + a * third, shares[1] + b * third, shares[2] + c * third) for a, b, c in around
    ]
    for agent in range(3):
        corners = _kept(corners, agent)
    return corners


def _kept(corners: list[Shares], agent: int) -> list[Shares]:
    """Cut off where the share of one agent falls below zero."""
    kept: list[Shares] = []
    for place, here in enumerate(corners):
        before = corners[place - 1]
        if (here[agent] < 0.0) != (before[agent] < 0.0):
            part = before[agent] / (before[agent] - here[agent])
            a, b, c = (p + part * (q - p) for p, q in zip(before, here, strict=True))
            kept.append((a, b, c))
        if here[agent] >= 0.0:
            kept.append(here)
    return kept


def connected(keys: dict[tuple[int, int, int], str]) -> list[list[tuple[int, int, int]]]:
    """Return groups of neighboring blends of one category, each in the order of the grid."""
    left = dict.fromkeys(keys)
    groups = []
    while left:
        start = next(iter(left))
        del left[start]
        group, waiting = [start], [start]
        while waiting:
            a, b, c = waiting.pop()
            for da, db, dc in STEPS:
                near = (a + da, b + db, c + dc)
                if near in left and keys[near] == keys[start]:
                    del left[near]
                    group.append(near)
                    waiting.append(near)
        groups.append(group)
    return groups


def middle_cell(group: Sequence[tuple[int, int, int]]) -> tuple[int, int, int]:
    """Return the blend of a group with most of the group around it, nearest to its center."""
    held = set(group)
    centers = [sum(one[n] for one in group) / len(group) for n in range(3)]

    def rank(one: tuple[int, int, int]) -> tuple[int, float]:
        near = ((one[0] + a, one[1] + b, one[2] + c) for a, b, c in STEPS)
        alone = sum(other not in held for other in near)
        return alone, sum((one[n] - centers[n]) ** 2 for n in range(3))

    return min(group, key=rank)


def boundary(cells: Iterable[Sequence[Shares]], count: int) -> list[tuple[Shares, Shares]]:
    """Return the edges that only one of the cells has, which together are the outline of all."""
    found: dict[frozenset[tuple[int, ...]], list[tuple[Shares, Shares]]] = {}
    for corners in cells:
        for place, corner in enumerate(corners):
            before = corners[place - 1]
            # All corners lie on sixths of a step, so that neighbors agree on them exactly.
            edge = frozenset(
                tuple(round(6 * count * share) for share in end) for end in (before, corner)
            )
            if len(edge) == 2:
                found.setdefault(edge, []).append((before, corner))
    return [ends[0] for ends in found.values() if len(ends) == 1]


def center(corners: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Return the middle of the corners of a cell."""
    return sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)
