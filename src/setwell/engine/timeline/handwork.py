"""How much of a step needs a cook, by what the step does."""

from setwell.domain.steps import Step, StepKind, Stirring
from setwell.engine.heat.pouring import pours
from setwell.engine.rules.bench import PRACTICE
from setwell.provenance import Estimate

# Minutes of work in one step, whatever its length (our own judgment).
_WORK_MIN = {
    StepKind.DISPERSE: 3.0,
    StepKind.BLOOM: 1.0,
    StepKind.MIX: 2.0,
    StepKind.HEAT: 2.0,
    StepKind.BOIL: 2.0,
    StepKind.HOLD: 0.5,
    StepKind.ADD: 2.0,
    StepKind.BLEND: 2.0,
    StepKind.COOL: 1.0,
    StepKind.POUR: 2.0,
    StepKind.CHILL: 1.0,
    StepKind.REST: 0.5,
    StepKind.FREEZE: 1.0,
    StepKind.UNMOLD: 2.0,
    StepKind.SERVE: 2.0,
    StepKind.OTHER: 2.0,
}
# Share of the time at the stove by how the pot is stirred (our own judgment).
_STIRRED = {
    Stirring.CONSTANT: 1.0,
    Stirring.BLENDER: 1.0,
    Stirring.OCCASIONAL: 0.3,
    Stirring.NONE: 0.1,
}
_UNTOLD, _UNTOLD_HOLD = 0.3, 0.1
# Minutes to fill or turn out one mold, and to weigh one line (our own judgment).
_ONE_MOLD_MIN, WEIGH_LINE_MIN = 0.25, 0.7
# Quick and slow hands against middling ones.
HANDS = (0.6, 1.0, 1.8)
_AT_THE_STOVE = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD})
_MODEL = "minutes of work in a step, our own judgment"


def by_mold(step: Step) -> bool:
    """Say whether a step takes longer the more molds there are."""
    return step.kind is StepKind.UNMOLD or pours(step)


def work_minutes(step: Step, *, lasts: tuple[float, float, float], molds: int) -> Estimate:
    """Return the minutes a step keeps a cook busy; `lasts` is its length, quick to slow."""
    base = _WORK_MIN[step.kind]
    if by_mold(step):
        base += _ONE_MOLD_MIN * molds
    share = 0.0
    if step.kind in _AT_THE_STOVE:
        untold = _UNTOLD_HOLD if step.kind is StepKind.HOLD else _UNTOLD
        share = untold if step.stirring is None else _STIRRED[step.stirring]
    low, value, high = (
        min(max(base * hands, share * length), length)
        for hands, length in zip(HANDS, lasts, strict=True)
    )
    return Estimate(value, "min", low, high, _MODEL, PRACTICE)


def weighing_minutes(lines: int) -> Estimate:
    """Return the minutes it takes to weigh so many lines."""
    low, value, high = (lines * WEIGH_LINE_MIN * hands for hands in HANDS)
    return Estimate(value, "min", low, high, _MODEL, PRACTICE)


def least_minutes(step: Step, *, molds: int) -> tuple[float, float, float]:
    """Return the time that filling or turning out the molds takes at least, quick to slow."""
    if not by_mold(step):
        return (0.0, 0.0, 0.0)
    low, value, high = ((_WORK_MIN[step.kind] + _ONE_MOLD_MIN * molds) * hands for hands in HANDS)
    return (low, value, high)
