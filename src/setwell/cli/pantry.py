"""`setwell pantry`: the kitchen's own things as CSV."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from setwell.cli.failure import warning_print
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import file_bytes
from setwell.cli.target import text_write


class Entity(StrEnum):
    """What a pantry file holds."""

    FOOD = "food"
    AGENT = "agent"
    LOT = "lot"
    PRICE = "price"
    MOLD = "mold"
    VESSEL = "vessel"
    READING = "reading"
    HOB = "hob"
    COOLER = "cooler"


EntityName = Annotated[
    Entity, typer.Argument(metavar="ENTITY", help=f"What the file holds: {', '.join(Entity)}.")
]

app = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    help="Own foods, agents, lots, prices, molds, vessels, hobs, cold places and pH as CSV.",
)


@app.command("export")
def export(
    entity: EntityName,
    output: Annotated[
        Path | None, typer.Argument(metavar="[FILE]", help="Where to write; else printed.")
    ] = None,
    *,
    force: Annotated[bool, typer.Option("--force", help="Write over an existing file.")] = False,
) -> None:
    """Print all things of one kind as CSV, or write them to a file.

    Example: setwell pantry export lot lots.csv
    """
    kitchen_begin()
    from setwell.services.pantry import pantry_export_csv

    text_write(pantry_export_csv(entity=entity.value), output=output, overwrite=force)


@app.command("import")
def import_(
    entity: EntityName,
    file: Annotated[str, typer.Argument(metavar="FILE", help="A CSV file, or -.")],
) -> None:
    """Add or update all things of a CSV file; with any problem nothing is changed.

    Example: setwell pantry import lot lots.csv
    """
    data = file_bytes(file)
    kitchen_begin()
    from setwell.services.pantry import pantry_import_csv

    report = pantry_import_csv(entity=entity.value, data=data)
    for problem in report.problems:
        warning_print(f"setwell: {problem}")
    if report.problems:
        warning_print("Nothing was changed. Correct the file and import it again.")
        raise typer.Exit(1)
    for note in report.notes:
        warning_print(note)
    typer.echo(f"{report.added} added, {report.updated} updated")
