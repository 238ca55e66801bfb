"""A scaled formula for people, and as JSON."""

from setwell.cli.failure import warning_print
from setwell.cli.screen import Screen
from setwell.cli.shape import json_text
from setwell.services.results import ScaledFormula, ScaledLine
from setwell.units import mass_print, percent_print


def scaled_json(result: ScaledFormula) -> str:
    """Return a scaled formula as JSON text."""
    return json_text("scaled-formula", {"scaled_formula": result})


def scaled_print(result: ScaledFormula) -> None:
    """Print the weights to put on the scale."""
    screen = Screen()
    screen.text(result.title, style="bold")
    step = result.readability_g
    weighed = "" if step is None else f", weighed to {mass_print(step)}"
    screen.text(
        f"{result.target}: {result.factor:.4g} times the formula, batch "
        f"{mass_print(result.batch_g)}{weighed}"
    )
    screen.blank()
    rows = [_row(line) for line in result.lines]
    heads = ("line", "weigh", "exact", "share", "name")
    screen.table(heads, rows, right=(0, 1, 2, 3), fixed=(0, 1, 2, 3))
    for line in result.lines:
        if line.advice:
            screen.text(line.advice, lead=f"  line {line.number}: ")
    said = [line.advice for line in result.lines if line.advice]
    for warning in result.warnings:
        if not any(advice in warning for advice in said):
            warning_print(warning)


def _row(line: ScaledLine) -> tuple[str, str, str, str, str]:
    return (
        str(line.number),
        _grams(line.rounded_g),
        _grams(line.exact_g),
        percent_print(line.percent_rounded) if line.percent_rounded is not None else "",
        line.name or line.text.strip(),
    )


def _grams(grams: float | None) -> str:
    return "not read" if grams is None else mass_print(grams)
