"""What keeps a nutrition panel a draft."""

from collections.abc import Sequence

from setwell.engine.labels.panel_amounts import PanelAmounts
from setwell.engine.labels.panel_results import Blocker, Form, PanelRow
from setwell.engine.labels.panel_rows import EMPTY


def blockers_of(
    amounts: PanelAmounts,
    rows: Sequence[PanelRow],
    pairs: Sequence[tuple[str, str]],
    row: int,
) -> tuple[Blocker, ...]:
    """Return what keeps a panel a draft: unread lines, unknown amounts, parts above wholes."""
    return (*_unread(amounts, row), *_unknown(rows), *_above_whole(rows, pairs))


def _unread(amounts: PanelAmounts, row: int) -> list[Blocker]:
    plan, told = amounts.bench.plan, []
    wrong = [f"“{reading.line.text.strip()}”" for reading in plan.readings if reading.problem]
    wrong += [f"“{said}”" for _, said in plan.unread_inside()]
    if wrong or plan.problems:
        named = ", ".join(wrong) or " ".join(plan.problems)
        told.append(
            Blocker(
                "lines_open", f"Not everything in the formula is weighed: {named}.",
                "Correct these lines; until then every amount is too low.",
            )
        )  # fmt: skip
    if not amounts.bench.state.composition.finished_g[row] > 0:
        told.append(
            Blocker("batch_empty", "The batch weighs nothing.", "Give the ingredients weights.")
        )
    return told


def _unknown(rows: Sequence[PanelRow]) -> list[Blocker]:
    """One reason for each group of ingredients that leaves the same lines open."""
    groups: dict[tuple[str, ...], list[PanelRow]] = {}
    for row in rows:
        if row.is_mandatory and row.is_unknown and row.unknown_in != (EMPTY,):
            groups.setdefault(row.unknown_in, []).append(row)
    return [
        Blocker(
            "unknown",
            f"{', '.join(_name(row) for row in group)}: no figure for {', '.join(names)}.",
            "Enter it in the pantry from the supplier's sheet, or give an analysis of the "
            "finished food.",
            tuple(row.key for row in group),
        )
        for names, group in groups.items()
    ]


def _above_whole(rows: Sequence[PanelRow], pairs: Sequence[tuple[str, str]]) -> list[Blocker]:
    by_key = {row.key: row for row in rows}
    told = []
    for part_key, whole_key in pairs:
        part, whole = by_key[part_key], by_key[whole_key]
        shown = [(cell.printed.value or 0.0) for cell in (part.cells[0], whole.cells[0])]
        forms = {part.cells[0].printed.form, whole.cells[0].printed.form}
        if Form.UNKNOWN not in forms and shown[0] > shown[1]:
            told.append(
                Blocker(
                    "part_above_whole",
                    f"{_name(part)} {part.cells[0].printed.text} would be more than "
                    f"{_name(whole)} {whole.cells[0].printed.text}: the two come from different "
                    "analyses.",
                    "Give an analysis of the finished food for one of them.",
                    (part_key, whole_key),
                )
            )
    return told


def _name(row: PanelRow) -> str:
    name = row.label.removeprefix("of which ")
    return name[:1].upper() + name[1:]
