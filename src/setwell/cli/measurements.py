"""`setwell measure`: texture readings, lot checks, and what they move."""

# ruff: noqa: PLC0415, PLR0913 - services load when a command runs; options are arguments

from typing import TYPE_CHECKING, Annotated, Any

import typer

from setwell.cli.given import given
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.reading import day
from setwell.cli.source import formula_id
from setwell.errors import InputError
from setwell.units import number_parse

if TYPE_CHECKING:
    from setwell.domain.document import Document

Number = Annotated[int | None, typer.Option("--version", metavar="N", min=1, help="Else newest.")]
Day = Annotated[str | None, typer.Option("--date", metavar="DAY", help="2027-03-31; else today.")]
Note = Annotated[str, typer.Option("--note", metavar="TEXT", help="A remark.")]
By = Annotated[str, typer.Option("--by", metavar="NAME", help="Who measured.")]
Json = Annotated[bool, typer.Option("--json", help="Print everything as JSON.")]
Plunger = Annotated[
    str | None, typer.Option("--plunger", metavar="MM", help="Plunger across; usually 12.7.")
]
Depth = Annotated[str | None, typer.Option("--depth", metavar="MM", help="How deep it pressed.")]
Rate = Annotated[str | None, typer.Option("--rate", metavar="1/S", help="Shear rate.")]
Sample = Annotated[str | None, typer.Option("--at", metavar="C", help="Sample at so many °C.")]
Sure = Annotated[
    str | None, typer.Option("--plus-minus", metavar="X", help="In percent; temperatures in °C.")
]
Id = Annotated[int, typer.Argument(metavar="NUMBER", min=1, help="As `list` prints it.")]
IsCheck = Annotated[bool, typer.Option("--lot-check", help="The number is that of a lot check.")]
Values = Annotated[list[str] | None, typer.Argument(metavar="[VALUE]...", help="One for each cup.")]

app = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    help="Texture readings and lot checks of this kitchen, and what they move.",
)


@app.command("reading")
def reading(
    formula: Annotated[str, typer.Argument(metavar="ID|TITLE", help="A saved formula.")],
    kind: Annotated[
        str,
        typer.Argument(
            metavar="KIND",
            help="penetration, firmness_press, setting_temperature, melting_temperature, "
            "viscosity, outcome or word.",
        ),
    ],
    values: Values = None,
    *,
    number: Number = None,
    plunger: Plunger = None,
    depth: Depth = None,
    rate: Rate = None,
    at: Sample = None,
    plus_minus: Sure = None,
    lot: Annotated[
        list[str] | None,
        typer.Option("--lot", metavar="AGENT=LOT", help="Else the lot in use; repeatable."),
    ] = None,
    taken_on: Day = None,
    by: By = "",
    note: Note = "",
) -> None:
    """Record a texture reading of a saved version; each value is a cup of its own.

    Example: setwell measure reading "Lime set cream" penetration 310 330 --plunger 12.7
    """
    from setwell.domain.texture_reading import TextureReading

    common = _common(
        plunger=plunger, depth=depth, rate=rate, at=at, plus_minus=plus_minus,
        taken_on=taken_on, by=by, note=note,
    )  # fmt: skip
    common |= {"kind": kind, "lots": _lots(lot or [])}
    given: list[dict[str, Any]] = [{}]
    if kind in {"outcome", "word"}:
        given = [{kind: one} for one in values or []] or [{}]
    elif values:
        given = [{"value": number_parse(one, field="value")} for one in values]
    documents = [_document(TextureReading, common | one) for one in given]
    kitchen_begin()
    from setwell.cli.measurements_print import recorded_print
    from setwell.services.formulas import version_get
    from setwell.services.texture_readings import texture_reading_record

    found = version_get(formula_id=formula_id(formula), number=number)
    place = {"formula_id": found.summary.formula_id, "number": found.summary.number}
    ids = [
        texture_reading_record(document=one, **place)
        for one in documents
        if isinstance(one, TextureReading)
    ]
    recorded_print(found, ids)


@app.command("lot")
def lot_check(
    agent: Annotated[str, typer.Argument(metavar="AGENT", help="The powder, as in the pantry.")],
    test: Annotated[
        str,
        typer.Argument(
            metavar="TEST",
            help="powder_control, water_gel, potassium_gel, milk_gel, bloom or water_viscosity.",
        ),
    ],
    values: Values = None,
    *,
    lot: Annotated[str, typer.Option("--lot", metavar="CODE", help="Its lot code.")] = "",
    outcome: Annotated[
        str | None,
        typer.Option("--outcome", help="set, spread, did_not_set, thickened or stayed_thin."),
    ] = None,
    color: Annotated[str | None, typer.Option("--color", help="white, tan or brown.")] = None,
    flavor: Annotated[str | None, typer.Option("--flavor", help="neutral or marine.")] = None,
    dose: Annotated[str | None, typer.Option("--dose", metavar="PERCENT", help="Powder.")] = None,
    plunger: Plunger = None,
    depth: Depth = None,
    rate: Rate = None,
    at: Sample = None,
    plus_minus: Sure = None,
    taken_on: Day = None,
    by: By = "",
    note: Note = "",
    steps: Annotated[bool, typer.Option("--steps", help="Only print how to do it.")] = False,
) -> None:
    """Record a standard test of a lot, or print how to do it; each value is a cup of its own.

    Example: setwell measure lot "kappa carrageenan" potassium_gel 310 330 --color tan
    """
    from setwell.domain.texture_reading import LotCheck

    common = _common(
        plunger=plunger, depth=depth, rate=rate, at=at, plus_minus=plus_minus,
        taken_on=taken_on, by=by, note=note,
    )  # fmt: skip
    more = {
        "agent": agent, "lot_code": lot, "kind": test, "outcome": outcome, "color": color,
        "flavor": flavor, "dose_pct": given(dose, number_parse, "dose"),
    }  # fmt: skip
    common |= {name: value for name, value in more.items() if value is not None}
    kitchen_begin()
    from setwell.cli.measurements_print import guide_print, lot_print
    from setwell.services.lot_checks import lot_check_record
    from setwell.services.lot_strength import lot_report

    if steps:
        guide_print(agent, test)
        return
    cups = [{"values": (number_parse(one, field="value"),)} for one in values or []] or [{}]
    for document in [_document(LotCheck, common | cup) for cup in cups]:
        if isinstance(document, LotCheck):
            lot_check_record(document=document)
    lot_print(lot_report(agent=agent, lot_code=lot), is_json=False)


@app.command("list")
def list_(*, json: Json = False) -> None:
    """List all texture readings and lot checks, those set aside too.

    Example: setwell measure list --json
    """
    kitchen_begin()
    from setwell.cli.measurements_print import list_print

    list_print(is_json=json)


@app.command("show")
def show(
    name: Annotated[str, typer.Argument(metavar="ID|TITLE|AGENT", help="A formula, or a powder.")],
    *,
    number: Number = None,
    lot: Annotated[
        str | None, typer.Option("--lot", metavar="CODE", help="A lot of that powder instead.")
    ] = None,
    json: Json = False,
) -> None:
    """Print what the measurements move: by the tables only, and now.

    Example: setwell measure show "kappa carrageenan" --lot K-1
    """
    kitchen_begin()
    from setwell.cli.measurements_print import formula_print, lot_print

    if lot is not None:
        from setwell.services.lot_strength import lot_report

        lot_print(lot_report(agent=name, lot_code=lot), is_json=json)
        return
    from setwell.services.formulas import version_get

    formula_print(version_get(formula_id=formula_id(name), number=number), is_json=json)


@app.command("set-aside")
def set_aside(
    number: Id,
    *,
    reason: Annotated[str, typer.Option("--reason", metavar="TEXT", help="Why.")] = "",
    lot_check: IsCheck = False,
) -> None:
    """Keep a measurement, but let it count no longer.

    Example: setwell measure set-aside 1 --reason "the cup was still warm"
    """
    kitchen_begin()
    from setwell.services.lot_checks import lot_check_set_aside
    from setwell.services.texture_readings import texture_reading_set_aside

    (lot_check_set_aside if lot_check else texture_reading_set_aside)(id=number, reason=reason)
    typer.echo(f"Set aside: {'lot check' if lot_check else 'reading'} {number}.")


@app.command("take-back")
def take_back(number: Id, *, lot_check: IsCheck = False) -> None:
    """Let a measurement that was set aside count again.

    Example: setwell measure take-back 1
    """
    kitchen_begin()
    from setwell.services.lot_checks import lot_check_take_back
    from setwell.services.texture_readings import texture_reading_take_back

    (lot_check_take_back if lot_check else texture_reading_take_back)(id=number)
    typer.echo(f"It counts again: {'lot check' if lot_check else 'reading'} {number}.")


@app.command("export")
def export(*, lot_check: IsCheck = False) -> None:
    """Print all texture readings as CSV, or all lot checks.

    Example: setwell measure export --lot-check
    """
    kitchen_begin()
    from setwell.services.lot_checks import lot_check_export_csv
    from setwell.services.texture_readings import texture_reading_export_csv

    typer.echo(lot_check_export_csv() if lot_check else texture_reading_export_csv(), nl=False)


def _common(**options: str | None) -> dict[str, Any]:
    """Return what every measurement says, without what was not given."""
    names = {
        "plunger": "plunger_mm", "depth": "depth_mm", "rate": "shear_rate_per_s",
        "at": "temperature_c", "plus_minus": "plus_minus",
    }  # fmt: skip
    numbers = {
        field: number_parse(text, field=name)
        for name, field in names.items()
        if (text := options[name]) is not None
    }
    said = {"taken_by": options["by"] or "", "note": options["note"] or ""}
    return {**numbers, **said, "taken_on": day(options["taken_on"])}


def _lots(given: list[str]) -> dict[str, str]:
    lots = {}
    for one in given:
        agent, mark, code = one.partition("=")
        if not mark:
            raise InputError(
                f"--lot {one!r} names no lot.",
                field="lots",
                hint="Write it as kappa_carrageenan=K-1.",
            )
        lots["_".join(agent.split())] = code
    return lots


def _document(kind: type["Document"], fields: dict[str, Any]) -> "Document":
    from pydantic import ValidationError

    from setwell.domain.document import document_error

    try:
        return kind.model_validate(fields)
    except ValidationError as error:
        raise document_error(error) from None
