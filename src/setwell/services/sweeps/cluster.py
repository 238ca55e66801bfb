"""Chunks on a cluster of dask.distributed, an optional extra."""

import asyncio
import hashlib
import logging
import pickle
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from importlib.metadata import PackageNotFoundError, version
from typing import Any

from setwell.errors import InputError, SetwellError
from setwell.services.sweeps.executor import Executor, Found, Item, Shared
from setwell.services.sweeps.processes import shared_pickle

_REACH_S = 5
# So many chunks are with the cluster for each thread it has.
_PER_THREAD = 4
_PACKAGES = ("setwell", "numpy", "scipy")


def cluster(address: str) -> Executor:
    """Return an executor on the cluster whose scheduler is at an address, as "tcp://host:8786".

    Raises InputError at the field `scheduler` where the extra is not installed.
    """
    _library()

    def run(
        judge: Callable[[Shared, Item], Found], shared: Shared, items: Sequence[Item], /
    ) -> Iterator[tuple[int, Found]]:
        blob = shared_pickle(judge, shared)
        with _quiet():
            client = _client(address)
            try:
                yield from _results(client, blob, items, _threads(client, address))
            finally:
                client.close()

    return run


def _library() -> Any:  # noqa: ANN401 - an optional package
    try:
        import distributed  # noqa: PLC0415 - only who has a cluster needs it
    except ImportError:
        raise InputError(
            "Clusters need the package dask.distributed, which is not installed.",
            field="scheduler",
            hint="Install it: pip install 'setwell[cluster]'",
        ) from None
    return distributed


def _client(address: str) -> Any:  # noqa: ANN401 - a client of an optional package
    """Return a client; asks first who answers, as a client that finds no one is hard to close."""
    try:
        with ThreadPoolExecutor(1) as aside:
            # In a thread of its own: a notebook has a loop running in this one.
            answer = aside.submit(asyncio.run, _identity(address)).result()
        if answer.get("type") != "Scheduler":
            raise ValueError("something else answers")
        return _library().Client(address, timeout=_REACH_S, set_as_default=False)
    except Exception:
        # What is no address, or no scheduler, fails in as many ways as there are others.
        raise InputError(
            f"No scheduler answers at “{address[:80]}”.",
            field="scheduler",
            hint="Start one with `dask scheduler`, and give the address it prints, such as "
            "tcp://127.0.0.1:8786; or leave this out to compute here.",
        ) from None


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep dask from printing traces of what is told in a sentence anyway."""
    named = [logging.getLogger(name) for name in list(logging.root.manager.loggerDict)
             if name.partition(".")[0] in {"distributed", "tornado"}]  # fmt: skip
    levels = [(handler, handler.level) for logger in named for handler in logger.handlers]
    for handler, _ in levels:
        handler.setLevel(logging.CRITICAL + 1)
    try:
        yield
    finally:
        for handler, level in levels:
            handler.setLevel(level)


async def _identity(address: str) -> dict[str, Any]:
    """Return what a server says of itself."""
    async with _library().rpc(address, timeout=_REACH_S) as server:
        return dict(await asyncio.wait_for(server.identity(), _REACH_S))


def _threads(client: Any, address: str) -> int:  # noqa: ANN401
    """Return how many chunks the cluster runs at once. Raises InputError if it cannot."""
    workers = client.scheduler_info(n_workers=-1)["workers"]
    if not workers:
        raise InputError(
            f"The scheduler at {address} has no workers.",
            field="scheduler",
            hint=f"Start one on each machine with `dask worker {address}`.",
        )
    own = installed()
    for worker, theirs in client.run(installed).items():
        for package, number in own.items():
            if theirs.get(package) != number:
                raise InputError(
                    f"The worker {worker} has {package} {theirs.get(package) or 'not at all'}, "
                    f"here it is {number}.",
                    field="scheduler",
                    hint="Install the same on all machines; results would differ else.",
                )
    return sum(worker["nthreads"] for worker in workers.values())


def installed() -> dict[str, str]:
    """Return the versions of the packages that results depend on."""
    found = {}
    for package in _PACKAGES:
        try:
            found[package] = version(package)
        except PackageNotFoundError:
            found[package] = ""
    return found


def _results(
    client: Any,  # noqa: ANN401
    blob: bytes,
    items: Sequence[Item],
    threads: int,
) -> Iterator[tuple[int, Any]]:
    """Yield results as they are ready.

    What is shared is a task of its own: it goes to the scheduler once, and dask makes it anew
    where the workers that hold it are lost. Keys are hashes of the content.
    """
    name = hashlib.sha256(blob).hexdigest()[:24]
    library = _library()
    shared = client.submit(pickle.loads, blob, key=f"setwell-shared-{name}")
    waiting = iter(enumerate(items))
    running: dict[Any, int] = {}
    try:
        ready = library.as_completed([], loop=client.loop)
        _fill(client, shared, name, running, waiting, threads, ready)
        while running:
            future = next(ready)
            index = running.pop(future)
            yield index, _result(future, library)
            future.release()
            _fill(client, shared, name, running, waiting, threads, ready)
    finally:
        client.cancel(list(running))
        shared.release()


def _fill(
    client: Any,  # noqa: ANN401
    shared: Any,  # noqa: ANN401
    name: str,
    running: dict[Any, int],
    waiting: Iterator[tuple[int, Any]],
    threads: int,
    ready: Any,  # noqa: ANN401
) -> None:
    while len(running) < threads * _PER_THREAD:
        following = next(waiting, None)
        if following is None:
            return
        index, item = following
        packed = pickle.dumps(item, protocol=pickle.HIGHEST_PROTOCOL)
        digest = hashlib.sha256(packed).hexdigest()[:24]
        key = f"setwell-chunk-{name}-{index}-{digest}"
        future = client.submit(_judged, shared, packed, key=key)
        running[future] = index
        ready.add(future)


def _judged(shared: tuple[Callable[[Any, Any], Any], Any], packed: bytes) -> Any:  # noqa: ANN401
    """Judge one chunk; runs on a worker."""
    judge, job = shared
    return judge(job, pickle.loads(packed))  # noqa: S301 - from the client of this cluster


def _result(future: Any, library: Any) -> Any:  # noqa: ANN401
    try:
        return future.result()
    except library.scheduler.KilledWorker as error:
        raise SetwellError(
            f"The cluster lost its workers again and again on one chunk ({error}).",
            hint="Too little memory is the usual cause: give the workers more, or start fewer.",
        ) from None
    except (library.CancelledError, OSError) as error:
        raise SetwellError(
            f"The connection to the scheduler is gone ({type(error).__name__}).",
            hint="Start it again; with a folder to resume from, nothing finished is lost.",
        ) from None
