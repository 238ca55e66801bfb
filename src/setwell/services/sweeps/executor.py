"""What runs chunks: the signature that all executors share, and the plainest of them."""

from collections.abc import Callable, Iterator, Sequence
from typing import Protocol, TypeVar

Shared = TypeVar("Shared")
Item = TypeVar("Item")
Found = TypeVar("Found")


class Executor(Protocol):
    """Runs `judge(shared, item)` for all items; yields (index, result) in any order.

    `judge` is a function of a module, so that other processes find it by name; `shared` and the
    items can be pickled. Whoever joins the results sorts by index: then they are the same to the
    bit, whatever ran them.
    """

    def __call__(
        self, judge: Callable[[Shared, Item], Found], shared: Shared, items: Sequence[Item], /
    ) -> Iterator[tuple[int, Found]]:
        """Run all items; ends early when it is closed."""
        ...


def serial(
    judge: Callable[[Shared, Item], Found], shared: Shared, items: Sequence[Item], /
) -> Iterator[tuple[int, Found]]:
    """Run one item after the other in this process."""
    for index, item in enumerate(items):
        yield index, judge(shared, item)
