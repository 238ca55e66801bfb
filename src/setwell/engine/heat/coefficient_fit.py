"""Fit one figure of a cold place or a hob to what a probe recorded."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import toeplitz
from scipy.optimize import least_squares
from scipy.special import stdtrit

from setwell.engine.heat.course import Course
from setwell.engine.heat.results import Advice
from setwell.errors import InputError
from setwell.units import temperature_change_print

Array = NDArray[np.float64]
Model = Callable[[float], Array]

# Fewer readings than this, or less change [K], tell nothing.
FEWEST_POINTS, LEAST_CHANGE = 8, 5.0
MOST_POINTS = 200
# However well the curve fits, the place of the probe and the shape leave this much open.
LEAST_SPREAD = 0.03
# A figure that may be so much larger than its low end is no figure.
WIDEST = 4.0
# Mean miss above which the model does not describe the log [K].
POOR_MISS = 1.5
CONFIDENCE = 0.975
# Autocorrelation beyond this leaves no independent readings.
MOST_ALIKE = 0.98
# A smooth miss is the model's fault rather than chance: never counted as fewer readings.
FEWEST_INDEPENDENT = 4.0
_STEP = 0.01
_EDGE = 1e-3


@dataclass(frozen=True, slots=True)
class FitResult:
    """A fitted figure with its 95 % range, how well it fits, and the curve it gives."""

    value: float
    low: float
    high: float
    unit: str
    rms_k: float
    used_points: int
    curve: Course
    text: str
    advice: tuple[Advice, ...] = ()


@dataclass(frozen=True, slots=True)
class Sought:
    """What is looked for: its name in a sentence, its unit, and how many digits are shown."""

    name: str = "The heat passed by the surface"
    unit: str = "W/m²K"
    digits: int = 1
    scale: float = 1.0
    # What to look at where the curve misses the log.
    check: str = (
        "Check whether the door was opened, the mold was moved, or the probe touched the wall."
    )


COEFFICIENT = Sought()
EFFICIENCY = Sought(
    "The share of the power that reaches the food", "%", 0, 100.0,
    "Check whether the hob was turned down, the pot was stirred, covered or filled up otherwise "
    "than planned, or the probe touched the base.",
)  # fmt: skip


def thinned(course: Course, most: int = MOST_POINTS) -> Course:
    """Return a log with at most so many readings, each the mean of its neighbors."""
    good = np.isfinite(course.celsius) & np.isfinite(course.seconds)
    seconds, celsius = course.seconds[good], course.celsius[good]
    low, high = course.low_c[good], course.high_c[good]
    block = -(-len(seconds) // most) if len(seconds) else 1
    parts = [_block_means(part, block) for part in (seconds, celsius, low, high)]
    return replace(course, seconds=parts[0], celsius=parts[1], low_c=parts[2], high_c=parts[3])


def fit_coefficient(
    course: Course,
    model: Model,
    first: float,
    bounds: tuple[float, float],
    sought: Sought = COEFFICIENT,
) -> FitResult:
    """Return the figure for which `model` runs closest to a measured course.

    `model` gives the temperatures at the moments of the course for a figure between `bounds`.
    Raises InputError when the log is too short, hardly changes, or leaves the figure open.
    """
    _check_log(course, first, bounds)
    measured = course.celsius

    def misses(log_value: Array) -> Array:
        return model(float(np.exp(log_value[0]))) - measured

    found = least_squares(
        misses,
        x0=[np.log(first)],
        bounds=([np.log(bounds[0])], [np.log(bounds[1])]),
        diff_step=[_STEP],
        x_scale=[0.1],
    )
    value = float(np.exp(found.x[0]))
    curve = model(value)
    slope = (model(value * np.exp(_STEP)) - model(value * np.exp(-_STEP))) / (2.0 * _STEP)
    _check_inside(value, bounds, sought)
    half = _half_width(curve - measured, slope, course)
    if not np.isfinite(half) or np.exp(2.0 * half) > WIDEST:
        raise _says_nothing(value, half, sought)
    return _result(course, curve, value, half, sought)


def _result(course: Course, curve: Array, value: float, half: float, sought: Sought) -> FitResult:
    miss = float(np.sqrt(np.mean((curve - course.celsius) ** 2)))
    low, high = value * float(np.exp(-half)), value * float(np.exp(half))
    shown = [f"{part * sought.scale:.{sought.digits}f}" for part in (value, low, high)]
    text = (
        f"{sought.name} is {shown[0]} {sought.unit} ({shown[1]} to {shown[2]}), from "
        f"{len(curve)} readings; the curve misses them by {_kelvin(miss)} on average."
    )
    line = Course(course.place, course.seconds, curve, curve, curve, model="fitted to the log")
    advice = (_poor(miss, sought),) if miss > POOR_MISS else ()
    return FitResult(value, low, high, sought.unit, miss, len(curve), line, text, advice)


def _half_width(residual: Array, slope: Array, course: Course) -> float:
    """Return half the 95 % range on the natural log axis.

    Readings close in time miss on the same side; `alike` counts that, corrected for the bias of
    a short log. The error of the probe moves all readings together.
    """
    count, weight = len(residual), float(slope @ slope)
    if weight <= 0.0:
        return float("inf")
    alike = _likeness(residual)
    independent = max(count * (1.0 - alike) / (1.0 + alike), FEWEST_INDEPENDENT)
    variance = float(residual @ residual) / count * independent / (independent - 1.0)
    shared = toeplitz(alike ** np.arange(count))
    error = np.sqrt(variance * float(slope @ shared @ slope)) / weight
    chance = float(stdtrit(independent - 1.0, CONFIDENCE)) * error
    probe = float(np.mean(course.high_c - course.low_c)) / 2.0
    offset = abs(float(np.sum(slope))) / weight * max(probe, 0.0)
    return float(np.sqrt(chance**2 + offset**2 + LEAST_SPREAD**2))


def _likeness(residual: Array) -> float:
    """Return the correlation of neighboring misses, without the bias of a short log."""
    total = float(residual @ residual)
    if total <= 0.0:
        return 0.0
    raw = float(residual[1:] @ residual[:-1]) / total
    return float(np.clip(raw + (1.0 + 4.0 * raw) / len(residual), 0.0, MOST_ALIKE))


def _block_means(values: Array, block: int) -> Array:
    starts = np.arange(0, len(values), block)
    if not len(starts):
        return values
    sizes = np.diff(np.append(starts, len(values)))
    return np.asarray(np.add.reduceat(values, starts) / sizes)


def _check_log(course: Course, first: float, bounds: tuple[float, float]) -> None:
    if not 0.0 < bounds[0] < first < bounds[1]:
        raise InputError("The first guess must lie between the bounds.", field="first")
    count = len(course.seconds)
    if count < FEWEST_POINTS:
        raise InputError(
            f"The log has {count} readings; at least {FEWEST_POINTS} are needed.",
            field="log",
            hint="Let the logger read every few minutes.",
        )
    change = float(np.ptp(course.celsius))
    if change < LEAST_CHANGE:
        raise InputError(
            f"The log changes by {_kelvin(change)} only; at least {_kelvin(LEAST_CHANGE)} are "
            "needed.",
            field="log",
            hint="Put the probe into the middle of the food while it is still warm.",
        )


def _check_inside(value: float, bounds: tuple[float, float], sought: Sought) -> None:
    distance = np.log(value / bounds[0]), np.log(bounds[1] / value)
    if min(distance) > _EDGE:
        return
    edge = bounds[0] if distance[0] <= distance[1] else bounds[1]
    raise InputError(
        f"{sought.name} would have to be {'below' if edge == bounds[0] else 'above'} "
        f"{edge * sought.scale:.{sought.digits}f} {sought.unit} to follow this log.",
        field="log",
        hint="Check the size of the mold or pot, the air or power entered, and where the log "
        "starts and ends.",
    )


def _says_nothing(value: float, half: float, sought: Sought) -> InputError:
    low, high = value * np.exp(-min(half, 9.0)), value * np.exp(min(half, 9.0))
    return InputError(
        f"This log does not tell: {sought.name[0].lower()}{sought.name[1:]} could be anything "
        f"from {low * sought.scale:.{sought.digits}f} to {high * sought.scale:.{sought.digits}f} "
        f"{sought.unit}.",
        field="log",
        hint="Record for longer, with the probe in the middle and fixed in its place.",
    )


def _poor(miss: float, sought: Sought) -> Advice:
    return Advice(
        "fit_poor",
        f"The curve misses the log by {_kelvin(miss)} on average: something else happened too.",
        sought.check,
    )


def _kelvin(kelvin: float) -> str:
    return temperature_change_print(round(kelvin, 1))
