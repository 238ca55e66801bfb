"""Cooked starch: how thick the paste is, and what salt takes from it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def paste_viscosity(
    dose: ArrayLike,
    shear_rate: ArrayLike,
    *,
    consistency: ArrayLike,
    reference_dose: float,
    exponent: float,
    flow_index: float,
) -> Array:
    """Return what cooked starch adds to the viscosity of a liquid.

    Parameters
    ----------
    dose : array_like, shape (...)
        Swollen starch per mass of batch, zero or more [kg/kg].
    shear_rate : array_like, shape (g,)
        Shear rates, above zero [1/s].
    consistency : array_like, shape (...)
        Consistency of a paste of the reference dose [Pa·s^n].
    reference_dose : float
        Dose that the consistency holds for, above zero [kg/kg].
    exponent : float
        Power of the dose [-].
    flow_index : float
        Power n of the shear rate in the shear stress, 0 to 1 [-].

    Returns
    -------
    numpy.ndarray, shape (..., g)
        Viscosity [Pa·s].

    Notes
    -----
    eta = K (c / c_ref)^m γ^(n - 1). A power law between about 1 and 500 1/s for pastes of 2 to
    8 %; thinner ones are less shear-thinning than it says.

    References
    ----------
    trade_recalled
        Power laws of pastes.

    Examples
    --------
    >>> paste_viscosity(0.05, [1.0, 100.0], consistency=6.0, reference_dose=0.05, exponent=3.0,
    ...     flow_index=0.5)
    array([6. , 0.6])
    """
    ratio = np.asarray(dose, dtype=np.float64) / reference_dose
    at_one = np.asarray(consistency) * ratio**exponent
    return np.asarray(
        at_one[..., None] * np.asarray(shear_rate, dtype=np.float64) ** (flow_index - 1.0)
    )


def salt_left(sodium: ArrayLike, *, half: float, floor: float) -> Array:
    """Return the share of its thickness that a charged starch keeps in salt.

    Parameters
    ----------
    sodium : array_like, shape (...)
        Sodium per mass of water, zero or more [mol/kg].
    half : float
        Sodium that takes half of what salt can take, above zero [mol/kg].
    floor : float
        Share left in very much salt, between 0 and 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the thickness in salt-free water [-].

    Notes
    -----
    f = f_0 + (1 - f_0) / (1 + C / C_half). Our own shape for potato starch, whose phosphate
    groups hold the granule swollen until salt screens them.

    References
    ----------
    trade_recalled
        Salt thins potato starch strongly.

    Examples
    --------
    >>> salt_left([0.0, 0.03], half=0.03, floor=0.4)
    array([1. , 0.7])
    """
    ratio = np.asarray(sodium, dtype=np.float64) / half
    return np.asarray(floor + (1.0 - floor) / (1.0 + ratio))
