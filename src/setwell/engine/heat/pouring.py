"""Which step fills the molds, and which ones heat something else than the batch."""

import re

from setwell.domain.steps import Step, StepKind
from setwell.engine.process import batch_temperature

HEATS = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD})
_WARMS = frozenset({StepKind.HEAT, StepKind.BOIL})
# From here on it is cold, or no longer in the kitchen.
ENDS = frozenset({StepKind.CHILL, StepKind.FREEZE, StepKind.UNMOLD, StepKind.SERVE})
_POURS = re.compile(r"\bpour(?:ing)?\b[^.;]{0,40}\binto\b", re.IGNORECASE)


def pours(step: Step) -> bool:
    """Say whether a step fills the molds, also one that stirs something in before."""
    also = step.kind in {StepKind.ADD, StepKind.MIX} and _POURS.search(step.text) is not None
    return step.kind is StepKind.POUR or also


def pour_step(steps: tuple[Step, ...]) -> int | None:
    """Return the step that fills the molds, from 0; None where none does.

    A pour into a pan is followed by heat. Of several layers the first one counts, and a batch
    that is warmed again after it was cold was poured before.
    """
    heated = next((n for n, step in enumerate(steps) if step.kind in HEATS), -1)
    found = [n for n, step in enumerate(steps) if pours(step) and not _heats_next(steps[n + 1 :])]
    return next((n for n in found if n > heated), found[0] if found else None)


def reheats(steps: tuple[Step, ...]) -> bool:
    """Say whether a batch is warmed again after it was poured and cold."""
    poured = pour_step(steps)
    return poured is not None and any(step.kind in _WARMS for step in steps[poured + 1 :])


def beside_steps(steps: tuple[Step, ...]) -> frozenset[int]:
    """Return the places of the steps that warm something in a second pot."""
    now: float | None = None
    found = set()
    for number, step in enumerate(steps):
        degrees = batch_temperature(step)
        if degrees is None:
            continue
        # Warmed to less than the batch has already.
        if step.kind in _WARMS and now is not None and degrees < now:
            found.add(number)
        else:
            now = degrees
    return frozenset(found)


def _heats_next(after: tuple[Step, ...]) -> bool:
    """Say whether what follows a pour is heat, before anything is cold."""
    return next((step.kind in _WARMS for step in after if step.kind in _WARMS | ENDS), False)
