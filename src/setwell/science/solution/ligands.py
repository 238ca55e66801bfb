"""Acids that also hold metal ions: every form with its share and its covariances."""

from typing import NamedTuple, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError
from setwell.science.solution.protonation import LN10, AcidSystems, Array, Columns, Rows


class Metals(NamedTuple):
    """Ions that acids hold, one to one.

    totals : shape (n, m), free and held together [mol/kg].
    charge : shape (m,), charge number [-].
    log_k : shape (h, m, s) or (n, h, m, s), log10 of the constant of metal + acid, without
        ionic strength; the first layer for the acid without protons, the next with one left,
        and so on; NaN where nothing forms [kg/mol].
    """

    totals: ArrayLike
    charge: ArrayLike
    log_k: ArrayLike


class Spread(NamedTuple):
    """Means and covariances of protons lost, squared charge and each metal [mol/kg]."""

    mean: list[Array]
    covariance: list[list[Array]]


class Ligands(NamedTuple):
    """Forms (a), systems (s) and mixtures (n) of the acids that hold metals."""

    columns: NDArray[np.intp]
    totals: Array
    # Natural logarithm of the constant of each form, shape (a, s, 1 or n).
    constants: Array
    # Protons lost and change of the squared charge, shape (a, s, 1).
    lost: Array
    square: Array
    # Which metal a form holds, −1 for none, length a.
    metal: tuple[int, ...]
    top: Array

    @classmethod
    def of(cls, totals: Array, acids: AcidSystems, metals: Metals) -> Self:
        """Prepare the systems that hold any metal; totals have the shape (s, n)."""
        pk = np.asarray(acids.pk, dtype=np.float64)
        pk = (pk[None] if pk.ndim == 2 else pk).transpose(2, 1, 0)
        log_k = _by_metal(metals, pk)
        holds = np.asarray((~np.isnan(log_k)).any(axis=(0, 1, 3)))
        _check_plain(acids, holds)
        columns = np.flatnonzero(holds)
        top = np.broadcast_to(np.asarray(acids.top_charge, dtype=np.float64), holds.shape)
        forms = _forms(pk[:, columns], log_k[:, :, columns])
        charge = np.asarray(metals.charge, dtype=np.float64)
        lost, metal = forms[1], forms[2]
        held = np.array([charge[index] if index >= 0 else 0.0 for index in metal])[:, None, None]
        level = top[columns][:, None]
        square = lost**2 - 2.0 * level * lost + 2.0 * held * (level - lost)
        return cls(columns, totals[columns], forms[0], lost, square, metal, level)

    def rows(self, rows: Rows) -> "Ligands":
        """Return the same systems of some mixtures only."""
        return self._replace(
            totals=Columns.picked(self.totals, rows), constants=Columns.picked(self.constants, rows)
        )

    def shares(self, x: Array, phi: Array, free: list[Array]) -> Array:
        """Return the share of each form at the logarithms of the free metals, (a, s, n) [-]."""
        exponent = self.constants + self.lost * x + self.square * phi
        for form, metal in enumerate(self.metal):
            if metal >= 0:
                exponent[form] += free[metal]
        weight = np.exp(exponent - exponent.max(axis=0))
        return np.asarray(weight / Columns.added(weight))

    def mean_charge(self, x: Array, phi: Array, free: list[Array]) -> Array:
        """Return the mean charge of each acid without its metal, shape (n, s) [-]."""
        return np.asarray((self.top - Columns.added(self.shares(x, phi, free) * self.lost)).T)

    def spread(self, x: Array, phi: Array, free: list[Array]) -> Spread:
        """Return sums over the systems, for protons lost, squared charge, then each metal."""
        shares = self.shares(x, phi, free)
        parts = [shares * self.lost, shares * self.square]
        forms = [[form for form, of in enumerate(self.metal) if of == i] for i in range(len(free))]
        means = [Columns.added(part) for part in parts] + [
            Columns.added(shares[form]) for form in forms
        ]
        size = len(means)
        moment = [[np.zeros_like(means[0])] * size for _ in range(size)]
        moment[0][0] = Columns.added(parts[0] * self.lost)
        moment[0][1] = moment[1][0] = Columns.added(parts[0] * self.square)
        moment[1][1] = Columns.added(parts[1] * self.square)
        for i, form in enumerate(forms, 2):
            moment[i][i] = means[i]
            moment[0][i] = moment[i][0] = Columns.added(parts[0][form])
            moment[1][i] = moment[i][1] = Columns.added(parts[1][form])
        square_top = self.top**2
        mean = [Columns.added(self.totals * part) for part in means]
        mean[1] = mean[1] + Columns.added(self.totals * square_top)
        covariance = [
            [Columns.added(self.totals * (moment[i][j] - means[i] * means[j])) for j in range(size)]
            for i in range(size)
        ]
        return Spread(mean, covariance)


def _by_metal(metals: Metals, pk: Array) -> Array:
    """Return constants of shape (h, m, s, 1 or n)."""
    log_k = np.asarray(metals.log_k, dtype=np.float64)
    log_k = log_k[..., None] if log_k.ndim == 3 else np.moveaxis(log_k, 0, -1)
    size = np.size(metals.charge)
    if log_k.ndim != 4 or log_k.shape[1:3] != (size, pk.shape[1]):
        message = f"log_k of shape {np.shape(metals.log_k)} does not fit {size} metals"
        raise OutOfRangeError(
            f"{message} and {pk.shape[1]} acids.", field="log_k", hint="Give NaN for no complex."
        )
    steps = (~np.isnan(pk)).all(axis=2).sum(axis=0)
    for left, layer in enumerate(log_k):
        if np.any(~np.isnan(layer[:, steps < left])):
            message = f"An acid is to hold a metal with {left} protons, which it never has."
            raise OutOfRangeError(message, field="log_k", hint="Give NaN there.")
    return log_k


def _check_plain(acids: AcidSystems, holds: NDArray[np.bool_]) -> None:
    for given, plain in ((acids.slope, 1.0), (acids.is_apparent, 0.0)):
        if given is not None:
            numbers = np.broadcast_to(np.asarray(given, dtype=np.float64), holds.shape)
            if np.any(numbers[holds] != plain):
                message = "A site with a slope or apparent constants cannot hold metals here."
                raise OutOfRangeError(message, field="log_k", hint="Give NaN for such sites.")


def _forms(pk: Array, log_k: Array) -> tuple[Array, Array, tuple[int, ...]]:
    """Return constants (a, s, 1 or n), protons lost (a, s, 1) and the metal of each form."""
    steps = (~np.isnan(pk)).all(axis=2).sum(axis=0)
    further = np.cumsum(-LN10 * np.where(np.isnan(pk), np.inf, pk), axis=0)
    cumulative = np.concatenate([np.zeros_like(pk[:1]), further])
    width, system = max(pk.shape[2], log_k.shape[3]), np.arange(len(steps))
    constants = list(cumulative)
    lost = [np.full(len(steps), float(k)) for k in range(len(cumulative))]
    metal = [-1] * len(cumulative)
    for left, layer in enumerate(log_k):
        at = np.maximum(steps - left, 0)
        for index, table in enumerate(layer):
            held = np.where(np.isnan(table), -np.inf, table)
            constants.append(cumulative[at, system] + LN10 * held)
            lost.append(at.astype(np.float64))
            metal.append(index)
    wide = [np.broadcast_to(part, (len(steps), width)) for part in constants]
    return np.stack(wide), np.stack(lost)[:, :, None], tuple(metal)
