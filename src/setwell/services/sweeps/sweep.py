"""Any function of a module over many chunks, wherever there is room for it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from setwell import __version__
from setwell.errors import InputError
from setwell.services.sweeps.cluster import cluster
from setwell.services.sweeps.executor import Executor, Found, Item, Shared, serial
from setwell.services.sweeps.kept import KeptChunks
from setwell.services.sweeps.processes import processes, workers_check
from setwell.services.sweeps.progress import Progress, watched


@dataclass(frozen=True, slots=True)
class SweepPlan:
    """Where and how a sweep runs.

    In this process with one of `workers`, else in so many processes, or on the cluster whose
    `scheduler` is named. `folder` keeps finished chunks. `tell` hears how far it is, `remark`
    what was wrong with a kept chunk, and `cancel` is asked whether to stop.
    """

    workers: int = 1
    scheduler: str = ""
    folder: Path | None = None
    tell: Callable[[Progress], None] | None = None
    remark: Callable[[str], None] | None = None
    cancel: Callable[[], bool] | None = None


def executor_for(plan: SweepPlan) -> Executor:
    """Return the executor of a plan. Raises InputError at `workers` or `scheduler`."""
    run = _runner(plan)
    if plan.folder is None:
        return watched(run, tell=plan.tell, cancel=plan.cancel)
    kept = KeptChunks(run, plan.folder, version=__version__, remark=plan.remark)
    return watched(
        kept, tell=plan.tell, cancel=plan.cancel, resumed=kept.resumed, folder=plan.folder
    )


def _runner(plan: SweepPlan) -> Executor:
    workers_check(plan.workers)
    if plan.scheduler.strip():
        if plan.workers > 1:
            raise InputError(
                "Processes here and a cluster do not go together.",
                field="workers",
                hint="Leave out the workers, or the scheduler.",
            )
        return cluster(plan.scheduler.strip())
    return serial if plan.workers == 1 else processes(plan.workers)


def sweep(  # noqa: PLR0913 - one for each way to run it
    judge: Callable[[Shared, Item], Found],
    shared: Shared,
    items: Sequence[Item],
    *,
    workers: int = 1,
    scheduler: str = "",
    resume: str | Path | None = None,
    tell: Callable[[Progress], None] | None = None,
    remark: Callable[[str], None] | None = None,
    cancel: Callable[[], bool] | None = None,
) -> list[Found]:
    """Return `judge(shared, item)` for all items, in their order.

    `judge` is a function of a module, so that other processes find it. `workers` runs it in so
    many processes here, `scheduler` on the cluster of dask.distributed at that address; results
    are the same to the bit. `resume` names a folder that keeps what is done, for a `judge` that
    returns a NamedTuple of arrays. `tell` hears the progress after each item, `cancel` is asked
    whether to stop. Raises InputError for what cannot run, SweepStoppedError when stopped.

    >>> from setwell import formula_make, sweep, texture_of
    >>> cup = formula_make(title="Cup", ingredients="500 g whole milk\\n2 g kappa carrageenan",
    ...                    steps="Boil, stirring")
    >>> grids = [[[500.0, 0.0], [500.0, 0.1]], [[500.0, 2.0], [500.0, 3.0]]]
    >>> weak, firm = sweep(texture_of, cup, grids)
    >>> weak.sets.tolist(), firm.sets.tolist()
    ([-1, -1], [1, 1])
    """
    plan = SweepPlan(
        workers, scheduler, None if resume is None else Path(resume), tell, remark, cancel
    )
    results = dict(executor_for(plan)(judge, shared, items))
    return [results[index] for index in range(len(items))]
