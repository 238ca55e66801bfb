"""How far and how hard a gel can be pressed before it breaks."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def fracture_stress(
    modulus: ArrayLike, fracture_strain: ArrayLike, *, stiffening: ArrayLike
) -> Array:
    """Return the stress at which a gel breaks, from its stiffness and how far it bends.

    Parameters
    ----------
    modulus : array_like, shape (...)
        Shear modulus at small strain [Pa].
    fracture_strain : array_like, shape (...)
        Hencky strain at break under uniaxial compression, zero or more [-].
    stiffening : array_like, shape (...)
        Stress at break over that of a straight line from zero; above 1 for gels that stiffen as
        they are pressed, below 1 for gels that yield [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        True stress at break [Pa].

    Notes
    -----
    sigma = 3 G epsilon s for an incompressible gel, whose Young's modulus is 3 G. The straight
    line holds to a strain of some tenths; beyond, the stiffening carries the difference.

    References
    ----------
    trade_recalled
        Use of the secant at break; the definition itself is elementary elasticity.

    Examples
    --------
    >>> fracture_stress(10e3, 0.5, stiffening=1.0)
    array(15000.)
    """
    line = 3.0 * np.asarray(modulus, dtype=np.float64) * np.asarray(fracture_strain)
    return np.asarray(line * np.asarray(stiffening, dtype=np.float64))
