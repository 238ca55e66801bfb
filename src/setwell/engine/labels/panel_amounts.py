"""Amounts for a panel, per 100 g of the finished food and for n batches at once."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.labels.contents import (
    COMPONENT_INDEX,
    COMPONENTS,
    PLAIN,
    Contents,
    label_contents,
)
from setwell.engine.labels.fiber import fiber_content
from setwell.engine.origins import nutrient_evidence
from setwell.engine.row_products import row_products
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.provenance import Citation, Evidence, Grade, evidence_join

Array = NDArray[np.float64]

_ANALYSIS: Evidence = (
    Citation("this_kitchen", "an analysis of the finished food", Grade.MEASURED),
)
# What an analysis may replace.
ANALYZED = (*PLAIN, "carbohydrate", "fiber")
_SOURCES = {
    **{key: (nutrient,) for key, nutrient in PLAIN.items()},
    "carbohydrate": ("carbohydrate_g",),
    "fiber": ("fiber_g",),
    "undigested": ("fiber_g",),
    "erythritol": ("polyol_g",),
    "polyol_kcal": ("polyol_g",),
}


@dataclass(frozen=True, slots=True, eq=False)
class PanelAmounts:
    """Arrays (n, c) per 100 g finished food, components in the order of COMPONENTS.

    `half` is the range from nature and lots; `above` and `below` are what missing figures could
    add or take away.
    """

    bench: Bench
    market: str
    contents: Contents
    value: Array
    half: Array
    above: Array
    below: Array
    analyzed: frozenset[str]

    def mixed(self, factors: Mapping[str, float]) -> tuple[Array, Array, Array, Array]:
        """Return value, half width, above and below (n,) of a sum of components."""
        weights = np.zeros(len(COMPONENTS))
        for key, factor in factors.items():
            weights[COMPONENT_INDEX[key]] = factor
        plus, minus = np.clip(weights, 0.0, None), np.clip(-weights, 0.0, None)
        return (
            np.asarray(np.clip(self.value @ weights, 0.0, None)),
            np.sqrt(self.half**2 @ weights**2),
            np.asarray(self.above @ plus + self.below @ minus),
            np.asarray(self.below @ plus + self.above @ minus),
        )

    def unknown_in(self, factors: Mapping[str, float], row: int) -> tuple[str, ...]:
        """Return the ingredients without a figure for one of these components."""
        columns = [COMPONENT_INDEX[k] for k, f in factors.items() if f and k not in self.analyzed]
        open_ = self.contents.above[:, columns] + self.contents.below[:, columns]
        masses = self.bench.state.masses[row]
        materials = self.bench.plan.materials
        return tuple(
            dict.fromkeys(
                material.name
                for material, mass, gap in zip(materials, masses, open_.sum(axis=1), strict=True)
                if gap > 0 and mass != 0
            )
        )

    def evidence(self, factors: Mapping[str, float], row: int) -> Evidence:
        """Return the citations of the ingredients that bring these components."""
        origins = nutrient_evidence(self.bench.plan, self.bench.state, row)
        parts: list[Evidence] = []
        for key in factors:
            if key in self.analyzed:
                parts.append(_ANALYSIS)
            else:
                parts += [origins[nutrient] for nutrient in _SOURCES[key]]
            if key == "fiber" and key not in self.analyzed:
                parts += [
                    fiber_content(material, self.market).evidence
                    for material in self.bench.plan.materials
                    if material.agent is not None
                ]
        return evidence_join(parts)


def panel_amounts(
    bench: Bench, market: str, *, analyzed: Mapping[str, float] | None = None
) -> PanelAmounts:
    """Return what 100 g of the finished food hold; `analyzed` amounts replace computed ones.

    Raises InputError when an analysis names no component or a negative amount.
    """
    state = bench.state
    contents = label_contents(bench.plan.materials, market)
    finished = state.composition.finished_g
    # Per 100 g of material and per 100 g of food: the hundreds cancel.
    scale = np.divide(1.0, finished, out=np.zeros_like(finished), where=finished > 0)[:, None]
    masses = np.clip(state.masses, 0.0, None)
    value = row_products(masses, contents.value) * scale
    half = np.sqrt(row_products(masses**2, contents.wobble**2)) * scale
    above = row_products(masses, contents.above) * scale
    below = row_products(masses, contents.below) * scale
    for key, amount in (analyzed or {}).items():
        column = _column(key, amount)
        value[:, column] = amount
        half[:, column] = above[:, column] = below[:, column] = 0.0
    return PanelAmounts(
        bench, market, contents, value, half, above, below, frozenset(analyzed or ())
    )


def _column(key: str, amount: float) -> int:
    if key not in ANALYZED:
        raise InputError(
            f"An analysis of “{key}” has no place on the panel.",
            hint=f"Give one of: {', '.join(ANALYZED)}.",
        )
    if not 0.0 <= amount < np.inf:
        raise InputError(f"The analyzed amount of {key} is {amount:g}; give a number from 0 on.")
    return COMPONENT_INDEX[key]
