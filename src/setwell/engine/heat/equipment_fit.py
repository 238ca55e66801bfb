"""A cold place or a hob of this kitchen, fitted to the log of a probe."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.equipment import Cooler
from setwell.domain.process_plan import CoolPlan
from setwell.engine.heat.coefficient_fit import FitResult, Sought, fit_coefficient, thinned
from setwell.engine.heat.cooling import core_curve
from setwell.engine.heat.course import Course
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.units import temperature_print

Array = NDArray[np.float64]

# Between what a draft-free shelf and a stirred bath pass [W/m2K].
COEFFICIENTS = (1.5, 1_500.0)
FIRST_COEFFICIENT = 12.0
# The food must start this much warmer than the air [K], and may end this far below it.
LEAST_WARMER, MOST_BELOW = 5.0, 1.0
# Readings this close to the warmest belong to the start [K].
PLATEAU = 1.0


def fit_cooler(bench: Bench, plan: CoolPlan, course: Course) -> FitResult:
    """Return the coefficient of a cold place for which the core cools as it was measured.

    The log counts from where it first comes within a degree of its warmest reading: then the
    mold goes in, as warm all through. Raises InputError when the log does not tell.
    """
    log = _cooling_part(course, plan.cooler)
    air, pour = plan.cooler.air_c, float(np.max(log.celsius))
    start = plan.model_copy(update={"pour_c": pour, "counter_min": 0.0})
    above = log.celsius - air

    def curve(coefficient: float) -> Array:
        # The warmest reading holds the noise of the probe: the best height of the curve counts.
        shape = core_curve(bench, start, log.seconds, coefficient=coefficient) - air
        return np.asarray(air + shape * float(above @ shape) / float(shape @ shape))

    sought = Sought(f"The heat passed to {plan.cooler.name}")
    return fit_coefficient(log, curve, FIRST_COEFFICIENT, COEFFICIENTS, sought)


def measured_cooler(cooler: Cooler, fit: FitResult, measured: str) -> Cooler:
    """Return the cold place with the fitted figure; `measured` says from which log."""
    return cooler.model_copy(
        update={
            "coefficient_w_m2k": round(fit.value, 2),
            "coefficient_low": round(fit.low, 2),
            "coefficient_high": round(fit.high, 2),
            "measured": measured,
        }
    )


def _cooling_part(course: Course, cooler: Cooler) -> Course:
    """Return the log from its start on, with time from there; refuse what cannot be."""
    log = thinned(course)
    if not len(log.seconds):
        raise InputError("The log has no readings.", field="log")
    first = int(np.argmax(log.celsius >= np.max(log.celsius) - PLATEAU))
    kept = replace(
        log,
        seconds=log.seconds[first:] - log.seconds[first],
        celsius=log.celsius[first:],
        low_c=log.low_c[first:],
        high_c=log.high_c[first:],
    )
    # The end as a mean: one reading may be noise.
    ending = max(len(kept.celsius) // 10, 3)
    warmest, coldest = float(np.max(kept.celsius)), float(np.mean(kept.celsius[-ending:]))
    air = temperature_print(cooler.air_c)
    if warmest < cooler.air_c + LEAST_WARMER:
        raise InputError(
            f"The log is never warmer than {temperature_print(round(warmest, 1))}, and "
            f"{cooler.name} is at {air}: nothing cools there.",
            field="log",
            hint="Choose the log of a warm mold, or correct the temperature of the place.",
        )
    if coldest < cooler.air_c - MOST_BELOW:
        raise InputError(
            f"The log falls to {temperature_print(round(coldest, 1))}, below the {air} of "
            f"{cooler.name}.",
            field="air_c",
            hint="Enter how cold the place really is: read it on the shelf beside the mold.",
        )
    return kept
