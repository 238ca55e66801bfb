"""Work laid out back from the time of serving, so that even a slow kitchen is ready."""

from setwell.engine.timeline.results import Schedule, ScheduleRow, Timeline
from setwell.units import duration_print

DAY_MIN = 1_440.0
# A schedule is rounded to what a kitchen clock shows [min].
_CLOCK_MIN = 5.0
_DAYS = {-2: "two days before", -1: "the day before", 0: "", 1: "the next day"}


def schedule(
    timeline: Timeline, *, serve_min: float, earliest_min: float | None = None
) -> Schedule:
    """Return when each stage begins for serving at a time, in minutes after midnight.

    The start is the latest at which a slow kitchen is still ready, rounded down to five
    minutes. With `earliest_min` nobody is in the kitchen before; then it may be too late.
    """
    slow = _slow(timeline)
    latest = (serve_min - slow) // _CLOCK_MIN * _CLOCK_MIN
    if earliest_min is None or latest >= earliest_min:
        said = (
            f"Start at {clock_print(latest)} at the latest. A usual kitchen is ready by "
            f"{clock_print(latest + timeline.ready.value)}, a slow one by "
            f"{clock_print(latest + slow)}."
        )
        return Schedule(serve_min, latest, _rows(timeline, latest), None, said)
    return _short(timeline, serve_min, earliest_min, slow)


def clock_print(minutes: float) -> str:
    """Return minutes after midnight as a clock shows them, with the day when it is another.

    >>> clock_print(1110.0), clock_print(-80.0)
    ('18:30 (6:30 pm)', '22:40 (10:40 pm) the day before')
    """
    whole = round(minutes)
    day, rest = divmod(whole, int(DAY_MIN))
    hour, minute = divmod(rest, 60)
    half = "am" if hour < 12 else "pm"
    said = f"{hour:02d}:{minute:02d} ({(hour - 1) % 12 + 1}:{minute:02d} {half})"
    other = _DAYS.get(day, f"{abs(day)} days {'before' if day < 0 else 'later'}")
    return f"{said} {other}".strip()


def _slow(timeline: Timeline) -> float:
    ready = timeline.ready
    return ready.value if ready.high is None else max(ready.high, ready.value)


def _rows(timeline: Timeline, start: float) -> tuple[ScheduleRow, ...]:
    return tuple(
        ScheduleRow(
            stage,
            start + stage.start.value,
            start + (stage.start.value if stage.start.low is None else stage.start.low),
            start + (stage.start.value if stage.start.high is None else stage.start.high),
        )
        for stage in timeline.stages
    )


def _short(timeline: Timeline, serve: float, earliest: float, slow: float) -> Schedule:
    """Return the schedule of a start that is too late, with how much too late."""
    short = earliest + slow - serve
    usual = earliest + timeline.ready.value - serve
    said = (
        f"Starting at {clock_print(earliest)}, a slow kitchen is "
        f"{duration_print(short)} too late for {clock_print(serve)}"
    )
    said += (
        f"; a usual one makes it with {duration_print(-usual)} to spare."
        if usual <= 0
        else f", and a usual one {duration_print(usual)}."
    )
    ready = -(-(earliest + slow) // _CLOCK_MIN) * _CLOCK_MIN
    latest = (serve - slow) // _CLOCK_MIN * _CLOCK_MIN
    action = (
        f"Serve at {clock_print(ready)} or later, or start at {clock_print(latest)}. "
        "A colder place, smaller molds or a stronger hob make it quicker."
    )
    return Schedule(serve, earliest, _rows(timeline, earliest), short, said, action)
