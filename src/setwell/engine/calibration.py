"""The kitchen's own readings against the model: what they move, what they leave open."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from setwell.engine.bases import Base, base_of
from setwell.engine.disputes import Dispute, disputes_find
from setwell.engine.gelling.doubt import Correction, Corrections
from setwell.engine.texture_unknowns import (
    Observation,
    Quantity,
    Target,
    Unknown,
    method_unknown,
    prior_deviation,
    total_doubts,
    unknowns_of,
    unknowns_of_target,
)
from setwell.science.inference.linear_gaussian import Posterior, normal_update

__all__ = ["Base", "Calibrated", "Fit", "Found", "base_of", "calibrate"]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Fit:
    """How one reading fits: what is left of it, and how far the others expected it."""

    key: str
    residual: float
    deviations: float


@dataclass(frozen=True, slots=True)
class Found:
    """One quantity of one agent in the batch: before, after, and which readings speak of it."""

    agent: str
    quantity: Quantity
    prior_half_width: float
    correction: Correction
    of_lot: tuple[str, ...]
    of_base: tuple[str, ...]

    @property
    def keys(self) -> tuple[str, ...]:
        """Every reading that speaks of it."""
        return tuple(dict.fromkeys((*self.of_lot, *self.of_base)))


@dataclass(frozen=True, slots=True)
class Calibrated:
    """Everything that readings say of the agents of one batch."""

    found: tuple[Found, ...] = ()
    disputes: tuple[Dispute, ...] = ()
    fits: Mapping[str, Fit] = field(default_factory=dict)
    lots: Mapping[tuple[Quantity, str], Correction] = field(default_factory=dict)
    # Strength and strain at break together, by agent.
    stresses: Mapping[str, Correction] = field(default_factory=dict)

    @property
    def corrections(self) -> dict[str, Corrections]:
        """What the engine takes, by agent."""
        each: dict[str, dict[str, Correction]] = {}
        for one in self.found:
            each.setdefault(one.agent, {})[one.quantity.value] = one.correction
        for agent, stress in self.stresses.items():
            each[agent]["stress"] = stress
        return {agent: Corrections(**fields) for agent, fields in each.items()}


def calibrate(observations: Iterable[Observation], targets: Mapping[str, Target]) -> Calibrated:
    """Return what readings move in a batch whose agents are `targets`, by agent key.

    A reading is the weighted sum of what is off about each agent's lot, about its law in that
    kind of base and in that recipe, and about the way of measuring. Readings that contradict
    each other widen the range instead of being averaged in silence.
    """
    # Sorted, so that the last digit does not hang on the order of the readings.
    readings = sorted(observations, key=lambda one: (one.key, one.face))
    if not readings:
        return Calibrated()
    totals = total_doubts(readings, targets)
    unknowns, design = _design(readings, targets)
    deviations = np.array([prior_deviation(unknown, totals) for unknown in unknowns])
    variance = np.array([_variance(one, totals) for one in readings])
    observed = np.array([one.value for one in readings])
    after = normal_update(
        np.zeros(len(unknowns)),
        np.diag(deviations**2),
        design=design,
        observed=observed,
        variance=variance,
    )
    disputes = disputes_find(readings, design, observed=observed, variance=variance, after=after)
    places = {unknown: column for column, unknown in enumerate(unknowns)}
    state = _State(readings, after, disputes, places)
    found = [
        one
        for agent, target in targets.items()
        for quantity in Quantity
        if (one := _found(agent, quantity, target, state))
    ]
    return Calibrated(
        tuple(found),
        disputes,
        _fits(readings, after),
        _lots(targets, readings, after, places),
        _stresses(found, targets, state),
    )


def _fits(readings: Sequence[Observation], after: Posterior) -> dict[str, Fit]:
    """Return how each reading fits, by its worst face."""
    fits: dict[str, Fit] = {}
    for n, one in enumerate(readings):
        fit = Fit(one.key, float(after.residuals[n]), float(after.leave_one_out_z[n]))
        if one.key not in fits or abs(fit.deviations) > abs(fits[one.key].deviations):
            fits[one.key] = fit
    return fits


@dataclass(frozen=True, slots=True)
class _State:
    readings: Sequence[Observation]
    after: Posterior
    disputes: tuple[Dispute, ...]
    places: Mapping[Unknown, int]


def _design(
    readings: Sequence[Observation], targets: Mapping[str, Target]
) -> tuple[list[Unknown], Array]:
    """Return the unknowns, those of the targets too, and how much of each is in each reading."""
    rows: list[dict[Unknown, float]] = []
    for one in readings:
        row: dict[Unknown, float] = {}
        for part in one.parts:
            for unknown in unknowns_of(part):
                row[unknown] = row.get(unknown, 0.0) + part.weight
        if one.method:
            row[method_unknown(one.method)] = 1.0
        rows.append(row)
    wanted = {
        unknown
        for agent, target in targets.items()
        for quantity in Quantity
        for unknown in unknowns_of_target(agent, quantity, target)
    }
    unknowns = sorted(wanted.union(*rows))
    design = np.array([[row.get(unknown, 0.0) for unknown in unknowns] for row in rows])
    return unknowns, design


def _variance(one: Observation, totals: Mapping[tuple[Quantity, str], float]) -> float:
    """Return the variance of a reading; where its law was wider than here, that much more."""
    extra = sum(
        part.weight**2 * max(part.half_width**2 - totals[part.quantity, part.agent] ** 2, 0.0)
        for part in one.parts
    )
    return one.variance + extra / 4.0


def _found(agent: str, quantity: Quantity, target: Target, state: _State) -> Found | None:
    lot, base, recipe = unknowns_of_target(agent, quantity, target)
    of_lot = tuple(dict.fromkeys(one.key for one in state.readings if _speaks(one, lot)))
    of_base = tuple(dict.fromkeys(one.key for one in state.readings if _speaks(one, base)))
    keys = set(of_lot) | set(of_base)
    if not keys:
        return None
    columns = [state.places[unknown] for unknown in (lot, base, recipe)]
    shift = float(state.after.mean[columns].sum())
    half = 2.0 * _deviation(state, columns)
    ours = [one for one in state.disputes if keys & set(one.keys)]
    prior = float(getattr(target.doubt, quantity))
    # Readings in conflict can say nothing at worst; then the range of the tables holds.
    most = max(prior + abs(shift), half)
    for dispute in ours:
        wider = 2.0 * dispute.ratio * _deviation(state, columns)
        half = max(half, min(wider, most), _reach(dispute, agent, quantity, keys, state))
    correction = Correction(shift, half, len(keys), bool(ours))
    return Found(agent, quantity, prior, correction, of_lot, of_base)


def _stresses(
    found: Sequence[Found], targets: Mapping[str, Target], state: _State
) -> dict[str, Correction]:
    """Return strength and strain together where both were measured and nothing is disputed."""
    by_agent: dict[str, dict[Quantity, Found]] = {}
    for one in found:
        by_agent.setdefault(one.agent, {})[one.quantity] = one
    pair = (Quantity.STRENGTH, Quantity.STRAIN)
    stresses = {}
    for agent, known in by_agent.items():
        if not set(pair) <= set(known) or any(known[q].correction.is_disputed for q in pair):
            continue
        columns = [
            state.places[unknown]
            for quantity in pair
            for unknown in unknowns_of_target(agent, quantity, targets[agent])
        ]
        count = len({key for quantity in pair for key in known[quantity].keys})
        shift = float(state.after.mean[columns].sum())
        stresses[agent] = Correction(shift, 2.0 * _deviation(state, columns), count)
    return stresses


def _deviation(state: _State, columns: list[int]) -> float:
    """Return the standard deviation of a sum of unknowns."""
    return float(np.sqrt(max(state.after.covariance[np.ix_(columns, columns)].sum(), 0.0)))


def _speaks(one: Observation, unknown: Unknown) -> bool:
    return any(unknown in unknowns_of(part) and part.weight > 0 for part in one.parts)


def _reach(
    dispute: Dispute, agent: str, quantity: Quantity, keys: set[str], state: _State
) -> float:
    """Return how far the range must reach to cover every reading of a dispute.

    What is left of a blend's reading is laid on each agent by its share in it.
    """
    most = 0.0
    for n, one in enumerate(state.readings):
        if one.key not in keys or one.key not in dispute.keys:
            continue
        weights = [part.weight for part in one.parts if part.quantity is quantity]
        mine = sum(
            part.weight for part in one.parts if (part.quantity, part.agent) == (quantity, agent)
        )
        if not mine:
            continue
        blame = mine / sum(weight**2 for weight in weights)
        most = max(most, abs(float(state.after.residuals[n])) * blame)
    return most


def _lots(
    targets: Mapping[str, Target],
    readings: Sequence[Observation],
    after: Posterior,
    places: Mapping[Unknown, int],
) -> dict[tuple[Quantity, str], Correction]:
    """Return what is known of the lots alone, beside other lots of the same powder."""
    known: dict[tuple[Quantity, str], Correction] = {}
    for agent, target in targets.items():
        for quantity in Quantity:
            unknown = Unknown("lot", quantity, agent, target.lot)
            count = len({one.key for one in readings if _speaks(one, unknown)})
            if count:
                place = places[unknown]
                spread = 2.0 * float(np.sqrt(after.covariance[place, place]))
                known[quantity, agent] = Correction(float(after.mean[place]), spread, count)
    return known
