"""From raw samples to the line that is judged: what is left out, where nothing is known."""

import numpy as np

from setwell.domain.probe_log import Probe, ProbeLog
from setwell.engine.heat.course import Course
from setwell.engine.heat.results import Advice
from setwell.engine.probe.results import Array, CleanLog, CleanProbe, Flag, Flags, Gap
from setwell.engine.probe.sample_flags import (
    COLDEST_C,
    HOTTEST_C,
    RowFlags,
    reading_flags,
    row_flags,
)
from setwell.units import duration_print, temperature_print

# A step over so many usual intervals is a gap: what the food did there is not known.
GAP_INTERVALS = 5.0
# However slow a log is: so long a step says nothing of what lies in it (our judgment) [s].
_LONGEST_STEP_S = 900.0
# Nor does a step of this length with samples in it that do not count (our judgment) [s].
_LEFT_OUT_S = 60.0
# A probe in a batch moves by a last digit at least within so many samples and seconds.
_STILL_SAMPLES, _STILL_S = 20, 300.0
# Farther apart than this, much can happen between two samples [s].
_SPARSE_S = 120.0
MODEL = "probe log"


def log_clean(log: ProbeLog) -> CleanLog:
    """Return a log with its samples flagged; raw samples stay beside the cleaned lines."""
    seconds, celsius = log.table
    rows = row_flags(seconds)
    probes = tuple(
        _probe(probe, seconds, readings, rows.flags, log.probe_error_c)
        for probe, readings in zip(log.probes, celsius, strict=True)
    )
    remarks = (*_time_remarks(rows, seconds), *(one for p in probes for one in _remarks(p)))
    return CleanLog(seconds, celsius, probes, (*remarks, *_sparse(probes)))


def _probe(probe: Probe, seconds: Array, celsius: Array, rows: Flags, error_c: float) -> CleanProbe:
    flags = reading_flags(celsius, seconds, rows)
    kept = np.flatnonzero(flags == 0)
    kept = kept[np.argsort(seconds[kept], kind="stable")]
    times, readings = seconds[kept], celsius[kept]
    steps = np.diff(times)
    interval = float(np.median(steps)) if len(steps) else 0.0
    course = None
    if len(kept) > 1:
        low, high = readings - error_c, readings + error_c
        course = Course(probe.name, times, readings, low, high, is_measured=True, model=MODEL)
    is_still = (
        len(kept) >= _STILL_SAMPLES
        and float(times[-1] - times[0]) >= _STILL_S
        and float(np.ptp(readings)) == 0.0
    )
    most = min(GAP_INTERVALS * interval, _LONGEST_STEP_S)
    # Where samples were left out between two that count, the line is drawn over them.
    is_over = np.diff(kept) > 1 if len(kept) > 1 else np.zeros(0, dtype=bool)
    wide = np.flatnonzero((steps > most) | (is_over & (steps > max(_LEFT_OUT_S, 1.5 * interval))))
    gaps = tuple(Gap(float(times[k]), float(times[k + 1])) for k in wide)
    return CleanProbe(probe.name, probe.place, flags, course, gaps, interval, is_still)


def _time_remarks(rows: RowFlags, seconds: Array) -> list[Advice]:
    told = []
    lost, same = (int((rows.flags & flag > 0).sum()) for flag in (Flag.NO_TIME, Flag.DUPLICATE))
    if lost:
        told.append(_advice("no_time", f"{_samples(lost)} without a time that can be read.", ""))
    if rows.is_reversed:
        text = "The file runs from the newest sample to the oldest; it was turned round."
        told.append(_advice("reversed", text, ""))
    if same:
        text = f"{_samples(same)} at a time that another one has; the first of each counts."
        told.append(_advice("duplicate", text, ""))
    back = int((rows.flags & Flag.BACKWARD > 0).sum())
    if rows.cut_from is not None:
        text = (
            f"The clock runs back by {duration_print(rows.back_s / 60)} at line "
            f"{rows.cut_from + 1:,} of the samples; the {back:,} samples from there on are not "
            "judged."
        )
        action = "If two batches share the file, split it and add each part as a log of its own."
        told.append(_advice("backward", text, action))
    elif back:
        text = f"{_samples(back)} out of the order of time; left out."
        told.append(_advice("out_of_order", text, ""))
    if len(seconds) - lost == 1:
        text = "There is one sample only: it shows a moment and proves no course."
        told.append(_advice("one_sample", text, "Take at least two, better one every minute."))
    return told


def _remarks(probe: CleanProbe) -> list[Advice]:
    counts = {
        flag: int((probe.flags & flag > 0).sum())
        for flag in (Flag.NO_NUMBER, Flag.OUT_OF_RANGE, Flag.SPIKE)
    }
    told = []
    if counts[Flag.NO_NUMBER]:
        text = f"{probe.name}: {_samples(counts[Flag.NO_NUMBER])} without a number."
        told.append(_advice("no_number", text, ""))
    if counts[Flag.OUT_OF_RANGE]:
        text = (
            f"{probe.name}: {_samples(counts[Flag.OUT_OF_RANGE])} outside "
            f"{temperature_print(COLDEST_C)} to {temperature_print(HOTTEST_C)}."
        )
        told.append(_advice("out_of_range", text, "Check the plug and the wire of the probe."))
    if counts[Flag.SPIKE]:
        text = (
            f"{probe.name}: {_samples(counts[Flag.SPIKE])} that jump away and back faster than "
            "food can; left out of the line, kept in the raw log."
        )
        told.append(_advice("spike", text, ""))
    if probe.is_still:
        text = f"{probe.name} never moved by one digit: it may be broken or not in the food."
        told.append(_advice("still", text, "Check it in ice water. No verdict rests on it."))
    if probe.course is None:
        text = f"{probe.name} has no two samples that can be used."
        told.append(_advice("too_few", text, "No verdict rests on it."))
    return [*told, *_gap_remarks(probe)]


def _gap_remarks(probe: CleanProbe) -> list[Advice]:
    if not probe.gaps:
        return []
    longest = max(probe.gaps, key=lambda gap: gap.length_s)
    many = f"{len(probe.gaps)} gaps, the longest" if len(probe.gaps) > 1 else "a gap"
    text = (
        f"{probe.name}: {many} of {duration_print(longest.length_s / 60)} from "
        f"{duration_print(longest.start_s / 60)} on. What the food did there is not known, and "
        "no verdict counts it."
    )
    return [_advice("gap", text, "")]


def _sparse(probes: tuple[CleanProbe, ...]) -> list[Advice]:
    widest = max((probe.interval_s for probe in probes), default=0.0)
    if widest <= _SPARSE_S:
        return []
    text = (
        f"The samples are {duration_print(widest / 60)} apart: between two of them the line is "
        "drawn straight."
    )
    return [_advice("sparse", text, "Next time take one each minute or more often.")]


def _samples(count: int) -> str:
    return f"{count:,} sample" if count == 1 else f"{count:,} samples"


def _advice(code: str, text: str, action: str) -> Advice:
    return Advice(code, text, action)
