"""How many protons the acids of a water phase have lost, with the slopes a solver needs.

Throughout: x is pH times ln 10, phi the Davies term times ln 10. Sums run along the last axis
of contiguous arrays, never through a matrix product, so that a mixture gives the same bits
alone and in a batch.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property, reduce
from typing import NamedTuple, Self

import numpy as np
from numpy.typing import ArrayLike, DTypeLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]
Rows = NDArray[np.intp] | slice

LN10 = float(np.log(10.0))
# So few rows are added sooner one by one.
_FEW_ROWS = 4
_COARSE: DTypeLike = np.float32


@dataclass(frozen=True, eq=False)
class AcidSystems:
    """Constants of s weak acids and titratable sites, not to be changed once in use.

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

    @cached_property
    def sorted(self) -> "Sorted":
        """The systems in groups; the same systems are solved for again and again."""
        return Sorted.of(self)


class Loss(NamedTuple):
    """Lost protons and squared charges, summed over systems, with their slopes [mol/kg]."""

    protons: Array
    protons_by_x: Array
    protons_by_phi: Array
    squares: Array
    squares_by_x: Array
    squares_by_phi: Array


class Columns:
    """Sums and parts of arrays whose last axis is that of the mixtures."""

    @staticmethod
    def added(parts: Array) -> Array:
        """Return the sum over the first axis, always one part after the other."""
        if 1 <= len(parts) <= _FEW_ROWS:
            return reduce(np.add, parts)
        if parts.shape[-1] > 1:
            return np.asarray(parts.sum(axis=0))
        # A lone column would be summed in pairs, with other last bits than in a batch.
        return np.asarray(parts.cumsum(axis=0)[-1]) if len(parts) else np.zeros(parts.shape[1:])

    @staticmethod
    def picked(numbers: Array, rows: Rows) -> Array:
        """Return the columns of some mixtures; a single column belongs to all of them."""
        if numbers.shape[-1] == 1:
            return numbers
        return numbers[..., rows] if isinstance(rows, slice) else numbers.take(rows, axis=-1)

    @staticmethod
    def coarse(numbers: Array) -> Array:
        """Return the same numbers with half the digits, which is enough on the way."""
        return numbers.astype(_COARSE)


@dataclass(frozen=True, slots=True)
class OneStep:
    """Systems that lose a single proton; arrays have the shape (s, n), constants (s, 1 or n)."""

    totals: Array
    ln_k: Array
    slope: Array
    # Change of the squared charge at the loss, and the squared charge before it.
    square_step: Array
    square_top: Array
    # Plain acids: no slope, no charge before, activities count. Most are, and go quicker.
    is_plain: bool

    @classmethod
    def of(cls, totals: Array, pk: Array, charge: Array, slope: Array, active: Array) -> Self:
        """Prepare systems from pk (steps, s, 1 or n)."""
        step = active * (1.0 - 2.0 * charge)
        is_plain = bool(np.all(slope == 1.0) and np.all(charge == 0.0) and np.all(active == 1.0))
        return cls(totals, -LN10 * pk[0], slope, step, active * charge**2, is_plain)

    def holding(self, totals: Array) -> "OneStep":
        """Return the same systems in other amounts."""
        step, top = self.square_step, self.square_top
        return OneStep(totals, self.ln_k, self.slope, step, top, self.is_plain)

    def rows(self, rows: Rows) -> "OneStep":
        """Return the same systems of some mixtures only."""
        ln_k, totals = Columns.picked(self.ln_k, rows), Columns.picked(self.totals, rows)
        return replace(self, totals=totals, ln_k=ln_k)

    def coarse(self) -> "OneStep":
        """Return the same systems with half the digits."""
        return OneStep(
            Columns.coarse(self.totals),
            Columns.coarse(self.ln_k),
            Columns.coarse(self.slope),
            Columns.coarse(self.square_step),
            Columns.coarse(self.square_top),
            self.is_plain,
        )

    @property
    def is_shared(self) -> bool:
        """Whether all mixtures have the same constants."""
        return bool(self.ln_k.shape[-1] == 1)

    def ratio(self, x: Array, phi: Array) -> Array:
        """Return the form without its proton beside that with it [-]."""
        if self.is_plain:
            return np.asarray(np.exp(x + phi) * np.exp(self.ln_k))
        return np.exp(self.slope * (x + self.ln_k) + phi * self.square_step)

    def lost(self, x: Array, phi: Array) -> tuple[Array, Array]:
        """Return the share that has lost its proton, and its slope by x [-]."""
        ratio = self.ratio(x, phi)
        whole = 1.0 + ratio
        share = ratio / whole
        return share, self.slope * share / whole

    def loss(self, x: Array, phi: Array) -> Loss:
        """Return the sums with their slopes."""
        amount = self.ratio(x, phi)
        whole = 1.0 + amount
        amount *= self.totals
        amount /= whole
        spread = np.divide(amount, whole, out=whole)
        if self.is_plain:
            lost, by_any = Columns.added(amount), Columns.added(spread)
            return Loss(lost, by_any, by_any, lost, by_any, by_any)
        by_step = spread * self.square_step
        return Loss(
            Columns.added(amount),
            Columns.added(spread * self.slope),
            Columns.added(by_step),
            Columns.added(self.totals * self.square_top + amount * self.square_step),
            Columns.added(by_step * self.slope),
            Columns.added(by_step * self.square_step),
        )


@dataclass(frozen=True, slots=True)
class SeveralSteps:
    """Systems that lose up to four protons; arrays as for one step."""

    totals: Array
    constants: tuple[Array, ...]
    charge: Array
    active: Array
    # Acids without a charge before, whose activities count.
    is_plain: bool

    @classmethod
    def of(cls, totals: Array, pk: Array, charge: Array, active: Array) -> Self:
        """Prepare systems from pk (steps, s, 1 or n)."""
        last = int((~np.isnan(pk)).any(axis=(1, 2)).sum())
        steps = np.where(np.isnan(pk), 0.0, np.exp(-LN10 * np.nan_to_num(pk)))
        is_plain = bool(np.all(charge == 0.0) and np.all(active == 1.0))
        return cls(totals, tuple(steps[:last]), charge, active, is_plain)

    def holding(self, totals: Array) -> "SeveralSteps":
        """Return the same systems in other amounts."""
        return SeveralSteps(totals, self.constants, self.charge, self.active, self.is_plain)

    def rows(self, rows: Rows) -> "SeveralSteps":
        """Return the same systems of some mixtures only."""
        constants = tuple(Columns.picked(step, rows) for step in self.constants)
        return replace(self, totals=Columns.picked(self.totals, rows), constants=constants)

    def coarse(self) -> "SeveralSteps":
        """Return the same systems with half the digits."""
        return SeveralSteps(
            Columns.coarse(self.totals),
            tuple(Columns.coarse(step) for step in self.constants),
            Columns.coarse(self.charge),
            Columns.coarse(self.active),
            self.is_plain,
        )

    @property
    def is_shared(self) -> bool:
        """Whether all mixtures have the same constants."""
        return bool(self.constants[0].shape[-1] == 1)

    def weights(self, x: Array, phi: Array) -> list[Array]:
        """Return each form's amount beside the fully protonated one [-]."""
        if self.is_plain:
            factor, further = np.exp(x + phi), np.exp(2.0 * phi)
        else:
            field = phi * self.active
            factor = np.exp(x + field * (1.0 - 2.0 * self.charge))
            further = np.exp(2.0 * field)
        found = [self.constants[0] * factor]
        for constant in self.constants[1:]:
            # Losing proton k changes the squared charge by 2 k − 1 − 2 z.
            factor = factor * further
            weight = found[-1] * factor
            weight *= constant
            found.append(weight)
        return found

    def lost(self, x: Array, phi: Array) -> tuple[Array, Array]:
        """Return the mean number of protons lost, and its slope by x [-]."""
        weights = self.weights(x, phi)
        share = 1.0 / (1.0 + reduce(np.add, weights))
        first, second = (powers * share for powers in self._powers(weights, 2))
        return first, second - first * first

    def loss(self, x: Array, phi: Array) -> Loss:
        """Return the sums with their slopes."""
        weights = self.weights(x, phi)
        share = 1.0 / (1.0 + reduce(np.add, weights))
        lost, square, skew, wide = self._powers(weights, 4)
        first, second = lost * share, square * share
        share *= self.totals
        for powers in (lost, square, skew, wide):
            np.multiply(powers, share, out=powers)
        spread = square - lost * first
        skew -= square * first
        wide -= square * second
        if not self.is_plain:
            twice = 2.0 * self.charge
            skew = skew - twice * spread
            square = self.active * (self.totals * self.charge**2 + square - twice * lost)
            wide = self.active * (wide - twice * (skew + skew + twice * spread))
            skew = self.active * skew
        by_phi = Columns.added(skew)
        return Loss(
            Columns.added(lost),
            Columns.added(spread),
            by_phi,
            Columns.added(square),
            by_phi,
            Columns.added(wide),
        )

    @staticmethod
    def _powers(weights: list[Array], count: int) -> list[Array]:
        """Return sums of weights times powers of the protons lost; the weights are used up."""
        first, *further = weights
        found = []
        for _ in range(count):
            for protons, weight in enumerate(further, 2):
                np.multiply(weight, protons, out=weight)
            found.append(reduce(np.add, further, first))
        return found


@dataclass(frozen=True, slots=True)
class Protonation:
    """All systems of n mixtures in groups that are reckoned alike."""

    parts: tuple[OneStep | SeveralSteps, ...]

    def rows(self, rows: Rows) -> "Protonation":
        """Return some mixtures only."""
        return Protonation(tuple(part.rows(rows) for part in self.parts))

    def coarse(self) -> "Protonation":
        """Return the same systems with half the digits."""
        return Protonation(tuple(part.coarse() for part in self.parts))

    def scale(self, x: Array, phi: Array) -> Callable[[NDArray[np.intp]], Array]:
        """Return what tells the protons lost, coarsely, from a place on x for each mixture."""
        if not self.parts:
            return lambda place: np.zeros(len(place))
        totals = Columns.coarse(np.concatenate([part.totals for part in self.parts]))

        def shares(x: Array) -> Array:
            found = [part.lost(x, phi)[0] for part in self.parts]
            return Columns.coarse(np.concatenate(found, axis=-2))

        # Constants that all mixtures have are looked up, others reckoned for each.
        is_shared = all(part.is_shared for part in self.parts)
        table = np.ascontiguousarray(shares(x[:, None, None])[..., 0].T) if is_shared else None

        def lost(place: NDArray[np.intp]) -> Array:
            amounts = shares(x[place]) if table is None else table.take(place, 1, mode="clip")
            amounts *= totals
            return Columns.added(amounts)

        return lost

    def loss(self, x: Array, phi: Array) -> Loss:
        """Return the sums over all systems with their slopes, each of shape (n,)."""
        if not self.parts:
            return Loss(*(np.zeros_like(x) for _ in Loss._fields))
        whole = self.parts[0].loss(x, phi)
        for part in self.parts[1:]:
            whole = Loss(*(a + b for a, b in zip(whole, part.loss(x, phi), strict=True)))
        return whole


class Charges(NamedTuple):
    """Mean charge of each system (n, s) [-]; protons lost and their slope, (n,) [mol/kg]."""

    mean: Array
    protons: Array
    protons_by_x: Array


def _checked(totals: ArrayLike, acids: AcidSystems) -> Array:
    """Return totals (n, s), or say what does not fit."""
    amounts = np.ascontiguousarray(np.atleast_2d(np.asarray(totals, dtype=np.float64)))
    shape = acids.sorted.shape
    if len(shape) != 3 or shape[1] != amounts.shape[1] or shape[0] not in (1, len(amounts)):
        message = f"Constants of shape {shape} do not fit totals of shape {amounts.shape}."
        raise OutOfRangeError(message, field="pk", hint="Give one row of constants per system.")
    if np.any(amounts < 0):
        message = f"A total of {np.nanmin(amounts):g} mol/kg is below zero."
        raise OutOfRangeError(message, field="totals", hint="Give zero or more.")
    return amounts


class Sorted(NamedTuple):
    """Systems in groups that are reckoned alike, without amounts.

    `shape` is that of the constants, `charge` (s, 1) with all protons; `places` are the rows
    that each of the `parts` has among all.
    """

    shape: tuple[int, ...]
    charge: Array
    places: tuple[NDArray[np.intp], ...]
    parts: tuple[OneStep | SeveralSteps, ...]

    @classmethod
    def of(cls, acids: AcidSystems) -> Self:
        """Check and sort the systems."""
        constants = np.asarray(acids.pk, dtype=np.float64)
        constants = constants[None] if constants.ndim == 2 else constants
        if constants.ndim != 3:
            return cls(constants.shape, np.zeros((0, 1)), (), ())
        if np.any(np.isnan(constants[:, :, 0])):
            raise OutOfRangeError("A system has no first step.", field="pk", hint="Give its pK.")
        pk, count = np.ascontiguousarray(constants.transpose(2, 1, 0)), constants.shape[1]
        charge = cls.column(acids.top_charge, count)
        slope = cls.column(1.0 if acids.slope is None else acids.slope, count)
        active = 1.0 - cls.column(0.0 if acids.is_apparent is None else acids.is_apparent, count)
        is_one = np.asarray(np.isnan(pk[1:]).all(axis=(0, 2)))
        if np.any(slope[~is_one] != 1.0):
            message = "A Hill slope other than 1 belongs to a system of one step."
            raise OutOfRangeError(message, field="slope", hint="Split the system into sites.")
        is_plain = ((slope == 1.0) & (charge == 0.0) & (active == 1.0))[:, 0]
        groups = (is_one & is_plain, is_one & ~is_plain, ~is_one)
        places = tuple(np.flatnonzero(group) for group in groups if group.any())
        none = np.zeros((0, 0))
        parts = tuple(
            OneStep.of(none, pk[:, at], charge[at], slope[at], active[at])
            if is_one[at[0]]
            else SeveralSteps.of(none, pk[:, at], charge[at], active[at])
            for at in places
        )
        return cls(constants.shape, charge, places, parts)

    @staticmethod
    def column(numbers: ArrayLike, count: int) -> Array:
        """Return one number for each system as a column."""
        found = np.asarray(numbers, dtype=np.float64)
        return (found if found.shape == (count,) else np.broadcast_to(found, (count,)))[:, None]


class Prepared(NamedTuple):
    """Systems in groups, and the rows that each group had among all."""

    protonation: Protonation
    totals: Array
    charge: Array
    places: tuple[NDArray[np.intp], ...]

    @classmethod
    def of(cls, totals: ArrayLike, acids: AcidSystems) -> Self:
        """Check and sort the systems of n mixtures."""
        amounts = np.ascontiguousarray(_checked(totals, acids).T)
        known = acids.sorted
        pairs = zip(known.parts, known.places, strict=True)
        parts = tuple(part.holding(amounts[at]) for part, at in pairs)
        return cls(Protonation(parts), amounts, known.charge, known.places)

    @property
    def top(self) -> Array:
        """Charge of all systems with all their protons, shape (n,) [mol/kg]."""
        return Columns.added(self.totals * self.charge)

    def rows(self, rows: Rows) -> "Prepared":
        """Return some mixtures only."""
        totals = Columns.picked(self.totals, rows)
        return self._replace(protonation=self.protonation.rows(rows), totals=totals)

    def mean_charge(self, x: Array, phi: Array) -> Array:
        """Return the mean charge of each system, shape (n, s) [-]."""
        return self.charges(x, phi).mean

    def charges(self, x: Array, phi: Array) -> "Charges":
        """Return what all systems have lost, without the slopes that only a search needs."""
        mean = np.empty((len(x), len(self.totals)))
        protons, by_x = np.zeros(len(x)), np.zeros(len(x))
        for at, part in zip(self.places, self.protonation.parts, strict=True):
            lost, spread = part.lost(x, phi)
            mean[:, at] = (self.charge[at] - lost).T
            protons += Columns.added(part.totals * lost)
            by_x += Columns.added(part.totals * spread)
        return Charges(mean, protons, by_x)
