"""Lots: which one of an agent is in use, and whose lots they are."""

import datetime as dt
from collections.abc import Iterable

from setwell.domain.pantry import Lot
from setwell.services.materials import table_catalog
from setwell.services.shelves import LOTS
from setwell.store.name_key import name_key


def agent_identity(name: str) -> str:
    """Return the same text for every name of the same agent."""
    catalog = table_catalog()
    if f"agent:{name}" in catalog.materials:
        return f"agent:{name}"
    found = catalog.find(name)
    return found.material.key if found is not None else name_key(name)


def lots_settle(in_use: Iterable[Lot], *, saved_at: dt.datetime) -> None:
    """Take the other lots of the same agents out of use: one lot of an agent is in use."""
    winners = {agent_identity(lot.agent): name_key(LOTS.name_of(lot)) for lot in in_use}
    if not winners:
        return
    resting = [
        lot.model_copy(update={"in_use": False})
        for key, lot in LOTS.by_name().items()
        if lot.in_use and winners.get(agent_identity(lot.agent), key) != key
    ]
    LOTS.put_all(resting, saved_at=saved_at)


def lots_rename(old: str, new: str, *, saved_at: dt.datetime) -> None:
    """Let the lots of an agent follow its new name."""
    if old == new:
        return
    for row_id, lot in LOTS.all():
        if name_key(lot.agent) == name_key(old):
            LOTS.put(lot.model_copy(update={"agent": new}), row_id=row_id, saved_at=saved_at)
