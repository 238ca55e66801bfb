"""How many protons the acids of a water phase have lost, with the slopes a solver needs.

Throughout: x is pH times ln 10, phi the Davies term times ln 10. Sums run along the last axis
of contiguous arrays, never through a matrix product, so that a mixture gives the same bits
alone and in a batch.
"""

from dataclasses import dataclass
from typing import NamedTuple, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]
Rows = NDArray[np.intp] | slice

LN10 = float(np.log(10.0))


class AcidSystems(NamedTuple):
    """Constants of s weak acids and titratable sites.

    pk : shape (s, 4) or (n, s, 4), in order of loss, NaN after the last step [-].
    top_charge : shape (s,), charge of the form that has all its protons [-].
    slope : shape (s,), Hill slope, for systems of one step; None for 1 [-].
    is_apparent : shape (s,), the constants hold at the ionic strength of the food, as for
        sites on a protein: no activity correction, no part in the ionic strength; None for no.
    """

    pk: ArrayLike
    top_charge: ArrayLike
    slope: ArrayLike | None = None
    is_apparent: ArrayLike | None = None


class Loss(NamedTuple):
    """Lost protons and squared charges, summed over systems, with their slopes [mol/kg]."""

    protons: Array
    protons_by_x: Array
    protons_by_phi: Array
    squares: Array
    squares_by_x: Array
    squares_by_phi: Array


def _rows_of(constants: Array, rows: Rows) -> Array:
    return constants if constants.shape[0] == 1 else constants[rows]


@dataclass(frozen=True, slots=True)
class OneStep:
    """Systems that lose a single proton."""

    totals: Array
    ln_k: Array
    slope: Array
    # Change of the squared charge at the loss, and the squared charge before it.
    square_step: Array
    square_top: Array

    @classmethod
    def of(cls, totals: Array, pk: Array, charge: Array, slope: Array, active: Array) -> Self:
        """Prepare systems from pk (1 or n, s, 4)."""
        step = active * (1.0 - 2.0 * charge)
        return cls(totals, -LN10 * pk[:, :, 0], slope, step, active * charge**2)

    def rows(self, rows: Rows) -> "OneStep":
        """Return the same systems of some mixtures only."""
        ln_k = _rows_of(self.ln_k, rows)
        return OneStep(self.totals[rows], ln_k, self.slope, self.square_step, self.square_top)

    def lost(self, x: Array, phi: Array) -> Array:
        """Return the share that has lost its proton, shape (n, s) [-]."""
        exponent = self.slope * (x[:, None] + self.ln_k) + phi[:, None] * self.square_step
        return np.asarray(1.0 / (1.0 + np.exp(-exponent)))

    def loss(self, x: Array, phi: Array) -> Loss:
        """Return the sums with their slopes."""
        share = self.lost(x, phi)
        amount = self.totals * share
        spread = amount * (1.0 - share)
        by_step = spread * self.square_step
        sloped = spread * self.slope
        return Loss(
            amount.sum(axis=1),
            sloped.sum(axis=1),
            by_step.sum(axis=1),
            (self.totals * self.square_top + amount * self.square_step).sum(axis=1),
            (by_step * self.slope).sum(axis=1),
            (by_step * self.square_step).sum(axis=1),
        )


@dataclass(frozen=True, slots=True)
class SeveralSteps:
    """Systems that lose up to four protons one after the other."""

    totals: Array
    constants: tuple[Array, ...]
    charge: Array
    active: Array

    @classmethod
    def of(cls, totals: Array, pk: Array, charge: Array, active: Array) -> Self:
        """Prepare systems from pk (1 or n, s, 4)."""
        last = int((~np.isnan(pk)).any(axis=(0, 1)).sum())
        steps = np.where(np.isnan(pk), 0.0, np.exp(-LN10 * np.nan_to_num(pk)))
        constants = tuple(np.ascontiguousarray(steps[:, :, step]) for step in range(last))
        return cls(totals, constants, charge, active)

    def rows(self, rows: Rows) -> "SeveralSteps":
        """Return the same systems of some mixtures only."""
        constants = tuple(_rows_of(step, rows) for step in self.constants)
        return SeveralSteps(self.totals[rows], constants, self.charge, self.active)

    def weights(self, x: Array, phi: Array) -> list[Array]:
        """Return each form's amount beside the fully protonated one, shapes (n, s) [-]."""
        field = phi[:, None] * self.active
        # Losing proton k changes the squared charge by 2 k − 1 − 2 z.
        factor = np.exp(x[:, None] + field * (1.0 - 2.0 * self.charge))
        further = np.exp(2.0 * field)
        found = [self.constants[0] * factor]
        for constant in self.constants[1:]:
            factor = factor * further
            found.append(found[-1] * (constant * factor))
        return found

    def lost(self, x: Array, phi: Array) -> Array:
        """Return the mean number of protons lost, shape (n, s) [-]."""
        weights = self.weights(x, phi)
        whole = 1.0 + sum(weights)
        return np.asarray(sum(k * w for k, w in enumerate(weights, 1)) / whole)

    def loss(self, x: Array, phi: Array) -> Loss:
        """Return the sums with their slopes."""
        first, second, third, fourth = self._moments(self.weights(x, phi))
        twice = 2.0 * self.charge
        spread = second - first * first
        skew = third - first * second
        by_phi = self.active * (skew - twice * spread)
        square = self.active * (self.charge**2 + second - twice * first)
        wide = (fourth - second * second) - twice * (skew + skew - twice * spread)
        return Loss(
            *(
                (self.totals * part).sum(axis=1)
                for part in (first, spread, by_phi, square, by_phi, self.active * wide)
            )
        )

    @staticmethod
    def _moments(weights: list[Array]) -> tuple[Array, Array, Array, Array]:
        """Return the means of the first four powers of the number of protons lost."""
        share = 1.0 / (1.0 + sum(weights))
        term = [weight * share for weight in weights]
        sums = []
        for _ in range(4):
            term = [part * k if k > 1 else part for k, part in enumerate(term, 1)]
            sums.append(np.asarray(sum(term[1:], start=term[0])))
        return sums[0], sums[1], sums[2], sums[3]


@dataclass(frozen=True, slots=True)
class Protonation:
    """All systems of n mixtures, ready to be asked at any pH."""

    one: OneStep
    several: SeveralSteps
    # Charge of all systems with all their protons [mol/kg].
    top: Array

    def rows(self, rows: Rows) -> "Protonation":
        """Return some mixtures only."""
        return Protonation(self.one.rows(rows), self.several.rows(rows), self.top[rows])

    def loss(self, x: Array, phi: Array) -> Loss:
        """Return the sums over all systems with their slopes."""
        if not self.several.constants:
            return self.one.loss(x, phi)
        if not self.one.totals.shape[1]:
            return self.several.loss(x, phi)
        pairs = zip(self.one.loss(x, phi), self.several.loss(x, phi), strict=True)
        return Loss(*(one + several for one, several in pairs))


def _checked(totals: ArrayLike, acids: AcidSystems) -> tuple[Array, Array]:
    """Return totals (n, s) and pk (1 or n, s, 4), or say what does not fit."""
    amounts = np.ascontiguousarray(np.atleast_2d(np.asarray(totals, dtype=np.float64)))
    pk = np.asarray(acids.pk, dtype=np.float64)
    pk = pk[None] if pk.ndim == 2 else pk
    if pk.ndim != 3 or pk.shape[1] != amounts.shape[1] or pk.shape[0] not in (1, len(amounts)):
        message = f"Constants of shape {pk.shape} do not fit totals of shape {amounts.shape}."
        raise OutOfRangeError(message, field="pk", hint="Give one row of constants per system.")
    if np.any(amounts < 0):
        message = f"A total of {np.nanmin(amounts):g} mol/kg is below zero."
        raise OutOfRangeError(message, field="totals", hint="Give zero or more.")
    if np.any(np.isnan(pk[:, :, 0])):
        raise OutOfRangeError("A system has no first step.", field="pk", hint="Give its pK.")
    return amounts, pk


class Prepared(NamedTuple):
    """Systems sorted by their number of steps, and the column each of them came from."""

    protonation: Protonation
    totals: Array
    charge: Array
    one_columns: NDArray[np.intp]
    several_columns: NDArray[np.intp]

    @classmethod
    def of(cls, totals: ArrayLike, acids: AcidSystems) -> Self:
        """Check and sort the systems of n mixtures."""
        amounts, pk = _checked(totals, acids)
        shape = amounts.shape[1:]
        charge = np.broadcast_to(np.asarray(acids.top_charge, dtype=np.float64), shape)
        slope = np.broadcast_to(1.0 if acids.slope is None else np.asarray(acids.slope), shape)
        apparent = np.broadcast_to(
            0.0 if acids.is_apparent is None else np.asarray(acids.is_apparent), shape
        )
        active = 1.0 - apparent
        is_one = np.isnan(pk[:, :, 1:]).all(axis=(0, 2))
        if np.any((slope != 1.0) & ~is_one):
            message = "A Hill slope other than 1 belongs to a system of one step."
            raise OutOfRangeError(message, field="slope", hint="Split the system into sites.")
        one, several = np.flatnonzero(is_one), np.flatnonzero(~is_one)
        first = np.ascontiguousarray(amounts[:, one])
        second = np.ascontiguousarray(amounts[:, several])
        return cls(
            Protonation(
                OneStep.of(first, pk[:, one], charge[one], slope[one], active[one]),
                SeveralSteps.of(second, pk[:, several], charge[several], active[several]),
                (amounts * charge).sum(axis=1),
            ),
            amounts,
            charge,
            one,
            several,
        )

    def mean_charge(self, x: Array, phi: Array) -> Array:
        """Return the mean charge of each system, shape (n, s) [-]."""
        lost = np.empty_like(self.totals)
        lost[:, self.one_columns] = self.protonation.one.lost(x, phi)
        if self.several_columns.size:
            lost[:, self.several_columns] = self.protonation.several.lost(x, phi)
        return self.charge - lost
