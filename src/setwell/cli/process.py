"""`setwell heat`, `cool`, `schedule` and `sheet`: pot, molds, time and a sheet for the bench."""

# ruff: noqa: PLC0415, PLR0913 - services load when a command runs; options are arguments

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setwell.cli.batch import BatchSize, Readability, grams_parse
from setwell.cli.check import FileName
from setwell.cli.given import given
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.paper import SheetPaper
from setwell.cli.source import FormulaSource, formula_source
from setwell.cli.target import bytes_write
from setwell.errors import InputError
from setwell.units import clock_parse, duration_parse, mass_parse, number_parse, temperature_parse

if TYPE_CHECKING:
    from setwell.domain.process_plan import ProcessPlan
    from setwell.services.process import ProcessAnswer, ProcessAsk

Json = Annotated[bool, typer.Option("--json", help="Print everything as JSON.")]
Use = Annotated[
    bool, typer.Option("--use", help="Use this plan for the saved version from now on.")
]
HobName = Annotated[str | None, typer.Option("--hob", metavar="NAME", help="A hob of the pantry.")]
PotName = Annotated[str | None, typer.Option("--pot", metavar="NAME", help="A pot of the pantry.")]
Stirring = Annotated[
    str | None,
    typer.Option("--stir", metavar="WORD", help="none, now and then, constant, blender."),
]
MoldName = Annotated[
    str | None, typer.Option("--mold", metavar="NAME", help="A mold of the pantry.")
]
Place = Annotated[
    str | None, typer.Option("--in", metavar="NAME", help="A cold place of the pantry.")
]
Serve = Annotated[
    str | None, typer.Option("--serve", metavar="TIME", help="When to serve, as in 18:30.")
]
Room = Annotated[
    str | None, typer.Option("--room", metavar="TEMP", help="The kitchen's air, as in 28 °C.")
]
Earliest = Annotated[
    str | None, typer.Option("--start", metavar="TIME", help="Nobody is here before, as in 12:00.")
]


def heat(
    file: FileName,
    *,
    hob: HobName = None,
    power: Annotated[
        str | None, typer.Option("--power", metavar="W", help="Power of the hob, in watts.")
    ] = None,
    pot: PotName = None,
    lid: Annotated[bool | None, typer.Option("--lid/--open", help="Lid on, or open.")] = None,
    stir: Stirring = None,
    batch: Annotated[
        str | None, typer.Option("--batch", metavar="AMOUNT", help="As in 1.5 kg.")
    ] = None,
    to: Annotated[
        str | None, typer.Option("--to", metavar="TEMP", help="What the probe reads, as in 90 °C.")
    ] = None,
    hold: Annotated[str | None, typer.Option("--hold", metavar="TIME", help="As in 5 min.")] = None,
    room: Room = None,
    use: Use = False,
    json: Json = False,
) -> None:
    """Print how a batch heats in a pot: when which part is hot, and whether that is enough.

    Example: setwell heat cream.txt --to "90 °C" --stir constant
    """
    kitchen_begin()
    from setwell.cli.process_print import heat_print
    from setwell.cli.shape import json_text
    from setwell.services.process_changes import PotChanges, plan_changed

    source = formula_source(file)
    changes = PotChanges(
        hob=hob,
        power_w=given(power, number_parse, "power"),
        pot=pot,
        lid=lid,
        stirring=stir,
        batch_g=given(batch, mass_parse, "batch"),
        target_c=given(to, temperature_parse, "to"),
        hold_min=given(hold, duration_parse, "hold"),
        room_c=given(room, temperature_parse, "room"),
    )
    plan = plan_changed(
        formula=source.formula, formula_id=source.formula_id, number=source.number, pot=changes
    )
    answer = _answer(source, _ask(plan=plan))
    if answer.pot is None:
        raise _refused(answer, "pot")
    _used(source, plan, use=use)
    if json:
        checks = tuple(check for check in answer.checks if check.topic == "heating")
        typer.echo(json_text("heating", {"pot": answer.pot, "checks": checks}))
    else:
        heat_print(answer)


def cool(
    file: FileName,
    *,
    mold: MoldName = None,
    lid: Annotated[bool | None, typer.Option("--lid/--open", help="Covered, or open.")] = None,
    count: Annotated[
        int | None, typer.Option("--count", metavar="N", min=1, help="How many molds.")
    ] = None,
    pour: Annotated[
        str | None, typer.Option("--pour", metavar="TEMP", help="Poured at, as in 70 °C.")
    ] = None,
    counter: Annotated[
        str | None, typer.Option("--counter", metavar="TIME", help="On the counter first.")
    ] = None,
    place: Place = None,
    room: Room = None,
    use: Use = False,
    json: Json = False,
) -> None:
    """Print how molds cool: when they are set, can be unmolded, and are cold enough.

    Example: setwell cool cream.txt --in "Ice bath" --count 8
    """
    kitchen_begin()
    from setwell.cli.process_print import cool_print
    from setwell.cli.shape import json_text
    from setwell.services.process_changes import CoolChanges, plan_changed

    source = formula_source(file)
    changes = CoolChanges(
        mold=mold,
        lid=lid,
        count=count,
        pour_c=given(pour, temperature_parse, "pour"),
        counter_min=given(counter, duration_parse, "counter"),
        cooler=place,
        room_c=given(room, temperature_parse, "room"),
    )
    plan = plan_changed(
        formula=source.formula, formula_id=source.formula_id, number=source.number,
        cooling=changes,
    )  # fmt: skip
    answer = _answer(source, _ask(plan=plan))
    if answer.cooling is None:
        raise _refused(answer, "cooling")
    _used(source, plan, use=use)
    if json:
        checks = tuple(check for check in answer.checks if check.topic == "cooling")
        typer.echo(json_text("cooling", {"cooling": answer.cooling, "checks": checks}))
    else:
        cool_print(answer)


def schedule(
    file: FileName, *, serve: Serve = None, start: Earliest = None, json: Json = False
) -> None:
    """Print the steps over time, and when to start so that even a slow kitchen is ready.

    Example: setwell schedule cream.txt --serve 18:30
    """
    kitchen_begin()
    from setwell.cli.process_print import schedule_print
    from setwell.cli.shape import json_text

    source = formula_source(file)
    answer = _answer(source, _ask(serve=serve, start=start))
    if json:
        content = {"timeline": answer.timeline, "schedule": answer.schedule}
        typer.echo(json_text("schedule", content))
    else:
        schedule_print(answer)


def sheet(
    file: FileName,
    *,
    serve: Serve = None,
    start: Earliest = None,
    batch: BatchSize = None,
    as_written: Annotated[
        bool, typer.Option("--as-written", help="The formula's own batch, whatever is planned.")
    ] = False,
    readability: Readability = None,
    pdf: Annotated[
        Path | None, typer.Option("--pdf", metavar="OUT", help="Write a PDF file.")
    ] = None,
    paper: Annotated[
        SheetPaper, typer.Option("--paper", metavar="A4|Letter", help="Paper of the PDF.")
    ] = SheetPaper.A4,
    json: Json = False,
    force: Annotated[bool, typer.Option("--force", help="Write over an existing file.")] = False,
) -> None:
    """Print a bench sheet for the planned batch, to tick off and write on, or write it as PDF.

    Example: setwell sheet cream.txt --batch 1.2kg --serve 18:30 --pdf sheet.pdf
    """
    if batch is not None and as_written:
        raise typer.BadParameter("give one of --batch and --as-written")
    kitchen_begin()
    from setwell.cli.shape import json_text
    from setwell.services.bench_sheets import bench_sheet, bench_sheet_pdf, bench_sheet_text

    source = formula_source(file)
    ask = _ask(serve=serve, start=start)
    if batch is not None:
        ask = _for_batch(source, ask, mass_parse(batch, field="batch"))
    made = bench_sheet(
        _answer(source, ask),
        is_as_typed=as_written,
        readability_g=None if readability is None else grams_parse(readability),
    )
    if json:
        typer.echo(json_text("bench-sheet", {"sheet": made}))
    elif pdf is None:
        typer.echo(bench_sheet_text(sheet=made), nl=False)
    if pdf is not None:
        made_pdf = bench_sheet_pdf(sheet=made, paper=paper.value)
        bytes_write(made_pdf, output=pdf, overwrite=force)


def _ask(
    *, plan: "ProcessPlan | None" = None, serve: str | None = None, start: str | None = None
) -> "ProcessAsk":
    from setwell.services.process import ProcessAsk

    return ProcessAsk(
        plan=plan,
        serve_min=given(serve, clock_parse, "serve"),
        earliest_min=given(start, clock_parse, "start"),
    )


def _for_batch(source: FormulaSource, ask: "ProcessAsk", grams: float) -> "ProcessAsk":
    """Return what is asked with another batch in the pot, and with molds enough for it."""
    from setwell.services.batch_plan import plan_for_batch

    plan = plan_for_batch(
        formula=source.formula, grams=grams, formula_id=source.formula_id, number=source.number
    )
    return replace(ask, plan=plan, batch_g=grams)


def _answer(source: FormulaSource, ask: "ProcessAsk") -> "ProcessAnswer":
    from setwell.services.process import process_of

    return process_of(
        formula=source.formula, ask=ask, formula_id=source.formula_id, number=source.number,
        has_charts=False,
    )  # fmt: skip


def _used(source: FormulaSource, plan: "ProcessPlan", *, use: bool) -> None:
    """Save the plan with the version, when asked to."""
    if not use:
        return
    from setwell.services.process import plan_save

    if source.formula_id is None or source.number is None:
        raise InputError(
            "Only a saved formula can use a plan.", field="use", hint="Import it first."
        )
    plan_save(formula_id=source.formula_id, number=source.number, document=plan)
    typer.echo(f"This plan now counts for version {source.number}.", err=True)


def _refused(answer: "ProcessAnswer", part: str) -> InputError:
    """Return why there is no pot or no mold."""
    problem = next((one for one in answer.problems if one.field.startswith(part)), None)
    if problem is not None:
        return problem
    said = "pot: no step heats it" if part == "pot" else "mold: no step pours or chills it"
    return InputError(f"This formula has no {said}.", hint="Write the steps first.")
