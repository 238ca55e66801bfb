"""The moments of a mold that cools: set, ready to unmold, cold enough, ready to serve."""

from dataclasses import dataclass, replace

from setwell.engine.heat.course import Course
from setwell.engine.heat.passing_times import passing_minutes
from setwell.engine.heat.pouring import reheats
from setwell.engine.heat.results import Moment
from setwell.engine.heat.setting_levels import (
    SettingLevel,
    is_gelatin,
    matured_minutes,
    setting_levels,
    unmolding_c,
)
from setwell.engine.material import Span
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.verdict import Verdict, verdict
from setwell.provenance import Estimate, Evidence, evidence_join
from setwell.units import temperature_print, time_print, time_range_print

_IF_AT_ALL = "Whether it sets at all cannot be told: try one mold."
_MODEL = "core of the computed course"
# Where the clock of chilling starts, and the two limits it runs to [°C].
HOT_C, WARM_C, COLD_C = 57.0, 21.0, 5.0
# A core this cold is hard (common practice) [°C].
FROZEN_C = -10.0
# A mold is as cold as its place when it is this close [K].
_NEAR_K = 1.0
_Minutes = tuple[float | None, float | None, float | None]


@dataclass(frozen=True, slots=True)
class Cooling:
    """What the moments are read off: the core, the air it goes to, and what was assumed."""

    core: Course
    air_c: float
    serving_c: float | None
    flags: tuple[str, ...] = ()
    is_frozen: bool = False


def cooling_moments(bench: Bench, cooling: Cooling, row: int = 0) -> tuple[Moment, ...]:
    """Return the moments of one candidate, in the order of a kitchen."""
    levels = setting_levels(bench, row)
    found = [_sets(cooling, level, second=n > 0) for n, level in enumerate(levels)]
    if levels and verdict(bench.state.texture.sets[row]) is Verdict.CANNOT_TELL:
        found = [replace(one, text=f"{one.text} {_IF_AT_ALL}") for one in found]
    if levels:
        found.append(_unmolds(bench, cooling, levels, row))
    found += [_below(cooling, "21", WARM_C), _below(cooling, "5", COLD_C)]
    if cooling.is_frozen:
        found.append(_freezes(cooling))
    if cooling.serving_c is not None:
        is_warm = cooling.serving_c > WARM_C and reheats(bench.steps)
        found.append((_serves_warm if is_warm else _serves)(cooling, cooling.serving_c))
    return tuple(found)


def _estimate(minutes: _Minutes, cooling: Cooling, evidence: Evidence = ()) -> Estimate | None:
    middle, low, high = minutes
    if middle is None:
        return None
    joined = evidence_join([cooling.core.evidence, evidence])
    return Estimate(middle, "min", low, high, _MODEL, joined, cooling.flags)


def _sets(cooling: Cooling, level: SettingLevel, *, second: bool) -> Moment:
    minutes = passing_minutes(cooling.core, level.celsius)
    key, label = ("second_set", f"{_capital(level.name)} sets too") if second else ("set", "Set")
    where = f"{temperature_print(round(level.celsius.value))}, where {level.name} sets"
    text = _told(minutes, f"The core passes {where},", f"The core never passes {where}", cooling)
    return Moment(key, label, _estimate(minutes, cooling, level.evidence), text)


def _unmolds(bench: Bench, cooling: Cooling, levels: tuple[SettingLevel, ...], row: int) -> Moment:
    """The first agent set and well below it; gelatin needs its hours besides."""
    level = levels[-1]
    cold = unmolding_c(level)
    minutes = passing_minutes(cooling.core, Span(cold, cold, cold))
    text = _down(minutes, cold, cooling)
    text += " That cold, a mold usually comes off clean: our judgment."
    if is_gelatin(bench, row):
        ripe = matured_minutes(cooling.core, level.celsius)
        minutes = _later(minutes, ripe)
        text = _told(
            minutes,
            "Gelatin firms up for hours: it is ready to unmold",
            "Gelatin never gets cold enough here to unmold",
            cooling,
        )
    evidence = evidence_join([level.evidence, PRACTICE])
    return Moment("unmold", "Ready to unmold", _estimate(minutes, cooling, evidence), text)


def _later(first: _Minutes, other: _Minutes) -> _Minutes:
    """Return the later of two moments in each case."""
    middle, low, high = (
        None if a is None or b is None else max(a, b) for a, b in zip(first, other, strict=True)
    )
    return middle, low, high


def _below(cooling: Cooling, key: str, level: float) -> Moment:
    minutes = passing_minutes(cooling.core, Span(level, level, level))
    text = " ".join(
        part for part in (_down(minutes, level, cooling), _from_hot(cooling.core, level)) if part
    )
    label = f"Core at {temperature_print(level)}"
    return Moment(key, label, _estimate(minutes, cooling), text)


def _from_hot(core: Course, level: float) -> str:
    """Return how long after 57 °C a level is reached: the clock of chilling rules."""
    if float(core.celsius[0]) <= HOT_C:
        return ""
    middle, low, high = minutes_from_hot(core, level)
    if middle is None:
        return ""
    return (
        f"That is {time_print(middle)} ({time_range_print(low, high)}) after it passed "
        f"{temperature_print(HOT_C)}."
    )


def minutes_from_hot(core: Course, level: float) -> _Minutes:
    """Return the minutes from 57 °C (135 °F) to a level in each case."""
    down = passing_minutes(core, Span(level, level, level))
    hot = passing_minutes(core, Span(HOT_C, HOT_C, HOT_C))
    middle, low, high = (
        None if a is None or b is None else max(a - b, 0.0) for a, b in zip(down, hot, strict=True)
    )
    return middle, low, high


def _freezes(cooling: Cooling) -> Moment:
    minutes = passing_minutes(cooling.core, Span(FROZEN_C, FROZEN_C, FROZEN_C))
    text = _down(minutes, FROZEN_C, cooling) + " Most of its water is ice then."
    return Moment("frozen", "Frozen through", _estimate(minutes, cooling), text)


def _serves_warm(_cooling: Cooling, level: float) -> Moment:
    at = temperature_print(level)
    text = "By the steps it is warmed again before it is served: no time of cooling."
    return Moment("serve", f"Served at {at}", None, text)


def _serves(cooling: Cooling, level: float) -> Moment:
    label = f"At serving temperature, {temperature_print(level)}"
    start = float(cooling.core.celsius[0])
    if level >= start:
        text = f"It is poured at {temperature_print(start)}, which is not above serving."
        return Moment("serve", label, _estimate((0.0, 0.0, 0.0), cooling), text)
    # Served as cold as its place, it is ready when it is close to it.
    near = level + _NEAR_K if abs(level - cooling.air_c) <= _NEAR_K else level
    minutes = passing_minutes(cooling.core, Span(near, near, near))
    text = _down(minutes, near, cooling)
    if level < cooling.air_c - _NEAR_K:
        text = (
            f"This place is at {temperature_print(cooling.air_c)}: it does not get down to "
            f"{temperature_print(level)} here."
        )
    return Moment("serve", label, _estimate(minutes, cooling), text)


def _down(minutes: _Minutes, level: float, cooling: Cooling) -> str:
    at = temperature_print(level)
    return _told(minutes, f"The core is at {at}", f"The core never gets down to {at} here", cooling)


def _told(minutes: _Minutes, done: str, never: str, cooling: Cooling) -> str:
    middle, low, high = minutes
    if middle is not None and middle <= 0.0:
        return f"{done} from the start."
    if middle is not None:
        return f"{done} after {time_print(middle)} ({time_range_print(low, high)})."
    place = temperature_print(cooling.air_c)
    if low is not None:
        return f"{done} perhaps after {time_print(low)}, perhaps never: the place is at {place}."
    return f"{never}: the place is at {place}."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
