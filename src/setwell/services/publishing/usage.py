"""The usage chart of texture agents for a web site."""

from setwell.documents.published_chart import UsageCell, UsageChart, UsageRow
from setwell.services.agent_catalog import agents_chart
from setwell.services.agent_results import AgentCell
from setwell.tables.sources import sources

# What a cook asks of an agent, in the order of the work.
_COLUMNS = (
    ("Effect", ("texture",)),
    ("Dose", ("dose", "dose_typical")),
    ("Disperse", ("dispersion", "cold_soluble")),
    ("Hydrate", ("hydration_temperature", "whole_batch_temperature", "cook_temperature")),
    ("Sets", ("setting_temperature",)),
    ("Melts", ("melting_temperature",)),
    ("pH", ("ph_window", "ph_note")),
    ("Salts it needs", ("ions_needed",)),
)


def usage_chart() -> UsageChart:
    """Return every agent of the tables by what a cook asks of it."""
    chart = agents_chart()
    rows = {row.key: row for row in chart.rows}
    made = []
    for place, agent in enumerate(chart.columns):
        cells = (
            _cell([(rows[key].label, rows[key].cells[place]) for key in keys if key in rows])
            for _, keys in _COLUMNS
        )
        made.append(UsageRow(agent.name, tuple(cells)))
    entries = {key: source.citation for key, source in sources().items()}
    return UsageChart(tuple(name for name, _ in _COLUMNS), tuple(made), entries)


def _cell(parts: list[tuple[str, AgentCell]]) -> UsageCell:
    told = [(label, cell) for label, cell in parts if cell.text]
    if len(parts) == 1:
        texts = [cell.text for _, cell in told]
    else:
        texts = [f"{label}: {cell.text}" for label, cell in told]
    evidence = tuple(dict.fromkeys(one for _, cell in told for one in cell.evidence))
    return UsageCell(". ".join(texts), evidence)
