"""How much of an agent dissolves in a computed pot: in its coldest part, and of the whole batch."""

from typing import NamedTuple

from setwell.engine.acid_path import acid_path
from setwell.engine.gelling.hydration import hydrates, hydration
from setwell.engine.gelling.state import AgentInput, Paces
from setwell.engine.history import histories
from setwell.engine.pot_course import PotCourse
from setwell.engine.pot_zones import pot_lags
from setwell.engine.rules.bench import Bench
from setwell.engine.spans import Spans
from setwell.engine.verdict import Verdict, verdict
from setwell.provenance import Estimate, Evidence

_MODEL = "dissolved share in the zones of the pot"


class Dissolved(NamedTuple):
    """Shares from 0 to 1 in the zone that dissolves least and of the batch, and whether it does."""

    coldest: Estimate
    batch: Estimate
    hydrates: Verdict


def dissolved(bench: Bench, key: str, course: PotCourse, row: int = 0) -> Dissolved:
    """Return what dissolves of an agent, by the same law as the texture of the batch."""
    found = hydration(_input(bench, key, course))
    answer = verdict(hydrates(found.fraction)[row])
    coldest, batch = (
        _share(spans, row, found.evidence) for spans in (found.coldest_range, found.fraction)
    )
    return Dissolved(coldest, batch, answer)


def _share(spans: Spans, row: int, evidence: Evidence) -> Estimate:
    return spans.estimate(unit="", model=_MODEL, evidence=evidence, row=row)


def _input(bench: Bench, key: str, course: PotCourse) -> AgentInput:
    state = bench.state
    path = state.process.agents[key]
    return AgentInput(
        key=key,
        dose_pct=state.doses_pct[key],
        active_pct=state.doses_pct[key],
        bloom=bench.agents[key].bloom,
        water=state.water,
        water_share=state.composition.share("water_g"),
        fat_share=state.composition.share("fat_g"),
        salts=dict(state.salts),
        path=path,
        process=state.process,
        heat=Paces(*(history.from_step(path.enters) for history in histories(bench.steps))),
        serving_c=state.serving_c,
        lags=pot_lags(bench.steps, path.enters),
        has_enzyme=False,
        acid=acid_path(bench.steps, state.process, key),
        pot=course,
    )
