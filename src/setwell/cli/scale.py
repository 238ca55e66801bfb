"""`setwell scale`: the same formula at another size."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

import re
from pathlib import Path
from typing import Annotated, Any

import typer

from setwell.cli.batch import Readability, grams_parse
from setwell.cli.check import FileName
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import formula_source
from setwell.cli.target import text_write
from setwell.errors import InputError
from setwell.units import mass_parse, volume_parse

_TIMES = re.compile(r"\s*(?P<count>\d{1,6})\s*[x×*]\s*(?P<each>.+)", re.IGNORECASE)


def scale(  # noqa: PLR0913 - one option for each thing to choose
    file: FileName,
    *,
    to: Annotated[
        str | None, typer.Option("--to", metavar="WEIGHT", help="Finished weight, as in 2kg.")
    ] = None,
    portions: Annotated[
        str | None,
        typer.Option("--portions", metavar="NxWEIGHT", help="Portions, as in 12x90g."),
    ] = None,
    molds: Annotated[
        str | None, typer.Option("--molds", metavar="NxVOLUME", help="Molds, as in 24x80mL.")
    ] = None,
    readability: Readability = None,
    large: Annotated[
        bool,
        typer.Option("--large", help="Batches, heat and cold at that size, premix, shopping."),
    ] = False,
    vessel: Annotated[
        str, typer.Option("--vessel", metavar="NAME", help="With --large: a vessel.")
    ] = "",
    hob: Annotated[str, typer.Option("--hob", metavar="NAME", help="With --large: a hob.")] = "",
    cooler: Annotated[
        str, typer.Option("--cold-place", metavar="NAME", help="With --large: a cold place.")
    ] = "",
    batches: Annotated[
        int | None, typer.Option("--batches", metavar="N", help="With --large: so many batches.")
    ] = None,
    shopping: Annotated[
        Path | None,
        typer.Option("--shopping", metavar="OUT", help="With --large: write what to buy as CSV."),
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Write over an existing file.")] = False,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """Print the weights of a formula at another size, rounded to what the scale shows.

    Example: setwell scale cream.txt --portions 12x90g --readability 0.1
    """
    if sum(option is not None for option in (to, portions, molds)) != 1:
        raise typer.BadParameter("give exactly one of --to, --portions and --molds")
    target = _target(to, portions, molds)
    step = None if readability is None else grams_parse(readability)
    if not large and (vessel or hob or cooler or batches is not None or shopping):
        raise typer.BadParameter(
            "--vessel, --hob, --cold-place, --batches and --shopping belong to --large"
        )
    kitchen_begin()
    if large:
        equipment = {"vessel": vessel, "hob": hob, "cooler": cooler, "batches": batches}
        _large(file, {**target, "readability_g": step, **equipment}, json=json)
        if shopping is not None:
            _shopping(file, {**target, "readability_g": step, **equipment}, shopping, force=force)
        return
    from setwell.cli.scaled_print import scaled_json, scaled_print
    from setwell.services.scaling import formula_scale

    result = formula_scale(formula=formula_source(file).formula, readability_g=step, **target)
    if json:
        typer.echo(scaled_json(result))
    else:
        scaled_print(result)


def _large(file: str, asked: dict[str, Any], *, json: bool) -> None:
    from setwell.cli.large_print import large_json, large_print
    from setwell.services.scale_up import ScaleUpAsk, scale_up_of

    source = formula_source(file)
    made = scale_up_of(
        formula=source.formula,
        ask=ScaleUpAsk(**asked),
        formula_id=source.formula_id,
        number=source.number,
    )
    if json:
        typer.echo(large_json(made))
    else:
        large_print(made)


def _shopping(file: str, asked: dict[str, Any], output: Path, *, force: bool) -> None:
    from setwell.services.scale_up import ScaleUpAsk
    from setwell.services.shopping_table import shopping_csv_of

    source = formula_source(file)
    content = shopping_csv_of(
        formula=source.formula,
        ask=ScaleUpAsk(**asked),
        formula_id=source.formula_id,
        number=source.number,
    )
    text_write(content, output=output, overwrite=force)


def _target(to: str | None, portions: str | None, molds: str | None) -> dict[str, Any]:
    if to is not None:
        return {"to_grams": mass_parse(to, field="to")}
    if portions is not None:
        count, each = _times(portions, option="--portions", example="12x90g")
        return {"portions_of": (count, mass_parse(each, field="portions"))}
    count, each = _times(molds or "", option="--molds", example="24x80mL")
    return {"molds": (count, volume_parse(each, field="molds"))}


def _times(text: str, *, option: str, example: str) -> tuple[int, str]:
    match = _TIMES.fullmatch(text)
    if match is None:
        raise InputError(
            f"{option} {text[:40]!r} does not say how many of what size.",
            hint=f"Write it like {example}.",
        )
    return int(match["count"]), match["each"]
