"""How a powder is kept from clumping, as the lines and the steps tell it."""

import re
from enum import StrEnum

from setwell.domain.steps import Step, StepKind, Stirring

# Words on a line that say how the powder is kept from clumping.
CARRYING = frozenset({"disperse", "dry_blend", "slurry", "blender"})
_SUGAR = re.compile(r"\bsugar\b|\bdry[- ]?(?:blend|mix)|\bpowder(?:s|ed)? (?:mix|blend)", re.I)
_SLURRY = re.compile(r"\bslurry|\boil\b|\bspirits?\b|\balcohol\b|\brum\b|\bvodka\b|\bslake", re.I)
_SPRINKLED = re.compile(r"\bsprinkl|\brain(?:ing|ed)?\b", re.I)


class Way(StrEnum):
    """How the powder meets the liquid; the names are those of the table of lumps."""

    DRY_BLENDED = "dry-blended"
    SLURRY = "slurry in oil or alcohol"
    BLENDER = "blender"
    APART = "kept apart"
    SPRINKLED = "sprinkled"
    POURED = "poured dry"


def way_of(steps: tuple[Step, ...], hints: frozenset[str], *, is_carried: bool) -> Way:
    """Return the way the powder goes in; the best one that anything speaks of.

    `hints` are the words on the lines of the agent; `is_carried` tells that another line is
    there to carry it in.
    """
    spreading = [step for step in steps if step.kind is StepKind.DISPERSE]
    told = (
        ("dry_blend" in hints or is_carried, Way.DRY_BLENDED),
        ("slurry" in hints, Way.SLURRY),
        (any(_SUGAR.search(step.text) for step in spreading), Way.DRY_BLENDED),
        (any(_SLURRY.search(step.text) for step in spreading), Way.SLURRY),
        ("blender" in hints or any(_blends(step) for step in steps), Way.BLENDER),
        (any(not _SPRINKLED.search(step.text) for step in spreading), Way.APART),
        (bool(spreading), Way.SPRINKLED),
        ("disperse" in hints, Way.APART),
    )
    return next((way for is_told, way in told if is_told), Way.POURED)


def _blends(step: Step) -> bool:
    return step.kind is StepKind.BLEND or step.stirring is Stirring.BLENDER
