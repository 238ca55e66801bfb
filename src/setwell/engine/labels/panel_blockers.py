"""What keeps a nutrition panel a draft."""

from collections.abc import Sequence

from setwell.engine.labels.contents import COMPONENT_INDEX
from setwell.engine.labels.panel_amounts import PanelAmounts
from setwell.engine.labels.panel_results import Blocker, Form, PanelCell, PanelRow
from setwell.engine.labels.panel_rows import EMPTY


def blockers_of(
    amounts: PanelAmounts,
    rows: Sequence[PanelRow],
    pairs: Sequence[tuple[str, str]],
    row: int,
) -> tuple[Blocker, ...]:
    """Return what keeps a panel a draft: unread lines, unknown amounts, parts above wholes."""
    return (*_unread(amounts, row), *_unknown(rows), *_above_whole(amounts, rows, pairs))


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
            f"{_names(group)}: no figure for {', '.join(names)}.",
            "Enter it in the pantry from the supplier's sheet, or give an analysis of the "
            "finished food.",
            tuple(row.key for row in group),
        )
        for names, group in groups.items()
    ]


def _above_whole(
    amounts: PanelAmounts, rows: Sequence[PanelRow], pairs: Sequence[tuple[str, str]]
) -> list[Blocker]:
    by_key = {row.key: row for row in rows}
    told = []
    for part_key, whole_key in pairs:
        part, whole = by_key[part_key], by_key[whole_key]
        wrong = _above(part, whole)
        if wrong is None:
            continue
        more, less = wrong
        foods = _causes(amounts, part_key, whole_key)
        why = f" In {', '.join(foods)} they are so by themselves." if foods else ""
        told.append(
            Blocker(
                "part_above_whole",
                f"{_name(part)} {more.printed.text} would be more than "
                f"{_name(whole)} {less.printed.text}: the two come from different "
                f"analyses.{why}",
                "Give an analysis of the finished food for one of them, or enter the food from "
                "its supplier's sheet.",
                (part_key, whole_key),
            )
        )
    return told


def is_row_above(part: PanelRow, whole: PanelRow) -> bool:
    """Tell whether a part would print above its whole in any column."""
    return _above(part, whole) is not None


def _above(part: PanelRow, whole: PanelRow) -> tuple[PanelCell, PanelCell] | None:
    pairs = zip(part.cells, whole.cells, strict=True)
    return next((pair for pair in pairs if _is_above(*pair)), None)


def _is_above(part: PanelCell, whole: PanelCell) -> bool:
    """Compare what is printed; a "less than" is compared before rounding."""
    forms = {part.printed.form, whole.printed.form}
    if Form.UNKNOWN in forms or part.printed.text == whole.printed.text:
        return False
    if Form.LESS_THAN in forms:
        return part.estimate.value > whole.estimate.value
    return (part.printed.value or 0.0) > (whole.printed.value or 0.0)


def _causes(amounts: PanelAmounts, part_key: str, whole_key: str) -> list[str]:
    """Return the foods whose part is above the whole in the tables, as milk has its lactose."""
    if amounts.analyzed & {part_key, whole_key}:
        return []
    value = amounts.contents.value
    part, whole = value[:, COMPONENT_INDEX[part_key]], value[:, COMPONENT_INDEX[whole_key]]
    used = amounts.bench.state.masses.max(axis=0) > 0
    return [
        material.name
        for material, is_above in zip(
            amounts.bench.plan.materials, (part > whole) & used, strict=True
        )
        if is_above
    ]


def _names(rows: Sequence[PanelRow]) -> str:
    return ", ".join(dict.fromkeys(_name(row) for row in rows))


def _name(row: PanelRow) -> str:
    name = row.label.removeprefix("of which ")
    return name[:1].upper() + name[1:]
