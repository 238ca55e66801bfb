"""`setwell probe`: read a logger's file and judge it; nothing is saved unless asked."""

# ruff: noqa: PLC0415, PLR0913 - services load when a command runs; options are arguments

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from setwell.cli.given import given
from setwell.cli.kitchen import kitchen_begin
from setwell.errors import InputError
from setwell.units import number_parse

if TYPE_CHECKING:
    from setwell.cli.source import FormulaSource
    from setwell.domain.log_reading import LogReading, LogTable
    from setwell.services.probe_judging import LogPurpose


def probe(
    file: Annotated[str, typer.Argument(metavar="FILE", help="The logger's file, or - for input.")],
    *,
    formula: Annotated[
        str | None,
        typer.Option("--formula", metavar="ID|TITLE|FILE", help="What was in the pot."),
    ] = None,
    save: Annotated[
        bool, typer.Option("--save", help="Save it with the newest version of that formula.")
    ] = False,
    title: Annotated[
        str, typer.Option("--title", metavar="TEXT", help="Its title; else the file name.")
    ] = "",
    delimiter: Annotated[
        str | None,
        typer.Option("--delimiter", help="comma, semicolon, tab, pipe or spaces; else guessed."),
    ] = None,
    decimal: Annotated[str | None, typer.Option("--decimal", help="point or comma.")] = None,
    header: Annotated[
        int | None, typer.Option("--header", metavar="N", min=0, help="Lines before the samples.")
    ] = None,
    time_form: Annotated[
        str | None, typer.Option("--time", metavar="FORM", help="As day/month/year, or minutes.")
    ] = None,
    interval: Annotated[
        str | None,
        typer.Option("--interval", metavar="S", help="Seconds between samples without a time."),
    ] = None,
    unit: Annotated[
        str | None, typer.Option("--unit", help="C or F, where the file does not say.")
    ] = None,
    probe_error: Annotated[
        str | None, typer.Option("--probe-error", metavar="C", help="How far the probe may be off.")
    ] = None,
    purpose: Annotated[
        str,
        typer.Option("--as", metavar="WHAT", help="batch, held hot, held cold or reheated."),
    ] = "batch",
    egg_in: Annotated[
        str | None,
        typer.Option("--egg-in", metavar="MIN", help="Minutes at which the egg went in."),
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """Read a probe's log and say what it proves: hydration, pasteurization, cooling.

    Example: setwell probe batch.csv --formula cream.txt
    """
    data = log_bytes(file)
    if save and formula is None:
        raise InputError(
            "--save needs --formula: a log belongs to a version of a formula.", field="formula"
        )
    settings = _settings(delimiter, decimal, header, time_form, interval)
    kitchen_begin()
    from setwell.cli.probe_print import judged_print
    from setwell.cli.source import formula_source
    from setwell.services.probe_judging import probe_judge
    from setwell.services.probe_uploads import probe_log_of

    table = _table(data, settings, unit)
    source = formula_source(formula) if formula is not None else None
    name = Path(file).name if file != "-" else ""
    fields: dict[str, Any] = {"title": title or Path(name).stem, "file_name": name}
    if probe_error is not None:
        fields["probe_error_c"] = number_parse(probe_error, field="--probe-error")
    if egg_in is not None:
        fields["egg_in_s"] = 60.0 * number_parse(egg_in, field="--egg-in")
    document = probe_log_of(table, data=data, **fields)
    found = probe_judge(
        document=document,
        formula=source.formula if source else None,
        purpose=_purpose(purpose),
    )
    log_id = _saved(source, data, name, table, fields) if save and source else None
    judged_print(table, document, found, is_json=json, log_id=log_id)


def _purpose(written: str) -> "LogPurpose":
    from setwell.services.probe_judging import LogPurpose

    try:
        return LogPurpose(" ".join(written.replace("-", " ").split()).casefold())
    except ValueError:
        raise InputError(
            f"“{written[:40]}” is not what a log can be judged as.",
            field="--as",
            hint=f"Use one of {', '.join(LogPurpose)}.",
        ) from None


def log_bytes(name: str) -> bytes:
    """Return the bytes of a log, refused by its size before it is read."""
    import sys

    from setwell.services.probe_uploads import FILE_LIMIT, probe_file_check

    try:
        if name == "-":
            data = sys.stdin.buffer.read(FILE_LIMIT + 1)
            probe_file_check(size=len(data), name="Standard input")
            return data
        path = Path(name)
        if path.is_dir():
            raise InputError(f"{name} is a folder.", hint="Name one file in it.")
        probe_file_check(size=path.stat().st_size, name=name)
        return path.read_bytes()
    except OSError as error:
        raise InputError(f"{name} cannot be read: {error.strerror}.") from None


def _settings(
    delimiter: str | None,
    decimal: str | None,
    header: int | None,
    time_form: str | None,
    interval: str | None,
) -> "LogReading":
    from pydantic import ValidationError

    from setwell.domain.document import document_error
    from setwell.domain.log_reading import LogReading

    asked: dict[str, object] = {
        "delimiter": delimiter,
        "decimal": decimal,
        "header_lines": header,
        "time_form": time_form,
        "interval_s": given(interval, number_parse, "--interval"),
    }
    try:
        return LogReading.model_validate(asked)
    except ValidationError as error:
        raise document_error(error) from None


def _table(data: bytes, settings: "LogReading", unit: str | None) -> "LogTable":
    from setwell.domain.log_reading import TemperatureUnit
    from setwell.services.probe_uploads import probe_file_read

    table = probe_file_read(data=data, reading=settings)
    if unit is None:
        return table
    named = {one.value.lstrip("°"): one for one in TemperatureUnit}
    if unit.upper() not in named:
        raise InputError(f"--unit {unit[:20]} is not a unit here.", hint="Write C, F or K.")
    probes = tuple(one.model_copy(update={"unit": named[unit.upper()]}) for one in table.probes)
    return probe_file_read(data=data, reading=table.reading.model_copy(update={"probes": probes}))


def _saved(
    source: "FormulaSource", data: bytes, name: str, table: "LogTable", fields: dict[str, Any]
) -> int:
    from setwell.services.probe_uploads import probe_log_save, probe_upload_add

    if source.formula_id is None or source.number is None:
        raise InputError(
            "A log can only be saved with a saved formula.",
            field="formula",
            hint="Save the formula first: `setwell import FILE`.",
        )
    upload = probe_upload_add(
        formula_id=source.formula_id, number=source.number, file_name=name, data=data
    )
    rest = {key: value for key, value in fields.items() if key != "file_name"}
    return probe_log_save(upload_id=upload, reading=table.reading, **rest)
