"""Titratable acidity: base used to the end point, expressed as an acid of the trade."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]


def equivalent_mass(molar_mass: ArrayLike, *, protons: ArrayLike) -> Array:
    """Return the mass of an acid that takes up one mole of base.

    Parameters
    ----------
    molar_mass : array_like, shape (...)
        Molar mass of the acid in the form it is expressed as, above zero [kg/mol].
    protons : array_like, shape (...)
        Protons per molecule that the titration reaches, one or more [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Mass per mole of base [kg/mol].

    Raises
    ------
    OutOfRangeError
        If the molar mass is not above zero or there is less than one proton.

    Notes
    -----
    m_eq = M / z, by definition. Holds when the end point, usually pH 8.1 to 8.3, lies past the
    last proton counted; phosphoric acid gives up only two of its three there.

    References
    ----------
    iupac_2021
        Atomic masses behind the molar masses.

    Examples
    --------
    Anhydrous citric acid:

    >>> float(equivalent_mass(0.192124, protons=3).round(6))
    0.064041
    """
    mass = np.asarray(molar_mass, dtype=np.float64)
    count = np.asarray(protons, dtype=np.float64)
    if np.any(mass <= 0):
        raise OutOfRangeError("The molar mass of an acid must be above zero.", field="molar_mass")
    if np.any(count < 1):
        raise OutOfRangeError(
            "An acid must give up at least one proton.",
            field="protons",
            hint="Citric acid has 3, malic and tartaric 2, lactic and acetic 1.",
        )
    return np.asarray(mass / count)


def base_used(volume: ArrayLike, *, base_concentration: ArrayLike, sample: ArrayLike) -> Array:
    """Return the base a sample took up to the end point, per mass of sample.

    Parameters
    ----------
    volume : array_like, shape (...)
        Volume of base run in, less the blank, zero or more [m3].
    base_concentration : array_like, shape (...)
        Concentration of hydroxide in the base [mol/m3].
    sample : array_like, shape (...)
        Mass of the sample titrated, above zero [kg].

    Returns
    -------
    numpy.ndarray, shape (...)
        Amount of base per mass of sample [mol/kg].

    Raises
    ------
    OutOfRangeError
        If the volume is negative or the sample weighs nothing.

    Notes
    -----
    n = V c / m, by definition; holds for any end point, which must be stated with the result.

    References
    ----------
    aoac_942_15
        Titration of fruit products to pH 8.1, recalled.

    Examples
    --------
    10 mL of 0.1 mol/L base for 10 g of sample:

    >>> float(base_used(10e-6, base_concentration=100.0, sample=0.010).round(6))
    0.1
    """
    run_in = np.asarray(volume, dtype=np.float64)
    mass = np.asarray(sample, dtype=np.float64)
    if np.any(run_in < 0):
        raise OutOfRangeError("The volume of base cannot be below zero.", field="volume")
    if np.any(mass <= 0):
        raise OutOfRangeError("The sample must weigh more than nothing.", field="sample")
    return np.asarray(run_in * np.asarray(base_concentration, dtype=np.float64) / mass)


def titratable_acidity(
    base_amount: ArrayLike, *, molar_mass: ArrayLike, protons: ArrayLike
) -> Array:
    """Return the titratable acidity expressed as one acid.

    Parameters
    ----------
    base_amount : array_like, shape (...)
        Base taken up per mass of sample [mol/kg].
    molar_mass : array_like, shape (...)
        Molar mass of the acid it is expressed as, above zero [kg/mol].
    protons : array_like, shape (...)
        Protons per molecule of that acid, one or more [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Acid in the sample [g/100 g].

    Raises
    ------
    OutOfRangeError
        If the molar mass is not above zero or there is less than one proton.

    Notes
    -----
    w = 100 n M / z. Exact by definition; the acid need not be the one in the food, so a figure
    holds only together with the acid named. Turn it around with `base_from_acidity`.

    References
    ----------
    aoac_942_15
        Expression as one acid, recalled.

    Examples
    --------
    0.1 mol/kg as anhydrous citric acid:

    >>> float(titratable_acidity(0.1, molar_mass=0.192124, protons=3).round(4))
    0.6404
    """
    amount = np.asarray(base_amount, dtype=np.float64)
    return np.asarray(100.0 * amount * equivalent_mass(molar_mass, protons=protons))


def base_from_acidity(acidity: ArrayLike, *, molar_mass: ArrayLike, protons: ArrayLike) -> Array:
    """Return the base behind a titratable acidity that was expressed as one acid.

    Parameters
    ----------
    acidity : array_like, shape (...)
        Titratable acidity as that acid [g/100 g].
    molar_mass : array_like, shape (...)
        Molar mass of the acid, above zero [kg/mol].
    protons : array_like, shape (...)
        Protons per molecule of that acid, one or more [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Base taken up per mass of sample [mol/kg].

    Raises
    ------
    OutOfRangeError
        If the molar mass is not above zero or there is less than one proton.

    Notes
    -----
    n = w z / (100 M), by definition; holds for any acid and leads from one acid to another.

    References
    ----------
    aoac_942_15
        Expression as one acid, recalled.

    Examples
    --------
    >>> float(base_from_acidity(0.64041, molar_mass=0.192124, protons=3).round(4))
    0.1
    """
    found = np.asarray(acidity, dtype=np.float64)
    return np.asarray(found / (100.0 * equivalent_mass(molar_mass, protons=protons)))
