"""Thickness of a polymer solution from its dose."""

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
    eta = eta_s (1 + s* (c / c*)^p). Powers 1.4 and 3.3 are usual for random coils. Zero-shear
    values near 25 °C; stirring and salts lower them, milk protein raises them.

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
