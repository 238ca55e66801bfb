"""Short ways to write a temperature course and a bench in tests of safety verdicts."""

import numpy as np
from builders_engine import formula_of

from setwell.engine.assess import bench_build
from setwell.engine.heat.course import Course
from setwell.engine.rules.bench import Bench
from setwell.engine.safety import SafetyCheck

CUSTARD = ("500 g whole milk", "100 g egg yolk", "80 g sugar")
PLAIN_STEPS = "Whisk the yolks and the sugar into the milk\nHeat to 84 °C, stirring constantly"


def bench_of(*lines: str, steps: str = "", **fields: object) -> Bench:
    """Return the bench of a formula of these lines."""
    return bench_build(formula_of(*lines, steps=steps, **fields))


def course_of(
    *points: tuple[float, float],
    place: str = "core",
    error: float = 0.0,
    is_measured: bool = True,
) -> Course:
    """Return a course through points of minutes and °C; an error of zero is almost none."""
    minutes, celsius = (np.array(column, dtype=np.float64) for column in zip(*points, strict=True))
    width = max(error, 1e-9)
    return Course(
        place, 60.0 * minutes, celsius, celsius - width, celsius + width, is_measured=is_measured
    )


def check_of(checks: tuple[SafetyCheck, ...], key: str) -> SafetyCheck:
    """Return the one check with this key."""
    (found,) = [check for check in checks if check.key == key]
    return found
