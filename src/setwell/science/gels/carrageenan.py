"""How ions, pH and sugar move the gels of kappa and iota carrageenan."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def setting_temperature_kappa_root(
    gelling_cation: ArrayLike, *, intercept: ArrayLike, slope: ArrayLike
) -> Array:
    """Return the temperature where a kappa carrageenan gel sets, by the square-root form.

    Parameters
    ----------
    gelling_cation : array_like, shape (...)
        Free gelling cations plus active counter-ions, zero or more [mol/kg].
    intercept : array_like, shape (...)
        Temperature of the line at no cations [K].
    slope : array_like, shape (...)
        Rise for each square root of mol/L [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Setting temperature [K].

    Notes
    -----
    T = T_0 + s sqrt(C). The form is published for potassium, ammonium, calcium, copper and zinc,
    not for sodium. The coefficients in use are our own, through the same two recalled anchors as
    the line in the inverse temperature, so the two forms agree there by construction. Valid
    between 5 and 200 mmol/kg, to about 5 K.

    References
    ----------
    luo_2003
        Form of the law.

    Examples
    --------
    >>> t = setting_temperature_kappa_root(0.1, intercept=283.08, slope=120.4)
    >>> round(float(t) - 273.15, 1)
    48.0
    """
    root = np.sqrt(np.asarray(gelling_cation, dtype=np.float64))
    return np.asarray(np.asarray(intercept) + np.asarray(slope) * root)


def setting_shift_ph(
    ph: ArrayLike, *, rise_per_ph: float, reference_ph: float, limits: tuple[float, float]
) -> Array:
    """Return how far the pH moves the setting temperature of kappa carrageenan.

    Parameters
    ----------
    ph : array_like, shape (...)
        pH of the batch [-].
    rise_per_ph : float
        Rise for one pH up [K].
    reference_ph : float
        pH where the setting line holds as it stands [-].
    limits : tuple of float
        Lowest and highest pH of the measurement; beyond, the shift stays as it is there [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Shift of the setting temperature [K].

    Notes
    -----
    dT = r (pH - pH_ref), valid between the limits. A straight line between the two printed
    temperatures, 21 °C at pH 3 and 26 °C at pH 8, so those are no check on it.

    References
    ----------
    solowiej_kappa_iota
        Rise from pH 3 to pH 8.

    Examples
    --------
    >>> float(setting_shift_ph(3.0, rise_per_ph=1.0, reference_ph=7.0, limits=(3.0, 8.0)))
    -4.0
    """
    inside = np.minimum(np.maximum(np.asarray(ph, dtype=np.float64), limits[0]), limits[1])
    return np.asarray(rise_per_ph * (inside - reference_ph))


def sodium_share(salt: ArrayLike, *, full: float) -> Array:
    """Return the part of the best stiffness that kappa reaches with sodium instead of potassium.

    Parameters
    ----------
    salt : array_like, shape (...)
        Sodium plus the gum's own active counter-ions, zero or more [mol/kg].
    full : float
        Level where the line would reach the best stiffness, above zero [mol/kg].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the modulus at the best potassium level, at most 1 [-].

    Notes
    -----
    s = min(1, sqrt(C / C_full)): salt screens the charges of the chain over a length that goes
    with the square root of the salt, and sodium never beats potassium. Our own shape, valid
    between 10 and 300 mmol/kg. C_full follows from one printed modulus, 1.7 kPa at 0.6 % in 50
    mmol/L; the second, 5.6 kPa in 250 mmol/L, was kept as a check.

    References
    ----------
    kappa_whey_excerpt
        Modulus in 50 mmol/L of sodium chloride.

    Examples
    --------
    >>> float(sodium_share(0.16, full=0.64))
    0.5
    """
    level = np.asarray(salt, dtype=np.float64) / full
    return np.asarray(np.minimum(np.sqrt(level), 1.0))


def calcium_share(calcium_per_sulfate: ArrayLike, *, optimum: float) -> Array:
    """Return how far calcium has tied a carrageenan network, short of its best.

    Parameters
    ----------
    calcium_per_sulfate : array_like, shape (...)
        Free calcium for each sulfate group of the gum, zero or more [mol/mol].
    optimum : float
        Calcium per sulfate of the stiffest gel, above zero [mol/mol].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of what calcium can do, at most 1 [-].

    Notes
    -----
    s = min(1, r / r_opt): every calcium ties as long as there are free places. Valid between
    none and the optimum; beyond it `calcium_excess` takes over. The optimum of one for kappa is
    printed, the straight line is our own.

    References
    ----------
    macartain_2003
        Optimum of one calcium per sulfate for kappa carrageenan.

    Examples
    --------
    >>> calcium_share([0.25, 1.0, 4.0], optimum=1.0).tolist()
    [0.25, 1.0, 1.0]
    """
    ratio = np.asarray(calcium_per_sulfate, dtype=np.float64) / optimum
    return np.asarray(np.minimum(ratio, 1.0))


def calcium_excess(
    calcium_per_sulfate: ArrayLike, *, optimum: float, decades: float, floor: float
) -> Array:
    """Return what too much calcium leaves of the modulus of a carrageenan gel.

    Parameters
    ----------
    calcium_per_sulfate : array_like, shape (...)
        Free calcium for each sulfate group of the gum, zero or more [mol/mol].
    optimum : float
        Calcium per sulfate of the stiffest gel, above zero [mol/mol].
    decades : float
        Width of the fall on the log10 axis, above zero [-].
    floor : float
        Share left at a great excess, between 0 and 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the modulus, 1 up to the optimum [-].

    Notes
    -----
    s = f_0 + (1 - f_0) exp(-(log10(r / r_opt))^2 / (2 w^2)) above the optimum. That a gel turns
    cloudy and weak there is printed; the shape and its two figures are our own.

    References
    ----------
    macartain_2003
        Cloudy and weak beyond one calcium per sulfate.

    Examples
    --------
    >>> calcium_excess([0.5, 1.0], optimum=1.0, decades=0.45, floor=0.4).tolist()
    [1.0, 1.0]
    """
    ratio = np.asarray(calcium_per_sulfate, dtype=np.float64) / optimum
    over = np.log10(np.maximum(ratio, 1.0))
    return np.asarray(floor + (1.0 - floor) * np.exp(-(over**2) / (2.0 * decades**2)))


def fracture_strain_kappa(
    dose: ArrayLike,
    *,
    strain_at_reference: float,
    reference_dose: float,
    dose_exponent: float,
    ion_share: ArrayLike,
    fall: float,
) -> Array:
    """Return how far a kappa carrageenan gel bends before it splits.

    Parameters
    ----------
    dose : array_like, shape (...)
        Dissolved, active gum per mass of batch, above zero [kg/kg].
    strain_at_reference : float
        Hencky strain at break at the reference dose, half way to the best potassium level [-].
    reference_dose : float
        Dose of that strain, above zero [kg/kg].
    dose_exponent : float
        Power of the dose, zero or below [-].
    ion_share : array_like, shape (...)
        How near potassium has come to its best level, from 0 to 1 [-].
    fall : float
        Relative fall of the strain from no potassium to the best level, between 0 and 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Hencky strain at break [-].

    Notes
    -----
    e = e_ref (c / c_ref)^m (1 + d (1/2 - s)). A stiffer kappa gel breaks shorter: the direction
    is printed for blends of kappa and iota, the size is our own. Meant for 0.1 to 3 %.

    References
    ----------
    brenner_2014
        Strain at break falls as the modulus rises.

    Examples
    --------
    >>> round(float(fracture_strain_kappa(0.01, strain_at_reference=0.5, reference_dose=0.01,
    ...     dose_exponent=-0.1, ion_share=1.0, fall=0.3)), 3)
    0.425
    """
    ratio = np.asarray(dose, dtype=np.float64) / reference_dose
    ions = 1.0 + fall * (0.5 - np.asarray(ion_share, dtype=np.float64))
    return np.asarray(strain_at_reference * ratio**dose_exponent * ions)
