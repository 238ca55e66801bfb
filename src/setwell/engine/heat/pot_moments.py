"""When a pot is where it should be: at the thermometer, and in its coldest part."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.process_plan import PotStirring
from setwell.engine.gelling.parameters import Parameter, parameter
from setwell.engine.heat.pot_cases import JOINT
from setwell.engine.heat.pot_dissolved import Dissolved, dissolved
from setwell.engine.heat.pot_setup import PotTask
from setwell.engine.heat.pot_track import MODEL, PLACES, PotTrack, handed_on, track_evidence
from setwell.engine.heat.results import AgentHeating, Moment
from setwell.engine.rules.bench import Bench
from setwell.engine.rules.dispersion import needed_c
from setwell.engine.verdict import Verdict
from setwell.errors import MissingDataError
from setwell.provenance import Estimate, Evidence
from setwell.tables.agents import agent_rows
from setwell.units import duration_print, temperature_print, time_print, time_range_print

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

# A thermometer and a table temperature are good for this much [K].
_CLOSE_K = 1.0
_NEVER = np.inf
_STRICT = (Verdict.NO, Verdict.CANNOT_TELL, Verdict.YES)
# Where nothing is left to stir better.
_MOVING = frozenset({PotStirring.CONSTANT, PotStirring.BLENDER, PotStirring.CIRCULATOR})


def pot_moments(task: PotTask, track: PotTrack) -> tuple[Moment, ...]:
    """Return when the thermometer and when the coldest part is hot, and when the hold ends."""
    evidence = track_evidence(task, track)
    target = temperature_print(round(task.target_c) if task.is_boil else task.target_c)
    hot = _first(track.coldest >= task.target_c - _CLOSE_K, track.seconds)
    found = [
        _moment("reads", f"The thermometer reads {target}", track.reads, evidence),
        _moment("coldest", f"Its coldest part is at {target} too", hot, evidence),
    ]
    if task.hold_min:
        found.append(_moment("held", "The hold is over", track.ends, evidence))
    if task.asked_c > task.target_c:
        boils = _first(track.zones[1] >= task.boiling_c - _CLOSE_K, track.seconds)
        found.append(_moment("boils", "It boils", boils, evidence))
    return tuple(found)


def agent_heatings(
    bench: Bench, task: PotTask, track: PotTrack, row: int = 0
) -> tuple[AgentHeating, ...]:
    """Return whether the coldest part gets each agent that needs heat hot for long enough."""
    course = handed_on(task, track)
    return tuple(
        _with_share(_heating(bench, key, task, track), dissolved(bench, key, course, row))
        for key in bench.agents
        if not agent_rows()[key].is_cold_soluble
    )


def _with_share(told: AgentHeating, found: Dissolved) -> AgentHeating:
    """Return the answer with the share that dissolves; the stricter of the two verdicts counts."""
    coldest, batch = found.coldest, found.batch
    text = (
        f"{told.text} By its own pace about {_percent(coldest.value)} % dissolves in the coldest "
        f"part ({_percent(coldest.low)} to {_percent(coldest.high)} %), and "
        f"{_percent(batch.value)} % of all."
    )
    if found.hydrates is Verdict.YES and told.hydrates is not Verdict.YES:
        text += " That is enough; the usual hold asks for more, and the stricter of the two counts."
    answer = min(told.hydrates, found.hydrates, key=_STRICT.index)
    return replace(told, text=text, hydrates=answer, coldest_dissolved=coldest, dissolved=batch)


def _percent(share: float | None) -> str:
    return f"{100.0 * (share or 0.0):.0f}"


def _heating(bench: Bench, key: str, task: PotTask, track: PotTrack) -> AgentHeating:
    needs, least = needed_c(key), min(_least_c(key), needed_c(key))
    hold = _figure(key, "hydration_hold")
    # A hold in the table may be one of soaking in the cold.
    minutes = hold.value if hold is not None and not _soaks(key) else 0.0
    is_hot = track.coldest >= needs - _CLOSE_K
    reached = _first(is_hot, track.seconds)
    done = _held(is_hot, track.seconds, 60.0 * minutes)
    evidence = track_evidence(task, track)
    answer = _verdict(track, done, least)
    name = bench.name(key)
    warm = _moment(
        f"{key}_reached", f"Coldest part at {temperature_print(needs)}", reached, evidence
    )
    over = _moment(f"{key}_done", f"{name}: hot everywhere for long enough", done, evidence)
    text = _text(name, needs, minutes, track, reached, done, answer)
    return AgentHeating(key, name, needs, minutes, warm, over, answer, text)


def _verdict(track: PotTrack, done: Array, least: float) -> Verdict:
    """Return yes where every likely kitchen is done in time, no where none comes near."""
    likely = [0, *range(JOINT.start, JOINT.stop)]
    in_time = done[likely] <= track.last[likely] + 1.0
    highest = np.array([
        np.max(track.coldest[track.seconds <= track.last[n] + 1.0, n]) for n in likely
    ])  # fmt: skip
    if in_time.all():
        return Verdict.YES
    return Verdict.NO if (highest < least - _CLOSE_K).all() else Verdict.CANNOT_TELL


def _text(
    name: str, needs: float, minutes: float, track: PotTrack, reached: Array, done: Array,
    answer: Verdict,
) -> str:  # fmt: skip
    wants = temperature_print(needs) + (f" for {duration_print(minutes)}" if minutes else "")
    place, at_end = _coldest_place(track)
    end = f"its {place} is at about {temperature_print(round(at_end))} when the pot is done"
    if answer is Verdict.YES:
        return f"{name} wants {wants} everywhere; the coldest part has had it after {_about(done)}."
    stir = "" if track.stirring in _MOVING else "stir all the time"
    if np.isfinite(done[0]):
        later = (done[0] - track.last[0]) / 60.0
        more = f"hold it about {_later(later)} longer to be sure" if later > 0.5 else "it is close"
        return f"{name} wants {wants} everywhere; {end}: {more}{stir and f', or {stir}'}."
    if np.isfinite(reached[0]):
        todo = stir or "hold it longer"
        return f"{name} wants {wants} everywhere; {end}, and it gets there late: {todo}."
    return f"{name} wants {wants} everywhere; {end} and does not get there like this."


def _coldest_place(track: PotTrack) -> tuple[str, float]:
    """Return which zone of the middle kitchen is coldest at the end, and how warm it is."""
    at_end = [float(track.at_end(zone)[0]) for zone in track.zones]
    coldest = int(np.argmin(at_end))
    return PLACES[coldest], at_end[coldest]


def _later(minutes: float) -> str:
    """Return how much longer to hold, rounded up to half minutes."""
    return duration_print(np.ceil(2.0 * minutes) / 2.0)


def _about(seconds: Array) -> str:
    """Return a time with its range, for a sentence."""
    middle, low, high = (float(one) / 60.0 for one in (seconds[0], seconds.min(), seconds.max()))
    if not np.isfinite(high):
        return f"about {time_print(middle)} ({time_range_print(low, None)})"
    return f"about {time_print(middle)} ({time_range_print(low, high)})"


def _moment(key: str, label: str, seconds: Array, evidence: Evidence) -> Moment:
    """Return a moment; it may never come in some kitchens, or in any."""
    low, high = float(seconds.min()), float(seconds.max())
    if not np.isfinite(low):
        return Moment(key, label, None, f"{label}: never, as long as it was followed.")
    if not np.isfinite(seconds[0]):
        best = time_print(low / 60.0)
        return Moment(key, label, None, f"{label}: not likely, at best after {best}.")
    top = high / 60.0 if np.isfinite(high) else None
    flags = () if top is not None else ("may never happen",)
    estimate = Estimate(float(seconds[0]) / 60.0, "min", low / 60.0, top, MODEL, evidence, flags)
    return Moment(key, label, estimate, f"{label} after {_about(seconds)}.")


def _first(holds: Mask, seconds: Array) -> Array:
    """Return when each case first holds, (n,); infinite where never."""
    return np.where(holds.any(axis=0), seconds[np.argmax(holds, axis=0)], _NEVER)


def _held(holds: Mask, seconds: Array, wanted: float) -> Array:
    """Return when each case has held for so many seconds in all."""
    length = np.diff(seconds)[:, None] * (holds[1:] & holds[:-1])
    total = np.concatenate([np.zeros((1, holds.shape[1])), np.cumsum(length, axis=0)])
    found = _first(holds & (total >= wanted - 1e-6), seconds)
    for case in np.flatnonzero(np.isfinite(found)):
        rising = np.flatnonzero(np.diff(total[:, case]) > 0)
        if wanted > 0 and len(rising):
            at = np.concatenate([[rising[0]], rising + 1])
            found[case] = np.interp(wanted, total[at, case], seconds[at])
    return found


def _least_c(key: str) -> float:
    """Return where an agent begins to count as dissolving, by the chart."""
    figure = _figure(key, "hydration_temperature")
    return needed_c(key) if figure is None else figure.value


def _soaks(key: str) -> bool:
    return key.startswith("gelatin")


def _figure(key: str, name: str) -> Parameter | None:
    try:
        return parameter(key, name)
    except MissingDataError:
        return None
