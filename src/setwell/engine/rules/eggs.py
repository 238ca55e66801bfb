"""Is the egg cooked?"""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from setwell.engine.assessment import Severity
from setwell.engine.pipeline import unevenness
from setwell.engine.rules.bench import Bench, Hit, said
from setwell.tables.rules import food_code_rules

# Food Code 3-401.11(A)(2): at this temperature no holding time is needed [°C].
_INSTANT_C = 70.0


def egg_lines(bench: Bench) -> tuple[int, ...]:
    """Return the lines with egg that is not written as pasteurized or boiled."""
    safe = {"pasteurized", "boiled", "cooked"}
    return tuple(
        reading.number
        for position in bench.plan.used
        if (reading := bench.plan.readings[position]).material is not None
        and reading.material is not None
        and reading.material.group == "egg"
        and not reading.material.key.endswith("_powder")
        and not reading.line.hints & safe
    )


def egg_is_cooked(bench: Bench) -> NDArray[np.bool_]:
    """Return whether the steps, read at the coldest part of the pot, meet an egg rule."""
    peak = bench.state.process.peak_c - unevenness(bench.steps)
    return np.asarray(np.nan_to_num(peak, nan=-1.0) >= _INSTANT_C)


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
             "The steps do not bring the coldest part of the batch to 70 °C (158 °F).",
             "Cook to 70 °C (158 °F) everywhere, hold 68 °C (155 °F) for 17 s with a probe in "
             "the coldest spot, or use pasteurized egg. Local code decides."),
        lines, (), (rule.citation,),
    )  # fmt: skip
