"""The texture agents of the tables, side by side and one by one."""

from collections.abc import Iterable

from setwell.documents.amounts import number_text
from setwell.engine.material import MaterialKind
from setwell.errors import UnknownNameError
from setwell.provenance import evidence_join
from setwell.services.agent_results import (
    AgentCell,
    AgentChart,
    AgentChartRow,
    AgentColumn,
    AgentDetail,
    AgentFact,
    AgentPart,
)
from setwell.services.materials import table_catalog
from setwell.tables.agents import AgentRow, PropertyRow, TextRow, agent_aliases, agent_rows
from setwell.units import fahrenheit_from_celsius

# In the order in which a chef decides.
_CHART = (
    "texture",
    "clarity",
    "dose",
    "dose_typical",
    "dispersion",
    "cold_soluble",
    "hydration_temperature",
    "whole_batch_temperature",
    "hydration_hold",
    "hydration_note",
    "cook_temperature",
    "setting_temperature",
    "melting_temperature",
    "remelts",
    "ph_window",
    "ph_note",
    "ions_needed",
    "ions_harmful",
    "synergies",
    "incompatibilities",
    "freeze_thaw",
    "syneresis",
    "us_section",
    "eu_label_name",
    "eu_mini_cup_ban",
    "infant_formula",
    "food_grade",
)
_YES_NO = "1 = yes, 0 = no"
_LABELS = {
    "dose_typical": "Typical doses",
    "cold_soluble": "Works without heat",
    "whole_batch_temperature": "The whole batch must reach",
    "ph_window": "pH window",
    "ph_note": "Acid",
    "remelts": "Melts again",
    "us_section": "US regulation",
    "us_label_name": "US label name",
    "eu_label_name": "EU label name",
    "eu_mini_cup_ban": "Banned in EU jelly mini-cups",
    "freeze_thaw": "Freezing and thawing",
    "syneresis": "Weeping (syneresis)",
    "jecfa_adi": "Acceptable daily intake (JECFA)",
    "efsa_status": "EFSA opinion",
    "eu_group_i": "EU group I (as much as needed)",
}


def agents_chart(*, agents: tuple[str, ...] | None = None) -> AgentChart:
    """Return agents side by side; they may be named as on a formula line. None means all."""
    table = agent_rows()
    keys = tuple(table) if agents is None else tuple(dict.fromkeys(map(_key_of, agents)))
    chosen = [table[key] for key in keys]
    rows = (
        AgentChartRow(name, _label(name), tuple(_cell(agent, name) for agent in chosen))
        for name in _CHART
    )
    return AgentChart(
        columns=tuple(AgentColumn(row.key, row.name, row.short_name) for row in chosen),
        rows=tuple(row for row in rows if any(cell.text for cell in row.cells)),
    )


def agent_detail(*, key: str) -> AgentDetail:
    """Return everything the tables know of one agent."""
    row = agent_rows()[_key_of(key)]
    names = agent_rows()
    return AgentDetail(
        key=row.key,
        name=row.name,
        short_name=row.short_name,
        origin=row.origin,
        kind=row.kind,
        ins=row.ins,
        e_number=row.e_number,
        us_section=row.us_cfr,
        vegan=row.vegan,
        vegetarian=row.vegetarian,
        allergen=row.allergen,
        diet_note=row.diet_note,
        parts=tuple(
            AgentPart(part, names[part].name if part in names else part, 100.0 * share)
            for part, share in row.parts.items()
        ),
        aliases=tuple(name for name, to in agent_aliases().items() if to.key == row.key),
        descriptions=tuple(_text_fact(text) for text in row.texts.values()),
        figures=tuple(_figure_fact(one) for rows in row.properties.values() for one in rows),
        regulation=tuple(_text_fact(text) for text in row.regulation.values()),
        evidence=evidence_join([(row.citation,)]),
    )


def _key_of(name: str) -> str:
    if name in agent_rows():
        return name
    found = table_catalog().find(name)
    if found is not None and found.material.kind is MaterialKind.AGENT:
        return found.material.key.removeprefix("agent:")
    raise UnknownNameError(
        f"“{name[:60]}” is not in the agent table.",
        field="agents",
        hint="Pick one from the chart of all agents.",
        nearest=table_catalog().nearest(name),
    )


def _cell(agent: AgentRow, name: str) -> AgentCell:
    text = agent.texts.get(name) or agent.regulation.get(name)
    if text is not None:
        return AgentCell(text.text, (text.citation,))
    figures = agent.properties.get(name, ())
    said = "; ".join(_with_conditions(figure) for figure in figures)
    return AgentCell(said, evidence_join((figure.citation,) for figure in figures))


def _with_conditions(figure: PropertyRow) -> str:
    said = _figure_text(figure)
    return f"{said} ({figure.conditions})" if figure.conditions else said


def _figure_text(figure: PropertyRow) -> str:
    if figure.unit == _YES_NO:
        return "yes" if figure.value > 0 else "no"
    said = _range_text(_bounds(figure))
    if figure.unit == "°C":
        us = _range_text([fahrenheit_from_celsius(bound) for bound in _bounds(figure)], digits=0)
        said = f"{said} °C, {us} °F"
    elif figure.unit == "pH":
        said = f"pH {said}"
    elif figure.unit != "1":
        said = f"{said} {figure.unit}"
    return f"at least {said}" if _is_floor(figure) else said


def _is_floor(figure: PropertyRow) -> bool:
    return figure.high is None and figure.low is not None and figure.low == figure.value


def _bounds(figure: PropertyRow) -> list[float]:
    """Return the range where both ends are known, else the value alone."""
    if figure.low is None or figure.high is None or figure.low == figure.high:
        return [figure.value]
    return [figure.low, figure.high]


def _range_text(values: Iterable[float], *, digits: int | None = None) -> str:
    texts = (
        f"{value:.{digits}f}" if digits is not None else number_text(value, digits=4)
        for value in values
    )
    return " to ".join(texts)


def _label(name: str) -> str:
    words = name.replace("_", " ")
    plain = f"pH{words[2:]}" if words.startswith("ph ") else words[:1].upper() + words[1:]
    return _LABELS.get(name, plain.replace("Eu ", "EU ").replace("Us ", "US "))


def _text_fact(row: TextRow) -> AgentFact:
    return AgentFact(row.property, _label(row.property), row.text, "", row.note, (row.citation,))


def _figure_fact(row: PropertyRow) -> AgentFact:
    return AgentFact(
        row.property,
        _label(row.property),
        _figure_text(row),
        row.conditions,
        row.note,
        (row.citation,),
    )
