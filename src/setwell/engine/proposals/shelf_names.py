"""The names of a brief's shelf, read against the catalog."""

from dataclasses import dataclass

from setwell.domain.brief import Brief
from setwell.engine.blend_formula import agents_nearest
from setwell.engine.catalog import Catalog, Found
from setwell.engine.material import Material
from setwell.engine.names import name_normalize
from setwell.engine.proposals.results import FellOut
from setwell.errors import InputError, UnknownNameError
from setwell.tables.agents import agent_rows

_LEFT_OUT = "left out by the brief"
_CAUSE = "the agents to leave out"


@dataclass(frozen=True, slots=True)
class OnShelf:
    """The agents asked for, one of each table key, and those that the brief leaves out."""

    materials: tuple[Material, ...]
    left_out: tuple[FellOut, ...]
    remarks: tuple[str, ...]

    @property
    def causes(self) -> tuple[str, ...]:
        """The field of the brief that leaves agents out, where it does."""
        return (_CAUSE,) if self.left_out else ()


def on_shelf(brief: Brief, catalog: Catalog) -> OnShelf:
    """Return the agents of a brief's shelf. Raises InputError at `shelf` or `without`."""
    wanted = _named(brief, catalog) if brief.shelf else _all(catalog)
    gone = {one.key: name for name in brief.without for one in _meant(name, catalog)}
    both = [one for one in wanted if one.key in gone] if brief.shelf else []
    if both:
        raise _both(both[0], gone[both[0].key])
    kept, remarks = _one_each([one for one in wanted if one.key not in gone])
    out = tuple(
        FellOut((_table_key(one),), one.name, _LEFT_OUT) for one in wanted if one.key in gone
    )
    assumed = _assumed(brief, catalog) if brief.shelf else ()
    return OnShelf(kept, out, (*assumed, *remarks))


def _all(catalog: Catalog) -> list[Material]:
    """Return every agent; the kitchen's own stand first, so that they win over the table's."""
    agents = [one for one in catalog.materials.values() if one.agent is not None]
    return sorted(agents, key=lambda one: not _is_own(one))


def _is_own(material: Material) -> bool:
    return material.key.startswith("own:")


def _named(brief: Brief, catalog: Catalog) -> list[Material]:
    found = [_found(name, "shelf", catalog).material for name in brief.shelf]
    return list({material.key: material for material in found}.values())


def _found(name: str, field: str, catalog: Catalog) -> Found:
    shown = name.strip()[:60]
    if not shown:
        raise InputError("One of the names is empty.", field=field, hint="Take that line out.")
    found = catalog.find(name)
    if found is None:
        near = agents_nearest(name, catalog)
        offer = f"Nearest: {', '.join(near)}." if near else "Choose one from the list."
        raise UnknownNameError(f"“{shown}” is not known.", field=field, hint=offer, nearest=near)
    if found.material.agent is None:
        near = agents_nearest(name, catalog)
        raise InputError(
            f"“{shown}” is not a texture agent.",
            field=field,
            hint=f"Nearest agents: {', '.join(near)}."
            if near
            else "Name a gum, starch or gelatin.",
        )
    return found


def _assumed(brief: Brief, catalog: Catalog) -> tuple[str, ...]:
    """Return what a name was taken for, where the tables had to choose."""
    found = [(name, _found(name, "shelf", catalog)) for name in brief.shelf]
    return tuple(
        f"“{name.strip()}” is taken as {one.material.name}: {one.assumption}."
        for name, one in found
        if one.assumption
    )


def _meant(name: str, catalog: Catalog) -> list[Material]:
    """Return all that a name to leave out stands for: “pectin” means every pectin.

    A mix goes with its part, and the kitchen's own product with the powder it is based on.
    """
    agents = [one for one in catalog.materials.values() if one.agent is not None]
    found = catalog.find(name)
    if found is not None and _is_own(found.material):
        return [found.material]
    family = _family(name, found, agents)
    if found is None or found.material.agent is None:
        return family or [_found(name, "without", catalog).material]
    keys = {_table_key(one) for one in (found.material, *family)}
    return [one for one in agents if _table_key(one) in keys | _mixes_of(keys)]


def _family(name: str, found: Found | None, agents: list[Material]) -> list[Material]:
    """Return the agents that have this word in their name."""
    plain = "" if found is None else name_normalize(found.material.name)
    words = {name_normalize(name), *([plain] if " " not in plain else [])}
    return [one for one in agents if any(_says(one, word) for word in words)]


def _says(material: Material, word: str) -> bool:
    """Return whether a name holds this word."""
    return bool(word) and f" {word} " in f" {name_normalize(material.name)} "


def _mixes_of(keys: set[str]) -> set[str]:
    return {key for key, row in agent_rows().items() if keys & set(row.parts)}


def _table_key(material: Material) -> str:
    return "" if material.agent is None else material.agent.key


def _both(material: Material, name: str) -> InputError:
    return InputError(
        f"{material.name} is on the shelf, and “{name.strip()}” is to be left out.",
        field="without",
        hint="Take it out of one of the two lists.",
    )


def _one_each(wanted: list[Material]) -> tuple[tuple[Material, ...], tuple[str, ...]]:
    """Return one product of each kind of powder: the first, the cheapest of the kitchen's own."""
    kept: dict[str, Material] = {}
    remarks = []
    for material in sorted(wanted, key=_price):
        key = _table_key(material)
        if key not in kept:
            kept[key] = material
        elif _is_own(kept[key]):
            remarks.append(
                f"{kept[key].name} stands for {material.name} as well: "
                f"both are {agent_rows()[key].name.lower()}."
            )
    by_place = {material.key: place for place, material in enumerate(wanted)}
    return tuple(sorted(kept.values(), key=lambda one: by_place[one.key])), tuple(remarks)


def _price(material: Material) -> tuple[bool, float, str]:
    price = material.cost_per_kg
    return not _is_own(material), float("inf") if price is None else price, material.name
