"""`setwell publish` and `setwell tables`: cards as a web folder, and every table as files."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setwell.cli.failure import warning_print
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import formula_id
from setwell.cli.target import bytes_write, text_write
from setwell.errors import ConflictError, InputError

if TYPE_CHECKING:
    from setwell.services.publishing.site import SiteProgress

# A line no oftener than this; a folder that is done sooner says nothing on the way [s].
_EVERY_S = 2.0


def publish(
    folder: Annotated[
        Path, typer.Argument(metavar="FOLDER", help="Folder to write; it is replaced as a whole.")
    ],
    *,
    add: Annotated[
        list[str] | None,
        typer.Option("--add", metavar="ID|TITLE", help="Publish the newest version of this first."),
    ] = None,
    withdraw: Annotated[
        list[str] | None,
        typer.Option("--withdraw", metavar="ID|TITLE", help="Withdraw the page of this first."),
    ] = None,
    reason: Annotated[
        str, typer.Option("--reason", metavar="TEXT", help="Why it is withdrawn.")
    ] = "",
    keep_links: Annotated[
        bool, typer.Option("--keep-links", help="Leave the share links of what is withdrawn.")
    ] = False,
    address: Annotated[
        str | None,
        typer.Option("--address", metavar="URL", help="Where the folder will stand; kept."),
    ] = None,
) -> None:
    """Write all published cards into a folder that any web site can show.

    Example: setwell publish site --add "Lime set cream" --address https://kitchen.example/cards/
    """
    kitchen_begin()
    from setwell.services.publishing import publications
    from setwell.services.publishing.site import folder_check, site_write

    folder_check(folder)
    if address is not None:
        publications.address_save(address=address)
    for name in add or ():
        try:
            page = publications.card_publish(formula_id=formula_id(name))
        except ConflictError as error:
            # Asked for once more: it is there, and the folder is still to be written.
            warning_print(f"{name}: {error.message}")
        else:
            typer.echo(f"Published: {page.newest.title}, version {page.newest.number}")
    for name in withdraw or ():
        page = publications.card_withdraw(
            formula_id=formula_id(name), reason=reason, keeps_links=keep_links
        )
        kept = "" if keep_links else "; its share links are revoked"
        typer.echo(f"Withdrawn: {page.newest.title}{kept}")
    report = site_write(folder=folder, tell=_Telling().tell)
    for problem in report.problems:
        warning_print(problem)
    cards = "card" if report.cards == 1 else "cards"
    feeds = "" if report.has_feeds else " No feeds: give --address to get them."
    typer.echo(
        f"Wrote {folder}: {report.cards} {cards}, {report.withdrawn} withdrawn, "
        f"{report.files} files, {report.size / 1e6:.1f} MB.{feeds}"
    )
    if report.problems:
        raise typer.Exit(1)


def tables(
    output: Annotated[
        Path | None,
        typer.Argument(metavar="[FILE]", help="A workbook .xlsx, or a .csv of one table."),
    ] = None,
    *,
    table: Annotated[
        list[str] | None, typer.Option("--table", metavar="NAME", help="Only this table.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Write over an existing file.")] = False,
) -> None:
    """Write everything with rows and columns as a workbook; without a file list the tables.

    Example: setwell tables kitchen.xlsx
    """
    kitchen_begin()
    from setwell.services.tables_export import table_csv, table_list, tables_xlsx

    if output is None:
        for one in table_list():
            typer.echo(f"{one.key:<20} {one.title}")
    elif output.suffix.lower() == ".xlsx":
        bytes_write(tables_xlsx(keys=table or ()), output=output, overwrite=force)
    elif output.suffix.lower() == ".csv" and table and len(table) == 1:
        text_write(table_csv(key=table[0]), output=output, overwrite=force)
    else:
        raise InputError(
            f"{output} is neither a workbook nor the CSV file of one table.",
            hint="Name a file that ends in .xlsx, or one in .csv with one --table NAME.",
        )


class _Telling:
    """Says how far it is, on standard error."""

    def __init__(self) -> None:
        self._said = time.monotonic()

    def tell(self, progress: "SiteProgress") -> None:
        """Say it, if the last time is a while ago."""
        if time.monotonic() - self._said >= _EVERY_S:
            self._said = time.monotonic()
            warning_print(f"{progress.done:,} of {progress.total:,} cards")
