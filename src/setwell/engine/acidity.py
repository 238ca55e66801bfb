"""pH of n batches from the charge balance of what is in them, with an honest range."""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.acid_side import (
    acid_side,
    system_names,
    systems_taken,
    water_at,
)
from setwell.engine.material import Material
from setwell.engine.row_products import row_products
from setwell.engine.spans import Spans
from setwell.science.solution.charge_balance import (
    ChargeBalance,
    ph_charge_balance,
    strong_ion_difference_for_ph,
)

Array = NDArray[np.float64]

_CELSIUS = 25.0
# What the model itself is not trusted closer than: activities, ion pairs, lost carbon dioxide.
_MODEL_HALF_WIDTH = 0.1
# Less water than this share of the batch is no solution.
_LEAST_WATER = 0.05
# A food without a known pH can pull either way, by its share of the batch.
_UNKNOWN_PULL = 1.5
# A doubt that moves the pH by less than this is drawn as a straight line.
_LOUD = 0.1
# Ionic strength is good to this factor: minerals vary, and milk groups are left out (our judgment).
_STRENGTH_DOUBT = 1.3


@dataclass(frozen=True, slots=True)
class Acidity:
    """The solved water phase of n batches.

    `totals` (n, s) and `charges` (n, s) are mol per kg of water and mean charge of each
    system; `strong` (n,) the strong ion difference, `ionic_strength` (n,) in mol/kg,
    `capacity` (n,) in mol per kg of water and pH unit. `is_solved` is False where there is
    too little water to speak of a pH, `is_beyond` where the solution is too strong for the
    activity model. `pulls` (n, k) tells how much each material widens the range.
    """

    ph: Spans
    ionic_strength: Array
    capacity: Array
    totals: Array
    charges: Array
    strong: Array
    known_share: Array
    is_solved: NDArray[np.bool_]
    is_beyond: NDArray[np.bool_]
    pulls: Array
    amounts: "Solution"

    def at_ph(self, ph: Spans) -> "Acidity":
        """Return the same acids held at another pH, as a reading shows it."""
        return replace(self, ph=ph, strong=self.amounts.strong_for(ph.value))

    def ionic_strength_range(self) -> Spans:
        """Return the ionic strength with the doubt in minerals and buffers [mol/kg]."""
        strength = self.ionic_strength
        return Spans(strength, strength / _STRENGTH_DOUBT, strength * _STRENGTH_DOUBT)

    def strong_at(self, ph: float) -> Array:
        """Return the strong ion difference that would hold each batch at a pH [mol/kg water]."""
        return self.amounts.strong_for(np.full(len(self.strong), ph))


@dataclass(frozen=True, slots=True)
class Solution:
    """Amounts per kg of water that the balance is solved for."""

    totals: Array
    strong: Array
    strong_strength: Array

    def solved(self) -> tuple[ChargeBalance, NDArray[np.intp]]:
        """Return the balance, and the columns of the systems that are there at all."""
        columns = self._columns()
        found = ph_charge_balance(
            self.totals[:, columns],
            self.strong,
            acids=systems_taken(_CELSIUS, columns),
            water=water_at(_CELSIUS),
            strong_ionic_strength=self.strong_strength,
        )
        return found, columns

    def strong_for(self, ph: Array) -> Array:
        """Return the strong ion difference that holds each batch at its pH."""
        columns = self._columns()
        return strong_ion_difference_for_ph(
            self.totals[:, columns],
            ph,
            acids=systems_taken(_CELSIUS, columns),
            water=water_at(_CELSIUS),
            strong_ionic_strength=self.strong_strength,
        ).difference

    def _columns(self) -> NDArray[np.intp]:
        return np.flatnonzero(np.logical_or.reduce(self.totals > 0))


class _Sides(NamedTuple):
    """The sides of k materials in columns: (k, s) and (k,)."""

    totals: Array
    # Cations, strong ion difference and ionic strength per kilogram, (k, 3).
    salts: Array
    # Charge that the acids of each material carry at its own pH, per kilogram.
    native_charge: Array
    # What the doubt in its pH is worth, per kilogram.
    off: Array
    total_log_half_width: Array
    is_known: Array


@lru_cache(maxsize=256)
def _sides(materials: tuple[Material, ...]) -> _Sides:
    sides = [acid_side(material) for material in materials]

    def column(field: str) -> Array:
        return np.array([getattr(side, field) for side in sides], dtype=np.float64)

    def stack(field: str) -> Array:
        return column(field).reshape(len(sides), len(system_names()))

    totals = stack("totals")
    return _Sides(
        totals,
        np.stack([column("cations"), column("strong"), column("ionic")], axis=1),
        (stack("native_charge") * totals).sum(axis=1),
        column("native_capacity") * column("ph_half_width"),
        column("total_log_half_width"),
        column("is_known"),
    )


def solution(per_water: Array, sides: _Sides) -> Solution:
    """Return what n batches hold per kg of water; `per_water` (n, k) is kg of material."""
    cations, strong, ionic = row_products(per_water, sides.salts).T
    # Strong anions are what balances the cations that the weak acids leave over.
    anions = 0.5 * np.maximum(cations - strong, 0.0)
    totals = np.maximum(row_products(per_water, sides.totals), 0.0)
    return Solution(totals, strong, np.maximum(ionic, 0.0) + anions)


def acidity(masses: Array, materials: tuple[Material, ...], water_g: Array) -> Acidity:
    """Return the pH of n batches of k materials; `masses` (n, k) and `water_g` (n,) in grams."""
    sides = _sides(materials)
    masses = np.asarray(masses, dtype=np.float64)
    weights = np.abs(masses)
    batch = weights.sum(axis=1)
    is_solved = (water_g > _LEAST_WATER * batch) & (batch > 0)
    per_water = np.divide(
        masses, water_g[:, None], out=np.zeros_like(masses), where=is_solved[:, None]
    )
    amounts = solution(per_water, sides)
    found, columns = amounts.solved()
    charges = np.zeros_like(amounts.totals)
    charges[:, columns] = found.mean_charge
    own, more = _pulls(per_water, sides, charges, found.buffer_capacity)
    loud = more.max(axis=1, initial=0.0)
    down, up = _loudest(per_water, sides, more, found.ph)
    rest = np.sqrt((own**2).sum(axis=1) + (more**2).sum(axis=1) - loud**2 + _MODEL_HALF_WIDTH**2)
    known = np.divide(weights @ sides.is_known, batch, out=np.ones_like(batch), where=batch > 0)
    extra = _UNKNOWN_PULL * (1.0 - known) + np.where(found.is_beyond_model, 0.2, 0.0)
    low, high = found.ph - np.hypot(down, rest) - extra, found.ph + np.hypot(up, rest) + extra
    return Acidity(
        ph=Spans(
            np.where(is_solved, found.ph, 7.0),
            np.where(is_solved, _on_scale(low), 0.0),
            np.where(is_solved, _on_scale(high), 14.0),
        ),
        ionic_strength=found.ionic_strength,
        capacity=found.buffer_capacity,
        totals=amounts.totals,
        charges=charges,
        strong=amounts.strong,
        known_share=np.where(is_solved, known, 0.0),
        is_solved=is_solved,
        is_beyond=found.is_beyond_model,
        pulls=np.hypot(own, more),
        amounts=amounts,
    )


def _on_scale(ph: Array) -> Array:
    return np.minimum(np.maximum(ph, 0.0), 14.0)


def _pulls(per_water: Array, sides: _Sides, charges: Array, capacity: Array) -> tuple[Array, Array]:
    """Return how far the doubt in each material moves the pH, twice of shape (n, k).

    Its own pH may be off, which moves its strong ions by its capacity; its acids may be more or
    fewer, which counts by the charge they take up between its own pH and that of the mixture.
    """
    softness = np.abs(per_water) / np.maximum(capacity, 1e-7)[:, None]
    taken_up = np.abs(row_products(charges, sides.totals.T) - sides.native_charge)
    return softness * sides.off, softness * taken_up * sides.total_log_half_width


def _loudest(per_water: Array, sides: _Sides, more: Array, ph: Array) -> tuple[Array, Array]:
    """Return how far below and above the pH lies if the most doubtful buffer is less or more.

    Solved again rather than drawn as a straight line: a buffer that may be four times as strong
    moves the pH by far less than four times a small change.
    """
    loud = more.max(axis=1, initial=0.0)
    rows = np.flatnonzero(loud > _LOUD)
    if not rows.size:
        return loud, loud
    loudest = more[rows].argmax(axis=1)
    factor = np.exp(sides.total_log_half_width)[loudest]
    less, greater = per_water[rows], per_water[rows]
    here = np.arange(len(rows))
    less[here, loudest] /= factor
    greater[here, loudest] *= factor
    both = solution(np.concatenate([less, greater]), sides).solved()[0].ph
    moved = both.reshape(2, -1) - ph[rows]
    down, up = loud.copy(), loud.copy()
    down[rows] = np.maximum(-moved.min(axis=0), 0.0)
    up[rows] = np.maximum(moved.max(axis=0), 0.0)
    return down, up
