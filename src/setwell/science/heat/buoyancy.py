"""How a layer heated from below mixes itself, or does not: buoyancy against viscosity."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

GRAVITY = 9.80665
# Heat through one boundary layer of a liquid in which heat spreads far slower than motion.
LAYER = 0.15
# Onset between two rigid faces, and below a free surface.
_RIGID, _FREE = 1707.762, 1100.65
_NARROW = 0.58


class LayerLiquid(NamedTuple):
    """A liquid as a heated layer sees it, each part of shape (...).

    `conductivity` [W/mK], `heat_capacity` [J/kgK], `density` [kg/m3] and `expansion` [1/K].
    """

    conductivity: ArrayLike
    heat_capacity: ArrayLike
    density: ArrayLike
    expansion: ArrayLike

    @property
    def drive(self) -> Array:
        """Rayleigh number times viscosity for a layer of 1 m and 1 K [Pa·s/(m3 K)]."""
        conductivity, capacity, density, expansion = (np.asarray(part, float) for part in self)
        return np.asarray(GRAVITY * expansion * density**2 * capacity / conductivity)

    @property
    def lift(self) -> Array:
        """Weight that a warmer liquid lacks [Pa/(m K)]."""
        return np.asarray(
            GRAVITY * np.asarray(self.expansion, float) * np.asarray(self.density, float)
        )


def rayleigh_of_layer(
    difference: ArrayLike, *, depth: ArrayLike, viscosity: ArrayLike, liquid: LayerLiquid
) -> Array:
    """Return the Rayleigh number of a layer that is warmer below than above.

    Parameters
    ----------
    difference : array_like, shape (...)
        Temperature below less that above; less than zero counts as zero [K].
    depth : array_like, shape (...)
        Depth of the layer [m].
    viscosity : array_like, shape (...)
        Viscosity, above zero [Pa·s].
    liquid : LayerLiquid, shape (...)
        Conductivity, heat capacity, density and expansion [W/mK, J/kgK, kg/m3, 1/K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Rayleigh number, zero or more [-].

    Notes
    -----
    Ra = g β ρ^2 c ΔT H^3 / (μ k). Holds for a liquid without a yield stress whose density falls
    as it warms: above 4 °C for water.

    References
    ----------
    hollands_1984
        Definition for a layer heated from below.

    Examples
    --------
    Eight centimeters of water at 75 °C, ten degrees warmer below:

    >>> water = LayerLiquid(0.663, 4190.0, 975.0, 6.1e-4)
    >>> found = rayleigh_of_layer(10.0, depth=0.08, viscosity=3.78e-4, liquid=water)
    >>> f"{float(found):.2e}"
    '4.87e+08'
    """
    warm = np.maximum(np.asarray(difference, dtype=np.float64), 0.0)
    size = np.asarray(depth, dtype=np.float64) ** 3
    return np.asarray(liquid.drive * warm * size / np.asarray(viscosity, dtype=np.float64))


def critical_rayleigh(aspect: ArrayLike, *, has_free_top: bool) -> Array:
    """Return the Rayleigh number from which a layer heated below begins to move.

    Parameters
    ----------
    aspect : array_like, shape (...)
        Depth over diameter; zero for a wide layer [-].
    has_free_top : bool
        Whether the upper face is a free surface [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Critical Rayleigh number [-].

    Notes
    -----
    Ra_c = Ra_wide (1 + 0.58 (H/D)^2)^2 with Ra_wide = 1708 between two rigid faces and 1101 below
    a free surface. The factor for a narrow pot is our own curve through the published figures
    for rigid faces and sides that hold heat; valid within 6 % up to H/D = 1.25.

    References
    ----------
    chandrasekhar_1961
        Onset for both pairs of faces, recalled.
    buell_catton_1983
        Figures behind the factor, by way of an open library.

    Examples
    --------
    >>> critical_rayleigh([0.0, 0.4], has_free_top=False).round(0)
    array([1708., 2039.])
    """
    narrow = (1.0 + _NARROW * np.asarray(aspect, dtype=np.float64) ** 2) ** 2
    return np.asarray((_FREE if has_free_top else _RIGID) * narrow)


def layer_coefficient(difference: ArrayLike, *, viscosity: ArrayLike, liquid: LayerLiquid) -> Array:
    """Return the heat passed by one boundary layer, at the base or below the surface.

    Parameters
    ----------
    difference : array_like, shape (...)
        Temperature across the boundary layer; less than zero counts as zero [K].
    viscosity : array_like, shape (...)
        Viscosity, above zero [Pa·s].
    liquid : LayerLiquid, shape (...)
        Conductivity, heat capacity, density and expansion [W/mK, J/kgK, kg/m3, 1/K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Coefficient of heat transfer [W/m2K].

    Notes
    -----
    h = 0.15 k (g β ρ^2 c ΔT / (μ k))^(1/3), whatever the depth. Holds for Prandtl numbers well
    above one and a layer that moves well; near the onset conduction does as much.

    References
    ----------
    mcadams_1954
        Nu = 0.15 Ra^(1/3) for a warm plate facing up.

    Examples
    --------
    >>> sauce = LayerLiquid(0.55, 3800.0, 1030.0, 5e-4)
    >>> float(layer_coefficient(25.0, viscosity=0.5, liquid=sauce).round(1))
    100.3
    """
    warm = np.maximum(np.asarray(difference, dtype=np.float64), 0.0)
    thin = np.asarray(viscosity, dtype=np.float64)
    return np.asarray(LAYER * np.asarray(liquid.conductivity) * np.cbrt(liquid.drive * warm / thin))


def layer_difference(flux: ArrayLike, *, viscosity: ArrayLike, liquid: LayerLiquid) -> Array:
    """Return the temperature across one boundary layer that carries a heat flux.

    Parameters
    ----------
    flux : array_like, shape (...)
        Heat flux, zero or more [W/m2].
    viscosity : array_like, shape (...)
        Viscosity, above zero [Pa·s].
    liquid : LayerLiquid, shape (...)
        Conductivity, heat capacity, density and expansion [W/mK, J/kgK, kg/m3, 1/K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Difference between the face and the mixed liquid [K].

    Notes
    -----
    ΔT = (q / h_1)^(3/4) with h_1 the coefficient at 1 K. Holds once the flux is steady and as
    far as the coefficient does.

    References
    ----------
    mcadams_1954
        Nu = 0.15 Ra^(1/3), solved for the difference.

    Examples
    --------
    A pot held hot under a lid, from thin to thick:

    >>> sauce = LayerLiquid(0.55, 3800.0, 1030.0, 5e-4)
    >>> layer_difference(1000.0, viscosity=[0.01, 0.5, 10.0], liquid=sauce).round(0)
    array([ 5., 13., 27.])
    """
    at_one = layer_coefficient(1.0, viscosity=viscosity, liquid=liquid)
    return np.asarray((np.maximum(np.asarray(flux, dtype=np.float64), 0.0) / at_one) ** 0.75)


def yield_number(
    difference: ArrayLike, *, depth: ArrayLike, yield_stress: ArrayLike, liquid: LayerLiquid
) -> Array:
    """Return the pull of buoyancy over the yield stress that holds a layer still.

    Parameters
    ----------
    difference : array_like, shape (...)
        Temperature below less that above [K].
    depth : array_like, shape (...)
        Depth of the layer [m].
    yield_stress : array_like, shape (...)
        Yield stress, above zero [Pa].
    liquid : LayerLiquid, shape (...)
        Conductivity, heat capacity, density and expansion [W/mK, J/kgK, kg/m3, 1/K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Yield number [-].

    Notes
    -----
    Y_0 = ρ g β ΔT d / τ_y. Plumes in a yield-stress gel were not seen below 120 and moved freely
    above 260; meant as an order of magnitude, because there d was the size of the heater.

    References
    ----------
    davaille_2013
        Both limits, from the abstract.
    balmforth_rust_2009
        With a yield stress no small motion ever grows.

    Examples
    --------
    >>> sauce = LayerLiquid(0.55, 3800.0, 1020.0, 6.1e-4)
    >>> yield_number(15.0, depth=0.08, yield_stress=[0.028, 0.060], liquid=sauce).round(0)
    array([262., 122.])
    """
    pull = liquid.lift * np.asarray(difference, dtype=np.float64)
    pull = pull * np.asarray(depth, dtype=np.float64)
    return np.asarray(pull / np.asarray(yield_stress, dtype=np.float64))
