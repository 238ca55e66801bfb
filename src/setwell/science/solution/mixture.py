"""Sugar, alcohol and density of a mixture from what is in it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def degrees_brix(sugars: ArrayLike, water: ArrayLike) -> Array:
    """Return the sugar in the water phase as degrees Brix.

    Mass of sugars in 100 g of sugars and water together; other solids are left out.

    Parameters
    ----------
    sugars : array_like, shape (...)
        Mass of dissolved sugars, zero or more [kg].
    water : array_like, shape (...)
        Mass of water, zero or more [kg].

    Returns
    -------
    numpy.ndarray, shape (...)
        Sugar in the water phase; zero where there is neither [g/100 g].

    Notes
    -----
    By definition one degree Brix is 1 g sucrose in 100 g solution. Other sugars are counted as
    sucrose. Holds for sugars that are fully dissolved; a refractometer also sees acids, salts
    and alcohol.

    References
    ----------
    icumsa_sps4
        Definition of the sucrose mass fraction scale.

    Examples
    --------
    >>> degrees_brix(20.0, 80.0)
    array(20.)
    """
    sugar = np.asarray(sugars, dtype=np.float64)
    total = sugar + np.asarray(water, dtype=np.float64)
    return np.asarray(
        100.0 * np.divide(sugar, total, out=np.zeros_like(total), where=~(total <= 0))
    )


def density_additive(mass_fractions: ArrayLike, densities: ArrayLike) -> Array:
    """Return the density of a mixture whose parts keep their own volume.

    Parameters
    ----------
    mass_fractions : array_like, shape (..., c)
        Mass fraction of each component, summing to one [kg/kg].
    densities : array_like, shape (c,)
        Density of each component, above zero [kg/m3].

    Returns
    -------
    numpy.ndarray, shape (...)
        Density of the mixture without air or bubbles [kg/m3].

    Notes
    -----
    1/rho = sum(x_i / rho_i). Holds for foods without air; alcohol and water contract by up to
    3.5 % of the volume, which this leaves out. Checked against the sucrose densities of
    ICUMSA SPS-4 (within 0.5 % up to 60 % sucrose).

    References
    ----------
    choi_okos_1986
        Component densities and the additive rule.

    Examples
    --------
    >>> density_additive([0.5, 0.5], [1000.0, 1000.0])
    array(1000.)
    """
    fractions = np.asarray(mass_fractions, dtype=np.float64)
    return np.asarray(1.0 / (fractions @ (1.0 / np.asarray(densities, dtype=np.float64))))


def alcohol_by_volume(ethanol_fraction: ArrayLike, density: ArrayLike) -> Array:
    """Return the alcohol by volume of a liquid.

    Parameters
    ----------
    ethanol_fraction : array_like, shape (...)
        Mass of ethanol in the mass of liquid [kg/kg].
    density : array_like, shape (...)
        Density of the liquid at 20 °C [kg/m3].

    Returns
    -------
    numpy.ndarray, shape (...)
        Volume of ethanol in 100 volumes of liquid, both at 20 °C [mL/100 mL].

    Notes
    -----
    abv = w · rho / rho_ethanol with rho_ethanol = 789.24 kg/m3 at 20 °C. Exact by definition
    when the density is that of the liquid itself.

    References
    ----------
    oiml_r22_1973
        Density of ethanol and the 40 % vol point at 20 °C.

    Examples
    --------
    The published 40 % vol point, 33.30 % by mass at 948.05 kg/m3:

    >>> float(alcohol_by_volume(0.3330, 948.05).round(2))
    40.0
    """
    # Density of ethanol at 20 °C [kg/m3], OIML R 22.
    ethanol_density = 789.24
    fraction = np.asarray(ethanol_fraction, dtype=np.float64)
    return np.asarray(100.0 * fraction * np.asarray(density, dtype=np.float64) / ethanol_density)


def molality(mass: ArrayLike, water: ArrayLike, *, molar_mass: ArrayLike) -> Array:
    """Return the amount of a dissolved substance per mass of water.

    Parameters
    ----------
    mass : array_like, shape (...)
        Mass of the substance [kg].
    water : array_like, shape (...)
        Mass of water [kg].
    molar_mass : array_like, shape (...)
        Molar mass of the substance, above zero [kg/mol].

    Returns
    -------
    numpy.ndarray, shape (...)
        Amount per mass of water; zero where there is no water [mol/kg].

    Notes
    -----
    b = m / (M · m_water). By definition; holds for any amount.

    References
    ----------
    iupac_green_book
        Definition of molality.

    Examples
    --------
    >>> molality(0.0390983, 1.0, molar_mass=0.0390983)
    array(1.)
    """
    solvent = np.asarray(water, dtype=np.float64)
    amount = np.asarray(mass, dtype=np.float64) / np.asarray(molar_mass, dtype=np.float64)
    amount, solvent = np.broadcast_arrays(amount, solvent)
    return np.asarray(np.divide(amount, solvent, out=np.zeros(amount.shape), where=~(solvent <= 0)))
