"""When an agent and the acid meet, and what they go through together."""

from setwell.domain.steps import Step
from setwell.engine.gelling.acid import AcidPath
from setwell.engine.history import PACE_FACTOR, History, history_read
from setwell.engine.process import Process


def acid_path(steps: tuple[Step, ...], process: Process, agent: str) -> AcidPath:
    """Return the histories of an agent from the moment it shares the pot with the acid."""
    enters = process.agents[agent].enters
    paces = (1.0, PACE_FACTOR, 1.0 / PACE_FACTOR)
    histories = [history_read(steps, pace=pace) for pace in paces]
    if process.acid_steps:
        meet = max(process.acid_steps[0] - 1, enters)
        return _path(*[_from_step(h, meet) for h in histories])
    if process.has_acid and process.is_acid_apart:
        # The acid stands under a heading of its own, but no step says when it comes.
        late = (_after_heat(histories[0]), histories[1], _after_heat(histories[2]))
        return _path(*late, is_told=False)
    return _path(*[_from_step(h, enters) for h in histories])


def _path(middle: History, slow: History, quick: History, *, is_told: bool = True) -> AcidPath:
    return AcidPath(middle, slow, quick, is_told)


def _from_step(history: History, step: int) -> History:
    if not history.starts:
        return history
    return history.from_time(history.starts[min(step, len(history.starts) - 1)])


def _after_heat(history: History) -> History:
    """Return what follows the last of the hottest moments."""
    hottest = float(history.celsius.max())
    last = max(
        time for time, degrees in zip(history.minutes, history.celsius, strict=True)
        if degrees >= hottest - 0.5
    )  # fmt: skip
    return history.from_time(float(last))
