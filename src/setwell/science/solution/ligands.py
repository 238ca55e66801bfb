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
    log_k : shape (m, s) or (n, m, s), log10 of the constant of metal + fully deprotonated
        acid without ionic strength, NaN where nothing forms [kg/mol].
    log_k_protonated : the same for the acid with one proton left; None for nothing [kg/mol].
    """

    totals: ArrayLike
    charge: ArrayLike
    log_k: ArrayLike
    log_k_protonated: ArrayLike | None = None


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
        bare = _by_metal(metals.log_k, pk.shape[1])
        acid_held = np.full_like(bare, np.nan)
        if metals.log_k_protonated is not None:
            acid_held = _by_metal(metals.log_k_protonated, pk.shape[1])
        anything = ~np.isnan(bare) | ~np.isnan(acid_held)
        holds = np.asarray(anything.any(axis=(0, 2)))
        _check_plain(acids, holds)
        columns = np.flatnonzero(holds)
        top = np.broadcast_to(np.asarray(acids.top_charge, dtype=np.float64), holds.shape)
        forms = _forms(pk[:, columns], bare[:, columns], acid_held[:, columns])
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


def _by_metal(log_k: ArrayLike, systems: int) -> Array:
    """Return constants of shape (m, s, 1 or n)."""
    numbers = np.asarray(log_k, dtype=np.float64)
    numbers = numbers[..., None] if numbers.ndim == 2 else numbers.transpose(1, 2, 0)
    if numbers.shape[1] != systems:
        message = f"Constants for {numbers.shape[1]} acids do not fit {systems} systems."
        raise OutOfRangeError(message, field="log_k", hint="Give NaN where nothing forms.")
    return numbers


def _check_plain(acids: AcidSystems, holds: NDArray[np.bool_]) -> None:
    for given, plain in ((acids.slope, 1.0), (acids.is_apparent, 0.0)):
        if given is not None:
            numbers = np.broadcast_to(np.asarray(given, dtype=np.float64), holds.shape)
            if np.any(numbers[holds] != plain):
                message = "A site with a slope or apparent constants cannot hold metals here."
                raise OutOfRangeError(message, field="log_k", hint="Give NaN for such sites.")


def _forms(pk: Array, bare: Array, held: Array) -> tuple[Array, Array, tuple[int, ...]]:
    """Return constants (a, s, 1 or n), protons lost (a, s, 1) and the metal of each form."""
    steps = (~np.isnan(pk)).all(axis=2).sum(axis=0)
    top = np.zeros_like(pk[:1])
    cumulative = np.concatenate([top, np.cumsum(-LN10 * np.where(np.isnan(pk), np.inf, pk), 0)])
    width = max(pk.shape[2], bare.shape[2], held.shape[2])
    constants = [np.broadcast_to(level, (*level.shape[:1], width)) for level in cumulative]
    lost = [np.full(len(steps), float(k)) for k in range(len(cumulative))]
    metal = [-1] * len(cumulative)
    system = np.arange(len(steps))
    for index in range(len(bare)):
        for left, table in ((0, bare), (1, held)):
            constant = LN10 * np.where(np.isnan(table[index]), -np.inf, table[index])
            constants.append(np.broadcast_to(cumulative[steps - left, system] + constant,
                                             (len(steps), width)))  # fmt: skip
            lost.append((steps - left).astype(np.float64))
            metal.append(index)
    return np.stack(constants), np.stack(lost)[:, :, None], tuple(metal)
