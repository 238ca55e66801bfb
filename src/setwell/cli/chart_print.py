"""The chart of texture agents for people."""

from setwell.cli.screen import Screen
from setwell.services.catalog import AgentChart

# More agents than this do not stand side by side in 80 columns.
SIDE_BY_SIDE = 3
LIST_KEYS = ("texture", "dose")


def names_print(chart: AgentChart) -> None:
    """Print one row for each agent with what tells them apart."""
    rows = {row.key: row for row in chart.rows if row.key in LIST_KEYS}
    shown = [rows[key] for key in LIST_KEYS if key in rows]
    screen = Screen()
    screen.table(
        ("agent", *(row.label.lower() for row in shown)),
        [
            (column.name, *(row.cells[number].text for row in shown))
            for number, column in enumerate(chart.columns)
        ],
    )
    screen.blank()
    screen.text('Name some of them to see everything, as in: setwell agents "agar" "gelatin"')


def chart_print(chart: AgentChart) -> None:
    """Print the properties of some agents, at most three side by side."""
    screen = Screen()
    for start in range(0, len(chart.columns), SIDE_BY_SIDE):
        if start:
            screen.blank()
        part = slice(start, start + SIDE_BY_SIDE)
        screen.table(
            ("", *(column.name for column in chart.columns[part])),
            [
                (row.label, *(cell.text or "-" for cell in row.cells[part]))
                for row in chart.rows
                if any(cell.text for cell in row.cells[part])
            ],
        )
