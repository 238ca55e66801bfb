"""How far a sweep is, and how it is stopped."""

import time
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from setwell.errors import SetwellError
from setwell.services.sweeps.executor import Executor, Found, Item, Shared


@dataclass(frozen=True, slots=True)
class Progress:
    """How many chunks are done; `resumed` of them were read from a folder.

    `candidates` counts what the chunks computed now held, `seconds` how long that took.
    """

    done: int
    total: int
    resumed: int
    candidates: int
    seconds: float

    @property
    def computed(self) -> int:
        """Chunks computed in this run."""
        return self.done - self.resumed

    @property
    def per_second(self) -> float | None:
        """Candidates per second; None before the first chunk."""
        return self.candidates / self.seconds if self.computed and self.seconds > 0 else None

    @property
    def left_s(self) -> float | None:
        """Seconds that the rest takes at this speed; None until one of a hundred is computed."""
        if not self.computed or self.computed * 100 < self.total:
            return None
        return (self.total - self.done) * self.seconds / self.computed


class SweepStoppedError(SetwellError):
    """A sweep was stopped on request; finished chunks are in `folder`, where there is one."""

    def __init__(self, done: int, total: int, folder: Path | None = None) -> None:
        kept = f"They are kept in {folder}; name that folder again to go on." if folder else ""
        super().__init__(f"Stopped after {done:,} of {total:,} chunks.", hint=kept)
        self.done, self.total, self.folder = done, total, folder


def watched(
    run: Executor,
    *,
    tell: Callable[[Progress], None] | None = None,
    cancel: Callable[[], bool] | None = None,
    resumed: Collection[int] = (),
    folder: Path | None = None,
) -> Executor:
    """Return an executor that tells how far it is after each chunk, and stops when asked.

    `cancel` is asked before the first chunk and after each; SweepStoppedError is raised where it
    says yes. `resumed` are the indices that were not computed but read, filled while it runs.
    """

    def watching(
        judge: Callable[[Shared, Item], Found], shared: Shared, items: Sequence[Item], /
    ) -> Iterator[tuple[int, Found]]:
        start, done, count, total = time.monotonic(), 0, 0, len(items)
        _stop_if(cancel, done, total, folder)
        results = run(judge, shared, items)
        try:
            for index, found in results:
                done += 1
                count += 0 if index in resumed else candidates_of(items[index], found)
                if tell is not None:
                    spent = time.monotonic() - start
                    tell(Progress(done, total, len(resumed), count, spent))
                yield index, found
                if done < total:
                    _stop_if(cancel, done, total, folder)
        finally:
            closed = getattr(results, "close", None)
            if closed is not None:
                closed()

    return watching


def candidates_of(item: Any, found: Any) -> int:  # noqa: ANN401 - any chunk, any result
    """Return how many candidates a chunk held.

    The result's `judged` says, or the chunk's `count`, or the rows of an array; else it is one.
    """
    judged = getattr(found, "judged", None)
    if judged is not None:
        return int(judged.sum())
    count = getattr(item, "count", None)
    if isinstance(count, int):
        return count
    return len(item) if hasattr(item, "shape") else 1


def _stop_if(cancel: Callable[[], bool] | None, done: int, total: int, folder: Path | None) -> None:
    if cancel is not None and cancel():
        raise SweepStoppedError(done, total, folder)
