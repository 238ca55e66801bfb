"""A hob of this kitchen, fitted to the log of a probe at the bottom of a pot."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.equipment import Hob
from setwell.domain.process_plan import PotPlan
from setwell.engine.heat.coefficient_fit import (
    EFFICIENCY,
    FEWEST_POINTS,
    FitResult,
    fit_coefficient,
    thinned,
)
from setwell.engine.heat.course import Course
from setwell.engine.heat.equipment import hob_efficiency
from setwell.engine.heat.pot import bottom_curve
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.units import temperature_change_print, temperature_print

Array = NDArray[np.float64]

SHARES = (0.05, 1.0)
# The pot must get so much warmer before the hob is turned down [K].
LEAST_RISE = 10.0
# The hob is on when the log has left its start, and full on until so close to its warmest [K].
ON_K, FULL_K = 0.5, 2.0
# The computed hob must not throttle before the log is over [K].
_BEYOND_K = 10.0
_MOVED_READINGS = 3.0


def fit_hob(bench: Bench, plan: PotPlan, course: Course) -> FitResult:
    """Return the share of the power for which the bottom of the pot warms as it was measured.

    Only the way up counts, with the hob full on. Raises InputError when the log does not tell.
    """
    log, start = _heating_part(course)
    target = min(float(np.max(log.celsius)) + _BEYOND_K, 130.0)
    heated = plan.model_copy(update={"start_c": start, "target_c": target})

    def curve(share: float) -> Array:
        run = bottom_curve(bench, heated, log.seconds, efficiency=share)
        return _moved(run, log)

    first = min(max(hob_efficiency(plan.hob).value, 1.1 * SHARES[0]), 0.95 * SHARES[1])
    return fit_coefficient(log, curve, first, SHARES, EFFICIENCY)


def _moved(run: Array, log: Course) -> Array:
    """Return a computed course moved in time by a few readings to where it fits best.

    The hob goes on somewhere between two readings, and the probe follows late.
    """
    slope = np.gradient(run, log.seconds)
    weight = float(slope @ slope)
    if weight <= 0.0:
        return run
    most = _MOVED_READINGS * float(np.median(np.diff(log.seconds)))
    by = float(np.clip((log.celsius - run) @ slope / weight, -most, most))
    return np.asarray(run + by * slope)


def measured_hob(hob: Hob, fit: FitResult, measured: str) -> Hob:
    """Return the hob with the fitted share; `measured` says from which log."""
    return hob.model_copy(
        update={
            "efficiency": round(fit.value, 3),
            "efficiency_low": round(fit.low, 3),
            "efficiency_high": round(min(fit.high, 1.0), 3),
            "measured": measured,
        }
    )


def _heating_part(course: Course) -> tuple[Course, float]:
    """Return the log from where the hob goes on to where it is turned down, and its start [°C]."""
    log = thinned(course, max(len(course.seconds), 1))
    if not len(log.seconds):
        raise InputError("The log has no readings.", field="log")
    peak = int(np.argmax(log.celsius))
    rise = float(log.celsius[peak] - log.celsius[0])
    if rise < LEAST_RISE:
        raise InputError(
            f"The log warms by {temperature_change_print(round(max(rise, 0.0), 1))} only, from "
            f"{temperature_print(round(float(log.celsius[0]), 1))}; at least "
            f"{temperature_change_print(LEAST_RISE)} are needed.",
            field="log",
            hint="Start the log with the cold pot, and heat at full power.",
        )
    cold = log.celsius[:peak] <= float(np.median(log.celsius[:3])) + ON_K
    first = int(np.flatnonzero(cold)[-1]) if np.any(cold) else 0
    end = int(np.argmax(log.celsius >= log.celsius[peak] - FULL_K)) + 1
    start = float(np.median(log.celsius[: first + 1]))
    if end - first < FEWEST_POINTS:
        raise InputError(
            f"Only {max(end - first, 0)} readings lie between the cold pot and the hottest; at "
            f"least {FEWEST_POINTS} are needed.",
            field="log",
            hint="Start the log with the cold pot, heat at full power, and read more often.",
        )
    part = replace(
        log,
        seconds=log.seconds[first:end] - log.seconds[first],
        celsius=log.celsius[first:end],
        low_c=log.low_c[first:end],
        high_c=log.high_c[first:end],
    )
    # Thinned only now: of a long log with the cooling in it too little of the way up would be left.
    return thinned(part), start
