"""Is the egg cooked?"""

import re
from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from setwell.domain.steps import Step, StepKind
from setwell.engine.assessment import Severity
from setwell.engine.plan import Leaf
from setwell.engine.pot_zones import unevenness
from setwell.engine.process import batch_temperature, steps_read
from setwell.engine.rules.bench import Bench, Hit, said
from setwell.tables.rules import food_code_rules

# Food Code 3-401.11(A)(2): at this temperature no holding time is needed [°C].
_INSTANT_C = 70.0
_SAFE = frozenset({"pasteurized", "boiled", "cooked"})
_EGG = re.compile(r"\b(?:eggs?|yolks?|whites)\b", re.IGNORECASE)
_COOKING = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD, StepKind.BLEND})
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


def egg_is_cooked(bench: Bench) -> NDArray[np.bool_]:
    """Return whether the steps, read at the coldest part of the pot, meet an egg rule."""
    cooked = np.ones_like(bench.state.process.peak_c, dtype=np.bool_)
    for leaf in eggs(bench):
        before = any(_reached(steps_read(method), leaf.name) >= _INSTANT_C
                     for method in leaf.methods)  # fmt: skip
        here = np.minimum(
            np.nan_to_num(bench.state.process.peak_c, nan=-1.0), _reached(bench.steps, leaf.name)
        )
        cooked &= before | (here >= _INSTANT_C)
    return np.asarray(cooked)


def _reached(steps: tuple[Step, ...], name: str) -> float:
    """Return the hottest the coldest part of the egg certainly gets once it is in the pot.

    Only steps that cook count, from the last one that brings the egg in: a base that was hot
    before does not cook egg stirred in later.
    """
    inside = steps[_enters(steps, name) :]
    temperatures = [
        degrees
        for step in inside
        if step.kind in _COOKING and (degrees := batch_temperature(step)) is not None
    ]
    return max(temperatures, default=-1.0) - unevenness(inside)


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
             "The steps do not bring the coldest part of the batch to 70 °C (158 °F) once the "
             "egg is in it.",
             "Cook to 70 °C (158 °F) everywhere, hold 68 °C (155 °F) for 17 s with a probe in "
             "the coldest spot, or use pasteurized egg. Local code decides."),
        lines, (), (rule.citation,),
    )  # fmt: skip
