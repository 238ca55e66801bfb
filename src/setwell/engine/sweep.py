"""Many candidates of one formula at once."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.domain.formula import Formula
from setwell.engine.catalog import Catalog, catalog_build
from setwell.engine.pipeline import agent_columns, batch_assess
from setwell.engine.plan import plan_build
from setwell.engine.process import steps_read
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError


def assess_many(
    formula: Formula,
    masses: ArrayLike,
    *,
    catalog: Catalog | None = None,
    parts: Mapping[str, Formula] | None = None,
    evaporation: ArrayLike | None = None,
) -> Bench:
    """Return the computed state of n variants of a formula, in one pass.

    `masses` (n, L) are grams of the L lines that could be read, in the order of the formula;
    `evaporation` (n,) is the share of the ingredients' weight lost as steam. All variants share
    the ingredients and the steps. The arrays of `bench.state` have n as their leading axis;
    `setwell.engine.rules.book.rule_masks(bench)` tells which variants each rule speaks of.
    Raises InputError when the shape does not fit or a weight is negative or not finite.

    >>> from setwell import assess_many, formula_make
    >>> formula = formula_make(
    ...     title="Cup", ingredients="500 g whole milk\\n2 g kappa carrageenan",
    ...     steps="Boil, stirring",
    ... )
    >>> bench = assess_many(formula, [[500.0, 0.1], [500.0, 2.0]])
    >>> bench.state.texture.sets.tolist()
    [-1, 1]
    """
    plan = plan_build(formula, catalog=catalog or catalog_build(), parts=parts or {})
    grams = np.asarray(masses, dtype=np.float64)
    if grams.ndim != 2 or grams.shape[1] != len(plan.used):
        raise InputError(
            f"The masses have shape {grams.shape}; this formula needs (n, {len(plan.used)}).",
            field="masses",
            hint="One row per variant, one column per line that could be read.",
        )
    if not np.isfinite(grams).all() or (grams < 0).any():
        raise InputError(
            "Some masses are negative or not finite.", field="masses", hint="Use grams from 0 up."
        )
    steam = None if evaporation is None else np.asarray(evaporation, dtype=np.float64)
    if steam is not None:
        _check_steam(steam, len(grams))
    steps = steps_read(formula.steps)
    share = None if steam is None else np.broadcast_to(steam, (len(grams),))
    state = batch_assess(plan, grams, evaporation=share, steps=steps)
    return Bench(plan, steps, state, agent_columns(plan))


def _check_steam(steam: NDArray[np.float64], count: int) -> None:
    if steam.shape not in {(), (1,), (count,)}:
        raise InputError(
            f"Evaporation has shape {steam.shape}; give one number, or one for each of the "
            f"{count} variants.",
            field="evaporation",
        )
    if not ((steam >= 0) & (steam < 1)).all():
        raise InputError(
            "Evaporation is a share from 0 up to, but not including, 1.", field="evaporation"
        )
