"""The kitchen: open it, its front page, its settings."""

import datetime as dt
from collections import Counter
from dataclasses import dataclass

from setwell.domain.pantry import Kitchen, Pantry
from setwell.services.clock import now, today
from setwell.services.demo import demo_load, demo_name
from setwell.services.formulas import FormulaSummary, formula_list
from setwell.services.materials import pantry_read
from setwell.services.pantry import LotRow, lot_list
from setwell.services.pantry_checks import pantry_warnings
from setwell.services.revision import pantry_touch
from setwell.services.shelves import kitchen_read, kitchen_write
from setwell.store.settings_rows import setting_get, setting_put
from setwell.store.transactions import writing
from setwell.store.upkeep import database_prepare

RECENT = 8
# A month is time enough to use a lot up or to order another.
EXPIRY_NOTICE = dt.timedelta(days=30)
_DEMO = "demo_offered_at"


@dataclass(frozen=True, slots=True)
class KitchenHome:
    """What the front page shows."""

    kitchen: Kitchen
    is_demo: bool
    recent: tuple[FormulaSummary, ...]
    formula_count: int
    lots_expiring: tuple[LotRow, ...]
    warnings: tuple[str, ...]


def kitchen_open(*, load_demo: bool) -> None:
    """Make the kitchen's folder and database ready; an empty one gets the demo once, if wanted."""
    database_prepare()
    if not load_demo or setting_get(_DEMO):
        return
    with writing():
        # Asked again inside: two starts at the same moment must not load it twice.
        if setting_get(_DEMO):
            return
        setting_put(_DEMO, now().isoformat())
        if not _is_in_use():
            demo_load()


def kitchen_home() -> KitchenHome:
    """Return what the front page shows."""
    formulas = formula_list()
    pantry = pantry_read()
    return KitchenHome(
        kitchen=pantry.kitchen,
        is_demo=pantry.kitchen.name == demo_name(),
        recent=formulas[:RECENT],
        formula_count=len(formulas),
        lots_expiring=_lots_expiring(today()),
        warnings=(*pantry_warnings(pantry), *_same_titles(formulas)),
    )


def kitchen_settings_get() -> Kitchen:
    """Return the kitchen's settings."""
    return kitchen_read()


def kitchen_settings_save(*, kitchen: Kitchen) -> None:
    """Save the kitchen's settings."""
    with writing():
        kitchen_write(kitchen)
        pantry_touch()


def _is_in_use() -> bool:
    return bool(formula_list() or formula_list(archived=True) or pantry_read() != Pantry())


def _lots_expiring(day: dt.date) -> tuple[LotRow, ...]:
    """Return the lots that are past their day or soon will be, the most urgent first."""
    last = day + EXPIRY_NOTICE
    dated = [
        (row.lot.best_before, row)
        for row in lot_list()
        if row.lot.best_before is not None and row.lot.best_before <= last
    ]
    return tuple(row for _, row in sorted(dated, key=lambda pair: (pair[0], pair[1].id)))


def _same_titles(formulas: tuple[FormulaSummary, ...]) -> tuple[str, ...]:
    counts = Counter(formula.title.casefold() for formula in formulas)
    doubled = {f.title.casefold(): f.title for f in formulas if counts[f.title.casefold()] > 1}
    return tuple(
        f"{counts[key]} formulas are called “{title}”. As an ingredient the one saved last is "
        "used; rename the others."
        for key, title in sorted(doubled.items())
    )
