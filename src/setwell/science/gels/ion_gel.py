"""Gels that calcium ties: how much of it the gum needs, and how a skin grows in a bath."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

# Standard atomic weight of calcium, conventional value (IUPAC 2021) [kg/mol].
_CALCIUM = 0.040078


def calcium_stoichiometric(equivalent_weight: ArrayLike) -> Array:
    """Return the calcium that fills every charge of a gum.

    Parameters
    ----------
    equivalent_weight : array_like, shape (...)
        Mass of gum that carries one mole of charge, above zero [kg/mol].

    Returns
    -------
    numpy.ndarray, shape (...)
        Calcium per gum [kg/kg].

    Notes
    -----
    r = M_Ca / (2 M_eq): one calcium for two charges. Exact for a pure salt of known repeat.

    References
    ----------
    iupac_2021
        Atomic weight of calcium.

    Examples
    --------
    Sodium alginate:

    >>> float(calcium_stoichiometric(0.1981).round(4))
    0.1012
    """
    return np.asarray(_CALCIUM / (2.0 * np.asarray(equivalent_weight, dtype=np.float64)))


def calcium_per_gum(calcium: ArrayLike, dose: ArrayLike) -> Array:
    """Return the calcium there is for each mass of gum.

    Parameters
    ----------
    calcium : array_like, shape (...)
        Calcium per mass of batch, zero or more [mol/kg].
    dose : array_like, shape (...)
        Gum per mass of batch, zero or more [kg/kg].

    Returns
    -------
    numpy.ndarray, shape (...)
        Calcium per gum; zero without gum [kg/kg].

    Notes
    -----
    r = M_Ca C / c, for free calcium: what is bound is left out by the caller.

    References
    ----------
    iupac_2021
        Atomic weight of calcium.

    Examples
    --------
    5 mmol/kg and 0.5 % of gum:

    >>> float(calcium_per_gum(0.005, 0.005).round(4))
    0.0401
    """
    grams = _CALCIUM * np.asarray(calcium, dtype=np.float64)
    gum = np.asarray(dose, dtype=np.float64)
    there = gum > 0.0
    return np.asarray(np.where(there, grams / np.where(there, gum, 1.0), 0.0))


def dose_tied(dose: ArrayLike, calcium: ArrayLike, *, need: ArrayLike) -> Array:
    """Return the gum that calcium can tie into the gel.

    Parameters
    ----------
    dose : array_like, shape (...)
        Dissolved gum per mass of batch, zero or more [kg/kg].
    calcium : array_like, shape (...)
        Calcium per mass of batch, zero or more [mol/kg].
    need : array_like, shape (...)
        Calcium per gum that ties all of it, above zero [kg/kg].

    Returns
    -------
    numpy.ndarray, shape (...)
        Gum in the network per mass of batch [kg/kg].

    Notes
    -----
    c_tied = min(c, M_Ca C / r). A balance of mass that holds for calcium spread evenly; it says
    nothing of calcium that came too fast or before the gum was dissolved.

    References
    ----------
    common_practice
        Calcium runs out before the gum does; the balance is our own.

    Examples
    --------
    >>> dose_tied([0.005, 0.02], 0.01, need=0.0400780).round(4)
    array([0.005, 0.01 ])
    """
    carried = _CALCIUM * np.asarray(calcium, dtype=np.float64) / np.asarray(need)
    return np.asarray(np.minimum(np.asarray(dose, dtype=np.float64), carried))


def skin_thickness(
    time: ArrayLike, bath_calcium: ArrayLike, gum_calcium: ArrayLike, *, diffusion: ArrayLike
) -> Array:
    """Return the thickness of the gel that a calcium bath makes around a drop.

    Parameters
    ----------
    time : array_like, shape (...)
        Time in the bath, zero or more [s].
    bath_calcium : array_like, shape (...)
        Calcium of the bath, zero or more [mol/kg].
    gum_calcium : array_like, shape (...)
        Calcium that the gum of the drop takes up per mass of drop, above zero [mol/kg].
    diffusion : array_like, shape (...)
        Diffusion coefficient of calcium in the gel [m2/s].

    Returns
    -------
    numpy.ndarray, shape (...)
        Thickness of the skin [m].

    Notes
    -----
    x = sqrt(2 D t C_bath / C_gum): calcium crosses the skin and is taken up at its inner face,
    a sharp front in a flat layer. Holds for a skin thin against the drop, in a stirred bath with
    more calcium than the drop takes.

    References
    ----------
    common_practice
        A minute in the usual bath makes a skin of about a millimeter; the balance is our own.

    Examples
    --------
    One minute, 1 % calcium chloride, 0.5 % alginate, in millimeters:

    >>> float(1e3 * skin_thickness(60.0, 0.090, 0.0126, diffusion=1e-9).round(5))
    0.93
    """
    supply = np.asarray(bath_calcium, dtype=np.float64) / np.asarray(gum_calcium)
    return np.asarray(np.sqrt(2.0 * np.asarray(diffusion) * np.asarray(time) * supply))
