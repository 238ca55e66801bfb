"""The pantry as one value, and the catalog the engine reads names from."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

from setwell.domain.pantry import Pantry
from setwell.engine.catalog import Catalog, catalog_build
from setwell.errors import InputError
from setwell.services.revision import pantry_revision
from setwell.services.shelves import AGENTS, FOODS, LOTS, MOLDS, PRICES, VESSELS, kitchen_read

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class KitchenCatalog:
    """A catalog, and which things of the pantry could not be part of it."""

    catalog: Catalog
    warnings: tuple[str, ...]


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
    )


def kitchen_catalog() -> Catalog:
    """Return the catalog of the tables and this kitchen; built anew when the pantry changed."""
    return _built_at(pantry_revision()).catalog


def pantry_warnings() -> tuple[str, ...]:
    """Return what of the pantry cannot be used at present, and why."""
    return _built_at(pantry_revision()).warnings


@lru_cache(maxsize=1)
def table_catalog() -> Catalog:
    """Return the catalog of the shipped tables alone."""
    return catalog_build(Pantry())


@lru_cache(maxsize=2)
def _built_at(revision: str) -> KitchenCatalog:  # noqa: ARG001 - the key of the cache
    return catalog_with_warnings(pantry_read())


def catalog_with_warnings(pantry: Pantry) -> KitchenCatalog:
    """Return the catalog of a pantry, leaving out what the tables no longer support.

    A thing is checked when it is saved; a later edition of the tables may still drop the food
    that it was based on. That must not stop every other formula.
    """
    try:
        return KitchenCatalog(catalog_build(pantry), ())
    except InputError:
        foods, food_warnings = _usable(pantry.foods, lambda one: Pantry(foods=(one,)))
        agents, agent_warnings = _usable(pantry.agents, lambda one: Pantry(agents=(one,)))
    kept = pantry.model_copy(update={"foods": foods, "agents": agents})
    return KitchenCatalog(catalog_build(kept), (*food_warnings, *agent_warnings))


def _usable(
    things: tuple[T, ...], alone: Callable[[T], Pantry]
) -> tuple[tuple[T, ...], tuple[str, ...]]:
    kept: list[T] = []
    warnings: list[str] = []
    for thing in things:
        try:
            catalog_build(alone(thing))
        except InputError as error:
            warnings.append(f"Left out of every formula: {error}")
        else:
            kept.append(thing)
    return tuple(kept), tuple(warnings)
