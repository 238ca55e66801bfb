"""Measure how fast a brief is answered, and one agent replaced.

The goals are first results within 1 s and the whole answer within 3 s of processor time, for a
brief over all agents with at least 2 million candidates. The ratios say how much longer as many
single assessments would take, and what a second process brings to a search that is long enough to
be worth one.
"""

import time

from bench_robustness import taken

from setwell.domain.brief import brief_make
from setwell.domain.formula import Formula
from setwell.engine.assess import assess
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.propose import asked, propose, search_job
from setwell.engine.proposals.search import Chunk, Job, chunks_of, judge
from setwell.engine.substitution.ask import SubstitutionAsk
from setwell.engine.substitution.substitute import substitute
from setwell.services.sweeps.processes import processes

Row = tuple[str, str, bool]
BRIEF = brief_make(
    title="Honey milk set cup",
    base="800 g whole milk\n90 g sugar\n20 g honey",
    texture={"word": "elastic"},
    plating="unmolds",
    serving_c=8.0,
)
FIRST_MOST_S, WHOLE_MOST_S, CANDIDATES_LEAST = 1.0, 3.0, 2_000_000
SINGLE_LEAST_RATIO = 500.0
WORKERS_LEAST_RATIO = 1.2
SUBSTITUTE_MOST_MS = 150.0
# A search this much finer takes one process long enough to be worth a second one.
_FINENESS = 2


def proposal_rows() -> list[Row]:
    """Return name, figure and whether the goal is met for each measurement."""
    catalog = catalog_build()
    first = taken(lambda: propose(BRIEF, catalog=catalog, is_first=True))
    found = propose(BRIEF, catalog=catalog)
    whole = taken(lambda: propose(BRIEF, catalog=catalog))
    count = found.judged.total
    formula = found.proposals[0].formula
    single = taken(lambda: [assess(formula, catalog=catalog) for _ in range(10)]) / 10.0
    ratio = single * count / whole
    return [
        ("first proposals of a brief, single agents", f"{first:.2f} s", first < FIRST_MOST_S),
        (f"all proposals, {count:,} candidates", f"{whole:.2f} s",
         whole < WHOLE_MOST_S and count >= CANDIDATES_LEAST),
        ("candidates per second, refinement and reasons included", f"{count / whole:,.0f}", True),
        ("a brief against single calls, per candidate", f"{ratio:,.0f} x",
         ratio >= SINGLE_LEAST_RATIO),
        _workers_row(),
    ]  # fmt: skip


def substitute_rows(formula: Formula) -> list[Row]:
    """Return how long it takes to replace one agent of a formula by another."""
    catalog = catalog_build()
    ask = SubstitutionAsk(replace="kappa carrageenan", by="agar")
    spent = 1000.0 * taken(lambda: substitute(formula, ask, catalog=catalog))
    return [("one agent replaced by another", f"{spent:.0f} ms", spent < SUBSTITUTE_MOST_MS)]


def _workers_row() -> Row:
    """Return how much sooner two processes are done than one, with their start."""
    job = search_job(asked(BRIEF, catalog=catalog_build()), fineness=_FINENESS)
    chunks = chunks_of(job)
    # In turn and the quickest of each, because other work on the machine slows both down.
    runs = [(_swept(job, chunks, 1), _swept(job, chunks, 2)) for _ in range(2)]
    one, two = map(min, zip(*runs, strict=True))
    told = f"{one / two:.2f} x ({one:.1f} s, {two:.1f} s)"
    return "2 processes against 1, a finer search", told, one / two >= WORKERS_LEAST_RATIO


def _swept(job: Job, chunks: tuple[Chunk, ...], workers: int) -> float:
    start = time.perf_counter()
    for _ in processes(workers)(judge, job, chunks):
        pass
    return time.perf_counter() - start
