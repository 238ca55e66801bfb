"""Thickness at rest of a polymer solution, from its dose and the size of its coils."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def viscosity_overlap_law(
    dose: ArrayLike,
    *,
    overlap_dose: ArrayLike,
    overlap_specific_viscosity: float,
    solvent_viscosity: ArrayLike,
    exponents: tuple[float, float],
) -> Array:
    """Return the viscosity of a thickened liquid at low shear.

    One power of the dose below the overlap concentration, a steeper one above.

    Parameters
    ----------
    dose : array_like, shape (...)
        Dissolved thickener per mass of batch, zero or more [kg/kg].
    overlap_dose : array_like, shape (...)
        Concentration where the coils begin to overlap, above zero [kg/kg].
    overlap_specific_viscosity : float
        Specific viscosity at the overlap [-].
    solvent_viscosity : array_like, shape (...)
        Viscosity of the liquid without thickener, above zero [Pa·s].
    exponents : tuple of float
        Powers below and above the overlap [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Viscosity at low shear [Pa·s].

    Notes
    -----
    eta = eta_s (1 + s* (c / c*)^p); the two branches meet at c*. Powers 1.4 and 3.3 are usual for
    random coils, 3.9 to 5 above overlap for galactomannans. Zero-shear values near 25 °C; stirring
    and salts lower them, milk protein raises them.

    References
    ----------
    morris_1981
        Powers below and above overlap, specific viscosity near 10 there.
    rivera_2017
        Overlap of lambda carrageenan.

    Examples
    --------
    >>> viscosity_overlap_law(0.0021, overlap_dose=0.0021, overlap_specific_viscosity=10.0,
    ...     solvent_viscosity=0.001, exponents=(1.4, 3.3))
    array(0.011)
    """
    ratio = np.asarray(dose, dtype=np.float64) / np.asarray(overlap_dose, dtype=np.float64)
    power = np.where(ratio < 1.0, exponents[0], exponents[1])
    return np.asarray(
        np.asarray(solvent_viscosity) * (1.0 + overlap_specific_viscosity * ratio**power)
    )


def intrinsic_viscosity_mark_houwink(
    molar_mass: ArrayLike, *, prefactor: float, exponent: float
) -> Array:
    """Return the intrinsic viscosity of a polymer from its molar mass.

    Parameters
    ----------
    molar_mass : array_like, shape (...)
        Molar mass, above zero [g/mol].
    prefactor : float
        K of the law, in the unit of the answer [mL/g].
    exponent : float
        Power of the molar mass, 0.5 to 1 for coils [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Intrinsic viscosity [mL/g].

    Notes
    -----
    [eta] = K M^a. For one polymer in one solvent at one temperature; salts change K and a of a
    charged gum.

    References
    ----------
    rochas_1990
        Kappa carrageenan in 0.1 mol/L NaCl: K 3.1e-3 mL/g, a 0.95 (recalled).
    picout_2002
        a of 0.74 for locust bean and tara gum.

    Examples
    --------
    >>> round(float(intrinsic_viscosity_mark_houwink(5e5, prefactor=3.1e-3, exponent=0.95)))
    804
    """
    return np.asarray(prefactor * np.asarray(molar_mass, dtype=np.float64) ** exponent)


def build_share(elapsed: ArrayLike, *, build_time: ArrayLike) -> Array:
    """Return the share of its final thickness that a cold-mixed powder has built.

    Parameters
    ----------
    elapsed : array_like, shape (...)
        Time since mixing; before mixing nothing is built [s].
    build_time : array_like, shape (...)
        Time constant, above zero [s].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the final viscosity [-].

    Notes
    -----
    x = 1 - exp(-t / tau). For powders that dissolve cold and were dispersed without lumps; tau of
    lambda is 8 to 15 min at 20 °C with stirring (recalled).

    References
    ----------
    trade_recalled
        Time constant of lambda carrageenan.

    Examples
    --------
    >>> float(build_share(660.0, build_time=660.0).round(3))
    0.632
    """
    waited = np.clip(np.asarray(elapsed, dtype=np.float64), 0.0, None)
    return np.asarray(-np.expm1(-waited / np.asarray(build_time, dtype=np.float64)))
