"""Firmness of gels against dose and ions, with the range that goes with it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def modulus_power_law(
    dose: ArrayLike, *, modulus_at_reference: ArrayLike, reference_dose: float, exponent: ArrayLike
) -> Array:
    """Return the shear modulus of a gel from its effective dose.

    Parameters
    ----------
    dose : array_like, shape (...)
        Dissolved, active gelling agent per mass of batch, zero or more [kg/kg].
    modulus_at_reference : array_like, shape (...)
        Shear modulus at the reference dose [Pa].
    reference_dose : float
        Dose the modulus was given for, above zero [kg/kg].
    exponent : array_like, shape (...)
        Power of the dose [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Shear modulus; zero at zero dose [Pa].

    Notes
    -----
    G = G_ref (c / c_ref)^n, well above the critical concentration. Nearer to it the true
    modulus falls faster, so the caller widens the range there.

    References
    ----------
    rochas_1990
        Exponent near two for kappa carrageenan.

    Examples
    --------
    >>> modulus_power_law(0.02, modulus_at_reference=1000.0, reference_dose=0.01, exponent=2.0)
    array(4000.)
    """
    ratio = np.asarray(dose, dtype=np.float64) / reference_dose
    return np.asarray(np.asarray(modulus_at_reference) * ratio ** np.asarray(exponent))


def potassium_factor(
    gelling_cation: ArrayLike, *, optimum: float, decades: float, floor: ArrayLike
) -> Array:
    """Return how the modulus of kappa carrageenan falls away from the best potassium level.

    Parameters
    ----------
    gelling_cation : array_like, shape (...)
        Gelling cations as potassium, above zero [mol/kg].
    optimum : float
        Level of the highest modulus, above zero [mol/kg].
    decades : float
        Width of the bell on the log10 axis, above zero [-].
    floor : array_like, shape (...)
        Share of the highest modulus reached without potassium, between 0 and 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the highest modulus, from the floor to 1 [-].

    Notes
    -----
    f = floor + (1 - floor) exp(-(log10(C / C_opt))^2 / (2 w^2)). Our own shape around the
    published optimum of 0.2 to 0.3 mol/L at 0.75 %; the floor is what sodium and calcium do
    alone. Below 5 and above 400 mmol/kg it is a guess.

    References
    ----------
    home_economics_1988
        Optimum potassium level.

    Examples
    --------
    >>> potassium_factor(0.22, optimum=0.22, decades=0.45, floor=0.4)
    array(1.)
    """
    distance = np.log10(np.asarray(gelling_cation, dtype=np.float64) / optimum)
    least = np.asarray(floor, dtype=np.float64)
    return np.asarray(least + (1.0 - least) * np.exp(-(distance**2) / (2.0 * decades**2)))


def bloom_at_dose(dose: ArrayLike, *, bloom: ArrayLike, exponent: ArrayLike) -> Array:
    """Return the Bloom reading a gelatin gel would give at another concentration.

    Parameters
    ----------
    dose : array_like, shape (...)
        Gelatin per mass of batch [kg/kg].
    bloom : array_like, shape (...)
        Bloom of the gelatin at the standard 6.67 % [g].
    exponent : array_like, shape (...)
        Power of the concentration: 2 gives the square-root rule of equivalence, 1 the linear [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Load on the standard plunger [g].

    Notes
    -----
    B(c) = B (c / 0.0667)^n, measured n between 1.7 and 2. For 0.5 to 10 % after 16 h at 10 °C.

    References
    ----------
    gmia_2012
        Bloom test: 6.67 %, 12.7 mm plunger, 4 mm, 10.0 °C.

    Examples
    --------
    >>> float(bloom_at_dose(0.0667, bloom=225.0, exponent=2.0))
    225.0
    """
    ratio = np.asarray(dose, dtype=np.float64) / 0.0667
    return np.asarray(np.asarray(bloom) * ratio ** np.asarray(exponent))


def modulus_from_flat_punch(load: ArrayLike, *, radius: float, depth: float) -> Array:
    """Return the shear modulus behind a small flat-punch reading.

    Parameters
    ----------
    load : array_like, shape (...)
        Load on the punch as mass [kg].
    radius : float
        Radius of the punch, above zero [m].
    depth : float
        Depth of the punch, above zero [m].

    Returns
    -------
    numpy.ndarray, shape (...)
        Shear modulus of an incompressible gel [Pa].

    Notes
    -----
    F = 8 G a d for a deep gel; the cup of the Bloom test is finite, so the true modulus is
    lower by some tens of percent. Small strain only.

    References
    ----------
    johnson_1985
        Flat punch on an elastic half space.

    Examples
    --------
    250 Bloom:

    >>> float(modulus_from_flat_punch(0.250, radius=6.35e-3, depth=4e-3).round(-1))
    12070.0
    """
    # Standard acceleration of free fall [m/s2], by definition.
    force = np.asarray(load, dtype=np.float64) * 9.80665
    return np.asarray(force / (8.0 * radius * depth))


def dose_equivalent_bloom(dose: ArrayLike, *, bloom: ArrayLike, wanted_bloom: ArrayLike) -> Array:
    """Return the dose of another gelatin grade for the same set, by the square-root rule.

    Parameters
    ----------
    dose : array_like, shape (...)
        Dose of the gelatin at hand [kg/kg].
    bloom : array_like, shape (...)
        Its Bloom, above zero [g].
    wanted_bloom : array_like, shape (...)
        Bloom of the grade to change to, above zero [g].

    Returns
    -------
    numpy.ndarray, shape (...)
        Dose of the other grade [kg/kg].

    Notes
    -----
    C1 sqrt(B1) = C2 sqrt(B2), for grades between about 100 and 300 Bloom. Supplier sheets use
    the linear rule, C1 B1 = C2 B2, which lies further out.

    References
    ----------
    gmia_2012
        Handbook rule of equivalence.

    Examples
    --------
    >>> float(dose_equivalent_bloom(0.02, bloom=250.0, wanted_bloom=200.0).round(5))
    0.02236
    """
    ratio = np.asarray(bloom, dtype=np.float64) / np.asarray(wanted_bloom, dtype=np.float64)
    return np.asarray(np.asarray(dose, dtype=np.float64) * np.sqrt(ratio))
