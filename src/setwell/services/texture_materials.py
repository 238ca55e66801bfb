"""The pantry as it was for a reading: with the lots in use that the reading names."""

from collections.abc import Mapping
from functools import lru_cache

from setwell.domain.pantry import Lot
from setwell.engine.batch_marks import lot_label
from setwell.engine.catalog import Catalog, catalog_build
from setwell.services.materials import kitchen_catalog, pantry_read
from setwell.services.revision import pantry_revision

_KEPT = 8


def catalog_with_lots(lots: Mapping[str, str]) -> Catalog:
    """Return the kitchen's catalog with these lots in use, by agent key.

    A lot that is no longer on the shelf counts as a powder of the usual strength.
    """
    catalog = kitchen_catalog()
    in_use = {
        material.agent.key: set[str]()
        for material in catalog.materials.values()
        if material.agent is not None and material.agent.key in lots
    }
    for material in catalog.materials.values():
        if material.agent is not None and material.agent.key in in_use and material.agent.lot:
            in_use[material.agent.key].add(lot_label(material))
    if all(in_use[key] <= {lots[key]} and (not lots[key] or in_use[key]) for key in in_use):
        return catalog
    return _catalog_with(pantry_revision(), tuple(sorted(lots.items())))


@lru_cache(maxsize=_KEPT)
def _catalog_with(revision: str, lots: tuple[tuple[str, str], ...]) -> Catalog:  # noqa: ARG001
    pantry, wanted = pantry_read(), dict(lots)
    catalog = kitchen_catalog()
    settled = tuple(_settled(lot, wanted, catalog) for lot in pantry.lots)
    return catalog_build(pantry.model_copy(update={"lots": settled}))


def _settled(lot: Lot, wanted: Mapping[str, str], catalog: Catalog) -> Lot:
    key, label = agent_of_lot(lot, catalog)
    if key not in wanted:
        return lot
    # Two lots of one agent in a batch are joined by a plus; a code may hold one itself.
    named = {wanted[key], *wanted[key].split(" + ")}
    return lot.model_copy(update={"in_use": label in named})


def agent_of_lot(lot: Lot, catalog: Catalog) -> tuple[str, str]:
    """Return the key of the table agent that a lot is of, and the label that tells it apart."""
    found = catalog.materials.get(f"agent:{lot.agent}")
    if found is None:
        match = catalog.find(lot.agent)
        found = match.material if match is not None else None
    if found is None or found.agent is None:
        return "", lot.lot_code
    is_own = found.key.startswith("own:")
    return found.agent.key, f"{found.name} · {lot.lot_code}" if is_own else lot.lot_code
