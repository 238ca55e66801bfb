"""Water activity from what is dissolved in the water."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]

# Molar mass of water [kg/mol], IUPAC 2021.
_WATER = 0.0180153


class WaterActivity(NamedTuple):
    """Estimate of a water activity with its range."""

    value: Array
    low: Array
    high: Array
    is_in_range: NDArray[np.bool_]


def water_activity_norrish_1966(molalities: ArrayLike, *, norrish_constants: ArrayLike) -> Array:
    """Return the water activity over a solution of sugars, polyols and other neutral solutes.

    Parameters
    ----------
    molalities : array_like, shape (..., k)
        Dissolved amount of each solute per mass of water, zero or more [mol/kg].
    norrish_constants : array_like, shape (k,)
        Constant of each solute; zero gives Raoult's law [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Water activity [-].

    Raises
    ------
    OutOfRangeError
        If an amount is negative.

    Notes
    -----
    ln aw = ln x_w - K X^2, with x_w and X the mole fractions of water and of all solutes, and K
    the mean of the constants weighted by amount. Meant for aw 0.6 to 1 near 25 °C, for what is
    really dissolved. With K = 6.47 it meets the isopiestic sucrose data, recalled, within
    0.001 (0.1 to 6 mol/kg).

    References
    ----------
    norrish_1966
        The equation for one solute, recalled.
    ferro_fontan_1981
        Mean constant for mixtures, recalled.

    Examples
    --------
    Sucrose at 1 mol/kg, 0.9806 by isopiestic measurement:

    >>> float(water_activity_norrish_1966([1.0], norrish_constants=[6.47]).round(4))
    0.9803
    """
    amounts = _checked(molalities, "molalities")
    constants = np.asarray(norrish_constants, dtype=np.float64)
    solutes = amounts.sum(axis=-1)
    everything = solutes + 1.0 / _WATER
    # K X^2 = (sum n K) (sum n) / n_total^2, which needs no division by the solutes.
    excess = (amounts * constants).sum(axis=-1) * solutes / everything**2
    return np.asarray(np.exp(-excess) / (1.0 + _WATER * solutes))


def osmotic_coefficient_pitzer_1973(
    molality: ArrayLike,
    *,
    ions: tuple[int, int],
    charges: tuple[int, int],
    coefficients: tuple[float, float, float],
) -> Array:
    """Return the osmotic coefficient of one fully dissociated salt at 25 °C.

    Parameters
    ----------
    molality : array_like, shape (...)
        Salt per mass of water, zero or more [mol/kg].
    ions : tuple of int
        Cations and anions per formula unit [-].
    charges : tuple of int
        Charge of the cation and of the anion, without sign [-].
    coefficients : tuple of float
        Beta 0, beta 1 and C of the osmotic coefficient [kg/mol, kg/mol, kg2/mol2].

    Returns
    -------
    numpy.ndarray, shape (...)
        Osmotic coefficient, 1 at infinite dilution [-].

    Raises
    ------
    OutOfRangeError
        If the molality is negative.

    Notes
    -----
    phi - 1 = z+ z- f + b (2 n+ n- / n) B + b^2 (2 (n+ n-)^1.5 / n) C with
    f = -A sqrt(I) / (1 + 1.2 sqrt(I)), A = 0.391, B = beta0 + beta1 exp(-2 sqrt(I)). For 1:1 and
    2:1 salts up to 6 and 2 mol/kg at 25 °C. With the usual constants it meets the isopiestic
    coefficients of NaCl and KCl, recalled, within 0.004 up to saturation.

    References
    ----------
    pitzer_1973
        The equation, recalled.

    Examples
    --------
    Sodium chloride at 1 mol/kg, 0.936 by measurement:

    >>> phi = osmotic_coefficient_pitzer_1973(1.0, ions=(1, 1), charges=(1, 1),
    ...     coefficients=(0.0765, 0.2664, 0.00127))
    >>> float(phi.round(3))
    0.936
    """
    salt = _checked(molality, "molality")
    cations, anions = ions
    total, product = cations + anions, cations * anions
    strength = 0.5 * salt * (cations * charges[0] ** 2 + anions * charges[1] ** 2)
    root = np.sqrt(strength)
    beta_0, beta_1, third = coefficients
    electric = -0.391 * root / (1.0 + 1.2 * root)
    pairs = 2.0 * product / total * (beta_0 + beta_1 * np.exp(-2.0 * root))
    triples = 2.0 * product**1.5 / total * third
    return np.asarray(1.0 + charges[0] * charges[1] * electric + salt * pairs + salt**2 * triples)


def water_activity_osmotic(
    particle_molality: ArrayLike, *, osmotic_coefficient: ArrayLike
) -> Array:
    """Return the water activity from an osmotic coefficient, for salts above all.

    Parameters
    ----------
    particle_molality : array_like, shape (...)
        Dissolved particles per mass of water; two for each sodium chloride [mol/kg].
    osmotic_coefficient : array_like, shape (...)
        Osmotic coefficient; 1 gives van 't Hoff's law [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Water activity [-].

    Raises
    ------
    OutOfRangeError
        If there are less than no particles.

    Notes
    -----
    ln aw = -M_w phi b. Exact by definition of phi; with phi = 1 the lowering of aw is right
    within a tenth below 1 mol/kg of 1:1 salts.

    References
    ----------
    robinson_stokes_1959
        Definition of the osmotic coefficient, recalled.

    Examples
    --------
    Saturated sodium chloride, 0.753 by reference measurement:

    >>> float(water_activity_osmotic(2 * 6.147, osmotic_coefficient=1.282).round(3))
    0.753
    """
    particles = _checked(particle_molality, "particle_molality")
    coefficient = np.asarray(osmotic_coefficient, dtype=np.float64)
    return np.asarray(np.exp(-_WATER * coefficient * particles))


def water_activity_ross_1975(activities: ArrayLike) -> Array:
    """Return the water activity of a mixture from those of its parts, each in all the water.

    Parameters
    ----------
    activities : array_like, shape (..., k)
        Water activity each part would give alone in all the water, 0 to 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Water activity of the mixture [-].

    Raises
    ------
    OutOfRangeError
        If a part lies outside 0 to 1.

    Notes
    -----
    aw = product of aw_i: the parts do not feel each other. Meant for aw above about 0.8, where
    it is mostly within 0.01; it reads high in concentrated mixtures of sugar and salt.

    References
    ----------
    ross_1975
        The product rule, recalled.

    Examples
    --------
    >>> float(water_activity_ross_1975([0.98, 0.95]).round(4))
    0.931
    """
    parts = np.asarray(activities, dtype=np.float64)
    if np.any((parts < 0) | (parts > 1)):
        raise OutOfRangeError("A water activity must lie between 0 and 1.", field="activities")
    return np.asarray(parts.prod(axis=-1))


def water_activity_mixture(
    molalities: ArrayLike,
    *,
    norrish_constants: ArrayLike,
    ion_molality: ArrayLike,
    osmotic_coefficient: ArrayLike,
    relative_error: float,
    least_error: float,
) -> WaterActivity:
    """Return the water activity of a food's water phase with a range.

    Neutral solutes by Norrish, ions by their osmotic coefficient, both joined by Ross's product.

    Parameters
    ----------
    molalities : array_like, shape (..., k)
        Dissolved amount of each neutral solute per mass of water [mol/kg].
    norrish_constants : array_like, shape (k,)
        Constant of each neutral solute [-].
    ion_molality : array_like, shape (...)
        All dissolved ions per mass of water [mol/kg].
    osmotic_coefficient : array_like, shape (...)
        Osmotic coefficient of the ions [-].
    relative_error : float
        Half width of the range as a share of the lowering 1 - aw [-].
    least_error : float
        Half width of the range in pure water [-].

    Returns
    -------
    WaterActivity, shape (...)
        Value, low, high (never above 1), and whether aw is 0.6 or more [-].

    Raises
    ------
    OutOfRangeError
        If an amount is negative.

    Notes
    -----
    aw = aw_Norrish · exp(-M_w phi b), half width = least + share · (1 - aw). Meant for foods of
    aw 0.6 to 1 near 25 °C whose sugar is dissolved; gums, protein and starch bind too little
    water to count here. An estimate for the kitchen: where keeping food safe depends on water
    activity, it must be measured.

    References
    ----------
    norrish_1966
        Part of the neutral solutes, recalled.
    ross_1975
        Product of both parts, recalled.

    Examples
    --------
    Sucrose at 2 mol/kg with a little salt (invented numbers):

    >>> found = water_activity_mixture([2.0], norrish_constants=[6.47], ion_molality=0.2,
    ...     osmotic_coefficient=0.93, relative_error=0.1, least_error=0.003)
    >>> float(found.value.round(3)), float(found.low.round(3)), float(found.high.round(3))
    (0.954, 0.947, 0.962)
    """
    neutral = water_activity_norrish_1966(molalities, norrish_constants=norrish_constants)
    ions = water_activity_osmotic(ion_molality, osmotic_coefficient=osmotic_coefficient)
    value = neutral * ions
    half_width = least_error + relative_error * (1.0 - value)
    low, high = np.maximum(value - half_width, 0.0), np.minimum(value + half_width, 1.0)
    return WaterActivity(np.asarray(value), low, high, np.asarray(value >= 0.6))


def _checked(amounts: ArrayLike, field: str) -> Array:
    found = np.asarray(amounts, dtype=np.float64)
    if np.any(found < 0):
        raise OutOfRangeError("A dissolved amount cannot be below zero.", field=field)
    return found
