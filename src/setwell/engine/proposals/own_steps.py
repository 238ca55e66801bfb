"""The base's own steps: those that work on its food stay in every method that is proposed."""

import re
from collections.abc import Sequence
from typing import NamedTuple

from setwell.domain.brief import Limits
from setwell.domain.formula import Formula
from setwell.domain.steps import Step, StepKind, Stirring, steps_parse
from setwell.engine.names import name_normalize
from setwell.engine.plan import Plan
from setwell.engine.process import batch_temperature

_THERMAL = frozenset({
    StepKind.HEAT, StepKind.BOIL, StepKind.HOLD, StepKind.COOL, StepKind.REST, StepKind.CHILL,
})  # fmt: skip
_LAST = frozenset({StepKind.POUR, StepKind.CHILL, StepKind.FREEZE, StepKind.UNMOLD, StepKind.SERVE})
# Steps that work on a powder without naming it, or on all there is.
_POWDER = re.compile(
    r"\b(?:powders?|gums?|agents?|dry[- ](?:mix|blend)|the (?:dry )?mix|slurry|bloom\w*|"
    r"everything|all (?:the )?ingredients|dissolve it|hydrate\w*)\b",
    re.IGNORECASE,
)
# Words of agents that are words of food too.
_FOOD = frozenset({
    "bean", "blend", "corn", "fish", "high", "leaf", "potato", "powder", "powdered", "rapid",
    "rice", "sheet", "slow", "sodium", "starch", "tapioca", "type", "waxy", "wheat", "whole",
})  # fmt: skip
# What is warmer than this has to cool before powders are dispersed in it [°C].
_WARM_C = 40.0
_SHOWN = 4
_LED_ON = re.compile(r"\A(?:and )?then ", re.IGNORECASE)
_POURED = re.compile(
    r"(?:,| and|, and|, then)+ (?:pour|ladle|fill|portion|chill|refrigerate)\b.*", re.IGNORECASE
)
_FOOD_NAMED = re.compile(r"\bthe (?!(?:boil|fridge|cold|heat|base|mix|mixture)\b)\w+")


class OwnSteps(NamedTuple):
    """Steps that stay, as typed: before the agents go in, after their heat, after pouring.

    `is_hot` where the early ones leave the base warmer than powders are dispersed.
    """

    early: tuple[str, ...] = ()
    late: tuple[str, ...] = ()
    end: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    is_hot: bool = False

    @property
    def remarks(self) -> tuple[str, ...]:
        """Return what is said of them; nothing where the base has no steps."""
        kept = len(self.early) + len(self.late) + len(self.end)
        told = []
        if kept:
            told.append(
                f"{kept} step{'s' if kept > 1 else ''} of the base, on its own food, "
                f"{'are' if kept > 1 else 'is'} part of every method below: written for other "
                "agents, so read them again."
            )
        if self.left_out:
            shown = "; ".join(f"“{text}”" for text in self.left_out[:_SHOWN])
            more = len(self.left_out) - _SHOWN
            told.append(
                f"Left out of the base's own method: {shown}"
                f"{f'; and {more} more' if more > 0 else ''}."
            )
        return tuple(told)


NO_STEPS = OwnSteps()


def own_steps(formula: Formula, plan: Plan, late_acids: Sequence[str], limits: Limits) -> OwnSteps:
    """Return the steps of a formula that are about its food, not its agents or their heat.

    Acid that goes in late, heating for an agent, pouring and chilling are what the proposed
    method says itself; what its limits bar stays out.
    """
    steps = steps_parse(formula.steps)
    words = _words(plan, late_acids)
    agents = [n for n, step in enumerate(steps) if _names_any(step, words)]
    pours = [n for n, step in enumerate(steps) if step.kind in _LAST]
    end = pours[0] if pours else len(steps)
    first = min(agents[0] if agents else end, end)
    groups: tuple[list[Step], ...] = ([], [], [])
    out = []
    for n, step in enumerate(steps):
        place = 0 if n < first else 1 if n < end else 2
        is_own = not (_names_any(step, words) or _is_barred(step, limits) or step.kind in _LAST)
        # Only before the agents does heat belong to the food.
        if is_own and (place == 0 or step.kind not in _THERMAL):
            groups[place].append(step)
        else:
            out.append(step)
    early = _without_trailing_heat(groups[0], out)
    return OwnSteps(
        early=_texts(early), late=_texts(groups[1]), end=_texts(groups[2]),
        left_out=_texts([step for step in steps if step in out]),
        is_hot=any(_degrees(step) > _WARM_C for step in early),
    )  # fmt: skip


def _without_trailing_heat(early: list[Step], out: list[Step]) -> list[Step]:
    """Return early steps without a heat at their end that names no food: it was for the agents."""
    kept = list(early)
    while kept and kept[-1].kind in _THERMAL and not _names_food(kept[-1]):
        out.append(kept.pop())
    return kept


def _names_food(step: Step) -> bool:
    """True where a heating step says what is heated: "heat the milk", not "heat to 90"."""
    return _FOOD_NAMED.search(step.text) is not None


def _words(plan: Plan, late_acids: Sequence[str]) -> frozenset[str]:
    names = [
        name_normalize(reading.line.name)
        for reading in plan.readings
        if reading.material is not None and reading.material.agent is not None
    ]
    found = {word for name in names for word in name.split() if len(word) > 3} - _FOOD
    return frozenset({*found, *names, *(name_normalize(acid) for acid in late_acids)})


def _names_any(step: Step, words: frozenset[str]) -> bool:
    said = f" {name_normalize(step.text)} "
    return _POWDER.search(step.text) is not None or any(f" {word} " in said for word in words)


def _is_barred(step: Step, limits: Limits) -> bool:
    is_blended = step.kind is StepKind.BLEND or step.stirring is Stirring.BLENDER
    return _degrees(step) > limits.max_temperature_c or (is_blended and not limits.has_blender)


def _degrees(step: Step) -> float:
    found = batch_temperature(step)
    return -273.15 if found is None else found


def _texts(steps: Sequence[Step]) -> tuple[str, ...]:
    """Return steps as typed, without what only leads on to the next or pours."""
    told = (_POURED.sub("", _LED_ON.sub("", step.text.strip())) for step in steps)
    return tuple(text.rstrip(".,; ") for text in told)
