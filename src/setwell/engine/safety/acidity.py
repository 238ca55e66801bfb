"""Does the food need time and temperature control at all? pH and water activity say."""

from dataclasses import dataclass

from setwell.engine.rules.bench import Bench
from setwell.engine.safety.food_kind import FoodKind, food_kind
from setwell.engine.safety.results import Basis, Ruling, SafetyCheck
from setwell.engine.spans import Spans
from setwell.provenance import Estimate, Evidence
from setwell.tables.rules import TcsCell, tcs_cells

_SECTION, _EDITION = "1-201.10(B)", "Food Code 2022"
_MODEL = "highest pH of the table that needs no control, less the pH"


@dataclass(frozen=True, slots=True)
class Control:
    """The cells of the table that a food may fall into, and what they say together."""

    cells: tuple[TcsCell, ...]
    likely: TcsCell
    is_measured: bool
    is_complete: bool

    @property
    def may_be_free(self) -> bool:
        """True where the likely cell needs no control, so a rule may not apply."""
        return self.is_complete and not self.likely.needs_assessment

    @property
    def is_free(self) -> bool:
        """True where no doubt is left: every cell in reach needs no control, by a reading."""
        proven = self.is_measured and self.is_complete
        return proven and not any(cell.needs_assessment for cell in self.cells)


def control_of(kind: FoodKind, *, is_sealed: bool = False) -> Control:
    """Return the cells of table B, or of table A for food heated and sealed hot, unopened."""
    table = [cell for cell in tcs_cells() if cell.table == ("A" if is_sealed else "B")]
    activity, ph = kind.water_activity, kind.ph
    cells = tuple(cell for cell in table if _touches(cell, activity, ph))
    middle = (float(activity.value[0]), float(ph.value[0]))
    likely = next(cell for cell in table if cell.contains(*middle))
    # A reading of the pH proves a cell only where the pH alone decides.
    by_ph = all(_is_free_by_ph(cell, table) for cell in cells)
    is_proven = kind.is_ph_measured and by_ph
    return Control(cells or (likely,), likely, is_proven, kind.is_complete)


def _is_free_by_ph(cell: TcsCell, table: list[TcsCell]) -> bool:
    """True where no water activity at all needs control at this pH."""
    return not any(other.needs_assessment for other in table if other.ph == cell.ph)


def _touches(cell: TcsCell, activity: Spans, ph: Spans) -> bool:
    """True where the ranges of a food reach into a cell."""
    return all(
        (band.low is None or float(span.high[0]) >= band.low)
        and (band.high is None or float(span.low[0]) <= band.high)
        for band, span in ((cell.water_activity, activity), (cell.ph, ph))
    )


def acidity_check(bench: Bench, *, is_sealed: bool = False, row: int = 0) -> SafetyCheck:
    """Return whether pH and water activity free a food from time and temperature control.

    A computed pH never proves it: then it is "cannot tell" at best. A fail means that the food
    needs control, which is nothing wrong by itself.
    """
    kind = food_kind(bench, row)
    control = control_of(kind, is_sealed=is_sealed)
    if control.is_free:
        ruling = Ruling.PASS
    elif all(cell.needs_assessment for cell in control.cells):
        ruling = Ruling.FAIL
    else:
        ruling = Ruling.CANNOT_TELL
    return SafetyCheck(
        "acidity", "pH and water activity", "Keeps without temperature control", ruling,
        f"{_told(kind)} {_SAYS[ruling]} Table {control.likely.table}, cell "
        f"“{control.likely.key}”.",
        _ACTIONS[ruling], _margin(kind, control), _SECTION, _EDITION, "whole batch",
        _evidence(control), Basis.INFORMATION, not kind.is_ph_measured,
    )  # fmt: skip


_SAYS = {
    Ruling.PASS: "No control of time and temperature is asked.",
    Ruling.FAIL: "It needs control of time and temperature.",
    Ruling.CANNOT_TELL: "It is not proven to keep: treat it as needing control.",
}
_ACTIONS = {
    Ruling.PASS: "Check the pH of every batch in its least acid part.",
    Ruling.FAIL: "Cool, hold and date it by the rules.",
    Ruling.CANNOT_TELL: "Measure the pH of the set food after 24 hours, in its least acid part.",
}


def _told(kind: FoodKind) -> str:
    ph, activity = kind.ph, kind.water_activity
    origin = "read" if kind.is_ph_measured else "computed"
    return (
        f"pH {ph.value[0]:.1f} ({ph.low[0]:.1f} to {ph.high[0]:.1f}, {origin}), water activity "
        f"{activity.value[0]:.2f} ({activity.low[0]:.2f} to {activity.high[0]:.2f}, computed)."
    )


def _margin(kind: FoodKind, control: Control) -> Estimate | None:
    """Return how far the pH is below the limit at the wettest the food may be."""
    wettest = float(kind.water_activity.high[0])
    free = [
        cell.ph.high for cell in tcs_cells()
        if cell.table == control.likely.table and not cell.needs_assessment
        and cell.water_activity.contains(wettest)
    ]  # fmt: skip
    limits = [limit for limit in free if limit is not None]
    if len(limits) < len(free) or not limits:
        return None
    limit = max(limits)
    ph = kind.ph
    return Estimate(
        limit - float(ph.value[0]), "pH", limit - float(ph.high[0]), limit - float(ph.low[0]),
        _MODEL, _evidence(control),
    )  # fmt: skip


def _evidence(control: Control) -> Evidence:
    return tuple(dict.fromkeys(cell.citation for cell in control.cells))
