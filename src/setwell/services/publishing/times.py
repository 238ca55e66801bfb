"""How long a recipe takes, from the timeline of its process."""

from setwell.domain.formula import Formula
from setwell.engine.timeline.results import Stage, Timeline
from setwell.services.process import process_of

_WARMING = frozenset({"heat", "boil", "hold"})


def times_of(*, formula: Formula, formula_id: int, number: int) -> dict[str, float]:
    """Return minutes by kind: preparing, cooking, total; nothing where no steps are written."""
    answer = process_of(formula=formula, formula_id=formula_id, number=number, has_charts=False)
    return times_in(answer.timeline)


def times_in(line: Timeline) -> dict[str, float]:
    """Return the minutes that a timeline tells; heating that is not written takes none."""
    if not line.stages or line.ready.value <= 0:
        return {}
    found = {"total": line.ready.value}
    warm = [stage for stage in line.stages if stage.kind in _WARMING]
    if warm:
        found["preparing"] = warm[0].start.value
        found["cooking"] = sum(_minutes(stage) for stage in warm)
    return {key: minutes for key, minutes in found.items() if minutes > 0}


def _minutes(stage: Stage) -> float:
    return stage.minutes.value
