"""The bench sheet as plain text, 80 columns wide, with boxes and blanks in characters."""

import textwrap
from collections.abc import Iterable

from setwell.documents.bench_sheet import BenchSheet, SheetStep

WIDTH = 80
_BOX, _BLANK = "[ ]", "____"


def bench_sheet_text(sheet: BenchSheet) -> str:
    """Return the whole sheet as text."""
    blocks = [
        _head(sheet), _weigh(sheet), _lots(sheet), _points(sheet), _do(sheet), _after(),
        _cautions(sheet),
    ]  # fmt: skip
    return "\n\n".join(block for block in blocks if block) + "\n"


def _head(sheet: BenchSheet) -> str:
    rows = [
        *_hanging("", sheet.title.upper()),
        *_hanging("", f"{sheet.kitchen_name} · {sheet.version_label} · {sheet.short_hash}"),
        *(_hanging("", f"{sheet.batch_line}.") if sheet.batch_line else ()),
        *_hanging("", sheet.yield_line),
        "=" * WIDTH,
        f"Made by {_BLANK * 4}  Date {_BLANK * 3}  Started at {_BLANK}  Batch {_BLANK * 2}",
    ]
    for line in (sheet.schedule_line, *sheet.equipment):
        rows += _hanging("", line) if line else []
    found = "; ".join(sheet.allergens) or "none found in what was read"
    rows += _hanging("", f"Allergens: {found}")
    for point in sheet.open_points:
        rows += _hanging("Open: ", point)
    return "\n".join(rows)


def _weigh(sheet: BenchSheet) -> str:
    rows = ["Weigh"]
    for phase in sheet.phases:
        rows += [f"  {phase.heading}"] if phase.heading else []
        for line in phase.lines:
            rows += _hanging(f"  {_BOX} {line.weight:>9}  {line.us:<12} ", line.name or "-")
    return "\n".join(rows)


def _lots(sheet: BenchSheet) -> str:
    rows = [f"  {name}: {lot or _BLANK * 4}" for name, lot in sheet.lots]
    return "\n".join(["Lots", *rows]) if rows else ""


def _points(sheet: BenchSheet) -> str:
    rows = ["Points that decide"] if sheet.points else []
    for point in sheet.points:
        rows += _hanging("  ! ", f"{point.title} ({point.step}): {point.target}. {point.window}")
        rows += _hanging("    ", f"{point.measure} reads {_BLANK} at {_BLANK} ok {_BOX}")
    return "\n".join(rows)


def _do(sheet: BenchSheet) -> str:
    rows = ["Do"]
    for step in sheet.steps:
        rows += _step(step)
    return "\n".join(rows)


def _step(step: SheetStep) -> Iterable[str]:
    decides = f" * {'; '.join(step.points)}" if step.points else ""
    yield from _hanging(f"  {_BOX} {step.number:>2} ", f"{step.text}{decides}")
    yield from _hanging("         ", f"{step.begins}, takes {step.takes}")
    yield from _hanging("         ", "  ".join(f"{name} {_BLANK}" for name in step.blanks))


def _after() -> str:
    blanks = ("pH", "at °C", "set after", "core at unmolding, °C", "weight made, g")
    rows = _hanging("  ", "  ".join(f"{name} {_BLANK}" for name in blanks))
    signed = f"  Checked by {_BLANK * 5}  Signature {_BLANK * 5}"
    return "\n".join(["Afterwards", *rows, f"  What to change {_BLANK * 12}", signed])


def _cautions(sheet: BenchSheet) -> str:
    rows = ["Cautions"]
    for caution in sheet.cautions:
        rows += _hanging("  ! ", f"{caution.title.rstrip('.')}. {caution.text}")
    return "\n".join([*rows, *_hanging("  ", f"{sheet.deferral} {sheet.foot}")])


def _hanging(lead: str, text: str) -> list[str]:
    rows = textwrap.wrap(text, WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead))
    return rows or [lead.rstrip()]
