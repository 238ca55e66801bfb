"""Measure how fast a formula is drawn in other kitchens.

The goal is 300 ms of processor time for 4,096 kitchens with drivers and changes. The ratio says
how much longer as many single assessments would take; both sides are measured in one run.
"""

import time
from collections.abc import Callable

from setwell.domain.formula import Formula
from setwell.engine.assess import bench_build
from setwell.engine.robustness.run import DRAWS, robustness

Row = tuple[str, str, bool]
MOST_MS = 300.0
LEAST_RATIO = 20.0
REPEATS = 9


def taken(work: Callable[[], object]) -> float:
    """Return the processor seconds of one call, the quickest of a few.

    Processor time and the quickest, because other work on the machine slows both down.
    """
    found = []
    for _ in range(REPEATS):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return min(found)


def robustness_rows(formula: Formula) -> list[Row]:
    """Return name, figure and whether the goal is met for each measurement."""
    bench = bench_build(formula)
    # The first call also loads the drawing of points.
    result = robustness(bench)
    drawn = taken(lambda: robustness(bench))
    single = taken(lambda: [bench_build(formula) for _ in range(10)]) / 10.0
    ratio = single * result.draws / drawn
    most = f"{DRAWS:,} kitchens, drivers and changes"
    return [
        (most, f"{1000.0 * drawn:.0f} ms", 1000.0 * drawn < MOST_MS),
        ("other kitchens against single calls", f"{ratio:.0f} x", ratio >= LEAST_RATIO),
    ]
