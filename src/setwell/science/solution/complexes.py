"""pH and free calcium together: acids hold metals, and let go of protons for it."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError
from setwell.science.solution.activity import IONIC_STRENGTH_TRUSTED, activity_term_slope_davies
from setwell.science.solution.charge_search import PH_LEAST, PH_MOST, Mixtures, State, Water
from setwell.science.solution.ligands import Ligands, Metals
from setwell.science.solution.protonation import LN10, AcidSystems, Array, Columns, Prepared, Sorted

# A metal that is not there keeps a trace, so that its logarithm exists [mol/kg].
_TRACE = 1e-30
_ROUNDS = 60
# Ten rounds are plenty; from the first to the second of these the steps are halved.
_FULL_ROUNDS, _HALF_ROUNDS = 20, 45
# Convergence is quadratic: after a step this small nothing is left.
_SMALL_STEP = 1e-7
_LONGEST_STEP = 1.0 * LN10


class SolutionEquilibrium(NamedTuple):
    """pH and free metals of n mixtures, and what the solver knows about each."""

    ph: Array
    ionic_strength: Array
    residual: Array
    buffer_capacity: Array
    mean_charge: Array
    free_metals: Array
    held_metals: Array
    is_beyond_model: NDArray[np.bool_]


class _System(NamedTuple):
    """Everything the joint search needs."""

    # Acids that hold nothing, and water.
    plain: Mixtures
    ligands: Ligands
    # Totals, shape (m, n) [mol/kg].
    metals: Array

    def rows(self, rows: slice) -> "_System":
        return _System(self.plain.rows(rows), self.ligands.rows(rows), self.metals[:, rows])

    @property
    def traced(self) -> Array:
        """Totals of which none is zero."""
        return np.maximum(self.metals, _TRACE)


class _Balance(NamedTuple):
    """Both sides of every balance with the slopes by x, phi and each metal's logarithm."""

    plus: Array
    minus: Array
    found: list[Array]
    amounts: list[Array]
    phi: Array
    jacobian: Array
    errors: Array


def _balance(system: _System, x: Array, strength: Array, free: list[Array]) -> _Balance:
    """Return the equations in logarithms; unknowns are x, the ionic strength and ln free."""
    state = system.plain.state(x, strength)
    means, cov = system.ligands.spread(x, state.phi, free)
    minus = state.minus + means[0]
    amounts = [np.exp(level) for level in free]
    found = [amount + held for amount, held in zip(amounts, means[2:], strict=True)]
    actual = state.strength + 0.5 * means[1]
    slope = LN10 * activity_term_slope_davies(
        np.maximum(strength, actual), debye_huckel=system.plain.debye_huckel
    )
    both = state.hydrogen + state.hydroxide + state.loss.squares_by_phi + cov[1][1]
    rows = np.empty((len(x), len(free) + 2, len(free) + 2))
    rows[:, 0] = _charge_row(state, cov, minus)
    rows[:, 1, 0] = state.hydrogen - state.hydroxide - state.loss.squares_by_x - cov[0][1]
    for i, amount in enumerate(amounts, 2):
        rows[:, 1, i] = -cov[1][i]
        rows[:, i] = np.stack([part / found[i - 2] for part in cov[i]], axis=1)
        rows[:, i, i] += amount / found[i - 2]
    rows[:, 1] *= 0.5
    rows[:, :, 1] *= slope[:, None]
    rows[:, 1, 1] = np.maximum(1.0 - 0.5 * both * slope, 0.2)
    gaps = [np.log(part / total) for part, total in zip(found, system.traced, strict=True)]
    errors = np.stack([np.log(state.plus / minus), strength - actual, *gaps], axis=1)
    return _Balance(state.plus, minus, found, amounts, state.phi, rows, errors)


def _charge_row(state: State, covariance: list[list[Array]], minus: Array) -> Array:
    """Return the slopes of the logarithm of plus over minus by x, phi and each metal."""
    loss, ratio = state.loss, state.hydrogen / state.plus
    by_x = state.hydroxide + loss.protons_by_x + covariance[0][0]
    by_phi = state.hydroxide + loss.protons_by_phi + covariance[0][1]
    metals = [-part / minus for part in covariance[0][2:]]
    return np.stack([-ratio - by_x / minus, ratio - by_phi / minus, *metals], axis=1)


def _search(system: _System, x: Array, strength: Array) -> tuple[Array, Array, list[Array]]:
    """Return x, the ionic strength and the logarithms of the free metals."""
    free = [np.log(total) for total in system.traced]
    active = np.ones(x.shape, dtype=np.bool_)
    for done in range(_ROUNDS):
        balance = _balance(system, x, strength, free)
        step = np.linalg.solve(balance.jacobian, -balance.errors[..., None])[..., 0]
        # One factor for all, so that a shortened step keeps its direction.
        longest = np.maximum(np.abs(step[:, 0]), np.abs(step[:, 2:]).max(axis=1, initial=0.0))
        step *= np.minimum(1.0, _LONGEST_STEP / np.maximum(longest, 1e-300))[:, None]
        step[:, 1] = np.clip(step[:, 1], -0.8 * strength, 4.0 * strength)
        if _FULL_ROUNDS <= done < _HALF_ROUNDS:
            # Steps that still jump to and fro lead on at half their length.
            step *= 0.5
        is_moving = np.abs(step[:, [0, *range(2, step.shape[1])]]).max(axis=1) > _SMALL_STEP
        is_moving |= np.abs(step[:, 1]) > _SMALL_STEP * strength
        step *= active[:, None]
        x = np.clip(x + step[:, 0], LN10 * PH_LEAST, LN10 * PH_MOST)
        strength = strength + step[:, 1]
        free = [level + step[:, 2 + i] for i, level in enumerate(free)]
        active &= is_moving
        if not active.any():
            break
    return x, strength, free


def _capacity(balance: _Balance) -> Array:
    """Return the buffer capacity, in which metals move freely at a fixed ionic strength."""
    keep = [0, *range(2, balance.jacobian.shape[1])]
    slopes = balance.jacobian[:, keep][:, :, keep]
    # Back from logarithms to amounts: d(minus − plus)/dx along the metals' own balances.
    answer = np.linalg.solve(slopes[:, 1:, 1:], slopes[:, 1:, :1])[..., 0]
    direct = slopes[:, 0, 0] - (slopes[:, 0, 1:] * answer).sum(axis=1)
    return np.asarray(-LN10 * direct * balance.minus)


def solution_equilibrium(
    totals: ArrayLike,
    strong_ion_difference: ArrayLike,
    *,
    acids: AcidSystems,
    metals: Metals,
    water: Water,
    strong_ionic_strength: ArrayLike | None = None,
) -> SolutionEquilibrium:
    """Return the pH and the free metals of each mixture.

    The charge balance of acids, strong ions and water, together with the mass balance of each
    metal, whose complexes with deprotonated acids push protons off.

    Parameters
    ----------
    totals : array_like, shape (n, s)
        Amount of each weak acid or site per mass of water, zero or more [mol/kg].
    strong_ion_difference : array_like, shape (n,)
        Charge of the strong cations less that of the strong anions, without the ions listed
        as metals [mol/kg].
    acids : AcidSystems
        Constants of the s systems at the temperature of each mixture [-].
    metals : Metals
        Charges and constants [kg/mol] of the m ions that acids hold, and totals [mol/kg].
    water : Water
        Ion product [-] and Debye-Hückel coefficient [kg^0.5 mol^-0.5].
    strong_ionic_strength : array_like or None, shape (n,)
        Half the sum of molality times squared charge of the strong ions without the metals;
        None where only their difference is known [mol/kg].

    Returns
    -------
    SolutionEquilibrium, shape (n,), (n, s), (n, m)
        pH [-], ionic strength [mol/kg], charge left over [mol/kg], buffer capacity [mol/kg],
        whether the ionic strength is above 0.5 mol/kg or a balance is open, mean charge of
        each acid without its metal [-], free and held metals [mol/kg].

    Raises
    ------
    OutOfRangeError
        If shapes do not fit, an amount is below zero, or a site with a slope or apparent
        constants is to hold a metal.

    Notes
    -----
    [ML] = K [M] [L] g_M g_L / g_ML with activities after Davies; sum over complexes and the
    free ion is the total of the metal. Newton on all logarithms at once. Valid for ionic
    strengths up to 0.5 mol/kg and complexes of one metal with one acid; colloidal calcium
    phosphate and solids that fall out are left to the caller.

    References
    ----------
    holt_1981
        The same balances, for the salts of milk.
    fox_mcsweeney_1998
        Share of free, citrate-held and phosphate-held calcium in milk.

    Examples
    --------
    Citrate at pH near 7 holds most of the calcium (recalled constants):

    >>> acids = AcidSystems(pk=[[3.128, 4.761, 6.396, np.nan]], top_charge=[0])
    >>> metals = Metals(totals=[[0.002]], charge=[2], log_k=[[[4.87]]])
    >>> found = solution_equilibrium([[0.01]], [0.0255], acids=acids, metals=metals,
    ...     water=Water(13.995, 0.5115))
    >>> bool(found.free_metals[0, 0] < 0.0002)
    True
    """
    whole = Prepared.of(totals, acids)
    ligands = Ligands.of(whole.totals, acids, metals)
    mixtures = Mixtures.of(whole, strong_ion_difference, water, strong_ionic_strength)
    amounts = _metal_totals(metals, len(mixtures.fixed))
    mixtures = _with_metals(mixtures, amounts, metals)
    plain = Prepared.of(*_without(whole.totals, acids, ligands.columns)).protonation
    system = _System(mixtures._replace(protonation=plain), ligands, amounts)
    blocks = [
        _block_equilibrium(whole.rows(rows), mixtures.rows(rows), system.rows(rows))
        for rows in mixtures.blocks()
    ]
    return SolutionEquilibrium(*(np.concatenate(part) for part in zip(*blocks, strict=True)))


def _block_equilibrium(whole: Prepared, mixtures: Mixtures, system: _System) -> SolutionEquilibrium:
    """Return the equilibrium of mixtures few enough to stay in the processor's cache."""
    # Without any complex first: near by, and quick.
    x, strength, free = _search(system, *mixtures.balanced())
    balance = _balance(system, x, strength, free)
    mean_charge = whole.mean_charge(x, balance.phi)
    mean_charge[:, system.ligands.columns] = system.ligands.mean_charge(x, balance.phi, free)
    is_there = system.metals > 0
    return SolutionEquilibrium(
        x / LN10,
        strength,
        balance.plus - balance.minus,
        _capacity(balance),
        mean_charge,
        np.where(is_there, balance.amounts, 0.0).T,
        np.where(is_there, np.subtract(balance.found, balance.amounts), 0.0).T,
        (strength > IONIC_STRENGTH_TRUSTED) | (np.abs(balance.errors).max(axis=1) > 1e-8),
    )


def _metal_totals(metals: Metals, count: int) -> Array:
    """Return the totals of the metals, shape (m, n)."""
    amounts = np.atleast_2d(np.asarray(metals.totals, dtype=np.float64))
    size = len(np.atleast_1d(np.asarray(metals.charge)))
    if amounts.shape != (count, size):
        message = f"Metal totals of shape {amounts.shape} do not fit {count} mixtures of {size}."
        raise OutOfRangeError(message, field="metals", hint="Give a row for each mixture.")
    if np.any(amounts < 0):
        message = f"A metal total of {np.nanmin(amounts):g} mol/kg is below zero."
        raise OutOfRangeError(message, field="metals", hint="Give zero or more.")
    return np.ascontiguousarray(amounts.T)


def _with_metals(mixtures: Mixtures, amounts: Array, metals: Metals) -> Mixtures:
    """Return the mixtures with the metals as strong ions: held or free, they keep their charge."""
    charge = np.asarray(metals.charge, dtype=np.float64)[:, None]
    return mixtures._replace(
        fixed=mixtures.fixed + Columns.added(amounts * charge),
        strong=mixtures.strong + 0.5 * Columns.added(amounts * charge**2),
    )


def _without(
    totals: Array, acids: AcidSystems, columns: NDArray[np.intp]
) -> tuple[Array, AcidSystems]:
    """Return totals and constants of the systems that hold no metal."""
    kept = np.setdiff1d(np.arange(len(totals)), columns)

    def part(numbers: ArrayLike | None) -> Array | None:
        return None if numbers is None else Sorted.column(numbers, len(totals))[kept, 0]

    pk = np.asarray(acids.pk, dtype=np.float64)[..., kept, :]
    top = Sorted.column(acids.top_charge, len(totals))[kept, 0]
    return totals[kept].T, AcidSystems(pk, top, part(acids.slope), part(acids.is_apparent))
