"""Chunks over processes of this machine: each gets what is shared once, when it starts."""

import os
import pickle
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import get_context
from typing import Any

from setwell.errors import InputError, OutOfRangeError, SetwellError
from setwell.services.sweeps.executor import Executor, Found, Item, Shared

WORKERS_MOST = 256
# Matrices of a kitchen are small: threads of a matrix library only stand in each other's way.
_THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")
# So many chunks wait beside those that run: enough to keep all busy, few enough to stop soon.
_WAITING = 2
_STARTS = 2

_mine: list[Any] = []


def processes(workers: int) -> Executor:
    """Return an executor of so many processes. Raises OutOfRangeError at the field `workers`."""
    workers_check(workers)

    def run(
        judge: Callable[[Shared, Item], Found], shared: Shared, items: Sequence[Item], /
    ) -> Iterator[tuple[int, Found]]:
        yield from _restarted(judge, shared, items, min(workers, max(len(items), 1)))

    return run


def workers_check(workers: int) -> None:
    """Refuse a number of processes that no machine has."""
    if not 1 <= workers <= WORKERS_MOST:
        raise OutOfRangeError(
            f"{workers} processes are not possible: write 1 to {WORKERS_MOST}.",
            field="workers",
            hint=f"This machine has {os.cpu_count() or 1} cores; more processes bring nothing.",
        )


def _restarted(
    judge: Callable[[Shared, Item], Found], shared: Shared, items: Sequence[Item], workers: int
) -> Iterator[tuple[int, Found]]:
    """Yield all results; where a process is lost, start anew once with what is left."""
    blob = shared_pickle(judge, shared)
    left = set(range(len(items)))
    for start in range(_STARTS):
        try:
            for index, found in _pooled(blob, [(n, items[n]) for n in sorted(left)], workers):
                left.discard(index)
                yield index, found
        except BrokenProcessPool:
            if start + 1 == _STARTS:
                raise _lost(len(left)) from None
        else:
            return


def _pooled(
    blob: bytes, numbered: Sequence[tuple[int, Item]], workers: int
) -> Iterator[tuple[int, Any]]:
    """Yield results as they are ready; the pool is gone when the loop is left, however."""
    waiting = iter(numbered)
    running: dict[Future[Any], int] = {}
    with _one_thread_each():
        pool = ProcessPoolExecutor(workers, get_context("spawn"), _begin, (blob,))
        try:
            _fill(pool, running, waiting, workers)
            while running:
                for future in wait(running, return_when=FIRST_COMPLETED).done:
                    yield running.pop(future), future.result()
                _fill(pool, running, waiting, workers)
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def _fill(
    pool: ProcessPoolExecutor,
    running: dict[Future[Any], int],
    waiting: Iterator[tuple[int, Any]],
    workers: int,
) -> None:
    while len(running) < workers + _WAITING:
        following = next(waiting, None)
        if following is None:
            return
        index, item = following
        running[pool.submit(_judged, item)] = index


def shared_pickle(judge: Callable[..., Any], shared: object) -> bytes:
    """Return what all chunks share, as bytes, made once. Raises InputError if it cannot travel."""
    try:
        return pickle.dumps((judge, shared), protocol=pickle.HIGHEST_PROTOCOL)
    except (pickle.PicklingError, AttributeError, TypeError) as error:
        raise InputError(
            f"This cannot be sent to another process: {error}.",
            field="judge",
            hint="Use a function of a module, and data that can be pickled; or run it serially.",
        ) from None


def _begin(blob: bytes) -> None:
    """Unpack what is shared in a new process; Ctrl-C is for the one that started it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _mine[:] = pickle.loads(blob)  # noqa: S301 - from the process that started this one


def _judged(item: object) -> Any:  # noqa: ANN401 - whatever the function returns
    judge, shared = _mine
    return judge(shared, item)


@contextmanager
def _one_thread_each() -> Iterator[None]:
    """Let processes that start meanwhile compute with one thread; what is set already wins."""
    added = [name for name in _THREADS if name not in os.environ]
    os.environ.update(dict.fromkeys(added, "1"))
    try:
        yield
    finally:
        for name in added:
            os.environ.pop(name, None)


def _lost(count: int) -> SetwellError:
    return SetwellError(
        f"The processes ended by themselves, twice, with {count:,} chunks to go.",
        hint="Too little memory is the usual cause: try fewer workers. In a script of your own, "
        'start the sweep under `if __name__ == "__main__":`.',
    )
