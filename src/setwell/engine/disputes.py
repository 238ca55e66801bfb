"""Readings that contradict each other by more than their doubts allow."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.texture_unknowns import Observation
from setwell.science.inference.agreement import birge_ratio, chi_squared_limit, repeat_scatter
from setwell.science.inference.linear_gaussian import Posterior

Array = NDArray[np.float64]

# Standard deviations from what all else expects, where a reading is in conflict or takes part.
_CONFLICT, _TAKES_PART = 3.0, 2.0


@dataclass(frozen=True, slots=True)
class Dispute:
    """Readings in conflict, by key, and the factor by which doubts grow.

    `is_with_model` is True for a reading that nothing but the model contradicts, `is_within` for
    cups of one test that contradict each other.
    """

    keys: tuple[str, ...]
    ratio: float
    is_with_model: bool = False
    is_within: bool = False


def disputes_find(
    readings: Sequence[Observation],
    design: Array,
    *,
    observed: Array,
    variance: Array,
    after: Posterior,
) -> tuple[Dispute, ...]:
    """Return the conflicts among readings, each reading in at most one of them.

    Two tests: repeats (same lots, same base, same way of measuring) whose scatter chance would
    exceed once in a hundred times, and single readings more than three standard deviations from
    what the model and all other readings expect.
    """
    z = np.abs(after.leave_one_out_z)
    conflicts: list[tuple[set[int], float]] = []
    for group in _repeats(design):
        scatter = repeat_scatter(design[group], observed=observed[group], variance=variance[group])
        degrees = scatter.degrees
        if degrees > 0 and scatter.chi_squared > float(chi_squared_limit(degrees)):
            ratio = float(birge_ratio(scatter.chi_squared, degrees=degrees))
            conflicts.append((_parties(group, z, after.residuals), ratio))
    for one in np.flatnonzero(z > _CONFLICT):
        near = _neighbors(readings, int(one))
        ratio = float(birge_ratio(float(np.sum(z[near] ** 2)), degrees=len(near)))
        conflicts.append((_parties(near, z, after.residuals) | {int(one)}, ratio))
    return tuple(
        _dispute(readings, design, members, ratio) for members, ratio in _joined(conflicts)
    )


def _dispute(
    readings: Sequence[Observation], design: Array, members: set[int], ratio: float
) -> Dispute:
    keys = tuple(dict.fromkeys(readings[n].key for n in sorted(members)))
    rows = {tuple(np.flatnonzero(design[n])) for n in members}
    is_alone = len(keys) == 1
    is_within = is_alone and len(members) > 1 and len(rows) == 1
    return Dispute(keys, ratio, is_with_model=is_alone and not is_within, is_within=is_within)


def _repeats(design: Array) -> list[list[int]]:
    """Return groups of two or more readings of the very same unknowns."""
    groups: dict[tuple[int, ...], list[int]] = {}
    for n, row in enumerate(design):
        groups.setdefault(tuple(np.flatnonzero(row)), []).append(n)
    return [group for group in groups.values() if len(group) > 1]


def _neighbors(readings: Sequence[Observation], one: int) -> list[int]:
    """Return the readings that share an agent's quantity with this one in a lot or a base."""
    own = {(p.quantity, p.agent, p.lot) for p in readings[one].parts}
    bases = {(p.quantity, p.agent, p.base) for p in readings[one].parts}
    return [
        n
        for n, other in enumerate(readings)
        if any(
            (p.quantity, p.agent, p.lot) in own or (p.quantity, p.agent, p.base) in bases
            for p in other.parts
        )
    ]


def _parties(group: list[int], z: Array, residuals: Array) -> set[int]:
    """Return who is in conflict within a group: the far ones, or else the two farthest apart."""
    far = {n for n in group if z[n] > _TAKES_PART}
    if len(far) < 2 and len(group) > 1:
        left = residuals[group]
        far |= {group[int(np.argmax(left))], group[int(np.argmin(left))]}
    return far


def _joined(conflicts: list[tuple[set[int], float]]) -> list[tuple[set[int], float]]:
    """Return conflicts with a reading in common as one, at the larger of their ratios."""
    joined: list[tuple[set[int], float]] = []
    for members, ratio in conflicts:
        apart = [one for one in joined if not one[0] & members]
        touching = [one for one in joined if one[0] & members]
        whole = members.union(*(one[0] for one in touching))
        joined = [*apart, (whole, max([ratio, *(one[1] for one in touching)]))]
    return joined
