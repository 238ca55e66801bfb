"""The rows of a panel: amounts, how they are shown, and whether a gap could change that."""

from collections.abc import Mapping, Sequence

from setwell.engine.labels.panel_amounts import PanelAmounts
from setwell.engine.labels.panel_results import PanelCell, PanelColumn, PanelRow
from setwell.engine.labels.printing import UNKNOWN, amount_print, share_print, tolerance_of
from setwell.provenance import Estimate, Evidence, evidence_join
from setwell.tables.labels.panel_tables import PanelLine, panel_lines, roundings

_MODEL = "composition of the ingredients added up, per finished weight"
# Stands where nothing is weighed and so nothing is known.
EMPTY = "an empty batch"
_WIDE = "Our range is wider than the tolerance: only an analysis can tell."


def panel_rows(
    amounts: PanelAmounts,
    columns: Sequence[PanelColumn],
    mixes: Mapping[str, Mapping[str, float]],
    row: int,
) -> tuple[PanelRow, ...]:
    """Return the lines of a market's panel; `mixes` says what each line adds up."""
    return tuple(
        _panel_row(amounts, columns, line, mixes.get(line.row, {line.row: 1.0}), row)
        for line in panel_lines(amounts.market)
    )


def _panel_row(
    amounts: PanelAmounts,
    columns: Sequence[PanelColumn],
    line: PanelLine,
    mix: Mapping[str, float],
    row: int,
) -> PanelRow:
    value, half, above, below = (float(part[row]) for part in amounts.mixed(mix))
    is_empty = not amounts.bench.state.composition.finished_g[row] > 0
    is_open = is_empty or any(
        changes(amounts.market, line.row, value, above, below, column.grams / 100.0)
        for column in columns
    )
    unknown = amounts.unknown_in(mix, row) if is_open and not is_empty else ()
    rule = tuple(band.citation for band in roundings(amounts.market)[line.row].bands)
    evidence = evidence_join([amounts.evidence(mix, row), rule])
    cells = []
    for column in columns:
        scale = column.grams / 100.0
        spread = (value * scale, half * scale, above * scale, below * scale)
        estimate = _estimate(spread, line, evidence, is_open=is_open)
        cells.append(_cell(amounts.market, line, estimate, is_open=is_open))
    tolerance = tolerance_of(amounts.market, line.row, cells[0].estimate, cells[0].printed)
    least = line.insignificant_below
    return PanelRow(
        key=line.row,
        label=line.label,
        indent=line.indent,
        unit=line.unit,
        cells=tuple(cells),
        is_mandatory=line.is_mandatory,
        is_insignificant=not is_open and least is not None and cells[0].estimate.value < least,
        unknown_in=unknown or ((EMPTY,) if is_open else ()),
        tolerance=tolerance,
        remark=_WIDE if tolerance is not None and tolerance.is_wide else "",
    )


def changes(market: str, row: str, value: float, above: float, below: float, scale: float) -> bool:
    """Tell whether what is unknown could change what is shown."""
    if not above and not below:
        return False
    texts = {
        amount_print(market, row, max(part, 0.0) * scale).text
        for part in (value, value + above, value - below)
    }
    return len(texts) > 1


def _cell(market: str, line: PanelLine, estimate: Estimate, *, is_open: bool) -> PanelCell:
    shown = UNKNOWN if is_open else amount_print(market, line.row, estimate.value)
    return PanelCell(
        estimate, shown, share_print(market, line.row, line.share, estimate.value, shown)
    )


def _estimate(
    spread: tuple[float, float, float, float],
    line: PanelLine,
    evidence: Evidence,
    *,
    is_open: bool,
) -> Estimate:
    value, half, above, below = spread
    low = max(value - half - below, 0.0)
    if is_open:
        side = "lower bound" if above else "upper bound"
        high = None if above else value + half
        return Estimate(value, line.unit, low, high, _MODEL, evidence, (side,))
    flags: tuple[str, ...] = ("a gap too small to show",) if above or below else ()
    return Estimate(value, line.unit, low, value + half + above, _MODEL, evidence, flags)
