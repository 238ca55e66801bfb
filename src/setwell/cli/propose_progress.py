"""How far a search is: a bar on a terminal, plain lines elsewhere, nothing beside JSON."""

import time
from typing import TYPE_CHECKING, Self

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn

from setwell.cli.failure import warning_print

if TYPE_CHECKING:
    from types import TracebackType

    from setwell.services.sweeps.progress import Progress as SweepProgress

# A plain line no oftener than this; a search that is done sooner says nothing [s].
_EVERY_S = 2.0


class ProgressShown:
    """Shows progress on standard error while it is open; knows the last state afterwards."""

    def __init__(self, *, is_silent: bool) -> None:
        self.done, self.total = 0, 0
        console = Console(stderr=True)
        self._is_silent = is_silent
        self._bar: Progress | None = None
        if console.is_terminal and not is_silent:
            self._bar = Progress(
                TextColumn("{task.description}"), BarColumn(),
                TextColumn("{task.percentage:.0f} %"), console=console, transient=True,
            )  # fmt: skip
            self._task = self._bar.add_task("Searching", total=None)
        self._said = time.monotonic()

    def __enter__(self) -> Self:
        """Begin to show."""
        if self._bar is not None:
            self._bar.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: "TracebackType | None",
    ) -> None:
        """Take the bar away."""
        if self._bar is not None:
            self._bar.stop()

    def tell(self, progress: "SweepProgress") -> None:
        """Show how far it is."""
        self.done, self.total = progress.done, progress.total
        if self._is_silent:
            return
        if self._bar is not None:
            self._bar.update(
                self._task, description=progress_words(progress),
                completed=progress.done, total=progress.total,
            )  # fmt: skip
        elif time.monotonic() - self._said >= _EVERY_S:
            self._said = time.monotonic()
            warning_print(progress_words(progress))

    def remark(self, text: str) -> None:
        """Say what was wrong with something kept; also beside JSON, as it is no progress."""
        if self._bar is not None:
            # Above the bar, which would be torn else.
            self._bar.console.print(text, markup=False, highlight=False)
        else:
            warning_print(text)


def progress_words(progress: "SweepProgress") -> str:
    """Return chunks, speed and time left in one line."""
    parts = [f"{progress.done:,} of {progress.total:,} chunks"]
    if progress.resumed:
        parts.append(f"{progress.resumed:,} from before")
    if progress.per_second is not None:
        parts.append(f"{progress.per_second:,.0f} candidates per second")
    if progress.left_s is not None and progress.done < progress.total:
        parts.append(f"{left_words(progress.left_s)} left")
    return ", ".join(parts)


def left_words(seconds: float) -> str:
    """Return a time to wait as someone waiting would say it."""
    if seconds < 90:
        return f"{max(round(seconds), 1)} s"
    minutes = round(seconds / 60)
    return f"{minutes} min" if minutes < 90 else f"{minutes // 60} h {minutes % 60} min"
