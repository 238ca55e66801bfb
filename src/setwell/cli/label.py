"""`setwell label`: the draft of a label, as text, JSON or PDF."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setwell.cli.check import FileName
from setwell.cli.failure import failure_print, warning_print
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.paper import SheetPaper
from setwell.cli.source import FormulaSource, formula_source
from setwell.cli.target import bytes_write
from setwell.errors import InputError
from setwell.units import mass_parse

if TYPE_CHECKING:
    from setwell.services.labels import LabelAnswer

_WEIGHT = re.compile(r"\s*[\d.,]+\s*[a-zA-Z]+\s*$")


def label(  # noqa: PLR0913 - one parameter per option
    file: FileName,
    *,
    market: Annotated[
        str | None,
        typer.Option("--market", metavar="us|eu", help="Whose rules; as kept, or else us."),
    ] = None,
    serving: Annotated[
        str | None,
        typer.Option(
            "--serving",
            metavar="KEY|WEIGHT",
            help="What it is eaten as, such as gelatin_pudding, or an own weight, as in 90g.",
        ),
    ] = None,
    container: Annotated[
        str | None,
        typer.Option("--container", metavar="WEIGHT", help="What one package holds, as in 500g."),
    ] = None,
    category: Annotated[
        str | None,
        typer.Option("--category", metavar="KEY", help="Kind of food, such as set_dessert."),
    ] = None,
    may_contain: Annotated[
        str, typer.Option("--may-contain", metavar="TEXT", help="Traces, in your own words.")
    ] = "",
    keep: Annotated[
        bool,
        typer.Option(
            "--keep",
            help="Keep these choices with the saved formula; they count where no option is given.",
        ),
    ] = False,
    analyzed: Annotated[
        list[str] | None,
        typer.Option(
            "--analyzed",
            metavar="NAME=AMOUNT",
            help="Found by analysis in 100 g, as in iron=0.4; may be repeated.",
        ),
    ] = None,
    unrounded: Annotated[
        bool, typer.Option("--unrounded", help="Add the values before rounding.")
    ] = False,
    final: Annotated[
        bool, typer.Option("--final", help="Exit with 1 while something stands against final.")
    ] = False,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
    pdf: Annotated[
        Path | None, typer.Option("--pdf", metavar="OUT", help="Write a PDF file.")
    ] = None,
    paper: Annotated[
        SheetPaper, typer.Option("--paper", metavar="A4|Letter", help="Paper of the PDF.")
    ] = SheetPaper.A4,
    force: Annotated[bool, typer.Option("--force", help="Write over an existing file.")] = False,
) -> None:
    """Print the draft of a label: nutrition panel, ingredient statement, what is missing.

    Example: setwell label cream.txt --market eu --category set_dessert
    """
    kitchen_begin()
    fields = {
        "market": (market or "").strip().casefold(),
        "category": category or "",
        "may_contain": may_contain,
        "container_g": _grams(container, "container"),
        "stage": "final" if final else "",
        "analyzed": "\n".join(one.replace("=", " ") for one in analyzed or ()),
        **_serving(serving),
    }
    answer = _answer(file, fields, keeps=keep)
    _show(answer, is_json=json, has_figures=unrounded, is_shown=json or pdf is None)
    if pdf is not None:
        from setwell.services.labels import label_pdf

        content = label_pdf(label=answer.label, paper=paper.value)
        bytes_write(content, output=pdf, overwrite=force)
    for problem in answer.problems:
        failure_print(problem)
    if answer.problems:
        raise typer.Exit(1)


def _answer(file: str, typed: dict[str, object], *, keeps: bool) -> "LabelAnswer":
    from setwell.services.labels import ask_first, ask_make, choices_keep, label_get

    source = formula_source(file)
    fields = _with_kept(typed, source)
    made = ask_make(fields, ask_first(source.formula))
    for problem in made.problems:
        raise problem
    if keeps:
        if source.formula_id is None or source.number is None:
            raise InputError(
                f"{file} is not saved, so nothing can be kept with it.",
                field="keep",
                hint="Import it with `setwell import`, then name it by its title.",
            )
        choices_keep(formula_id=source.formula_id, number=source.number, fields=fields)
        warning_print(f"Kept with version {source.number}.")
    return label_get(
        formula=source.formula,
        formula_id=source.formula_id,
        number=source.number,
        ask=made.ask,
    )


def _with_kept(typed: dict[str, object], source: FormulaSource) -> dict[str, object]:
    """Return the fields with what was kept where nothing was typed; an own serving is one."""
    from setwell.services.labels import choices_kept

    given = {name: value for name, value in typed.items() if value not in (None, "")}
    if source.formula_id is None or source.number is None:
        return given
    market = str(typed["market"])
    kept = choices_kept(formula_id=source.formula_id, number=source.number, market=market)
    fields: dict[str, object] = dict(kept.fields) if kept else {}
    if "reference" in given:
        fields.pop("serving_g", None)
    return fields | given


def _show(answer: "LabelAnswer", *, is_json: bool, has_figures: bool, is_shown: bool) -> None:
    from setwell.cli.shape import json_text
    from setwell.services.labels import label_text

    if not is_shown:
        return
    if is_json:
        parts = {"label": answer.label, "panel": answer.panel, "statement": answer.statement}
        typer.echo(json_text("label", parts))
    else:
        typer.echo(label_text(label=answer.label, has_figures=has_figures), nl=False)


def _serving(given: str | None) -> dict[str, object]:
    """Return a key of a reference amount, or an own weight."""
    if given is None:
        return {}
    if _WEIGHT.match(given):
        return {"serving_g": _grams(given, "serving")}
    return {"reference": given.strip()}


def _grams(given: str | None, field: str) -> float | None:
    return None if given is None else mass_parse(given, field=field)
