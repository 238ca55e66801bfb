"""Free calcium and magnesium beside the acids that hold them, at a known pH."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.science.solution.activity import log_activity_davies

Array = NDArray[np.float64]

# Below this ionic strength every activity coefficient is one.
_LEAST_STRENGTH = 1e-12
# A metal that is not there keeps a trace, so that its logarithm exists [mol/kg].
_TRACE = 1e-30
# Newton's rounds in the logarithm of the free amounts, and the longest step of one.
_ROUNDS, _LONGEST = 60, 3.0
# Convergence is quadratic: after a step this small the next is below 1e-12.
_SMALL_STEP = 1e-6


def form_share(
    ph: ArrayLike,
    *,
    pk: ArrayLike,
    top_charge: float,
    charge: int,
    ionic_strength: ArrayLike,
    debye_huckel: float,
) -> Array:
    """Return the share of an acid that carries a given charge.

    Parameters
    ----------
    ph : array_like, shape (n,)
        pH as the activity of hydrogen ions [-].
    pk : array_like, shape (k,)
        Constants of the acid in order of loss, at zero ionic strength [-].
    top_charge : float
        Charge of the form that has all its protons [-].
    charge : int
        Charge of the form that is asked for [-].
    ionic_strength : array_like, shape (n,)
        Ionic strength [mol/kg].
    debye_huckel : float
        Coefficient for decadic logarithms [kg^0.5 mol^-0.5].

    Returns
    -------
    numpy.ndarray, shape (n,)
        Share of the acid in that form; zero if it has no such form [-].

    Notes
    -----
    share_j = w_j / sum(w), w_j = w_(j-1) K_j gamma_(j-1) / (a(H) gamma_j), with the activity
    coefficients of both forms after Davies. Valid to an ionic strength of 0.5 mol/kg.

    References
    ----------
    davies_1962
        Activity coefficients.
    goldberg_2002
        Constants of the acids in use.

    Examples
    --------
    At its constant half of an acid has lost its proton (no salts):

    >>> form_share([4.756], pk=[4.756], top_charge=0, charge=-1, ionic_strength=[0.0],
    ...     debye_huckel=0.5115).round(3)
    array([0.5])
    """
    acidity = np.atleast_1d(np.asarray(ph, dtype=np.float64))
    strength = np.maximum(np.asarray(ionic_strength, dtype=np.float64), _LEAST_STRENGTH)
    constants = np.asarray(pk, dtype=np.float64)
    constants = constants[~np.isnan(constants)]
    forms = [np.zeros_like(acidity)]
    for step, constant in enumerate(constants):
        before, after = top_charge - step, top_charge - step - 1
        gap = log_activity_davies(
            before, ionic_strength=strength, debye_huckel=debye_huckel
        ) - log_activity_davies(after, ionic_strength=strength, debye_huckel=debye_huckel)
        forms.append(forms[-1] + acidity - constant + gap)
    logs = np.stack(forms)
    amounts = 10.0 ** (logs - logs.max(axis=0))
    position = round(top_charge - charge)
    if not 0 <= position < len(amounts):
        return np.zeros_like(acidity)
    return np.asarray(amounts[position] / amounts.sum(axis=0))


def free_metals_at_ph(metals: ArrayLike, ligands: ArrayLike, *, constants: ArrayLike) -> Array:
    """Return the free amount of each metal beside ligands that compete for it.

    Parameters
    ----------
    metals : array_like, shape (n, m)
        Total of each metal per mass of water, zero or more [mol/kg].
    ligands : array_like, shape (n, l)
        Total of each ligand per mass of water, zero or more [mol/kg].
    constants : array_like, shape (n, m, l)
        Stability of each one-to-one complex at this pH and ionic strength, counted on the whole
        ligand [kg/mol].

    Returns
    -------
    numpy.ndarray, shape (n, m)
        Free metal, never more than the total [mol/kg].

    Notes
    -----
    M_free = M / (1 + sum_l K_ml L_free), L_free = L / (1 + sum_m K_ml M_free), by Newton's method
    in the logarithms of the free metals. One-to-one complexes only; the protons they push off
    are left to the joint balance. Valid for any amounts that stay dissolved.

    References
    ----------
    holt_1981
        One-to-one complexes of calcium and magnesium in milk diffusate.

    Examples
    --------
    As much ligand as metal and a strong complex (invented numbers):

    >>> free_metals_at_ph([[0.01]], [[0.01]], constants=[[[1e4]]]).round(5)
    array([[0.00095]])
    """
    total = np.asarray(metals, dtype=np.float64)
    # Batches along the last axis, where numpy is quick.
    case = _Case(
        np.ascontiguousarray(np.where(total > 0, total, _TRACE).T),
        np.ascontiguousarray(np.asarray(ligands, dtype=np.float64).T),
        np.ascontiguousarray(np.asarray(constants, dtype=np.float64).transpose(1, 2, 0)),
    )
    free = np.exp(_levels(case)).T
    return np.asarray(np.where(total > 0, np.minimum(free, total), 0.0))


class _Case(NamedTuple):
    """Totals of metals (m, n) and ligands (l, n), and the constants (m, l, n)."""

    metals: Array
    ligands: Array
    constants: Array

    def rows(self, rows: NDArray[np.intp]) -> "_Case":
        return _Case(*(part[..., rows] for part in self))


def _levels(case: _Case) -> Array:
    """Return the logarithm of each free metal (m, n) by Newton's rounds."""
    level = np.log(case.metals)
    rows, left = np.arange(level.shape[1]), case
    for _ in range(_ROUNDS):
        step = _step(level[:, rows], left)
        level[:, rows] += np.minimum(np.maximum(step, -_LONGEST), _LONGEST)
        # Who has settled is left alone, so that a batch gives what a single call gives.
        is_open = np.abs(step).max(axis=0, initial=0.0) > _SMALL_STEP
        if not is_open.any():
            break
        if not is_open.all():
            still = np.flatnonzero(is_open)
            rows, left = rows[still], left.rows(still)
    return level


def _step(level: Array, case: _Case) -> Array:
    """Return the changes of the logarithms (m, n) that would close all balances."""
    free = np.exp(level)
    bound = case.constants * free[:, None]
    pull = 1.0 + bound.sum(axis=0)
    held = case.constants * (case.ligands / pull)
    whole = 1.0 + held.sum(axis=1)
    # Logarithm of what the free amount would need in all, over what there is.
    gap = np.log(free * whole / case.metals)
    share, taken = held / whole[:, None], bound / pull
    slope = np.zeros((len(free), len(free), free.shape[1]))
    for ligand in range(len(pull)):
        slope -= share[:, None, ligand] * taken[None, :, ligand]
    for metal in range(len(free)):
        slope[metal, metal] += 1.0
    return _solved(slope, -gap)


def _solved(slope: Array, right: Array) -> Array:
    """Return the solution of n small systems (m, m, n), (m, n), by elimination in place.

    The diagonal of these slopes outweighs the rest, so that no rows need to change places.
    """
    size = len(right)
    for pivot in range(size):
        for row in range(pivot + 1, size):
            factor = slope[row, pivot] / slope[pivot, pivot]
            slope[row, pivot + 1 :] -= factor * slope[pivot, pivot + 1 :]
            right[row] -= factor * right[pivot]
    for row in reversed(range(size)):
        for after in range(row + 1, size):
            right[row] -= slope[row, after] * right[after]
        right[row] /= slope[row, row]
    return right
