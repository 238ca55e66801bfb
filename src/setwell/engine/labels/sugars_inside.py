"""Carbohydrate that is no less than the sugars in it, where the tables disagree a little.

Carbohydrate is what is left after water, protein, fat and ash; sugars are analyzed. In milk the
sugars come out above it by some tenths of a gram, and a panel cannot print that.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from setwell.engine.labels.contents import COMPONENT_INDEX
from setwell.engine.labels.panel_amounts import PanelAmounts
from setwell.engine.labels.panel_blockers import is_row_above
from setwell.engine.labels.panel_results import PanelColumn, PanelRow
from setwell.engine.labels.panel_rows import panel_rows
from setwell.engine.row_products import row_products

_SUGARS, _CARBOHYDRATE = "sugars", "carbohydrate"
# What two analyses may differ by, per 100 g of a food (our judgment); more is a wrong figure.
_MOST_G = 1.0
# What somebody typed into the pantry is to be corrected there.
_OWN = "own:"


def agreed_rows(
    amounts: PanelAmounts,
    columns: Sequence[PanelColumn],
    mixes: Mapping[str, Mapping[str, float]],
    row: int,
) -> tuple[PanelAmounts, tuple[PanelRow, ...], tuple[str, ...]]:
    """Return amounts and rows; carbohydrate is raised to the sugars where it would print below.

    The note says in which foods, from what to what.
    """
    rows = panel_rows(amounts, columns, mixes, row)
    by_key = {one.key: one for one in rows}
    missing = _missing(amounts)
    is_settled = amounts.analyzed & {_SUGARS, _CARBOHYDRATE} or not missing.any()
    if is_settled or not is_row_above(by_key[_SUGARS], by_key[_CARBOHYDRATE]):
        return amounts, rows, ()
    raised = _raised(amounts, missing)
    after = panel_rows(raised, columns, mixes, row)
    return raised, after, (_note(amounts, raised, missing, row),)


def _missing(amounts: PanelAmounts) -> NDArray[np.float64]:
    """Return by how much the sugars of each food are above its carbohydrate, in 100 g of it."""
    value = amounts.contents.value
    gap = value[:, COMPONENT_INDEX[_SUGARS]] - value[:, COMPONENT_INDEX[_CARBOHYDRATE]]
    is_table = np.array(
        [not one.key.startswith(_OWN) for one in amounts.bench.plan.materials], dtype=bool
    )
    return np.where(is_table & (gap > 0.0) & (gap <= _MOST_G), gap, 0.0)


def _raised(amounts: PanelAmounts, missing: NDArray[np.float64]) -> PanelAmounts:
    state = amounts.bench.state
    finished = state.composition.finished_g
    masses = np.clip(state.masses, 0.0, None)
    scale = np.divide(1.0, finished, out=np.zeros_like(finished), where=finished > 0)
    added = row_products(masses, missing[:, None])[:, 0] * scale
    column = COMPONENT_INDEX[_CARBOHYDRATE]
    value, half = amounts.value.copy(), amounts.half.copy()
    value[:, column] += added
    # It may be the carbohydrate that is right: the range reaches down to it.
    half[:, column] = np.hypot(half[:, column], added)
    return replace(amounts, value=value, half=half)


def _note(before: PanelAmounts, after: PanelAmounts, missing: NDArray[np.float64], row: int) -> str:
    column = COMPONENT_INDEX[_CARBOHYDRATE]
    masses = before.bench.state.masses[row]
    foods = [
        one.name
        for one, gap, mass in zip(before.bench.plan.materials, missing, masses, strict=True)
        if gap > 0 and mass > 0
    ]
    low, high = float(before.value[row, column]), float(after.value[row, column])
    return (
        f"Carbohydrate is taken as no less than the sugars in it: {high:.2f} g in 100 g in place "
        f"of {low:.2f} g by difference, {high - low:.2f} g more, counted in the energy too. In "
        f"{', '.join(dict.fromkeys(foods))} analyzed sugars are above the carbohydrate of the "
        "tables. An analysis of the finished food settles it."
    )
