"""`setwell reading`: write down what the pH meter showed of a saved version."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

import datetime as dt
from typing import TYPE_CHECKING, Annotated

import typer

from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import formula_id
from setwell.errors import InputError, OutOfRangeError
from setwell.units import number_parse

if TYPE_CHECKING:
    from setwell.domain.reading import VersionReading


def reading(
    formula: Annotated[str, typer.Argument(metavar="ID|TITLE", help="A saved formula.")],
    ph: Annotated[str, typer.Argument(metavar="PH", help="What the meter showed, 0 to 14.")],
    *,
    number: Annotated[
        int | None,
        typer.Option("--version", metavar="N", min=1, help="An older version than the newest."),
    ] = None,
    plus_minus: Annotated[
        str,
        typer.Option("--plus-minus", metavar="PH", help="How sure it is, 0.01 to 1."),
    ] = "0.05",
    taken_on: Annotated[
        str | None,
        typer.Option("--date", metavar="DAY", help="When, as 2027-03-31; else today."),
    ] = None,
    note: Annotated[str, typer.Option("--note", metavar="TEXT", help="A remark.")] = "",
) -> None:
    """Record a pH reading of a saved version; it counts instead of the estimate.

    Example: setwell reading "Lime set cream" 4.2 --plus-minus 0.1
    """
    fields = {
        "ph": _within(ph, "pH", low=0, high=14),
        "plus_minus": _within(plus_minus, "--plus-minus", low=0.01, high=1),
        "taken_on": day(taken_on),
        "note": note,
    }
    document = _document(fields)
    kitchen_begin()
    from setwell.services.formulas import version_get
    from setwell.services.readings import measured_ph, version_reading_record

    found = version_get(formula_id=formula_id(formula), number=number).summary
    version_reading_record(formula_id=found.formula_id, number=found.number, document=document)
    typer.echo(f"Recorded: pH {_written(document)} of {found.title}, version {found.number}.")
    counted = measured_ph(content_hash=found.hash)
    if counted is not None and counted.count > 1:
        typer.echo(f"The mean of {counted.count} readings counts: pH {_written(counted)}.")


def _within(text: str, name: str, *, low: float, high: float) -> float:
    value = number_parse(text, field=name)
    if not low <= value <= high:
        raise OutOfRangeError(
            f"{name} {value:g} is not possible: write a number from {low:g} to {high:g}.",
            field=name,
        )
    return value


def day(text: str | None) -> dt.date:
    """Return the day that an option names, or today."""
    from setwell.services.clock import today

    if text is None:
        return today()
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise InputError(
            f"--date {text[:30]!r} is not a day.", field="taken_on", hint="Write it as 2027-03-31."
        ) from None


def _document(fields: dict[str, object]) -> "VersionReading":
    from pydantic import ValidationError

    from setwell.domain.document import document_error
    from setwell.domain.reading import VersionReading

    try:
        return VersionReading.model_validate(fields)
    except ValidationError as error:
        raise document_error(error) from None


def _written(document: "VersionReading") -> str:
    return f"{document.ph:.2f} ± {document.plus_minus:.2f}"
