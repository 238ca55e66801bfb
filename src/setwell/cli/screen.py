"""Print for people: 80 columns, color only where a terminal shows it."""

from collections.abc import Iterable, Sequence

import typer
from rich.console import Console, JustifyMethod, RenderableType
from rich.table import Table
from rich.text import Text

WIDTH = 80
SEVERITY_STYLES = {"stop": "bold red", "warn": "yellow", "note": "cyan"}


class Screen:
    """Collects what a command prints, so that it is written in one go."""

    def __init__(self) -> None:
        terminal = Console()
        width = min(terminal.width, WIDTH) if terminal.is_terminal else WIDTH
        self._console = Console(
            width=width, markup=False, emoji=False, highlight=False, soft_wrap=False
        )

    def heading(self, text: str) -> None:
        """Print the title of a block, with an empty line before it."""
        self.blank()
        self.text(text, style="bold")

    def blank(self) -> None:
        """Print an empty line."""
        typer.echo("")

    def text(self, text: str, *, style: str = "", lead: str = "") -> None:
        """Print a paragraph; `lead` starts it and the rest hangs below its end."""
        if not lead:
            self._print(Text(text, style=style))
            return
        grid = Table.grid(padding=0)
        grid.add_column(no_wrap=True)
        grid.add_column()
        grid.add_row(Text(lead, style=style), Text(text))
        self._print(grid)

    def table(
        self,
        heads: Sequence[str],
        rows: Iterable[Sequence[str]],
        *,
        right: Sequence[int] = (),
        fixed: Sequence[int] = (),
    ) -> None:
        """Print rows under heads; columns in `right` end at the right, `fixed` never wrap."""
        grid = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
        for number, head in enumerate(heads):
            side: JustifyMethod = "right" if number in right else "left"
            grid.add_column(Text(head), justify=side, no_wrap=number in fixed, overflow="fold")
        for row in rows:
            grid.add_row(*(Text(cell) for cell in row))
        self._print(grid)

    def _print(self, item: RenderableType) -> None:
        with self._console.capture() as capture:
            self._console.print(item)
        for row in capture.get().splitlines():
            typer.echo(row.rstrip())
