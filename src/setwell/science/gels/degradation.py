"""Strength that heat and acid take from carrageenan and its kin before the gel has set."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError, OutOfRangeError

Array = NDArray[np.float64]

# Loss of strength outside the valid range that is too small to flag (as -ln of the share).
UNFLAGGED_LOSS = 0.01


@dataclass(frozen=True, slots=True)
class LossLaw:
    """Time to lose a share of the gel strength, and how it moves with pH and temperature."""

    reference_time: float  # [s] at reference_ph and reference_temperature
    ph_factor: float  # [-] shorter per 0.5 pH down
    temperature_factor: float  # [-] shorter per 10 K up
    loss_share: float  # [-] lost within reference_time
    reference_ph: float = 4.0
    reference_temperature: float = 393.15  # [K]
    neutral_time: float = np.inf  # [s] longest time at reference_temperature, any pH
    ph_limits: tuple[float, float] = (3.0, 6.5)
    temperature_limits: tuple[float, float] = (313.15, 393.15)  # [K]

    def __post_init__(self) -> None:
        if not (self.reference_time > 0 and self.neutral_time > 0):
            raise OutOfRangeError("The times of a loss law must be above zero seconds.")
        if not 0 < self.loss_share < 1:
            raise OutOfRangeError(
                f"The lost share of a loss law is {self.loss_share:g}; it must lie between 0 and 1."
            )
        if not (self.ph_factor >= 1 and self.temperature_factor >= 1):
            raise OutOfRangeError("The factors of a loss law must be 1 or more.")


class StrengthLeft(NamedTuple):
    """Share of the gel strength left, and whether the law was meant for this history."""

    share: Array
    is_in_range: NDArray[np.bool_]


def loss_time(temperature: ArrayLike, ph: ArrayLike, *, law: LossLaw) -> Array:
    """Return the time in which a hot sol loses the law's share of its gel strength.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature of the sol [K].
    ph : array_like, shape (...)
        pH of the sol [-].
    law : LossLaw
        Times, factors and limits of the agent [s, -, K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Time at constant pH and temperature [s].

    Notes
    -----
    t = min(t_ref f_pH^((pH - pH_ref) / 0.5), t_neutral) · f_T^((T_ref - T) / 10 K). First order
    in hydrogen ions is f_pH = 3.16; the trade rule is 3. Meant for kappa carrageenan sols at
    pH 3 to 6.5 and 40 to 120 °C. The recalled trade table is met within 11 %; for a given sol
    a factor of two either way is a fair range. The neutral time caps the
    pH line where water alone takes over.

    References
    ----------
    carrageenan_process_time
        Threefold shorter per 0.5 pH, for a loss of 20 to 25 %.
    trade_recalled
        Anchor of 20 s at pH 4 and 120 °C, and threefold per 10 °C.

    Examples
    --------
    Three minutes at pH 4 and 100 °C, by the recalled table:

    >>> law = LossLaw(reference_time=20.0, ph_factor=3.0, temperature_factor=3.0, loss_share=0.25)
    >>> float(loss_time(373.15, 4.0, law=law).round(6))
    180.0
    """
    warmer = (law.reference_temperature - np.asarray(temperature, dtype=np.float64)) / 10.0
    return np.asarray(_time_at_reference(ph, law) * law.temperature_factor**warmer)


def remaining_strength(
    times: ArrayLike,
    temperatures: ArrayLike,
    ph: ArrayLike,
    *,
    law: LossLaw,
    setting_temperature: ArrayLike,
    protected_share: ArrayLike,
) -> StrengthLeft:
    """Return the share of the gel strength left after a temperature history.

    Between two points the temperature runs straight. Below the setting temperature the chains
    lie in helices and the gel loses strength at a small share of the rate of the sol.

    Parameters
    ----------
    times : array_like, shape (..., p)
        Times of the points, zero or more and never falling [s].
    temperatures : array_like, shape (..., p)
        Temperatures at the points [K].
    ph : array_like, shape (..., p - 1)
        pH on each stretch, or (..., 1) or a single number for all; an acid that goes in
        between two points changes it from one stretch to the next [-].
    law : LossLaw
        Times, factors and limits of the agent [s, -, K].
    setting_temperature : array_like, shape (...)
        Temperature below which the gel protects the chains; 0 for never [K].
    protected_share : array_like, shape (...)
        Rate below the setting temperature over the rate of a sol, 0 to 1 [-].

    Returns
    -------
    StrengthLeft, shape (...)
        Share left, 0 to 1, and whether less than about 1 % of the strength went outside the
        limits of pH and temperature [-].

    Raises
    ------
    InputError
        If the shapes do not fit, or times are negative or fall.
    OutOfRangeError
        If the protected share is not between 0 and 1.

    Notes
    -----
    S = exp(ln(1 - s) · ∫ dt / t(pH, T)). On a straight stretch the rate is the exponential of
    a straight line, so the integral is closed: Δt · r(T_mid) · sinh(z) / z with
    z = ln(f_T) ΔT / 20 K; no step size comes in. Meant for pH 3 to 6.5 and 40 to 120 °C.
    The exponential in time is our own choice; the rate of a set gel, 1/10 to 1/100 of the
    sol, is recalled. Reheating a gel between its setting and melting temperature counts as sol,
    which errs toward more loss.

    References
    ----------
    carrageenan_process_time
        Loss of 20 to 25 % by process time and pH.
    trade_recalled
        Anchor of the law and protection by the helix.

    Examples
    --------
    Three minutes at pH 4 and 100 °C leave three quarters:

    >>> law = LossLaw(reference_time=20.0, ph_factor=3.0, temperature_factor=3.0, loss_share=0.25)
    >>> left = remaining_strength([0.0, 180.0], [373.15, 373.15], 4.0, law=law,
    ...     setting_temperature=313.15, protected_share=0.1)
    >>> float(left.share.round(6)), bool(left.is_in_range)
    (0.75, True)
    """
    time, temperature, acidity = _history(times, temperatures, ph)
    share = np.asarray(protected_share, dtype=np.float64)
    if np.any((share < 0) | (share > 1)):
        raise OutOfRangeError("The protected share of the rate must lie between 0 and 1.")
    setting = np.asarray(setting_temperature, dtype=np.float64)[..., None]
    setting = setting[(None,) * (max(time.ndim, temperature.ndim) - setting.ndim)]
    rate = -np.log1p(-law.loss_share) / _time_at_reference(acidity, law)

    meant_for = (acidity >= law.ph_limits[0]) & (acidity <= law.ph_limits[1])
    coolest, hottest = law.temperature_limits
    # A band leaves out its upper edge, the limits do not.
    hottest = float(np.nextafter(hottest, np.inf))
    between = np.clip(setting, coolest, hottest)
    low, high = np.empty((4, *setting.shape)), np.empty((4, *setting.shape))
    low[0], low[1], low[2], low[3] = -np.inf, setting, coolest, between
    high[0], high[1], high[2], high[3] = setting, np.inf, between, hottest
    gel, sol, gel_inside, sol_inside = _band(time, temperature, low, high, law)
    total = rate * (share[..., None] * gel + sol)
    inside = np.where(meant_for, rate * (share[..., None] * gel_inside + sol_inside), 0.0)
    exponent = total.sum(axis=-1)
    outside = exponent - inside.sum(axis=-1)
    return StrengthLeft(np.asarray(np.exp(-exponent)), np.asarray(outside <= UNFLAGGED_LOSS))


def scission_rate_masson_1955(
    temperature: ArrayLike, *, prefactor: ArrayLike, activation_energy: ArrayLike
) -> Array:
    """Return how fast the bonds of carrageenan break in neutral water.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature of the sol, above zero [K].
    prefactor : array_like, shape (...)
        Rate constant at infinite temperature [1/s].
    activation_energy : array_like, shape (...)
        Activation energy [J/mol].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the bonds broken per time [1/s].

    Notes
    -----
    k = A exp(-E / (R T)), first-order random scission, measured at pH 7 between 60 and 101 °C
    with A = 2.75e13 1/h and E = 29.2 kcal/mol; valid for that range. The paper also saw a fast
    early stage of about 0.3 % of all bonds, which this leaves out, and oxygen speeds the loss.

    References
    ----------
    masson_1955
        Abstract: rate law and both constants.

    Examples
    --------
    2.2e-4 per hour at 100 °C:

    >>> k = scission_rate_masson_1955(373.15, prefactor=2.75e13 / 3600,
    ...     activation_energy=29200 * 4.184)
    >>> round(float(k) * 3600, 5)
    0.00022
    """
    # Molar gas constant [J/(mol K)], exact since 2019 by the definition of the SI.
    gas = 8.314462618
    kelvin = np.asarray(temperature, dtype=np.float64)
    return np.asarray(np.asarray(prefactor) * np.exp(-np.asarray(activation_energy) / gas / kelvin))


def molar_mass_scission(
    molar_mass: ArrayLike, broken_share: ArrayLike, *, unit_molar_mass: float
) -> Array:
    """Return the number-average molar mass after random breaks along the chain.

    Parameters
    ----------
    molar_mass : array_like, shape (...)
        Number-average molar mass before, above zero [kg/mol].
    broken_share : array_like, shape (...)
        Share of the bonds between units that broke, zero or more [-].
    unit_molar_mass : float
        Molar mass of the unit between two such bonds, above zero [kg/mol].

    Returns
    -------
    numpy.ndarray, shape (...)
        Number-average molar mass after [kg/mol].

    Notes
    -----
    1/M = 1/M0 + x/m with x = ∫ k dt; each break adds one chain. Holds for x well below one,
    random breaks and chains much longer than the unit.

    References
    ----------
    ekenstam_1936
        Random scission, recalled.

    Examples
    --------
    One break per chain halves the molar mass (invented numbers):

    >>> float(molar_mass_scission(200.0, 0.002, unit_molar_mass=0.4))
    100.0
    """
    before = np.asarray(molar_mass, dtype=np.float64)
    broken = np.asarray(broken_share, dtype=np.float64)
    return np.asarray(before / (1.0 + broken * before / unit_molar_mass))


def strength_molar_mass(
    molar_mass: ArrayLike,
    *,
    original_molar_mass: ArrayLike,
    critical_molar_mass: ArrayLike,
    exponent: ArrayLike,
) -> Array:
    """Return the share of the gel strength that chains of a lower molar mass still give.

    Parameters
    ----------
    molar_mass : array_like, shape (...)
        Molar mass after the loss [kg/mol].
    original_molar_mass : array_like, shape (...)
        Molar mass before, above the critical one [kg/mol].
    critical_molar_mass : array_like, shape (...)
        Molar mass below which nothing gels [kg/mol].
    exponent : array_like, shape (...)
        Power of the distance from the critical molar mass [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the strength left, zero below the critical molar mass [-].

    Raises
    ------
    OutOfRangeError
        If the original molar mass is not above the critical one.

    Notes
    -----
    S = max(0, (M - M_c) / (M_0 - M_c))^n. Our own shape, for a second opinion: kappa carrageenan
    stopped gelling below 130 to 210 kg/mol at 1 % in 0.1 mol/L KCl, without a plateau above.
    The power of 1.5 is an estimate.

    References
    ----------
    goncalves_2025
        Molar mass below which gelation is lost.

    Examples
    --------
    >>> float(strength_molar_mass(280.0, original_molar_mass=400.0, critical_molar_mass=160.0,
    ...     exponent=1.0))
    0.5
    """
    critical = np.asarray(critical_molar_mass, dtype=np.float64)
    span = np.asarray(original_molar_mass, dtype=np.float64) - critical
    if np.any(span <= 0):
        raise OutOfRangeError(
            "The original molar mass must lie above the critical one.",
            hint="Below it the agent would not gel at all.",
        )
    reach = np.clip((np.asarray(molar_mass, dtype=np.float64) - critical) / span, 0.0, None)
    return np.asarray(reach ** np.asarray(exponent))


def _time_at_reference(ph: ArrayLike, law: LossLaw) -> Array:
    steps = (np.asarray(ph, dtype=np.float64) - law.reference_ph) / 0.5
    return np.asarray(np.minimum(law.reference_time * law.ph_factor**steps, law.neutral_time))


def _history(
    times: ArrayLike, temperatures: ArrayLike, ph: ArrayLike
) -> tuple[Array, Array, Array]:
    """Check the shapes of a history and the order of its times."""
    time, temperature = (np.asarray(x, dtype=np.float64) for x in (times, temperatures))
    acidity = np.asarray(ph, dtype=np.float64)
    points = temperature.shape[-1] if temperature.ndim else 0
    if points < 2 or time.shape[-1:] != temperature.shape[-1:]:
        raise InputError(
            f"A history needs as many times as temperatures, two or more; got shapes "
            f"{time.shape} and {temperature.shape}."
        )
    if acidity.ndim not in {0, max(time.ndim, temperature.ndim)} or (
        acidity.ndim and acidity.shape[-1] not in {1, points - 1}
    ):
        raise InputError(
            f"The pH has shape {acidity.shape}; {points} points have {points - 1} stretches.",
            hint="Give one pH, one for each history, or one for each stretch.",
        )
    if np.any(time < 0) or np.any(np.diff(time, axis=-1) < 0):
        raise InputError(
            "The times of a history must be zero or more and never fall.",
            hint="Sort the points by time.",
        )
    return time, temperature, acidity


def _band(time: Array, temperature: Array, low: Array, high: Array, law: LossLaw) -> Array:
    """Integrate f_T^((T - T_ref) / 10) over the time each stretch spends from low up to high."""
    start, end = temperature[..., :-1], temperature[..., 1:]
    first, last = np.clip(start, low, high), np.clip(end, low, high)
    is_flat = start == end
    change = np.where(is_flat, 1.0, end - start)
    held = (start >= low) & (start < high)
    share = np.where(is_flat, held, (last - first) / change)
    slope = np.log(law.temperature_factor) / 10.0
    half = slope * (last - first) / 2.0
    middle = np.exp(slope * ((first + last) / 2.0 - law.reference_temperature))
    return np.asarray(np.diff(time, axis=-1) * share * middle * _sinh_over(half))


def _sinh_over(z: Array) -> Array:
    """Return sinh(z)/z, with its series where the quotient would lose digits."""
    is_small = np.abs(z) < 1e-3
    safe = np.where(is_small, 1.0, z)
    return np.asarray(np.where(is_small, 1.0 + z**2 / 6.0 + z**4 / 120.0, np.sinh(safe) / safe))
