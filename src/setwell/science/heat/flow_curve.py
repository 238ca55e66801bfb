"""A shear-thinning liquid in a boundary layer: its flow curve read at the stress of buoyancy."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.science.heat.buoyancy import LAYER, LayerLiquid

Array = NDArray[np.float64]


class ThinningLayer(NamedTuple):
    """A boundary layer at work, each part of shape (...): W/m2K, Pa·s and Pa."""

    coefficient: Array
    viscosity: Array
    stress: Array


def viscosity_at_stress_power_law(
    stress: ArrayLike, *, consistency: ArrayLike, flow_index: ArrayLike
) -> Array:
    """Return the apparent viscosity of a power-law liquid under a given stress.

    Parameters
    ----------
    stress : array_like, shape (...)
        Shear stress, above zero [Pa].
    consistency : array_like, shape (...)
        K, the viscosity at 1 1/s [Pa·s^n].
    flow_index : array_like, shape (...)
        n, 1 for a liquid that does not thin [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Apparent viscosity [Pa·s].

    Notes
    -----
    μ = K^(1/n) τ^((n − 1)/n). Holds where the power law does; under the feeble stress of
    buoyancy that is an extrapolation, to the thick side.

    References
    ----------
    steffe_1996
        The power law, solved for the stress.

    Examples
    --------
    >>> float(viscosity_at_stress_power_law(3.04, consistency=5.0, flow_index=0.4).round(1))
    10.5
    """
    index = np.asarray(flow_index, dtype=np.float64)
    pull = np.asarray(stress, dtype=np.float64)
    return np.asarray(
        np.asarray(consistency, dtype=np.float64) ** (1.0 / index) * pull ** ((index - 1.0) / index)
    )


def layer_of_flow_curve(
    difference: ArrayLike, *, rates: ArrayLike, viscosities: ArrayLike, liquid: LayerLiquid
) -> ThinningLayer:
    """Return the boundary layer of a liquid with a tabulated flow curve.

    Parameters
    ----------
    difference : array_like, shape (...)
        Temperature across the boundary layer, above zero [K].
    rates : array_like, shape (g,)
        Shear rates of the flow curve, rising [1/s].
    viscosities : array_like, shape (..., g)
        Apparent viscosities there; the stress must rise with the rate [Pa·s].
    liquid : LayerLiquid, shape (...)
        Conductivity, heat capacity, density and expansion [W/mK, J/kgK, kg/m3, 1/K].

    Returns
    -------
    ThinningLayer, shape (...)
        Coefficient, viscosity and stress of the layer [W/m2K, Pa·s, Pa].

    Notes
    -----
    Solves h = 0.15 k (g β ρ^2 c ΔT / (μ k))^(1/3) together with τ = ρ g β ΔT k / h and μ = μ(τ).
    Between two points of the curve, and below its first, μ is a power of τ, so the solution is
    closed: no iteration. Meant for a stress within or below the curve; above it the last
    viscosity stays.

    References
    ----------
    mcadams_1954
        Nu = 0.15 Ra^(1/3).
    common_practice
        Reading the flow curve at the stress of buoyancy is our own way.

    Examples
    --------
    A liquid that does not thin:

    >>> sauce = LayerLiquid(0.55, 3800.0, 1030.0, 5e-4)
    >>> layer = layer_of_flow_curve(25.0, rates=[0.1, 10.0], viscosities=[0.5, 0.5], liquid=sauce)
    >>> float(layer.coefficient.round(1)), float(layer.viscosity.round(2))
    (100.3, 0.5)
    """
    warm = np.maximum(np.asarray(difference, dtype=np.float64), 1e-12)
    log_mu = np.log(np.asarray(viscosities, dtype=np.float64))
    log_tau = log_mu + np.log(np.asarray(rates, dtype=np.float64))
    pull = np.log(liquid.lift * warm * np.asarray(liquid.conductivity))
    push = np.log(LAYER * np.asarray(liquid.conductivity)) + np.log(liquid.drive * warm) / 3.0
    # Zero where the stress and the heat transfer agree; it falls along the curve.
    gap = (pull - push)[..., None] - log_tau + log_mu / 3.0
    log_tau, log_mu, gap = np.broadcast_arrays(log_tau, log_mu, gap)
    last = gap.shape[-1] - 2
    left = np.clip((gap > 0).sum(axis=-1) - 1, 0, last)[..., None]

    def ends(values: Array) -> tuple[Array, Array]:
        return (
            np.take_along_axis(values, left, -1)[..., 0],
            np.take_along_axis(values, left + 1, -1)[..., 0],
        )

    (gap_a, gap_b), (mu_a, mu_b) = ends(gap), ends(log_mu)
    share = np.minimum(gap_a / (gap_a - gap_b), 1.0)
    mu = mu_a + share * (mu_b - mu_a)
    coefficient = np.exp(push - mu / 3.0)
    return ThinningLayer(coefficient, np.exp(mu), np.exp(pull) / coefficient)
