"""How to keep a made dish, by the rules of the model food code."""

from collections.abc import Iterator

from setwell.documents.told import Told
from setwell.engine.assessment import Assessment
from setwell.provenance import Evidence
from setwell.tables.agents import agent_rows
from setwell.tables.rules import FoodCodeRule, food_code_rules
from setwell.units import duration_print

_DAY_S = 86_400.0
_COLD = "cold_holding"


def storage_told(assessment: Assessment) -> tuple[Told, ...]:
    """Return how cold, how long, and what freezing does; nothing for an empty list of lines."""
    return tuple(_told(assessment)) if assessment.lines else ()


def _told(assessment: Assessment) -> Iterator[Told]:
    rules = food_code_rules()
    cold, mark, out = rules["cold_holding"], rules["date_mark"], rules["time_control_4h"]
    needs_cold = any(caution.code == _COLD for caution in assessment.cautions)
    begin = "Keep it at" if needs_cold else "Where it is kept cold, keep it at"
    yield Told(f"{begin} {_as_printed(cold)} or colder, covered.", (cold.citation,))
    days = round((mark.time_s or 0.0) / _DAY_S)
    yield Told(
        f"Mark the date. The day it is made is day 1: use it or throw it away by day {days}; "
        "an earlier date of any part comes first.",
        (mark.citation, rules["date_mark_mixture"].citation),
    )
    hours = duration_print((out.time_s or 0.0) / 60.0)
    yield Told(f"Out of the cold: serve it or throw it away within {hours}.", (out.citation,))
    if assessment.texture.freezing:
        stops = rules["date_mark_freezing"]
        yield Told(
            f"Frozen: {assessment.texture.freezing.rstrip('.')}. The freezer stops the count of "
            "days but gives none back.",
            (*_freezing_evidence(assessment), stops.citation),
        )


def _freezing_evidence(assessment: Assessment) -> Evidence:
    rows = (agent_rows()[agent.key].texts.get("freeze_thaw") for agent in assessment.agents)
    return tuple(dict.fromkeys(row.citation for row in rows if row is not None))


def _as_printed(rule: FoodCodeRule) -> str:
    """Return the temperature of a rule as the law prints it."""
    return f"{rule.temperature_c:g} °C ({rule.temperature_f:g} °F)"
