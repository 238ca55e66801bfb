"""The pantry as one value, and the catalog the engine reads names from."""

from functools import lru_cache

from setwell.domain.pantry import Pantry
from setwell.engine.catalog import Catalog, catalog_build
from setwell.services.revision import pantry_revision
from setwell.services.shelves import (
    AGENTS,
    COOLERS,
    FOODS,
    HOBS,
    LOTS,
    MOLDS,
    PRICES,
    READINGS,
    VESSELS,
    kitchen_read,
)


def pantry_read() -> Pantry:
    """Return everything the kitchen has of its own."""
    return Pantry(
        kitchen=kitchen_read(),
        foods=FOODS.documents(),
        agents=AGENTS.documents(),
        lots=LOTS.documents(),
        prices=PRICES.documents(),
        molds=MOLDS.documents(),
        vessels=VESSELS.documents(),
        hobs=HOBS.documents(),
        coolers=COOLERS.documents(),
        readings=READINGS.documents(),
    )


def kitchen_catalog() -> Catalog:
    """Return the catalog of the tables and this kitchen; built anew when the pantry changed."""
    return _catalog_at(pantry_revision())


@lru_cache(maxsize=1)
def table_catalog() -> Catalog:
    """Return the catalog of the shipped tables alone."""
    return catalog_build(Pantry())


@lru_cache(maxsize=2)
def _catalog_at(revision: str) -> Catalog:  # noqa: ARG001 - the key of the cache
    return catalog_build(pantry_read())
