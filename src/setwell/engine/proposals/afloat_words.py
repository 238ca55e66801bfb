"""What a proposal says of particles afloat: which practice lists its doses, by whom, how surely."""

from collections.abc import Iterator

import numpy as np

from setwell.engine.milk_parting import MILK_SHARE
from setwell.engine.proposals.afloat import AFLOAT, STANDS_KPA, ends, is_of_milk, listed_for, rating
from setwell.engine.proposals.words import name_within
from setwell.engine.rules.bench import Bench
from setwell.engine.texture_results import Texture
from setwell.engine.verdict import Verdict
from setwell.provenance import Grade
from setwell.tables.agents import PropertyRow
from setwell.tables.sources import sources
from setwell.units import percent_print, temperature_print

STANDING_TEST = "let one cup stand for a day first"
_SETS = {
    Verdict.YES: "it sets, so nothing sinks once set; until then it may",
    Verdict.CANNOT_TELL: "may or may not set; where it does, nothing sinks once set",
}


def afloat_told(bench: Bench, texture: Texture, value: float) -> str:
    """Return why particles stay up, or why nothing tells; `value` is the rating of the batch.

    A gel holds them; else each agent is told against its listed dose.
    """
    gel = texture.modulus_kpa
    each = list(_agents(bench))
    inside = [text for text, is_in in each if is_in]
    is_listed = bool(inside) and value >= AFLOAT and texture.sets is not Verdict.YES
    if not is_listed and gel is not None and gel.value > STANDS_KPA and texture.sets in _SETS:
        return _SETS[texture.sets]
    if value >= AFLOAT:
        return "; ".join([*inside, STANDING_TEST])
    if inside:
        return f"{'; '.join(inside)}; but no list tells of it beside another gelling agent"
    return "; ".join(text for text, _ in each) or "nothing in it is listed for this"


def _agents(bench: Bench) -> Iterator[tuple[str, bool]]:
    """Yield what is listed of each agent, and whether its dose lies in it."""
    state = bench.state
    is_milk = bool(state.water.milk_protein_share[0] >= MILK_SHARE)
    for key, agent in state.agents.items():
        name, row = name_within(bench, key), listed_for(key, is_milk=is_milk)
        percent = float(state.doses_pct[key][0])
        if row is None:
            yield f"no dose of {name} is listed for this, and no law reaches so slow a flow", False
            continue
        found = rating(
            key, np.array([percent]), is_milk=np.array([is_milk]), serving_c=state.serving_c[:1],
            is_gelling=agent.gel is not None,
        )  # fmt: skip
        value = float(found[0])
        yield _against(row, name, percent, value, float(state.serving_c[0])), value >= AFLOAT


def _against(row: PropertyRow, name: str, percent: float, value: float, served_c: float) -> str:
    """Return one dose against its listed span."""
    span, dose = _span(row), percent_print(percent)
    if value >= AFLOAT:
        where = " in milk" if is_of_milk(row) else ""
        return f"listed practice, not computed: {span} {name}{where} ({_source(row)})"
    if value < 0:
        return f"{dose} {name} is less than the {span} listed for this"
    if percent <= ends(row)[1]:
        served = temperature_print(served_c)
        return f"{name} is listed for this in cold drinks, and it is served at {served}"
    return f"{dose} {name} is more than the {span} listed for this, and no law tells of more"


def _span(row: PropertyRow) -> str:
    low, high = ends(row)
    return percent_print(low) if low == high else f"{low:g} to {percent_print(high)}"


def _source(row: PropertyRow) -> str:
    """Return grade and source of a listed dose; what was recalled has no source to name."""
    grade, known = row.citation.grade, sources().get(row.citation.source)
    told = [row.citation.locator]
    if grade is not Grade.UNVERIFIED and known is not None:
        told.insert(0, known.citation)
    return f"{grade.value}: {', '.join(told)}" + (f"; {row.note}" if row.note else "")
