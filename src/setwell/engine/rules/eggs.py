"""Is the egg cooked?"""

import re
from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from setwell.domain.step_surroundings import is_heated_around, tells_core
from setwell.domain.steps import Step, StepKind
from setwell.engine.assessment import Severity
from setwell.engine.plan import Leaf
from setwell.engine.pot_zones import unevenness
from setwell.engine.process import batch_temperature, steps_read
from setwell.engine.rules.bench import Bench, Hit, said
from setwell.errors import ModelError
from setwell.tables.rules import food_code_rules
from setwell.units import temperature_print

_SAFE = frozenset({"pasteurized", "boiled", "cooked"})
_EGG = re.compile(r"\b(?:eggs?|yolks?|whites)\b", re.IGNORECASE)
_COOKING = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD, StepKind.BLEND})
# A step that heats to this, or does not say how far, may pass for cooking the egg [°C].
_WARMS_C = 60.0
_AROUND = (
    " What an oven, a steamer, a bath or a microwave is set to is not how hot the middle gets."
)
_BRINGING = frozenset(
    {StepKind.ADD, StepKind.MIX, StepKind.DISPERSE, StepKind.POUR, StepKind.OTHER}
)


def eggs(bench: Bench) -> tuple[Leaf, ...]:
    """Return the egg, also inside parts, that is not written as pasteurized or boiled."""
    return tuple(
        leaf
        for leaf in bench.plan.leaves()
        if leaf.reading.material is not None
        and leaf.reading.material.group == "egg"
        and not leaf.reading.material.key.endswith("_powder")
        and not leaf.reading.line.hints & _SAFE
    )


def egg_lines(bench: Bench) -> tuple[int, ...]:
    """Return the numbers of the lines that bring such egg."""
    return tuple(dict.fromkeys(leaf.number for leaf in eggs(bench)))


def instant_c() -> float:
    """Return the temperature of the food code that needs no holding time [°C].

    Steps never prove a hold, so the rows below it, with a time, are left to a probe.
    """
    rule = food_code_rules()["eggs_held_70"]
    if rule.temperature_c is None or rule.time_s != 0.0:
        raise ModelError("The row for egg without a holding time has a time or no temperature.")
    return rule.temperature_c


def egg_is_cooked(bench: Bench) -> NDArray[np.bool_]:
    """Return whether the steps, read at the coldest part of the pot, meet an egg rule."""
    instant = instant_c()
    cooked = np.ones_like(bench.state.process.peak_c, dtype=np.bool_)
    for leaf in eggs(bench):
        here = np.minimum(
            np.nan_to_num(bench.state.process.peak_c, nan=-1.0), _reached(bench.steps, leaf.name)
        )
        cooked &= _is_cooked_before(leaf) | (here >= instant)
    return np.asarray(cooked)


def eggs_still_raw(bench: Bench) -> tuple[Leaf, ...]:
    """Return the egg that the methods of the parts do not cook, so this batch has to."""
    return tuple(leaf for leaf in eggs(bench) if not _is_cooked_before(leaf))


def is_heated_before_egg(bench: Bench) -> bool:
    """True where the steps heat the pot before the raw egg goes in: that heat cooks no egg."""
    return any(
        _may_warm(step)
        for leaf in eggs_still_raw(bench)
        for step in bench.steps[: _enters(bench.steps, leaf.name)]
    )


def _may_warm(step: Step) -> bool:
    degrees = batch_temperature(step)
    if degrees is None:
        return step.kind is StepKind.HEAT
    return step.kind in _COOKING and degrees >= _WARMS_C


def _is_cooked_before(leaf: Leaf) -> bool:
    instant = instant_c()
    return any(_reached(steps_read(method), leaf.name) >= instant for method in leaf.methods)


def _reached(steps: tuple[Step, ...], name: str) -> float:
    """Return the hottest the coldest part of the egg certainly gets once it is in the pot.

    Only steps that cook count, from the last one that brings the egg in: a base that was hot
    before does not cook egg stirred in later, and an oven or a bath is hotter than what is in it.
    """
    inside = tuple(step for step in steps[_enters(steps, name) :] if not is_heated_around(step))
    lag = unevenness(inside)
    temperatures = [
        degrees - (0.0 if tells_core(step) else lag)
        for step in inside
        if step.kind in _COOKING and (degrees := batch_temperature(step)) is not None
    ]
    return max(temperatures, default=-1.0)


def _enters(steps: tuple[Step, ...], name: str) -> int:
    said_so = [
        number
        for number, step in enumerate(steps)
        if step.kind in _BRINGING
        and " until " not in step.text
        and (_EGG.search(step.text) or name.casefold() in step.text.casefold())
    ]
    return max(said_so, default=0)


def undercooked_egg(bench: Bench) -> Iterable[Hit]:
    """Say when egg is not cooked through by the written steps."""
    lines = egg_lines(bench)
    if not lines:
        return
    rule = food_code_rules()["eggs_held"]
    yield Hit(
        "undercooked_egg", Severity.STOP,
        np.broadcast_to(~egg_is_cooked(bench), (len(bench.state.masses),)),
        said("Egg not proven cooked",
             "The steps do not bring the coldest part of the batch to "
             f"{temperature_print(instant_c())} once the egg is in it."
             + (_AROUND if any(map(is_heated_around, bench.steps)) else ""),
             "Cook to 70 °C (158 °F) everywhere, hold 68 °C (155 °F) for 17 s with a probe in "
             "the coldest spot, or use pasteurized egg. Local code decides."),
        lines, (), (rule.citation,),
    )  # fmt: skip
