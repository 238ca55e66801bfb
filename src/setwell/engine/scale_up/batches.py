"""How a large amount is divided into batches that the kitchen's vessels hold."""

import math
from collections.abc import Sequence

from setwell.domain.pantry import Vessel
from setwell.domain.steps import Step, StepKind
from setwell.engine.scale_up.results import BatchSplit
from setwell.errors import InputError, OutOfRangeError

# How full a vessel may be; what boils rises (our own judgment).
FULL, FULL_BOILING = 0.8, 0.65
_LEAST_FULL, _MOST_FULL = 0.05, 0.95
# More turns of one pot than these are no plan for a day.
BATCHES_MOST = 40


def usual_fill(steps: Sequence[Step]) -> float:
    """Return the share to which a vessel is filled."""
    return FULL_BOILING if any(step.kind is StepKind.BOIL for step in steps) else FULL


def batches_split(
    total_g: float,
    *,
    density: float,
    vessels: Sequence[Vessel],
    fill: float,
    vessel_name: str = "",
    count: int | None = None,
) -> tuple[BatchSplit, ...]:
    """Return how the total can be divided, the best first: few batches, then a small vessel.

    `density` [g/mL]; `vessel_name` names one, `count` asks for so many batches. Raises
    InputError at the field for what cannot be.
    """
    _check(fill, count)
    known = tuple(vessels)
    if vessel_name:
        known = tuple(v for v in known if v.name.casefold() == vessel_name.strip().casefold())
        if not known:
            names = ", ".join(v.name for v in vessels) or "none"
            raise InputError(
                f"There is no vessel “{vessel_name[:60]}” in the pantry.",
                field="vessel", hint=f"Known are: {names}.",
            )  # fmt: skip
    else:
        # A pitcher heats nothing; a pot is known by its diameter.
        known = tuple(v for v in known if v.diameter_mm is not None)
    volume = total_g / density
    splits = sorted(
        (_split(vessel, total_g, volume, fill, count) for vessel in known),
        key=lambda one: (one.fill_pct > 100.0 * fill + 1e-6, one.count, _size(one)),
    )
    if not splits:
        turns = count or 1
        return (BatchSplit(None, turns, total_g / turns, volume / turns, 0.0, is_best=True),)
    _check_best(splits[0], fill, count)
    best, *others = splits
    return (
        BatchSplit(best.vessel, best.count, best.each_g, best.each_ml, best.fill_pct, is_best=True),
        *others,
    )


def _check(fill: float, count: int | None) -> None:
    if not _LEAST_FULL <= fill <= _MOST_FULL:
        raise OutOfRangeError(
            f"A vessel cannot be worked {100.0 * fill:g} % full.",
            field="fill_pct",
            hint=f"{100 * _LEAST_FULL:g} to {100 * _MOST_FULL:g} % is possible.",
        )
    if count is not None and not 1 <= count <= BATCHES_MOST:
        raise OutOfRangeError(
            f"{count} batches cannot be planned; 1 to {BATCHES_MOST} can.", field="batches"
        )


def _check_best(best: BatchSplit, fill: float, count: int | None) -> None:
    if best.vessel is None:
        return
    if best.count > BATCHES_MOST:
        raise InputError(
            f"It would take {best.count} batches in {best.vessel.name}.",
            field="vessel",
            hint="Add a larger vessel to the pantry, or make less.",
        )
    if count is not None and best.fill_pct > 100.0 * fill + 1e-6:
        raise InputError(
            f"{count} batches fill {best.vessel.name} to {best.fill_pct:.0f} %; at most "
            f"{100.0 * fill:.0f} % is wanted.",
            field="batches",
            hint="Make more batches, or take a larger vessel.",
        )


def _split(
    vessel: Vessel, total_g: float, volume_ml: float, fill: float, count: int | None
) -> BatchSplit:
    turns = count or max(1, math.ceil(volume_ml / (fill * vessel.volume_ml) - 1e-9))
    each = volume_ml / turns
    return BatchSplit(vessel, turns, total_g / turns, each, 100.0 * each / vessel.volume_ml)


def _size(split: BatchSplit) -> float:
    return split.vessel.volume_ml if split.vessel is not None else 0.0
