"""A measured place beside the computed course of it."""

import numpy as np

from setwell.engine.heat.course import Course
from setwell.engine.probe.results import Compared
from setwell.units import duration_print, temperature_change_print

# Moments at which both are read.
_POINTS = 400


def compared(measured: Course, predicted: Course, *, start_s: float = 0.0) -> Compared | None:
    """Return how far a measured course lies from a computed one that begins at `start_s`.

    None where the two share no time.
    """
    begin = max(float(measured.seconds[0]), float(predicted.seconds[0]) + start_s)
    end = min(float(measured.seconds[-1]), float(predicted.seconds[-1]) + start_s)
    # Only moments that were measured: a gap is not compared.
    seconds = measured.seconds[(measured.seconds >= begin) & (measured.seconds <= end)]
    if len(seconds) < 2:
        return None
    seconds = seconds[:: max(1, len(seconds) // _POINTS)]
    real, told = measured.at(seconds), predicted.at(seconds - start_s)
    apart = real.celsius - told.celsius
    worst = int(np.abs(apart).argmax())
    within = (real.high_c >= told.low_c) & (real.low_c <= told.high_c)
    mean = float(apart.mean())
    return Compared(
        measured.place, predicted, mean, float(apart[worst]), float(seconds[worst]),
        100.0 * float(within.mean()), start_s,
        _text(measured.place, mean, float(apart[worst]), float(seconds[worst]), within.mean()),
    )  # fmt: skip


def _text(place: str, mean: float, worst: float, at_s: float, within: float) -> str:
    return (
        f"{place} was {_apart(mean)} than computed on average, {_apart(worst)} at most (after "
        f"{duration_print(at_s / 60)}), and within the computed range {100 * within:.0f} % of the "
        "time."
    )


def _apart(difference: float) -> str:
    word = "warmer" if difference >= 0 else "colder"
    return f"{temperature_change_print(round(abs(difference), 1))} {word}"
