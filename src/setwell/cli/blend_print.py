"""Blends for people, and as JSON."""

from setwell.cli.failure import warning_print
from setwell.cli.screen import SEVERITY_STYLES, Screen
from setwell.cli.shape import json_text
from setwell.services.blend_explorer import (
    BlendAnswer,
    BlendPoint,
    Span,
    blend_kinds,
    span_text,
)
from setwell.units import percent_print

_HEADS = ("becomes", "stiff kPa", "break kPa", "strain", "mPa·s")


def blend_json(answer: BlendAnswer) -> str:
    """Return a blend as JSON text."""
    return json_text(
        "blend",
        {
            "blend": answer.grid,
            "texture": answer.texture,
            "findings": answer.findings,
            "cautions": answer.cautions,
        },
    )


def blend_print(answer: BlendAnswer) -> None:
    """Print the blend itself, all ratios, other doses, and the kitchen lines."""
    grid, screen = answer.grid, Screen()
    screen.text(answer.formula.title, style="bold")
    names = " to ".join(agent.line_name for agent in grid.agents)
    names = f"{names[:1].upper()}{names[1:]}"
    screen.text(f"{names} at {_ratio(grid.shares)}, {percent_print(grid.dose_pct)} together:")
    screen.text(answer.texture.sentence)
    for note in answer.texture.notes:
        screen.text(note.text)
    for finding in answer.findings:
        screen.text(
            f"{finding.title}. {finding.text} {finding.action}".strip(),
            style=SEVERITY_STYLES[finding.severity.value], lead=f"{finding.severity.value}: ",
        )  # fmt: skip
    screen.heading(f"Every ratio at {percent_print(grid.dose_pct)}")
    marks = {best.shares: best.what for best in reversed(grid.best)}
    _table(screen, "ratio", [(_ratio(p.shares), p, marks.get(p.shares, "")) for p in grid.ratios])
    for best in grid.best:
        screen.text(f"{best.what.capitalize()} at {_ratio(best.shares)}.")
    screen.heading(f"Other doses at {_ratio(grid.shares)}")
    _table(screen, "dose", [(percent_print(p.dose_pct), p, "") for p in grid.doses])
    screen.text("Stiffness, stress and strain at break with their ranges: --json.")
    screen.heading("Kitchen lines")
    for line in answer.formula.ingredients.splitlines():
        screen.text(line, lead="  ")
    for number, step in enumerate(answer.formula.steps.splitlines(), start=1):
        screen.text(step, lead=f"  {number}. ")
    for said in (*grid.remarks, *grid.warnings):
        warning_print(said)
    for caution in answer.cautions:
        screen.text(caution.text, lead="Caution: ")


def _table(screen: Screen, head: str, rows: list[tuple[str, BlendPoint, str]]) -> None:
    kinds = {one.key: one.name for one in blend_kinds()}
    screen.table(
        (head, *_HEADS, ""),
        [
            (
                name, kinds[point.kind], _value(point.modulus_kpa), _value(point.stress_kpa),
                _value(point.strain), _value(point.thickness_mpa_s), mark,
            )
            for name, point, mark in rows
        ],
        right=(2, 3, 4, 5), fixed=(0, 1, 2, 3, 4, 5),
    )  # fmt: skip


def _value(span: Span | None) -> str:
    return span_text(span).partition(" (")[0]


def _ratio(shares: tuple[float, ...]) -> str:
    return ":".join(f"{100.0 * share:.0f}" for share in shares)
