"""pH readings of ingredients: which one of a food is in use, and whose they are."""

import datetime as dt
from collections.abc import Iterable

from setwell.domain.reading import IngredientReading
from setwell.engine.names import name_normalize
from setwell.services.materials import kitchen_catalog
from setwell.services.shelves import READINGS
from setwell.store.name_key import name_key


def food_identity(name: str) -> str:
    """Return the same text for every name that leads a kitchen line to the same food."""
    found = kitchen_catalog().find(name)
    return found.material.key if found is not None else name_normalize(name)


def readings_settle(chosen: Iterable[IngredientReading], *, saved_at: dt.datetime) -> None:
    """Take the other readings of the same foods out of use: one reading of a food is in use.

    Of several that are chosen at once the newest stays, by the day it was taken.
    """
    winners: dict[str, str] = {}
    for reading in sorted(chosen, key=lambda one: one.taken_on or dt.date.min):
        winners[food_identity(reading.material)] = name_key(READINGS.name_of(reading))
    if not winners:
        return
    resting = [
        reading.model_copy(update={"in_use": False})
        for key, reading in READINGS.by_name().items()
        if reading.in_use and winners.get(food_identity(reading.material), key) != key
    ]
    READINGS.put_all(resting, saved_at=saved_at)


def readings_rename(old: str, new: str, *, saved_at: dt.datetime) -> None:
    """Let the readings of an own food follow its new name."""
    if old == new:
        return
    for row_id, reading in READINGS.all():
        if name_key(reading.material) == name_key(old):
            renamed = reading.model_copy(update={"material": new})
            READINGS.put(renamed, row_id=row_id, saved_at=saved_at)
