"""What drives the spread and the failures: Sobol indices of each thing that differs."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from setwell.engine.robustness.draws import Case, Factor, batches, columns_of
from setwell.engine.robustness.results import Driver
from setwell.engine.robustness.window import Measures, Window, inside, measures, misses
from setwell.provenance import Citation, Estimate, Evidence, Grade
from setwell.science.designs.quasi_random import sobol_points
from setwell.science.designs.sensitivity import crossed_points, sobol_indices

Array = NDArray[np.float64]

# A batch without a gel counts as a hundredth of the planned one, not as nothing at all.
_FLOOR = 0.01
# With fewer hits or misses than this share their drivers are noise.
_FEW = 0.02
_MODEL = "variance shared out between what differs"
_WHERE: Evidence = (Citation("saltelli_2010", "table 2", Grade.UNVERIFIED),)


def main_values(found: Measures, planned: Measures) -> Array:
    """Return the natural log of what the texture is judged by: stiffness, else thickness."""
    is_gel = bool(np.nan_to_num(planned.modulus[0]) > 0)
    values, base = (
        (found.modulus, planned.modulus[0]) if is_gel else (found.thickness, planned.thickness[0])
    )
    base = float(base) if np.isfinite(base) and base > 0 else 1.0
    return np.log(np.maximum(np.nan_to_num(values) / base, _FLOOR))


def drivers(
    case: Case, factors: Sequence[Factor], window: Window, *, doublings: int, seed: int
) -> tuple[Driver, ...]:
    """Return what differs between kitchens, the strongest first.

    Each thing is one group of inputs, so the cost is (groups + 2) times 2^doublings batches.
    """
    columns = columns_of(factors)
    width = sum(len(group) for group in columns)
    points = sobol_points(2 * width, doublings=doublings, scrambles=1, seed=seed)
    state = batches(case, factors, crossed_points(points, groups=columns))
    found = measures(state)
    spread = sobol_indices(main_values(found, measures(case.state)), groups=len(factors))
    hits = inside(misses(window, found), len(found.codes)).astype(np.float64)
    share = float(hits.mean())
    failing = sobol_indices(hits, groups=len(factors)) if _FEW < share < 1.0 - _FEW else None
    told = []
    for place, factor in enumerate(factors):
        first = _estimate(spread.first[place], spread.first_error[place])
        total = _estimate(spread.total[place], spread.total_error[place])
        fails = None if failing is None else _estimate(
            failing.total[place], failing.total_error[place]
        )  # fmt: skip
        told.append(_driver(factor, case, first, total, fails))
    return tuple(sorted(told, key=lambda one: -one.total.value))


def _driver(
    factor: Factor, case: Case, first: Estimate, total: Estimate, failing: Estimate | None
) -> Driver:
    spread = factor.spread(case)
    by_itself, together = round(100.0 * first.value), round(100.0 * total.value)
    if together < 1:
        text = f"{factor.name.capitalize()} ({spread}) hardly matters."
    else:
        text = (
            f"{factor.name.capitalize()} ({spread}): {by_itself} % of the spread by itself, "
            f"{together} % with all it does together with the rest."
        )
    return Driver(factor.key, factor.name, spread, first, total, failing, text, factor.evidence)


def _estimate(value: float, error: float) -> Estimate:
    """Return a share with twice its standard error on either side."""
    middle, half = float(np.clip(value, 0.0, 1.0)), 2.0 * float(error)
    return Estimate(middle, "1", max(middle - half, 0.0), min(middle + half, 1.0), _MODEL, _WHERE)
