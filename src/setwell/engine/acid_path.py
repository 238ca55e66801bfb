"""When an agent and the acid meet, and what they go through together."""

from setwell.domain.steps import Step
from setwell.engine.gelling.acid import AcidPath
from setwell.engine.history import History, histories
from setwell.engine.process import Process


def acid_path(steps: tuple[Step, ...], process: Process, agent: str) -> AcidPath:
    """Return the histories of an agent from the moment it shares the pot with the acid."""
    enters = process.agents[agent].enters
    paces = histories(steps)
    if process.acid_steps:
        meet = max(process.acid_steps[0] - 1, enters)
        return _path(*[h.from_step(meet) for h in paces])
    if process.has_acid and process.is_acid_apart:
        # The acid stands under a heading of its own, but no step says when it comes.
        late = (_after_heat(paces[0]), paces[1], _after_heat(paces[2]))
        return _path(*late, is_told=False)
    return _path(*[h.from_step(enters) for h in paces])


def _path(middle: History, slow: History, quick: History, *, is_told: bool = True) -> AcidPath:
    return AcidPath(middle, slow, quick, is_told)


def _after_heat(history: History) -> History:
    """Return what follows the last of the hottest moments."""
    hottest = float(history.celsius.max())
    last = max(
        time for time, degrees in zip(history.minutes, history.celsius, strict=True)
        if degrees >= hottest - 0.5
    )  # fmt: skip
    return history.from_time(float(last))
