"""Air that the steps whip into a batch: it holds back heat, and nobody told how much there is."""

import re

from setwell.domain.steps import Step
from setwell.engine.heat.pouring import HEATS

_WHIPS = re.compile(
    r"\bwhip(?:ped|s)?\b|\bwhipping (?!cream)|\b(?:stiff|soft|firm) peaks|\bsi[py]hon"
    r"|\baerat\w*|\b(?:to|into) (?:a )?(?:\w+ )?foam\b|\bfoamed\b|\bnitrous\b",
    re.IGNORECASE,
)
_SAID = (
    "The steps whip air into it: a foam heats and cools slower than computed, and how much air "
    "is in it is not told."
)


def until_hot(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Return the steps up to the last one that heats the pot."""
    last = max((n for n, step in enumerate(steps) if step.kind in HEATS), default=-1)
    return steps[: last + 1]


def foam_said(steps: tuple[Step, ...]) -> str:
    """Return why a computed course may be too quick; empty where the steps whip nothing."""
    return _SAID if any(_WHIPS.search(step.text) for step in steps) else ""
