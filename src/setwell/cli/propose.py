"""`setwell propose`: which agents meet a brief, at which doses, and why the others do not."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setwell.cli.failure import warning_print
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import file_text
from setwell.errors import InputError

if TYPE_CHECKING:
    from setwell.domain.brief import Brief
    from setwell.services.proposals import Proposals

# What a shell reports for a program that Ctrl-C ended.
_INTERRUPTED = 130

BriefName = Annotated[
    str,
    typer.Argument(metavar="BRIEF", help="A brief as JSON: a file, or - for standard input."),
]


def propose(  # noqa: PLR0913 - one option for each way to search
    brief: BriefName,
    *,
    base_formula: Annotated[
        str | None,
        typer.Option("--base-formula", metavar="TITLE", help="This saved formula as the base."),
    ] = None,
    first: Annotated[bool, typer.Option("--first", help="Single agents only, at once.")] = False,
    most: Annotated[int, typer.Option("--most", metavar="N", help="So many proposals.")] = 8,
    fine: Annotated[
        int, typer.Option("--fine", metavar="N", help="So many times as many doses in sets.")
    ] = 1,
    workers: Annotated[
        int, typer.Option("--workers", metavar="N", help="Processes on this machine.")
    ] = 1,
    scheduler: Annotated[
        str | None,
        typer.Option("--scheduler", metavar="ADDRESS", help="A cluster of dask.distributed."),
    ] = None,
    resume: Annotated[
        Path | None,
        typer.Option("--resume", metavar="FOLDER", help="Keep what is done there, and go on."),
    ] = None,
    make: Annotated[
        int | None, typer.Option("--make", metavar="N", help="Save proposal N as a formula.")
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """Print which agents meet a brief, what each trades away, and why the others fell out.

    Example: setwell propose brief.json --most 5
    """
    kitchen_begin()
    with field_named():
        asked = _brief(brief, base_formula)
    from setwell.cli.propose_print import proposals_json, proposals_print
    from setwell.cli.propose_progress import ProgressShown
    from setwell.services.proposals import proposals_for
    from setwell.services.sweeps.sweep import SweepPlan, executor_for

    try:
        with ProgressShown(is_silent=json) as shown:
            plan = SweepPlan(
                workers, _address(scheduler), resume, tell=shown.tell, remark=shown.remark
            )
            run = executor_for(plan)
            with field_named():
                found = proposals_for(asked, is_first=first, most=most, fineness=fine, run=run)
    except KeyboardInterrupt:
        warning_print(stopped_words(shown.done, shown.total, resume))
        raise typer.Exit(_INTERRUPTED) from None
    if json:
        typer.echo(proposals_json(found))
    else:
        proposals_print(found)
    if make is not None:
        _make(asked, found, make)


def _brief(name: str, base_formula: str | None) -> "Brief":
    """Return the brief of a file, on another base if asked."""
    from setwell.services.briefs import brief_import_json

    if not name.strip():
        raise InputError("No brief was named.", field="brief")
    found = brief_import_json(text=file_text(name))
    if base_formula is None:
        return found
    if not base_formula.strip():
        raise InputError("--base-formula names no formula.", field="base_formula")
    return found.model_copy(
        update={"base": "", "composition": None, "base_formula": base_formula.strip()}
    )


@contextmanager
def field_named() -> Iterator[None]:
    """Put the field of the brief in front of what is wrong with it, as JSON has no labels."""
    from setwell.domain.brief import Brief

    try:
        yield
    except InputError as error:
        if error.field.partition(".")[0] in Brief.model_fields:
            error.args = (f"{error.field}: {error}",)
        raise


def _address(scheduler: str | None) -> str:
    if scheduler is not None and not scheduler.strip():
        raise InputError(
            "--scheduler has no address.", field="scheduler", hint="Write tcp://HOST:8786."
        )
    return scheduler or ""


def stopped_words(done: int, total: int, folder: Path | None) -> str:
    """Return what to say when someone pressed Ctrl-C."""
    how_far = f"Stopped after {done:,} of {total:,} chunks." if total else "Stopped."
    if folder is None:
        return f"{how_far} Nothing is kept; with --resume FOLDER a stopped search can go on."
    return f"{how_far} What is done is kept in {folder}: the same command goes on from there."


def _make(brief: "Brief", found: "Proposals", number: int) -> None:
    """Save one proposal as a formula, and say so."""
    from setwell.services.proposals import proposal_save

    count = len(found.proposals)
    if not 1 <= number <= count:
        raise InputError(
            f"There is no proposal {number}; there are {count}, so nothing was saved.",
            field="make",
            hint=f"Name one from 1 to {count}." if count else "Change the brief first.",
        )
    chosen = found.proposals[number - 1]
    saved = proposal_save(brief, chosen)
    warning_print(f"Saved as formula {saved}: {chosen.formula.title}.")
